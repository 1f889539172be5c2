"""`putback torque`: a family of commands about tightening; each word has a module of its own."""

# Word: its module, and what the list of words says of it.
WORDS = {
    "set": ("putback.cli_torque_set", "what to set a torque wrench to, adapters included, and which wrench of a shop"),
}
