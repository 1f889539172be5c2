"""A given order has its price: what it costs, where it is not allowed, where it is dearer, what it leaves out."""

import pytest
from area_samples import area, shop
from order_samples import ONE_JACK, PROP, described, priced, task

from putback.area.order_file import read_order
from putback.errors import InputError, NotYet, NoWay
from putback.way.price_order import price_order
from putback.way.replay import replay
from putback.way.task import make_task

# By hand, the cheapest: up 3, under the car 2, tray 3, back to the top 2, lid 2, pump 4; pump 6, lid 2; under 2,
# tray 3; down 2; the new bolt 1.50. Minutes at 60.00 an hour, the pump 100.00.
CHEAPEST = 100 * (3 + 2 + 3 + 2 + 2 + 4 + 6 + 2 + 2 + 3 + 2) + 150 + 10000


def points(found) -> list[tuple]:
    return [(point.entry, point.first) for point in found.points]


def texts(steps) -> list[str]:
    return [step.text for step in steps]


def order_of(found, *names: str) -> list[str]:
    """Some operations in the order in which the plan does them."""
    return [step.id for step in found.sheet.steps if step.id in names]


def test_the_cheapest_order_costs_what_the_plan_costs():
    """Nothing is told against it."""
    found = priced("tray, lid, pump by the top")

    assert found.best.worth == found.sheet.worth == CHEAPEST
    assert (found.route, found.sequence, found.dearer, found.points, found.left_out) == (0, 0, (), (), ())


def test_an_order_that_walks_about_is_dearer_by_its_walks():
    """The lid first is no detour, as the work begins on top; back in reverse it comes last, which is one walk more."""
    found = priced("lid, tray, pump by the top")

    # in reverse: pump, tray, lid: under 2, and to the top again 2
    assert found.sequence == found.sheet.worth - CHEAPEST == 200
    assert found.route == 0
    assert found.dearer == (("lid", 200), ("tray", 200))


def test_what_each_entry_alone_would_save_is_no_more_than_all_together():
    """One of the two need move."""
    found = priced("lid, tray, pump by the top")
    assert max(saves for _, saves in found.dearer) <= found.sequence


def test_another_way_is_dearer_by_what_it_opens():
    """By the arch: wheel 6, its bolts' shares in that; the order itself is the best for it."""
    found = priced("pump by the arch")
    assert found.route == found.sheet.worth - CHEAPEST > 0
    assert found.sequence == 0
    assert "remove the wheel" in texts(found.left_out)


def test_what_is_opened_for_nothing_costs_its_minutes():
    """The badge off and on: 2 minutes on top."""
    found = priced("tray, badge, lid, pump by the top")
    assert found.sheet.worth - CHEAPEST == 200
    assert (found.route, found.sequence) == (200, 0)


def test_what_comes_too_early_is_told_with_what_comes_first():
    """The pump ahead of lid and tray."""
    found = priced("pump by the top, tray, lid")
    assert points(found) == [("pump by the top", ("remove the lid", "remove the tray"))]
    assert order_of(found, "tray: remove", "lid: remove", "pump: remove") == [
        "tray: remove",
        "lid: remove",
        "pump: remove",
    ]


def test_what_is_loosened_on_the_ground_comes_before_the_lift():
    """Bolts named after the wheel: they must be loose before the car is up, and out before the wheel."""
    found = priced("wheel, wheel bolts, pump by the arch")
    assert points(found) == [("wheel", ("break the 4 wheel bolts loose",))]


def test_reversing_is_told_where_it_is_not_allowed():
    """The upper bolt is undone first and so would be tightened last; the lower one waits for it."""
    found = priced("tray, lid, upper bolt, lower bolt, pump by the top")
    assert points(found) == [("lower bolt", ("tighten the upper bolt",))]
    assert order_of(found, "upper bolt: tighten", "lower bolt: tighten") == [
        "upper bolt: tighten",
        "lower bolt: tighten",
    ]


def test_where_reversing_is_allowed_nothing_is_told():
    """The lower bolt is undone first."""
    assert priced("tray, lid, lower bolt, upper bolt, pump by the top").points == ()


def test_a_way_back_of_its_own_is_kept_to():
    """Tray ahead of the lid; what closes before the pump is back waits."""
    found = priced("tray, lid, pump by the top", "tray, pump, lid")

    assert points(found) == [("tray", ("refit the pump",))]
    assert order_of(found, "pump: refit", "tray: refit", "lid: refit") == ["pump: refit", "tray: refit", "lid: refit"]
    assert found.reverse == ()


