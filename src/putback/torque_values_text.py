"""Findings and cautions about torques as text of 80 columns."""

import textwrap

WIDTH = 80


def indented(words: str, indent: str) -> list[str]:
    """A sentence as lines that all begin with `indent`; a unit such as ft-lb stays whole.

    Parameters
    ----------
    words : str
    indent : str
    """
    return textwrap.wrap(words, WIDTH, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False)
