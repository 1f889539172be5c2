"""What speaks against opening the car, or ordering the part, while the readings do not condemn it."""

from collections.abc import Iterator

from putback.job.accepted import is_accepted
from putback.job.asked import Asked, Stop, listed
from putback.job.state import JobState

GO, NOT_THIS_PART = "go", "not this part"
KEY = "suspects"


def evidence_stops(asked: Asked) -> Iterator[Stop]:
    """Whether a part may be ordered or reached, by the suspects as they were last weighed.

    Parameters
    ----------
    asked : Asked
    """
    ordered = asked.kind == "part ordered" and asked.data["part"] in asked.state.targets
    words = not_condemned(asked.state) if asked.goes_out or ordered else ""
    if words and not _leads_to_a_reading(asked):
        yield Stop(KEY, words, since=asked.state.weighed["number"])


def not_condemned(state: JobState) -> str:
    """Why the car should not be opened yet, in one sentence; empty where it may be, or nothing was weighed.

    Parameters
    ----------
    state : JobState
    """
    weighed = state.weighed
    if weighed is None or state.swapped or weighed["verdict"] == GO:
        return ""
    part = listed(state.targets) if state.targets else "the part"
    first = f"{weighed['action']}, {weighed['share']:.0%} likely" if "share" in weighed else weighed["action"]
    if weighed["verdict"] == NOT_THIS_PART:
        says = f"the readings clear {part}: {first}"
    else:
        says = f"the readings do not condemn {part} yet ({first})"
    return "; ".join([says, *weighed.get("why", ())])


def is_held(state: JobState) -> bool:
    """Whether the work waits for readings, and nobody has taken it on himself to go on without them.

    Parameters
    ----------
    state : JobState
    """
    return bool(not_condemned(state)) and not is_accepted(KEY, state, state.weighed["number"])


def _leads_to_a_reading(asked: Asked) -> bool:
    """Whether what comes off has to, for a reading that lies behind it."""
    first = (asked.state.weighed or {}).get("open first", ())
    owner = asked.described.owner if asked.described else None
    return asked.name in first or owner in first
