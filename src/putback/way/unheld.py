"""Parts that nothing holds for a while: between their last fastener and their removal, or the same on the way back.

The planner puts steps where they cost least, and knows nothing of a wheel that slips off its hub; so it is told.
"""

from collections.abc import Iterable, Iterator

from putback.area.model import BACK, FASTENERS, OUT, PART, Area
from putback.way.sheet_step import SheetStep


def unheld(area: Area, steps: Iterable[SheetStep]) -> dict[int, tuple[str, ...]]:
    """What to do about parts that would hang on nothing while other work goes on, by the number of the step.

    Parameters
    ----------
    area : Area
    steps : iterable of SheetStep
        All steps of a plan, in their order.

    Returns
    -------
    cautions : dict of int to tuple of str
        At the last fastener on the way in, and at the part itself on the way back. Clips and clamps count for
        nothing; a part that something put in secures is held.
    """
    secured = {ref.name for item in area.items.values() for ref in item.secures}
    found: dict[int, tuple[str, ...]] = {}
    for number, words in _cautions([step for step in steps if step.operation], secured):
        found[number] = (*found.get(number, ()), words)
    return found


def _cautions(steps: list[SheetStep], secured: set[str]) -> Iterator[tuple[int, str]]:
    for direction in (OUT, BACK):
        moves = [step for step in steps if step.operation.direction == direction]
        for part in dict.fromkeys(step.operation.part for step in moves):
            if part not in secured:
                yield from _of_part(part, [step for step in moves if step.operation.part == part], direction)


def _of_part(part: str, steps: list[SheetStep], direction: str) -> Iterator[tuple[int, str]]:
    bolts = [step.number for step in steps if _is_threaded(step)]
    moves = [step.number for step in steps if step.operation.name == part and step.operation.kind == PART]
    if not bolts or not moves:
        return
    own = {step.number for step in steps}
    first, last = (max(bolts), moves[0]) if direction == OUT else (moves[-1], min(bolts))
    if any(number not in own for number in range(first + 1, last)):
        words = (
            f"nothing else holds the {part} until step {last}: leave one in by a few turns, or take it off now"
            if direction == OUT
            else f"nothing holds the {part} until step {last}: run one of its fasteners in by hand at once"
        )
        yield first, words


def _is_threaded(step: SheetStep) -> bool:
    fastener = step.operation.fastener
    return step.operation.kind == FASTENERS and fastener is not None and fastener.thread is not None
