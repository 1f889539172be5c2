"""What is to do around taking apart and putting back: before the first step, at the swap, and up to the hand-over."""

from collections.abc import Iterator

from putback.area import late
from putback.area.model import Fluid
from putback.area.model import Item as Described
from putback.job.accepted import is_accepted
from putback.job.audit_fasteners import hold_points_open
from putback.job.audit_work import not_agreed, owed
from putback.job.car import Car
from putback.job.match import mismatches, not_compared
from putback.job.measuring import reading_steps
from putback.job.plan_step import fill_up
from putback.job.points import Point
from putback.job.state import JobState
from putback.job.step import AFTER, AT_THE_SWAP, BEFORE, FIRST, Said, Step


def first_steps(state: JobState) -> Iterator[Step]:
    """What has to be settled before anything goes on.

    Parameters
    ----------
    state : JobState
    """
    if state.handed_to:
        words = f"take the job over: {state.handed_to} reads what stands open and confirms it"
        yield Step("take over", FIRST, words, asks="job taken over")
    elif state.paused:
        yield Step("resume", FIRST, "go on: the job is paused", closes=(Said("job resumed", {}),))
    if state.unconfirmed:
        last = ", ".join(_told(id, state) for id in state.unconfirmed)
        words = f"look at the last steps again and confirm them: {last}"
        yield Step("confirm", FIRST, words, closes=(Said("steps confirmed", {"events": list(state.unconfirmed)}),))


def _told(id: str, state: JobState) -> str:
    """What a step was about; its time where nothing stands open any more."""
    report = next(one for one in state.steps if one.id == id)
    things = [*state.items.values(), *state.groups.values()]
    return next((one.name for one in things if one.last and one.last.id == id), f"the one at {report.at[11:16]} UTC")


def before_steps(state: JobState, car: Car, plan: dict | None, points: list[Point]) -> Iterator[Step]:
    """Intake, consent, readings and parts, as far as they still belong before the work.

    Parameters
    ----------
    state : JobState
    car : Car
    plan : dict or None
    points : list of Point
        Those that bar the hand-over.
    """
    if not state.intake and not state.steps:
        words = "note the complaint, the distance, lamps, codes and damage"
        yield Step("intake", BEFORE, words, optional=True, asks="intake noted")
    yield from reading_steps(state)
    if not _opened(state):
        yield from _job_work(car, points, "before", BEFORE)
    if any(point.kind == "no consent" for point in points):
        yield Step("consent", BEFORE, f"ask for consent: {not_agreed(state)}", asks="consent given")
    if state.swapped or not plan:
        return
    yield from _parts(state, plan)


def _opened(state: JobState) -> bool:
    return any(item.left for item in state.items.values()) or any(group.left for group in state.groups.values())


def _job_work(car: Car, points: list[Point], when: str, phase: str) -> Iterator[Step]:
    still = _open(points, "not done")
    for work in car.area.job_work if car.area else ():
        if work.when == when and work.name in still:
            yield _work(work.name, phase, float(work.minutes.likely))


def _open(points: list[Point], kind: str) -> list[str]:
    """Work that the audit still asks for; done once is not enough where something has happened since."""
    return [point.item for point in points if point.kind == kind]


def _work(name: str, phase: str, minutes: float | None = None) -> Step:
    return Step(f"work: {name}", phase, name, minutes=minutes, closes=(Said("work done", {"work": name}),))


def parts_missing(state: JobState, plan: dict) -> dict[str, int]:
    """New parts of a plan that nobody has logged as here, and how many.

    Parameters
    ----------
    state : JobState
    plan : dict
    """
    found = {}
    for part in plan["new_parts"]:
        row = state.parts.get(part["name"], {})
        here = row.get("arrived", 0) - row.get("wrong", 0) - row.get("returned", 0)
        if here < part["count"]:
            found[part["name"]] = part["count"] - max(here, 0)
    return found


def _parts(state: JobState, plan: dict) -> Iterator[Step]:
    missing = parts_missing(state, plan)
    if missing and not _opened(state):
        words = ", ".join(f"{count} x {name}" if count > 1 else name for name, count in missing.items())
        arrived = tuple(Said("part arrived", {"part": name, "count": count}) for name, count in missing.items())
        yield Step("parts", BEFORE, f"see that it is here, or order it: {words}", optional=True, closes=arrived)


def compare_steps(part: str, state: JobState, car: Car, points: list[Point]) -> Iterator[Step]:
    """What comes before a part is swapped: old and new side by side, and the work that belongs there.

    Parameters
    ----------
    part : str
    state : JobState
    car : Car
    points : list of Point
        Those that bar the hand-over.
    """
    compared = state.compared.get(part, {}).get("number", 0)
    missing = not_compared(part, state, car)
    wrong = [
        one
        for one in mismatches(part, state, car)
        if not is_accepted(f"mismatch: {part}, {one.feature}", state, compared)
    ]
    if missing and not is_accepted(f"not compared: {part}", state, compared):
        words = f"{part}: compare old and new: {', '.join(missing)}"
        yield Step(f"compare: {part}", AT_THE_SWAP, words, item=part, part=part, asks="part compared")
    if wrong:
        features = ", ".join(f"{one.feature} is {one.new}, {one.wanted} wanted" for one in wrong)
        words = f"{part}: not the right one: {features}"
        yield Step(f"mismatch: {part}", AT_THE_SWAP, words, item=part, part=part, asks="part compared")
    yield from _job_work(car, points, "swap", AT_THE_SWAP)


