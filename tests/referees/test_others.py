"""Other ways, what is missing and the price of an order, each against trying everything, on small random areas."""

from functools import cache
from itertools import combinations
from random import Random

import pytest

from putback.area.area_file import read_area
from putback.area.model import OUT, PART, Equipment
from putback.area.order_file import read_order
from putback.area.shop_file import read_shop
from putback.errors import NoWay
from putback.way.alternatives import Choice, alternatives
from putback.way.from_area_missing import MOST
from putback.way.openings import openings
from putback.way.plan import plan
from putback.way.price_order import price_order
from putback.way.replay import replay
from putback.way.solve import solve_core
from putback.way.task import Task, make_task
from referees import brute_force
from referees.random_areas import KEYS, THINGS, draw_area, draw_shop

MUCH = 10**12  # dearer than any plan that is wanted
SEEDS = 50
HAVE_SOME, HAVE_LITTLE = 0.3, 0.15  # with which probability a shop has each thing
UNIVERSE = (*THINGS, *KEYS, "pry bar", "two-post lift", "4 axle stands")


@cache
def drawn(seed: int, have: float = 0.6) -> Task:
    rng = Random(seed)
    return make_task(read_area(draw_area(rng), "drawn.yaml"), read_shop(draw_shop(rng, have), "drawn.yaml"))


@cache
def can_be_done(seed: int, have: float = 0.6) -> bool:
    """Whether a job can be done; the exhaustive search says so."""
    return brute_force.solve(drawn(seed, have).told.core) is not None


def doable(seed: int, have: float = 0.6) -> Task:
    """A job that can be done; where it cannot, there is nothing to be tested."""
    if not can_be_done(seed, have):
        pytest.skip("this job cannot be done")
    return drawn(seed, have)


def test_enough_jobs_can_be_done_and_enough_cannot():
    """Else these tests would say little."""
    assert sum(can_be_done(seed) for seed in range(SEEDS)) > 0.7 * SEEDS
    assert sum(not can_be_done(seed, HAVE_LITTLE) for seed in range(SEEDS)) > 0.3 * SEEDS


# --- other ways -----------------------------------------------------------------------------------


def choices(task: Task) -> dict[Choice, dict[str, set[int]]]:
    """For every named way: which operations have it, and under which numbers."""
    found: dict[Choice, dict[str, set[int]]] = {}
    for one in task.told.operations.values():
        for number, way in enumerate(one.ways):
            found.setdefault(Choice(one.part, way.name), {}).setdefault(one.id, set()).add(number)
    return found


def several(task: Task) -> set[Choice]:
    """The ways of what has more than one, in a shop that lacks nothing."""
    operations = _having(task, UNIVERSE).told.operations.values()
    open_to_choice = [one for one in operations if len({way.name for way in one.ways}) > 1]
    return {Choice(one.part, way.name) for one in open_to_choice for way in one.ways}


def least_with(task: Task, ways: dict[str, set[int]]) -> int | None:
    """The least total of a plan that does these operations, each by one of these ways, found by looking at every state.

    The ways that are not wanted cost much, and what must come off has a swap of its own.
    """
    core = task.told.core
    ops = [{**op, "ways": [_priced(op, n, ways) for n in range(len(op["ways"]))]} for op in core["ops"]]
    must = {op["item"] for op in core["ops"] if op["id"] in ways and op["dir"] == OUT}
    swapped = {swap["item"] for swap in core["swaps"]}
    swaps = [*core["swaps"], *({"id": f"also {item}", "item": item, "ways": [{}]} for item in sorted(must - swapped))]
    found = brute_force.solve({**core, "ops": ops, "swaps": swaps})
    return None if found is None or found.total >= MUCH else found.total


def _priced(op: dict, number: int, ways: dict[str, set[int]]) -> dict:
    way = op["ways"][number]
    return way if number in ways.get(op["id"], {number}) else {**way, "cost": way.get("cost", 0) + MUCH}


@pytest.mark.parametrize("seed", range(SEEDS))
def test_every_other_way_costs_the_least_that_it_can(seed):
    """And those that cannot be done at all are not told; each plan replays without a fault."""
    task = doable(seed)
    found = alternatives(task, plan(task))
    told = {choice: one.sheet for one in found if one.sheet and not one.lacks for choice in one.choices}

    wanted = several(task)
    expected = {choice: least_with(task, ways) for choice, ways in choices(task).items() if choice in wanted}
    assert {choice: sheet.solved.total for choice, sheet in told.items()} == {
        choice: total for choice, total in expected.items() if total is not None
    }

    for sheet in told.values():
        walked = replay(task.told.core, sheet.solved.plan)
        assert (walked.broken, walked.total) == ((), sheet.solved.total)


@pytest.mark.parametrize("seed", range(SEEDS))
def test_a_way_that_something_lacks_for_opens_with_just_that(seed):
    """The plan told can be made in the shop that has what is told to be lacking, and not without a part of it."""
    task = doable(seed, HAVE_SOME)
    for one in alternatives(task, plan(task)):
        if one.lacks:
            with_all = _having(task, list(map(str, one.lacks)))
            assert least_with(with_all, choices(with_all)[one.choices[0]]) == one.sheet.solved.total
            for left_out in one.lacks:
                fewer = _having(task, [str(lack) for lack in one.lacks if lack != left_out])
                usable = choices(fewer).get(one.choices[0])
                assert usable is None or least_with(fewer, usable) is None


# --- what is missing ------------------------------------------------------------------------------


def _having(task: Task, names) -> Task:
    """The task in a shop that has some things more, each once more."""
    keys = [name for name in names if name in KEYS or name == "pry bar"]
    equipment = [_piece(name) for name in names if name not in keys]
    return task.with_shop(task.shop.with_more(equipment=equipment, tools=keys))


