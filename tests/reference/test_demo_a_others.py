"""Demo area A: the other ways beside the plan, what a shop would have to get, and what the manual's order costs.

The figures were worked out by hand from the demo's table of parts, as in test_demo_a.py: minutes off and on of what
each route opens, expected risks at usual rust, job work, parts at their prices; labour at 92.00 an hour; changes of
tool and place counted nothing. A1 goes below, over the lowered subframe; A2 above, beside the raised engine; A3 through
the wheel arch, drive shaft out.
"""

from fractions import Fraction
from functools import cache

import pytest

from putback.area.model import OUT
from putback.area.order_file import read_order
from putback.way.alternatives import Alternative, alternatives
from putback.way.breakdown import breakdown
from putback.way.compare import difference
from putback.way.no_way import NoSafeWay, ways_taken
from putback.way.plan import plan
from putback.way.price_order import Priced, price_order
from putback.way.sheet import Sheet
from putback.way.task import make_task
from reference import demo_a

GAPS = {
    "A1": "the gap under the lowered subframe",
    "A2": "the gap beside the raised engine",
    "A3": "the wheel arch, drive shaft out",
}


@cache
def routes(
    by: str = "money", rust: str = "usual", without: tuple[str, ...] = (), seized: bool = False
) -> dict[str, Alternative]:
    """The cheapest plan of each route, the chosen one first."""
    state = demo_a.mount_nut_seized() if seized else None
    task = make_task(demo_a.area(), demo_a.shop(), state=state, by=by, rust=rust, without=without, no_setup=True)
    found = alternatives(task, plan(task))
    names = {gap: name for name, gap in GAPS.items()}
    told = {names[choice.way]: one for one in found for choice in one.choices if choice.way in names}
    [chosen] = ways_taken(found[0].sheet)
    return {names[chosen]: found[0]} | told


def likely(sheet: Sheet) -> Fraction:
    """Minutes if nothing goes wrong."""
    return sheet.minutes - breakdown(sheet).risks


# --- the other ways -------------------------------------------------------------------------------


def test_the_way_from_above_is_chosen():
    """A2 for money, at usual rust, with everything on hand."""
    assert next(iter(routes())) == "A2"


@pytest.mark.parametrize(
    ("route", "minutes", "expected", "money"),
    [("A1", 306, "313.2", "810.64"), ("A2", 255, "255.5", "698.47"), ("A3", 253, "260.05", "738.74")],
)
def test_each_route_is_told_with_what_it_costs(route, minutes, expected, money):
    """Likely minutes, expected minutes, money before tax to the cent."""
    sheet = routes()[route].sheet

    assert likely(sheet) == minutes
    assert sheet.minutes == Fraction(expected)
    assert round(sheet.money / 100, 2) == Fraction(money)


def test_what_makes_the_way_through_the_wheel_arch_lose_is_told():
    """It takes 2 minutes less, and is dearer by rust (7.05 for 0.5 minutes) and by its one-time parts alone."""
    assert routes()["A3"].reason == (
        "6.5 min of what rust and breakage take on average, 33.30 for parts and work given out; saves 2.0 min of work"
    )


def test_what_makes_the_way_from_below_lose_is_told():
    """51 minutes more of work, the alignment among them."""
    assert routes()["A1"].reason.startswith("51.0 min of work, 6.7 min of what rust and breakage take on average")


def test_on_a_clean_car_the_shorter_way_wins_where_minutes_are_saved():
    """Then A3 takes 253 and A2 255, and that is all the difference."""
    first, second = list(routes("minutes", "clean").items())[:2]
    assert (first[0], first[1].sheet.minutes) == ("A3", 253)
    assert (second[0], second[1].sheet.minutes) == ("A2", 255)
    assert second[1].reason.startswith("2.0 min of work")


@pytest.mark.parametrize(
    ("without", "order"),
    [
        ((), ["A2", "A3", "A1"]),
        (("engine support bar",), ["A2", "A3", "A1"]),
        (("engine support bar", "wood block"), ["A3", "A1", "A2"]),
        (("engine support bar", "wood block", "ball-joint separator"), ["A1", "A2", "A3"]),
        (("engine support bar", "wood block", "32 mm socket"), ["A1", "A2", "A3"]),
    ],
)
def test_what_a_shop_lacks_something_for_stands_behind_what_it_can_do(without, order):
    """Whatever it would cost; the first is what the shop does."""
    found = routes(without=without)
    assert list(found) == order
    assert [bool(one.lacks) for one in found.values()] == sorted(bool(one.lacks) for one in found.values())


# --- a nut that turns with its stud ---------------------------------------------------------------


def minutes_out(sheet: Sheet) -> Fraction:
    """Minutes of what is opened besides the alternator."""
    steps = [step.operation for step in sheet.steps if step.operation and step.operation.direction == OUT]
    return sum((one.minutes.likely for one in steps if one.part != "alternator"), Fraction(0))


def test_half_way_the_two_ways_that_are_left_are_compared():
    """A3 takes 27 minutes more off; A1 takes 31, and the wheels must be aligned. The way from above is no more."""
    found = routes(seized=True)

    assert list(found) == ["A3", "A1"]
    assert {route: minutes_out(one.sheet) for route, one in found.items()} == {"A3": 27, "A1": 31}
    assert "check the wheel alignment" in [name for name, _ in found["A1"].sheet.due]
    assert "check the wheel alignment" not in [name for name, _ in found["A3"].sheet.due]