def test_a_way_back_may_shut_in_nothing_that_nobody_named():
    """The lid alone is named: the pump goes back before it."""
    found = priced("tray, lid, pump by the top", "lid")
    assert (points(found), found.sequence) == ([], 0)
    assert "refit the pump" in texts(found.left_out)


def test_in_reverse_leaves_nothing_out_on_the_way_back():
    """Only what was done on the way in and not named is told."""
    found = priced("pump by the top")
    assert sorted(texts(found.left_out)) == ["remove the lid", "remove the tray"]


def test_the_plan_is_a_plan_of_the_whole_problem():
    """It replays without a fault at its own total."""
    for entries in ("lid, tray, pump by the top", "pump by the arch, wheel, lid", "wheel bolts loose, badge"):
        found = priced(entries)
        walked = replay(found.sheet.core, found.sheet.solved.plan)
        assert (walked.broken, walked.total) == ((), found.sheet.solved.total)


def test_by_minutes_it_is_minutes():
    """2 minutes, not 2.00."""
    assert priced("lid, tray, pump by the top", by="minutes").sequence == 2


UNDER_WAY = "posture: on a lift\nworking from: top\nnow: {lid: off, tray: off}\n"


def test_what_is_off_already_is_passed_over():
    """The job stands at the pump."""
    found = priced("tray, lid, pump by the top", at=UNDER_WAY)
    assert found.done_already == ("tray", "lid")
    assert "lid: remove" not in [step.id for step in found.sheet.steps]
    assert (found.points, found.sequence) == ((), 0)


def test_what_was_off_before_may_stand_on_the_way_back():
    """It goes back in this job."""
    found = priced("pump by the top", "pump, lid, tray", at=UNDER_WAY)
    assert order_of(found, "lid: refit", "tray: refit") == ["lid: refit", "tray: refit"]
    assert found.left_out == ()


def test_a_job_whose_new_part_is_in_has_only_its_way_back():
    """The whole of the way in is done already."""
    found = priced("tray, lid", "lid, tray", at=UNDER_WAY + "swapped: yes\n")
    assert found.done_already == ("tray", "lid")
    assert order_of(found, "lid: refit", "tray: refit") == ["lid: refit", "tray: refit"]


REFUSED = {
    "no such way here": (
        ("pump by the floor",),
        '"pump by the floor": not possible in sample shop for want of floor saw',
    ),
    "twice in other words": (
        ("pump by the top, pump by the arch",),
        '"pump by the arch": it stands in this list already, as "pump by the top"',
    ),
    "back what never came off": (
        ("pump by the top", "badge"),
        '"badge" on the way back: the way in leaves that as it is',
    ),
}


@pytest.mark.parametrize(("order", "sentence"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_priced_is_refused_with_its_place(order, sentence):
    """Before anything is planned."""
    with pytest.raises(InputError) as caught:
        priced(*order)
    assert sentence in str(caught.value)
    assert caught.value.place.line is not None


def test_a_way_back_of_its_own_opens_what_it_takes():
    """In by the top, and back by the arch: the wheel comes off for it, 6 minutes and what the walks cost."""
    found = priced("pump by the top", "pump by the arch")
    assert "remove the wheel" in texts(found.left_out)
    assert found.route >= 600


@pytest.mark.parametrize(("entry", "allowed"), [("prop by strut", True), ("prop by jack", False)])
def test_what_cannot_be_in_any_order_is_an_honest_no(entry, allowed):
    """The only jack cannot hold the lid and raise the car; a strut can."""
    job = make_task(area(PROP), shop("", ONE_JACK))
    order = read_order(f"order: 1\nname: the manual\nway in: [{entry}, pump]\n", "order.yaml", job.area)

    if allowed:
        assert price_order(job, order).sequence == 0
    else:
        with pytest.raises(NoWay, match=r"^the manual cannot be kept to: "):
            price_order(job, order)


def test_no_way_at_all_is_told_as_ever():
    """With the pump shut there is nothing to price."""
    with pytest.raises(NoWay, match="no safe way to the pump"):
        priced("lid", avoid=["pump"])


def test_when_time_is_over_something_is_told_all_the_same():
    """A clock that runs out at once: a price, perhaps without the best places of all entries, or a plain NotYet."""
    ticks = iter(range(0, 10**9, 1000))
    order = read_order("order: 1\nway in: [lid, tray, pump by the top]\n", "order.yaml", described())
    try:
        found = price_order(task(), order, clock=lambda: next(ticks), seconds=1)
    except NotYet:
        return
    assert found.sheet.worth >= CHEAPEST
