"""What one thing more would save, and nothing that would save nothing."""

from fractions import Fraction

import pytest
from area_samples import SHOP, area, shop

from putback.way.one_more import savings
from putback.way.plan import plan
from putback.way.task import make_task

PUMP = """\
parts:
  pump:
    from: top
    minutes: 4 off, 6 on
    out through:
      by hand: {}
      hoist: {with: engine hoist, minutes: '3 off, 4 on'}
      tongs: {tools: [pipe tongs], minutes: '2 off, 3 on'}
      rope: {with: rope, minutes: '9 off, 9 on'}
"""


def saved(text: str, shop, **options) -> list[tuple[str, Fraction]]:
    task = make_task(area(text), shop, **options)
    return [(str(one.lack), one.saves) for one in savings(task, plan(task))]


def test_what_saves_most_stands_first():
    """At 60.00 an hour: tongs 5 minutes for 10 and one change of tool, the hoist 7 for 10; the rope saves nothing."""
    assert saved(PUMP, shop()) == [("pipe tongs", 400), ("engine hoist", 300)]
    assert saved(PUMP, shop("", SHOP.replace("tool: 1", "tool: 3"))) == [("engine hoist", 300), ("pipe tongs", 200)]


def test_equal_savings_stand_by_name():
    """A change of tool of 2 minutes makes both save 3."""
    assert saved(PUMP, shop("", SHOP.replace("tool: 1", "tool: 2"))) == [("engine hoist", 300), ("pipe tongs", 300)]


def test_by_minutes_it_is_minutes_that_are_saved():
    """4 minutes, not 4.00."""
    assert saved(PUMP, shop(), by="minutes") == [("pipe tongs", 4), ("engine hoist", 3)]


@pytest.mark.parametrize(
    ("rate", "told"),
    [
        ("0.19", False),  # 3 minutes are 0.95 cents
        ("0.20", True),  # 1 cent
        ("0.21", True),
    ],
)
def test_less_than_a_cent_is_no_saving(rate, told):
    """Below, at and above one cent."""
    found = saved(
        PUMP.replace("tongs: {tools: [pipe tongs], minutes: '2 off, 3 on'}", "sling: {}"),
        shop("", SHOP.replace("60.00", rate)),
    )
    assert bool(found) == told


@pytest.mark.parametrize(("off", "told"), [("3.96", False), ("3.95", True), ("3.9", True)])
def test_less_than_shows_in_minutes_is_no_saving(off, told):
    """A twentieth of a minute shows as a tenth: 0.04, 0.05 and 0.1 minutes less than 4."""
    text = PUMP.replace(
        "hoist: {with: engine hoist, minutes: '3 off, 4 on'}",
        f"hoist: {{with: engine hoist, minutes: '{off} off, 6 on'}}",
    )
    found = saved(text.replace("tools: [pipe tongs]", "with: rope"), shop(), by="minutes")
    assert [lack for lack, _ in found if lack == "engine hoist"] == (["engine hoist"] if told else [])


def test_a_lift_in_place_of_stands_is_a_thing_too():
    """Up 9 and down 7 on stands, 3 and 2 on a lift that the shop knows of and has not got: 11 minutes."""
    text = "parts:\n  pump: {from: under, minutes: '4 off, 6 on'}\n"
    base = SHOP.replace("{two-post lift: 1}", "{floor jack: 1, axle stand: 4}")
    base = base.replace(
        "on a lift: 3 min up, 2 min down", "on a lift: 3 min up, 2 min down\n  on stands: 9 min up, 7 min down"
    )
    assert saved(text, shop("", base)) == [("two-post lift", 1100)]


def test_a_shop_that_has_everything_saves_nothing():
    """Nothing is lacking."""
    with_all = shop("", SHOP.replace("  sockets: 6-32 mm", "  sockets: 6-32 mm\n  others: [pipe tongs]").replace(
        "{two-post lift: 1}", "{two-post lift: 1, engine hoist: 1, rope: 1}"
    ))  # fmt: skip
    assert saved(PUMP, with_all) == []


def test_when_time_is_over_nothing_is_made_up():
    """A clock that has run out: what is told has a plan all the same."""
    task = make_task(area(PUMP), shop())
    best = plan(task)
    ticks = iter(range(0, 10**9, 1000))
    found = savings(task, best, clock=lambda: next(ticks), seconds=1)

    assert all(one.saves == best.worth - one.sheet.worth > 0 for one in found)
