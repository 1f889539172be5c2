"""Open points of work, parts, fluids, money and readings: what is owed, unbalanced, unpaid for or failing."""

from collections.abc import Iterable, Iterator

from putback.area.model import Item as Described
from putback.job.car import Car
from putback.job.match import mismatches, not_compared
from putback.job.points import ASK, Point
from putback.job.state import Group, Item, JobState, Moment, whole_job
from putback.way.from_area_steps import AT_THE_BENCH

# How much less may go in than came out: 0.2 l or a tenth, whichever is less, never under 0.02 l (common practice, no
# source).
LITRES, SHARE, LEAST = 0.2, 0.1, 0.02


def work_points(state: JobState, car: Car) -> Iterator[Point]:
    """Everything that is owed, unbalanced or failing.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    yield from _targets(state, car)
    yield from _job_work(state, car)
    yield from _follow_ups(state, car)
    yield from _order(state, car)
    yield from _unheard(state)
    yield from _fluids(state, car)
    yield from _readings(state)
    yield from _money(state)


def _targets(state: JobState, car: Car) -> Iterator[Point]:
    for part in state.targets:
        if part not in state.swapped:
            words = f"{part}: not replaced; it is what the car came for"
            yield Point(f"not swapped: {part}", "not swapped", part, words, ASK)
            continue
        if missing := not_compared(part, state, car):
            words = f"{part}: old and new not compared: {', '.join(missing)}"
            yield Point(f"not compared: {part}", "not compared", part, words, ASK)
        for one in mismatches(part, state, car):
            words = f"{part}: {one.feature} of the new one is {one.new}, {one.wanted} wanted"
            yield Point(f"mismatch: {part}, {one.feature}", "mismatch", part, words, ASK)


def _job_work(state: JobState, car: Car) -> Iterator[Point]:
    work = [one for one in car.area.job_work if one.when != "swap" or not state.swapped] if car.area else []
    for name in dict.fromkeys((*(one.name for one in work), *state.added)):
        if name not in state.work:
            yield Point(f"not done: {name}", "not done", name, f"not done: {name}", ASK)
    for one in work:
        if one.when == "after" and one.name in state.work and not _is_after(state.work[one.name], state.swaps.values()):
            words = f"{one.name}: done before the new part went in, and it belongs after it"
            yield Point(f"not done: {one.name}", "not done", one.name, words, ASK)


def _unheard(state: JobState) -> Iterator[Point]:
    """Words that were kept without a connection, and of which nobody knows yet what they tell."""
    for id, words in state.unheard.items():
        told = f'nobody has looked yet at what this tells: "{words if len(words) <= 60 else words[:57] + "..."}"'
        yield Point(f"unheard: {id}", "unheard", "", told, ASK)


def _is_after(work: dict, moments: Iterable[Moment]) -> bool:
    return all(work["moment"].is_after(moment) for moment in moments)


def _follow_ups(state: JobState, car: Car) -> Iterator[Point]:
    for name in still_owed(state, car):
        yield Point(f"owed: {name}", "owed", name, f"owed: {name}", ASK)


def _order(state: JobState, car: Car) -> Iterator[Point]:
    """Work that was done before what it comes after."""
    work = (*car.area.follow_ups.values(), *car.area.job_work) if car.area else ()
    for one, ref in [(later, ref) for later in work for ref in later.after]:
        both = one.name in state.work and ref.name in state.work
        if both and not _is_after(state.work[one.name], [state.work[ref.name]["moment"]]):
            words = f"{one.name}: done before {ref.name}, and it belongs after it"
            yield Point(f"order: {one.name}, {ref.name}", "order", one.name, words, ASK)


def owed(state: JobState, car: Car) -> dict[str, Moment]:
    """Follow-ups that what was done obliges to, each with the moment from which on doing it counts.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    found: dict[str, Moment] = {}
    moved = [*state.items.values(), *state.groups.values()]
    for thing in moved:
        described = car.items.get(thing.name)
        if described is not None and thing.left:
            for name in _obliges(described, getattr(thing, "ways", ())):
                found[name] = Moment.last(found.get(name), _since(thing, name, car))
    return found


