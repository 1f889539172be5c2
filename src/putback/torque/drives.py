"""Which tools a torque wrench takes, and how."""

import re
from collections.abc import Sequence
from enum import Enum

_SQUARE = re.compile(r"\b(?:socket|bit|hex key|screwdriver)$")
_DRIVE = re.compile(r"(\d/\d+ in) square")
_SWIVEL = "keep the swivel as straight as it goes: bent, it lets another torque through than the wrench says"


class Fit(Enum):
    """How a tool goes on a torque wrench."""

    SQUARE = "on its square drive"
    ADAPTER = "as an adapter with a length and an angle"
    NOT = "not at all"


def fit(tools: Sequence[str]) -> Fit:
    """How the tools of a step go on a torque wrench.

    Parameters
    ----------
    tools : sequence of str
        By their full names, the main tool first: ``13 mm socket``, ``T25 bit``, ``13 mm crow-foot``

    Examples
    --------
    >>> fit(["13 mm socket", "400 mm extension"])
    <Fit.SQUARE: 'on its square drive'>
    """
    if not tools or _SQUARE.search(tools[0]) or _DRIVE.fullmatch(tools[0]):
        return Fit.SQUARE
    return Fit.ADAPTER if tools[0].endswith("crow-foot") else Fit.NOT


def drive_of(tools: Sequence[str]) -> str | None:
    """The square that the main tool of a step is itself, as where a plug has a 3/8 in square; None where it has none.

    Parameters
    ----------
    tools : sequence of str
        As for `fit`
    """
    found = _DRIVE.fullmatch(tools[0]) if tools else None
    return found[1] if found else None


def instead(tool: str) -> str:
    """What would take the place of a tool that goes on no torque wrench: `16 mm crow-foot`."""
    size = re.match(r"\d+(?:\.\d+)? mm", tool)
    return f"a socket, or a {size[0]} crow-foot with its length and angle" if size else "a socket or a bit"


def tool_notes(tools: Sequence[str]) -> tuple[str, ...]:
    """What to mind about the tools of a step on a torque wrench (common practice, no source).

    Parameters
    ----------
    tools : sequence of str
        As for `fit`
    """
    return (_SWIVEL,) if "swivel" in tools else ()
