"""`putback torque`: a family of commands about tightening; each word has a module of its own."""

# Word: its module, and what the list of words says of it.
WORDS = {
    "set": ("putback.cli_torque_set", "what to set a torque wrench to, adapters included, and which wrench of a shop"),
    "order": ("putback.cli_torque_order", "in which order and passes to tighten a group of fasteners"),
    "judge": ("putback.cli_torque_judge", "whether a torque is sound, by the sheet, the thread and its unit"),
    "range": ("putback.cli_torque_range", "a generic range of torque, for want of the maker's figure"),
    "heads": ("putback.cli_torque_heads", "the threads under a head's size, and the spanners for a thread"),
    "table": ("putback.cli_torque_table", "a pasted table of torques, judged and made ready for an area file"),
}
