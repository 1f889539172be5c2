"""Demo A as a quote: the money of its three ways to the cent, and what each of them makes one order.

Totals, prices and numbers of fasteners were worked out by hand from the demo's table of parts (all invented): labour at
92.00 an hour at expected minutes, no time for set-up, core returned, before tax.
"""

from functools import cache
from time import perf_counter

import pytest

from putback.estimate.quote import Quote, make_quote
from putback.estimate.to_order import ONE_TIME
from putback.estimate.while_open import while_open
from putback.way.plan import plan
from putback.way.task import make_task
from reference import demo_a
from reference.test_demo_a import ROUTES


@cache
def quote(route: str) -> Quote:
    task = make_task(demo_a.area(), demo_a.shop(), avoid=ROUTES[route], no_setup=True)
    return make_quote(task, plan(task))


@pytest.mark.parametrize(("route", "net", "tax"), [("A1", 81064, 16213), ("A2", 69847, 13969), ("A3", 73874, 14775)])
def test_money_to_the_cent(route, net, tax):
    """Before tax as the table says; a fifth of that is tax: 162.128, 139.694 and 147.748."""
    bill = quote(route).bill

    assert (bill.net, bill.tax, bill.total) == (net, tax, net + tax)


@pytest.mark.parametrize(
    ("route", "expected"),
    [
        ("A1", {"front subframe bolts": 2, "rear subframe bolts": 2, "pinch bolt": 1, "link nut": 1}),
        ("A2", {"left mount nuts": 2}),
        ("A3", {"hub nut": 1, "ball-joint bolt": 1}),
    ],
)
def test_one_time_fasteners_by_number(route, expected):
    """A1: a11, a13, two a14, two a15; A2: two a17; A3: a19, a20, and shaft seal and circlip with them."""
    order = {one.name: one for one in quote(route).order}

    assert {name: one.count for name, one in order.items() if one.kind == ONE_TIME} == expected
    assert order["push pins"].count == 4
    assert ("shaft seal" in order, "circlip" in order) == (route == "A3", route == "A3")


def test_the_core_deposit_is_besides():
    """45.00 until the old alternator is back."""
    assert quote("A2").core == 4500


def test_a_part_that_is_in_the_order_anyway_is_not_offered_while_it_is_open():
    """The belt is new in every job; the idler pulley comes off anyway and costs no time at all."""
    task = make_task(demo_a.area(), demo_a.shop())
    offer = while_open(task, plan(task), clock=perf_counter, seconds=30)
    found = {one.name: one for one in offer.found}

    assert "belt" not in found and "subframe" not in found
    assert (found["idler pulley"].minutes, found["idler pulley"].is_off, found["idler pulley"].has_price) == (0, True, False)
    assert found["left drive shaft"].other_way == "the wheel arch, drive shaft out"
    assert offer.unseen == ()


def test_the_tensioner_is_nearly_free_while_the_belt_is_off():
    """Three minutes and 48.00 more; alone it would be its own way in, with the wheel, the liner and the belt off."""
    task = make_task(demo_a.area(), demo_a.shop(), no_setup=True)
    offer = while_open(task, plan(task), seconds=None)
    found = next(one for one in offer.found if one.name == "tensioner")

    assert (found.minutes, found.cents, found.has_price) == (3, 4800 + 460, True)  # 3 min at 92.00 an hour are 4.60
    assert found.alone[0] > 90
    assert found.other_way == ""
