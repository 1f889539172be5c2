"""Everything that is still to do on a job, in order; the first one is the step now.

    steps = next_steps(state, car, plan, now)
    steps[0].closes                            # what one tap logs
"""

from collections.abc import Iterator

from putback.job.around import after_steps, before_steps, compare_steps, first_steps
from putback.job.audit import audit, bars
from putback.job.car import Car
from putback.job.in_turn import in_turn
from putback.job.lifting import with_lifts
from putback.job.measuring import with_measuring
from putback.job.plan_moves import SWAP, misfits, moves_left, strays, swapped_part
from putback.job.plan_step import SWAP_TEXT, plan_step
from putback.job.points import Point
from putback.job.put_right import put_right
from putback.job.refit import merged, refit_steps
from putback.job.state import JobState
from putback.job.step import AT_THE_SWAP, FIRST, HAND_OVER, WAY_BACK, WAY_IN, Said, Step
from putback.job.things import things_in
from putback.job.trays import tray_map


def next_steps(state: JobState, car: Car, plan: dict | None, now: str) -> list[Step]:
    """What is still to do, in order.

    Parameters
    ----------
    state : JobState
    car : Car
    plan : dict or None
        The plan in force, as JSON has it; None where none was made or nobody has described the car.
    now : str
        The time in UTC, as events have it, for waits that are running.

    Returns
    -------
    steps : list of Step
        Empty once the hand-over is signed. Where the plan does not fit any more the first step says so; what follows is
        as near as the old one leads.
    """
    if state.signed and not state.after_signing:
        return []
    points = [point for point in audit(state, car.area, car.shop) if bars(point)]
    work = [*before_steps(state, car, plan, points), *_work(state, car, plan, points, now)]
    work += after_steps(state, car, plan, points)
    work += put_right(points, work, state, car)
    end = Step("hand over", HAND_OVER, "hand the car over", asks="hand-over signed")
    return [*first_steps(state), *_planning(state, car, plan), *with_lifts(in_turn([*work, end]), state, car)]


def _planning(state: JobState, car: Car, plan: dict | None) -> Iterator[Step]:
    if car.area is None:
        return
    if plan is None:
        yield Step("plan", FIRST, "plan the way: nothing is planned yet", asks="plan made")
    elif wrong := misfits(state, car, plan):
        yield Step("plan", FIRST, f"the plan does not fit any more: {'; '.join(wrong)}; plan again", asks="plan made")


def _work(state: JobState, car: Car, plan: dict | None, points: list[Point], now: str) -> list[Step]:
    """Taking apart, the swap and putting back, with what no plan knows at its place on the way back."""
    planned = _planned(state, car, plan, points, now) if plan else list(_unplanned(state, car, points))
    planned = with_measuring(planned, state)
    forth = [step for step in planned if step.phase != WAY_BACK]
    back = [step for step in planned if step.phase == WAY_BACK]
    own = refit_steps(strays(state, car, plan), state, car)
    return [*forth, *things_in(merged(back, own, state), state, car)]


def _planned(state: JobState, car: Car, plan: dict, points: list[Point], now: str) -> list[Step]:
    trays = tray_map(state, car, plan)
    found = []
    for move in moves_left(state, car, plan):
        if move.left and move.step["direction"] == SWAP:
            found += compare_steps(swapped_part(move.step), state, car, points)
        if move.left:
            found.append(plan_step(move, state, car, plan, trays, now))
    return found


def _unplanned(state: JobState, car: Car, points: list[Point]) -> Iterator[Step]:
    """What leads the way without a plan: take off what is in the way, swap what the car came for."""
    left = [part for part in state.targets if part not in state.swapped]
    if not _is_coming_back(state) and (left or not state.swapped):
        words = "take off what is in the way and log each thing as it comes off"
        yield Step("take apart", WAY_IN, words, optional=True, asks="fasteners off")
    for part in left:
        yield from compare_steps(part, state, car, points)
        said = Said("part swapped", {"part": part})
        yield Step(f"swap: {part}", AT_THE_SWAP, SWAP_TEXT.format(part), item=part, part=part, closes=(said,))


def _is_coming_back(state: JobState) -> bool:
    return any(item.returned for item in state.items.values()) or any(group.closings for group in state.groups.values())
