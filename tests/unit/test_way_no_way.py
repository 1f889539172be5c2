"""An honest "no" says what is stuck and what would make it a "yes"."""

import pytest
from area_samples import area, shop

from putback.errors import NotYet, NoWay
from putback.way.no_way import NoSafeWay, explained, ways_taken
from putback.way.plan import plan
from putback.way.task import make_task
from reference import demo_a

TEXT = """\
parts:
  lid: {from: top, minutes: "2 off, 2 on", tools: [lid key]}
  pump:
    from: top
    minutes: 4 off, 6 on
    behind: [lid]
    held by:
      pump bolt: {is: "M8x30, class 8.8, 13 mm, 22 N·m", reached: {by hand: {}, with a mirror: {with: mirror}}}
"""


def refused(text: str, **options) -> NoSafeWay:
    with pytest.raises(NoSafeWay) as caught:
        plan(make_task(area(text), shop(), **options))
    return caught.value


def test_a_no_in_one_sentence():
    """What is wanted, where, what is stuck and why, and what it would take."""
    assert str(refused(TEXT)) == (
        "no safe way to the pump in sample shop: it is stuck where one must remove the lid (for want of lid key); "
        "it would take: lid key"
    )


def test_a_no_that_nothing_would_change_asks_for_nothing():
    """The lid must not be opened."""
    no_way = refused(TEXT, avoid=["lid"])
    assert str(no_way).endswith("it is stuck where one must remove the lid (the lid must not be opened)")
    assert (no_way.openings, no_way.missing) == ((), ())


def test_several_sets_are_parted_by_or():
    """Either key does, or a puller and a mirror would be two things, which is more than one."""
    text = TEXT.replace("tools: [lid key]", "tools: [lid key or star key]")
    assert refused(text).missing == ("lid key or star key",)


def test_too_little_time_is_no_no():
    """Nobody knows yet."""
    not_yet = NotYet("no plan was found within the time given; give it more")
    assert explained(not_yet, make_task(area(TEXT), shop())) is not_yet


def test_what_the_planner_found_is_kept():
    """For whoever has nothing else to go by."""
    task = make_task(area(TEXT), shop())
    assert explained(NoWay("stuck at: lid"), task).found == "stuck at: lid"


def test_the_way_that_a_plan_takes_is_that_of_the_target_itself():
    """Not of its bolts, which have ways of their own."""
    assert ways_taken(plan(make_task(demo_a.area(), demo_a.shop()))) == ["the gap beside the raised engine"]


def test_else_it_is_that_of_its_fasteners_else_of_what_is_on_the_way():
    """The pump has one way, its bolt two; then the lid alone has several; then nothing has."""
    with_key = shop().with_more(tools=["lid key", "star key"])
    assert ways_taken(plan(make_task(area(TEXT), with_key))) == ["by hand"]

    plain = TEXT.replace(", reached: {by hand: {}, with a mirror: {with: mirror}}", "")
    lid = plain.replace(
        "tools: [lid key]",
        "out through: {a slot: {tools: [lid key]}, a flap: {tools: [star key], minutes: '5 off, 5 on'}}",
    )
    assert ways_taken(plan(make_task(area(lid), with_key))) == ["lid a slot"]
    assert ways_taken(plan(make_task(area(plain), with_key))) == []