TOLD = "the customer was told, and has the slip"  # of what can only be done when the car has left


def after_steps(state: JobState, car: Car, plan: dict | None, points: list[Point]) -> Iterator[Step]:
    """Fluids, follow-ups, work that proves the repair, releases, and what is told at the hand-over.

    Parameters
    ----------
    state : JobState
    car : Car
    plan : dict or None
    points : list of Point
        Those that bar the hand-over.
    """
    owing = _owing(state, car, plan, points)
    yield from _endings(state, plan)
    yield from _fluids(state, car, plan, owing)
    yield from _late(state, car, plan, owing, points)
    yield from (_release(name) for name in hold_points_open(state, car))
    yield from (_follow_up(name, state, car, plan) for name in owing if _at_hand_over(name, car))


def _late(
    state: JobState, car: Car, plan: dict | None, owing: list[str], points: list[Point]
) -> Iterator[Step]:
    """Follow-ups, those that fill first, then repairs that were added and job work; as the area orders them."""
    owed_steps = [_follow_up(name, state, car, plan) for name in owing if not _at_hand_over(name, car)]
    steps = sorted(owed_steps, key=lambda step: len(step.closes) == 1)
    steps += _job_work(car, points, "before", AFTER) if _opened(state) else ()
    steps += (_work(name, AFTER, state.added[name]) for name in _open(points, "not done") if name in state.added)
    steps += _job_work(car, points, "after", AFTER)
    by_name = {step.closes[0].data["work"]: step for step in steps}
    return (by_name[name] for name in (late.in_order(car.area, by_name) if car.area else by_name))


def _owing(state: JobState, car: Car, plan: dict | None, points: list[Point]) -> list[str]:
    """Follow-ups that are owed now, and those that the plan will still oblige to."""
    now, still = owed(state, car), _open(points, "owed")
    planned = [one["name"] for one in plan["owed"]] if plan else []
    to_come = [name for name in planned if name not in now and name not in state.work]
    return list(dict.fromkeys((*(name for name in planned if name in still or name in to_come), *still)))


def _at_hand_over(name: str, car: Car) -> bool:
    follow_up = car.area.follow_ups.get(name) if car.area else None
    return follow_up is not None and follow_up.at_hand_over


def _follow_up(name: str, state: JobState, car: Car, plan: dict | None) -> Step:
    minutes = next((one["minutes"] for one in (plan["owed"] if plan else ()) if one["name"] == name), None)
    totals = _totals(state, car, plan)
    filled = {one.name: totals[one.name] for one, _ in _losses(state, car, plan) if _is_by(one, name)}
    later = _at_hand_over(name, car)
    said = Said("work done", {"work": name} | ({"result": TOLD} if later else {}))
    return Step(
        f"owed: {name}",
        AFTER,
        f"tell the customer, and give the slip: {name}" if later else name,
        minutes=minutes,
        cautions=tuple(f"{litres:g} l {fluid}, before the engine starts" for fluid, litres in filled.items()),
        closes=(said, *(fill for fluid, litres in filled.items() for fill in fill_up(fluid, litres, state))),
    )


def _is_by(fluid: Fluid, follow_up: str) -> bool:
    return fluid.filled_by is not None and fluid.filled_by.name == follow_up


def _totals(state: JobState, car: Car, plan: dict | None) -> dict[str, float]:
    found: dict[str, float] = {}
    for one, _ in _losses(state, car, plan):
        found[one.name] = round(found.get(one.name, 0.0) + float(one.litres), 3)
    return found


def _losses(state: JobState, car: Car, plan: dict | None) -> list[tuple[Fluid, Described]]:
    """What has run out and what will, with the item that loses it."""
    fluids = plan["fluids"] if plan else ()
    parts = {fill["part"] for one in fluids for fill in one.get("filled", ())}
    gone = {item.name for item in state.items.values() if item.left}
    return [(item.loses, item) for item in car.items.values() if item.loses and item.name in parts | gone]


def _fluids(state: JobState, car: Car, plan: dict | None, owing: list[str]) -> Iterator[Step]:
    """What is to be filled as work of its own: no step and no follow-up that is still to come fills it."""
    litres = _totals(state, car, plan)
    elsewhere = {one.name for one, item in _losses(state, car, plan) if _is_filled_elsewhere(one, item, state, owing)}
    for name in dict.fromkeys((*litres, *state.drained)):
        said = fill_up(name, litres.get(name, 0.0), state)
        if said and name not in elsewhere:
            words = f"fill in again: {said[0].data['litres']:g} l {name}"
            yield Step(f"fill: {name}", AFTER, words, cautions=("before the engine starts",), closes=said)


def _is_filled_elsewhere(fluid: Fluid, item: Described, state: JobState, owing: list[str]) -> bool:
    if fluid.filled_by:
        return fluid.filled_by.name in owing
    is_back = item.name in state.items and state.items[item.name].returned > 0 and state.items[item.name].home
    return item.states[-1].split()[0] == "drained" and not is_back


def _endings(state: JobState, plan: dict | None) -> Iterator[Step]:
    """What the plan leaves to be turned or set; lowering the car is a step of its own."""
    for one in plan["ending"] if plan else ():
        name = f"{one['name']}: {one['value']}"
        if one["name"] != "posture" and name not in state.work:
            yield _work(name, AFTER, one["minutes"])


def _release(name: str) -> Step:
    words = f"another person looks at the {name}, value and angle, and releases them"
    return Step(f"release: {name}", AFTER, words, item=name, closes=(Said("hold point released", {"item": name}),))
