"""A family of commands, for the tests of the front."""

WORDS = {"fake": ("frame_fake", "end as told"), "absent": ("no_such_module", "never asked for")}
