"""Steps one after the other: what a tap on a later one logs, once those before it are done."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from putback.job.kinds import HAND_TIGHT
from putback.job.step import Said, Step

_OF_PUTTING_IN = ("new", "cleaned")


def in_turn(steps: Iterable[Step]) -> Iterator[Step]:
    """The steps, with what is run in by one of them only tightened by the next, and not put in once more.

    A device without a connection taps them one after the other as they came to it.

    Parameters
    ----------
    steps : iterable of Step
        In their order.
    """
    run_in: Counter[str] = Counter()
    for step in steps:
        closes = tuple(_after(said, run_in) for said in step.closes)
        run_in.update({said.data["item"]: said.data["count"] for said in step.closes if _runs_in(said)})
        yield step if closes == step.closes else replace(step, closes=closes)


def _runs_in(said: Said) -> bool:
    return said.kind == "fasteners on" and said.data["evidence"] == HAND_TIGHT


def _after(said: Said, run_in: Counter[str]) -> Said:
    if said.kind != "fasteners on" or _runs_in(said) or run_in[said.data["item"]] < said.data["count"]:
        return said
    return Said("fasteners tightened", {name: value for name, value in said.data.items() if name not in _OF_PUTTING_IN})
