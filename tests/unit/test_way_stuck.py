"""The operation that no plan gets past is told, and what stands in each of its ways."""

import pytest
from area_samples import HEAD, area, shop, state

from putback.way.from_area_stuck import stuck
from putback.way.task import make_task


def told(text: str, head: str = HEAD, *, at: str = "", **options) -> list[tuple[str, tuple]]:
    described = area(text, head)
    task = make_task(described, options.pop("shop", shop()), state=state(at, described) if at else None, **options)
    return [(one.operation, one.ways) for one in stuck(task.missing())]


CHAIN = """\
parts:
  lid: {from: top, minutes: "2 off, 2 on", tools: [lid key]}
  tray: {from: top, minutes: "3 off, 3 on", behind: [lid]}
  pump: {from: top, minutes: "4 off, 6 on", behind: [tray]}
"""
TWO = """\
parts:
  lid: {from: top, minutes: "2 off, 2 on", tools: [lid key]}
  shield: {from: top, minutes: "2 off, 2 on", with: hub puller}
  pump:
    from: top
    minutes: 4 off, 6 on
    out through:
      above: {behind: [lid]}
      below: {behind: [shield]}
"""


def test_nothing_is_stuck_where_all_can_be_reached():
    """A shop with the key."""
    assert told(CHAIN, shop=shop().with_more(tools=["lid key"])) == []


def test_the_deepest_cause_is_told():
    """The pump waits for the tray, the tray for the lid: it is the lid that nobody can remove."""
    assert told(CHAIN) == [("remove the lid", (("", "for want of lid key"),))]


def test_of_several_ways_each_has_its_own_cause():
    """They part at the pump, so the pump is told, and for each way what lies at its root."""
    assert told(TWO) == [
        ("remove the pump", (("above", "for want of lid key"), ("below", "for want of hub puller"))),
    ]  # fmt: skip


def test_what_must_not_be_opened_is_told_as_such():
    """Avoided at the end of a chain, and as the root of one of several ways."""
    assert told(CHAIN, avoid=["lid"]) == [("remove the lid", (("", "the lid must not be opened"),))]
    assert told(TWO, avoid=["shield"]) == [
        ("remove the pump", (("above", "for want of lid key"), ("below", "the shield must not be opened"))),
    ]  # fmt: skip


def test_what_cannot_be_opened_today_is_told_the_same():
    """A state says that the lid is stuck."""
    assert told(CHAIN, at="cannot be opened: {lid: its thread is gone}\n") == [
        ("remove the lid", (("", "the lid must not be opened"),)),
    ]  # fmt: skip


def test_what_is_off_already_and_cannot_go_back_is_told():
    """The lid came off with a key that is gone: it is the way back that is stuck."""
    assert told(CHAIN, at="now: {lid: off}\n") == [("refit the lid", (("", "for want of lid key"),))]


def test_what_is_off_already_may_go_back_by_another_way():
    """By the slot it takes a key that is gone, by the flap the badge must come off: with that shut, both are told."""
    text = """\
parts:
  badge: {from: top, minutes: "1 off, 1 on"}
  lid:
    from: top
    minutes: 2 off, 2 on
    out through: {a slot: {tools: [lid key]}, a flap: {behind: [badge]}}
  pump: {from: top, minutes: "4 off, 6 on", behind: [lid]}
"""
    assert told(text, at="now: {lid: off}\n") == []
    assert told(text, at="now: {lid: off}\n", avoid=["badge"]) == [
        ("refit the lid", (("a slot", "for want of lid key"), ("a flap", "the badge must not be opened"))),
    ]  # fmt: skip


def test_a_car_without_any_way_is_told():
    """The only ways of the lid are another variant's."""
    text = CHAIN.replace("tools: [lid key]", "out through: {a slot: {only for: late}}")
    assert told(text, HEAD + "variants: {kind: [early, late]}\n") == [
        ("remove the lid", (("", "this car has no way for the lid"),)),
    ]  # fmt: skip


@pytest.mark.parametrize("targets", [("pump", "tray"), ("tray", "pump")])
def test_one_cause_of_two_targets_is_told_once(targets):
    """Both wait for the lid."""
    head = HEAD.replace("targets:\n", "targets:\n  tray: {new: 5.00}\n")
    assert told(CHAIN, head, targets=targets) == [("remove the lid", (("", "for want of lid key"),))]


def test_a_chain_without_a_way_out_of_itself_is_told():
    """Each of two parts waits for the other one: nothing is lacking, and still nothing moves."""
    text = """\
parts:
  lid: {from: top, minutes: "2 off, 2 on", behind: [tray]}
  tray: {from: top, minutes: "3 off, 3 on", behind: [lid]}
  pump: {from: top, minutes: "4 off, 6 on", behind: [tray]}
"""
    [(operation, ways)] = told(text)
    assert operation in ("remove the lid", "remove the tray")
    assert ways == (("", "some of its steps wait for each other"),)