def still_owed(state: JobState, car: Car) -> list[str]:
    """Follow-ups that are not done, or were done too early to count.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    work = state.work
    return [name for name, since in owed(state, car).items() if name not in work or not _is_after(work[name], [since])]


def _since(thing: Item | Group, name: str, car: Car) -> Moment:
    """From when on the work counts: once the thing is back, but what is only told may be told as soon as it is off."""
    told = name in car.area.follow_ups and car.area.follow_ups[name].at_hand_over
    back = () if told else (getattr(thing, "went", None), getattr(thing, "came_home", None))
    return Moment.last(Moment(thing.left, thing.left_at), *back)


def _obliges(described: Described, ways: tuple[str, ...]) -> Iterator[str]:
    """Follow-ups of a thing, those of the ways it went among them."""
    taken = [way for way in described.ways if way.name in ways]
    if described.bench and AT_THE_BENCH in ways:
        taken.append(described.bench)
    yield from (ref.name for manner in (described.base, *taken) for ref in manner.follow_ups)
    if not taken:
        yield from _whichever_way(described)


def _whichever_way(described: Described) -> list[str]:
    """What all ways oblige to, where nobody has said which was taken."""
    named = [[ref.name for ref in way.follow_ups] for way in described.ways]
    return [name for name in (named[0] if named else ()) if all(name in one for one in named)]


def _fluids(state: JobState, car: Car) -> Iterator[Point]:
    out = fluids_out(state, car)
    for name in dict.fromkeys((*out, *state.filled)):
        yield from _balance(name, out.get(name, 0.0), state.filled.get(name, 0.0))


def fluids_out(state: JobState, car: Car) -> dict[str, float]:
    """What has run out, in litres by the name of the fluid; what was measured goes before what the file says.

    Parameters
    ----------
    state : JobState
    car : Car
    """
    lost: dict[str, float] = {}
    for item in state.items.values():
        loses = car.items[item.name].loses if item.name in car.items else None
        if loses and item.left:
            lost[loses.name] = lost.get(loses.name, 0.0) + float(loses.litres)
    return lost | state.drained


def slack(out: float) -> float:
    """How much less or more may go in than came out [l].

    Parameters
    ----------
    out : float
        What came out [l]
    """
    return max(LEAST, min(LITRES, SHARE * out)) + 1e-9


def _balance(name: str, out: float, back: float) -> Iterator[Point]:
    key = f"fluid: {name}"
    if out - back > slack(out):
        words = f"{name}: {out:g} l out, {back:g} l in, {out - back:.3g} l missing"
        yield Point(key, "fluid", name, f"{words}; top up, or look for trapped air or a leak", ASK)
    elif back - out > slack(out):
        more = "none came out" if not out else f"{out:g} l came out"
        words = f"{name}: {back:g} l in, {more}; check that it is the right fluid and its level"
        yield Point(key, "fluid", name, words, ASK)


def _readings(state: JobState) -> Iterator[Point]:
    last = {one.what: one for one in state.readings if one.when == "after"}
    limits = limits_for_proof(state)
    for one in last.values():
        wanted = f", wanted {limits[one.what]}" if one.what in limits else ""
        if one.good is False:
            yield Point(f"failing: {one.what}", "failing", one.what, f"failing: {one.what}, {one.text}{wanted}")
        elif one.good is None and wanted:
            words = f"{one.what}: {one.text}{wanted}; nobody has said whether it is"
            yield Point(f"not held against its limit: {one.what}", "not read again", one.what, words, ASK)
    condemned = [one.what for one in state.readings if one.when == "before" and one.good is False]
    for what in dict.fromkeys((*condemned, *limits)):
        if what not in last:
            words = f"{what}: it condemned the part, and nobody has read it again"
            yield Point(f"not read again: {what}", "not read again", what, words, ASK)


def limits_for_proof(state: JobState) -> dict[str, str]:
    """The readings that prove the repair, each with what it must be, in words; none before the new part is in.

    Parameters
    ----------
    state : JobState
    """
    return state.weighed.get("limits", {}) if state.weighed and state.swapped else {}


def _money(state: JobState) -> Iterator[Point]:
    if words := not_agreed(state):
        yield Point("consent", "no consent", "the price", words, ASK)


def most_agreed(state: JobState) -> float | None:
    """The most that the customer has agreed to, before tax [cents]; None where nothing was agreed beforehand.

    Parameters
    ----------
    state : JobState
    """
    return None if state.cap is None else max(state.cap, *(one.get("total", 0) for one in state.consents), 0)


def not_agreed(state: JobState) -> str:
    """What the job comes to beyond what was agreed, in words; empty while it does not.

    Parameters
    ----------
    state : JobState
    """
    plan = state.plans[-1] if state.plans else {}
    if state.cap is None or "money" not in plan:
        return ""
    money = round(whole_job(plan, "money"))  # nobody agrees to parts of a cent
    agreed = most_agreed(state)
    return f"the job comes to {money / 100:.2f}, agreed are {agreed / 100:.2f}" if money > agreed else ""
