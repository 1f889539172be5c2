"""Readings among the steps: those still wanted before anything comes off, and those that lie behind parts."""

from collections.abc import Iterator

from putback.job.guards_evidence import is_held, not_condemned
from putback.job.state import JobState
from putback.job.step import BEFORE, WAY_IN, Step

WAITS = "; the order waits"


def reading_steps(state: JobState) -> Iterator[Step]:
    """What to read before anything comes off, where the suspects were weighed and do not condemn the part.

    Parameters
    ----------
    state : JobState
    """
    behind = _behind(state)
    if is_held(state) and not (behind and {*state.weighed.get("missing", ())} <= {*behind}):
        yield Step(
            "readings", BEFORE, f"read on before anything comes off: {not_condemned(state)}", asks="reading taken"
        )


def with_measuring(steps: list[Step], state: JobState) -> list[Step]:
    """The way in with a stop where a reading lies behind parts: what leads to it, the reading, then the rest.

    Parameters
    ----------
    steps : list of Step
        As the plan has them.
    state : JobState

    Notes
    -----
    What has to be opened for the reading can be opened with the battery on; so it may come first whatever the plan has
    before it.
    """
    wanted = _behind(state)
    if not wanted:
        return steps
    first = state.weighed.get("open first", ())
    leading = [step for step in steps if step.phase == WAY_IN and (step.part in first or step.item in first)]
    rest = [step for step in steps if step not in leading]
    return [*leading, *(_measure(name, item) for name, item in wanted.items()), *rest]


def _behind(state: JobState) -> dict[str, str]:
    """Readings that lie behind an item and were not taken yet, while the suspects wait for them."""
    if not is_held(state):
        return {}
    taken = {one.what for one in state.readings if one.when == "before"}
    return {name: item for name, item in state.weighed.get("behind", {}).items() if name not in taken}


def _measure(name: str, item: str) -> Step:
    words = f"measure here before going on: {name}, at the {item}{WAITS}"
    return Step(f"measure: {name}", WAY_IN, words, item=name, part=item, where=f"at the {item}", asks="reading taken")