def _piece(name: str) -> Equipment:
    return Equipment("axle stand", 4) if name == "4 axle stands" else Equipment(name)


def _smallest_by_trying(task: Task) -> list[tuple[str, ...]]:
    """All sets of the fewest things with which the planner finds a way, whatever the things are."""
    universe = sorted(name for name in UNIVERSE if name not in task.shop.tools)
    for size in range(1, MOST + 1):
        found = [names for names in combinations(universe, size) if _can(_having(task, names))]
        if found:
            return found
    return []


def _can(task: Task) -> bool:
    try:
        return bool(solve_core(task.told.core).plan)
    except NoWay:
        return False


@pytest.mark.parametrize("seed", range(SEEDS))
def test_the_smallest_sets_are_those_that_trying_all_sets_finds(seed):
    """Each with the least that the exhaustive search finds for a shop that has it; the cheapest first, then by name."""
    task = drawn(seed, HAVE_LITTLE)
    if can_be_done(seed, HAVE_LITTLE):
        pytest.skip("this job can be done")
    found = openings(task)

    assert sorted(tuple(sorted(map(str, one.lacks))) for one in found) == _smallest_by_trying(task)
    for one in found:
        least = brute_force.solve(_having(task, list(map(str, one.lacks))).told.core)
        assert one.sheet.solved.total == least.total
    assert [one.sheet.worth for one in found] == sorted(one.sheet.worth for one in found)


# --- the price of an order ------------------------------------------------------------------------


def entries(task: Task, sheet, direction: str) -> list[str]:
    """The steps of a plan in one direction as entries of an order, one each."""
    steps = [step for step in sheet.steps if step.operation and step.operation.direction == direction]
    return [_entry(task, step) for step in steps]


def _entry(task: Task, step) -> str:
    operation, item = step.operation, task.area.items[step.operation.name]
    if item.kind != PART and item.ways:  # a thing put in is one chain for each of its ways
        return operation.item
    whole = operation.level == (item.levels if operation.direction == OUT else 1)
    way = next(
        (way.name for way in item.ways if way.name == step.way.name or step.way.name.startswith(f"{way.name}, ")), None
    )
    return f"{operation.name} by {way}" if way else operation.name if whole else f"{operation.name} {operation.state}"


def priced(task: Task, way_in: list[str], way_back: list[str] | None):
    back = "in reverse" if way_back is None else way_back
    text = f"order: 1\nname: the order\nway in: {way_in}\nway back: {back}\n"
    return price_order(task, read_order(text, "order.yaml", task.area))


@pytest.mark.parametrize("seed", range(SEEDS))
def test_the_cheapest_plan_s_own_order_costs_what_it_costs(seed):
    """Nothing is told against it, nothing is left out, nothing is dearer."""
    task = doable(seed)
    best = plan(task)
    found = priced(task, entries(task, best, "out"), entries(task, best, "back"))

    assert (found.sheet.worth, found.points, found.left_out, found.dearer) == (best.worth, (), (), ())


@pytest.mark.parametrize("seed", range(SEEDS))
def test_any_order_is_repaired_or_honestly_refused(seed):
    """Shuffled: its plan replays without a fault, costs no less than the cheapest, and keeps the order of all entries
    that nothing is told against; both parts of what it costs more are none below zero and add up."""
    task = doable(seed)
    best = plan(task)
    rng = Random(seed)
    way_in, way_back = entries(task, best, "out"), entries(task, best, "back")
    rng.shuffle(way_in)
    rng.shuffle(way_back)
    try:
        found = priced(task, way_in, rng.choice([way_back, None]))
    except NoWay as no_way:
        assert str(no_way).startswith("the order cannot be kept to: ")
        return
    walked = replay(found.sheet.core, found.sheet.solved.plan)

    assert (walked.broken, walked.total) == ((), found.sheet.solved.total)
    assert found.sheet.worth - best.worth == found.route + found.sequence
    assert found.route >= 0 and found.sequence >= 0
    late = {point.entry for point in found.points}
    done = [entry for entry in entries(task, found.sheet, "out") if entry in way_in and entry not in late]
    assert done == [entry for entry in way_in if entry not in late]


def test_few_orders_are_refused():
    """What a plan opens can be opened in some order, as in the plan: turned round, it is nearly always repaired."""
    tasks = [drawn(seed) for seed in range(0, SEEDS, 2) if can_be_done(seed)]
    refused = [task for task in tasks if not _can_be_priced(task, entries(task, plan(task), "out")[::-1])]
    assert len(refused) <= len(tasks) // 20


def _can_be_priced(task: Task, way_in: list[str]) -> bool:
    try:
        return priced(task, way_in, None).sheet.worth > 0
    except NoWay:
        return False


@pytest.mark.parametrize("seed", range(SEEDS))
def test_in_reverse_is_the_list_read_backwards(seed):
    """Whether somebody writes it out or not: the same points, the same price."""
    task = doable(seed)
    way_in = entries(task, plan(task), "out")
    backwards = [_back_again(task, entry) for entry in reversed(way_in)]
    try:
        short, long = priced(task, way_in, None), priced(task, way_in, backwards)
    except NoWay:
        return
    assert short.sheet.worth == long.sheet.worth
    assert len(short.points) == len(long.points)


def _back_again(task: Task, entry: str) -> str:
    """An entry of the way in as one of the way back: what went to one state goes back to the one before."""
    if entry.endswith(" loose"):
        return entry.removesuffix(" loose")
    return f"{entry} loose" if "loose" in getattr(task.area.items.get(entry), "states", ()) else entry
