"""Raising and lowering the car: a step of its own wherever the next work asks for another posture."""

from collections.abc import Iterable, Iterator

from putback.area.model import ON_A_LIFT, ON_STANDS, ON_THE_GROUND, POSTURES, Item
from putback.job.car import Car
from putback.job.needs import owner_of, stood_on
from putback.job.state import JobState
from putback.job.step import AFTER, HAND_OVER, WAY_BACK, Said, Step

_TEXT = {
    ON_THE_GROUND: "bring the car down onto its wheels",
    ON_A_LIFT: "raise the car on the lift",
    ON_STANDS: "set the car on its stands",
}
_CAUTIONS = {  # common practice, no source
    ON_THE_GROUND: ("nobody and nothing under the car; doors closed, no tool in the wheel arch",),
    ON_A_LIFT: ("arms under the maker's points; shake the car when the wheels are free, before it goes up",),
    ON_STANDS: ("stands under the maker's points on firm level ground; nobody under it before it stands",),
}
_AT_THE_END = (AFTER, HAND_OVER)


def with_lifts(steps: Iterable[Step], state: JobState, car: Car) -> Iterator[Step]:
    """The steps with those that raise or lower the car between them, and down before it is proved or handed over.

    Parameters
    ----------
    steps : iterable of Step
        In their order.
    state : JobState
    car : Car
    """
    stands = state.posture or ON_THE_GROUND
    for step in steps:
        wanted = (ON_THE_GROUND,) if step.phase in _AT_THE_END else _wanted(step, car)
        if wanted and stands not in wanted:
            stands = step.posture if step.posture in wanted else wanted[0]
            yield _lift(stands, step)
        yield step


def _lift(posture: str, step: Step) -> Step:
    return Step(
        f"car: {posture}, before {step.key}",
        WAY_BACK if step.phase in _AT_THE_END else step.phase,
        _TEXT[posture],
        posture=posture,
        cautions=_CAUTIONS[posture],
        closes=(Said("car moved", {"posture": posture}),),
    )


def _wanted(step: Step, car: Car) -> tuple[str, ...]:
    """How the car may stand for a step; empty where it does not matter. What the plan chose is only one of these."""
    item = car.items.get(step.item)
    if item is None or not step.posture:
        return ()
    if is_at_its_wheels(step, item):
        return (step.posture,)
    if stood_on(item, car) and not any(said.kind == "fasteners loosened" for said in step.closes):
        return POSTURES["raised"]
    for stand in _stands(item, car):
        if stand.posture:
            return POSTURES[stand.posture]
        if stand.vantages:
            return car.area.vantages.get(step.vantage, ())
    return ()


def is_at_its_wheels(step: Step, item: Item) -> bool:
    """Whether a step breaks loose or finally tightens what is done with the wheels on the ground.

    Parameters
    ----------
    step : Step
    item : Item
    """
    if item.fastener is None or not item.fastener.on_the_ground:
        return False
    return any(said.kind in ("fasteners loosened", "fasteners tightened") for said in step.closes)


def _stands(item: Item, car: Car) -> Iterator:
    owner = owner_of(item, car)
    manners = [*item.ways, item.base, *([owner.base] if owner else [])]
    return (manner.stand for manner in manners if manner.stand)