def test_half_way_what_is_off_stays_off():
    """Neither way opens again what lies beside the car."""
    off = {name for name, at in demo_a.mount_nut_seized().at.items() if at.level and not at.done}
    for one in routes(seized=True).values():
        assert (
            not {step.operation.name for step in one.sheet.steps if step.operation and step.operation.direction == OUT}
            & off
        )


# --- what is missing ------------------------------------------------------------------------------

NOTHING_HOLDS = ("engine support bar", "wood block", "support table", "ball-joint separator")


def missing(*without: str) -> NoSafeWay:
    with pytest.raises(NoSafeWay) as caught:
        plan(make_task(demo_a.area(), demo_a.shop(), without=without, no_setup=True))
    return caught.value


def test_with_nothing_to_hold_anything_a_support_bar_is_advised():
    """Fewest kinds of things, then the cheapest way opened; the wood block costs the same here, so the name decides."""
    no_way = missing(*NOTHING_HOLDS)

    assert [stuck.operation for stuck in no_way.stuck] == ["undo the upper alternator bolt"]
    assert [(str(one.lacks[0]), ways_taken(one.sheet)) for one in no_way.openings] == [
        ("engine support bar", [GAPS["A2"]]),
        ("wood block >= 120 kg", [GAPS["A2"]]),
        ("ball-joint separator", [GAPS["A3"]]),
        ("support table >= 150 kg", [GAPS["A1"]]),
    ]


def test_with_one_jack_and_nothing_else_stands_and_a_wood_block_open_the_way_from_above():
    """Two kinds of things; of all sets of two this one needs no lift, and the jack that is there does the rest."""
    no_way = missing("two-post lift", "axle stand", *NOTHING_HOLDS)
    opened = {tuple(map(str, one.lacks)): one.sheet for one in no_way.openings}

    assert {len(lacks) for lacks in opened} == {2}
    assert ways_taken(opened["4 axle stands", "wood block >= 120 kg"]) == [GAPS["A2"]]


# --- the manual's order ---------------------------------------------------------------------------


@cache
def manual(root) -> Priced:
    """One way only, the subframe first, and "refit in reverse order"."""
    text = (root / "docs/examples/manual-order.yaml").read_bytes()
    task = make_task(demo_a.area(), demo_a.shop(), no_setup=True)
    return price_order(task, read_order(text, "manual-order.yaml", demo_a.area()))


def test_the_manual_s_order_is_allowed_and_takes_51_minutes_more(root):
    """306 likely minutes for 255: it is told what it costs, not refused."""
    found = manual(root)

    assert (likely(found.sheet), likely(found.best)) == (306, 255)
    assert difference(found.sheet, found.best).work == 51
    assert ways_taken(found.sheet) == [GAPS["A1"]]
    assert (round(found.sheet.money / 100, 2), round(found.best.money / 100, 2)) == (
        Fraction("810.64"),
        Fraction("698.47"),
    )


def test_the_subframe_cannot_come_first(root):
    """Wheel and undertray must be off for what holds and guards it."""
    [first] = [point for point in manual(root).points if point.entry == "subframe"]
    assert first.first == (
        "remove the left front wheel (for the anti-roll-bar link)",
        "remove the undertray (for the lower torque rod, the subframe marks, the support table)",
    )


def test_reverse_order_fails_at_five_points(root):
    """New fasteners, the subframe aligned before it is tight, the upper bolt first, relearning, wheel bolts checked."""
    told = manual(root).reverse
    [new] = [one for one in told if one.startswith("new ones go in, never the old: ")]
    [afterwards] = [one for one in told if one.startswith("afterwards, which nothing on the way in mirrors: ")]

    assert {"link nut", "pinch bolt", "front subframe bolts", "rear subframe bolts"} <= set(
        new.partition(": ")[2].split(", ")
    )
    assert "subframe: aligned to the subframe marks before it is finally tightened" in told
    assert {"front subframe bolts: in stages, 92 N·m + 90°", "rear subframe bolts: in stages, 68 N·m + 60°"} <= set(
        told
    )
    assert "lower alternator bolt: tightened after upper alternator bolt" in told
    assert "relearn the windows, the clock and the steering angle" in afterwards
    assert "re-check the wheel bolts after 80 km" in afterwards


def test_the_plan_in_the_manual_s_order_keeps_to_these_points(root):
    """Aligned, then tightened; upper bolt, then lower bolt; the battery before anything is relearned."""
    done = [step.id for step in manual(root).sheet.steps]
    for earlier, later in [
        ("subframe: raise", "front subframe bolts: tighten"),
        ("subframe: raise", "rear subframe bolts: tighten"),
        ("upper alternator bolt: tighten", "lower alternator bolt: tighten"),
    ]:
        assert done.index(earlier) < done.index(later)
    assert "relearn the windows, the clock and the steering angle" in [
        work.name for work in manual(root).sheet.job_work if work.when == "after"
    ]
