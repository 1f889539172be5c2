"""Where a caution stands: at the first step that it is for, in each direction in which it applies."""

import pytest
from area_samples import HEAD, area, shop, state

from putback.plan_json import plan_object
from putback.way.plan import plan_way

PUMP = """\
parts:
  pump:
    from: top
    minutes: 4 off, 6 on
    hazards: [heavy]
    cautions: [mind the paint, {off: catch it, on: clean its face}]
    held by:
      pump bolts: {is: "2 x M8x30, class 8.8, 13 mm, 22 N·m", cautions: [no impact tool]}
      side bolt: M6x30, class 8.8, 10 mm, 8 N·m
    plugs:
      pump plug: {cautions: [{off: lift the lock}]}
"""
HEAVY = "heavy; carry it from below and keep out from under it"


def told(text: str, head: str = HEAD, given: str = "") -> dict[str, tuple[str, ...]]:
    """The cautions of each step that has some, by its name."""
    described = area(text, head)
    sheet = plan_way(described, shop(), state=state(given, described) if given else None)
    return {step.id: step.cautions for step in sheet.steps if step.cautions}


def at(text: str, words: str, **more) -> list[str]:
    """The steps at which a caution stands."""
    return [name for name, cautions in told(text, **more).items() if any(words in one for one in cautions)]


def test_what_is_said_of_a_part_stands_where_what_carries_it_is_opened_and_where_it_goes_back():
    """Trial: "catch it" stood at the plug. Once on the way in, at the first of its bolts; once back, at the part."""
    first = at(PUMP, "catch it")
    assert first in (["pump bolts: undo"], ["side bolt: undo"])
    assert at(PUMP, "mind the paint") == at(PUMP, HEAVY) == [*first, "pump: refit"]
    assert at(PUMP, "clean its face") == ["pump: refit"]


def test_what_is_said_of_a_fastener_or_a_plug_stands_there():
    """And nowhere else."""
    assert at(PUMP, "no impact tool") == ["pump bolts: undo", "pump bolts: tighten"]
    assert at(PUMP, "lift the lock") == ["pump plug: unplug"]


def test_a_part_whose_plug_alone_is_touched_says_nothing():
    """Neither moved nor opened."""
    other = "  pipe: {from: top, minutes: '1 off, 1 on', behind: [pump plug]}\n"
    head = HEAD.replace("  pump: {new", "  pipe: {new")
    assert list(told(PUMP + other, head)) == ["pump plug: unplug"]


def test_a_fastener_that_holds_another_part_as_well_says_what_that_asks():
    """It carries both."""
    shared = "  cover: {from: top, minutes: '1 off, 1 on', cautions: [{off: it drops}]}\n"
    text = PUMP + "    out through: {above: {behind: [cover]}}\n" + shared
    text = text.replace('cautions: [no impact tool]', 'also holds: [cover]')
    assert at(text, "it drops") == ["pump bolts: undo"]


@pytest.mark.parametrize(
    ("done", "where"),
    [
        ("pump bolts: out, side bolt: out, pump plug: unplugged", ["pump: remove", "pump: refit"]),
        ("pump bolts: 1 of 2 out, side bolt: out", ["pump bolts: undo 1 of 2", "pump: refit"]),
    ],
)
def test_a_job_taken_up_half_way_says_it_at_the_first_step_that_is_left(done, where):
    """Nobody who takes over has read what stood at a step that is done."""
    assert at(PUMP, HEAVY, given=f"now: {{{done}}}\n") == where


def test_a_part_that_is_in_place_says_it_at_its_fasteners():
    """The job is taken up when the part is back and its bolts are not."""
    where = at(PUMP, "clean its face", given="swapped: yes\nnow: {pump bolts: out, side bolt: out}\n")
    assert where in (["pump bolts: tighten"], ["side bolt: tighten"])


def test_a_group_that_is_broken_loose_first_is_no_part_set_free():
    """Its own words stand at the breaking loose and at the final tightening; those of the part where it comes out."""
    text = PUMP.replace('N·m", cautions', 'N·m, on the ground", cautions').replace("from: top", "from: wheel arch")
    text = text.replace("      side bolt: M6x30, class 8.8, 10 mm, 8 N·m\n", "")
    assert at(text, "no impact tool") == ["pump bolts: break loose", "pump bolts: tighten finally"]
    assert at(text, "catch it") == ["pump bolts: take out"]


@pytest.mark.parametrize("tag", ["hot", "live"])
def test_what_was_cold_or_dead_at_the_removal_is_not_warned_of_at_the_refit(tag):
    """At each thing that is touched on the way in, and at none on the way back."""
    text = "battery: clamp\n" + PUMP.replace("heavy", tag) + "  clamp: {from: top, minutes: '1 off, 1 on'}\n"
    words = {"hot": "may be hot", "live": "connected to the battery"}[tag]
    assert sorted(at(text, words)) == ["pump bolts: undo", "pump plug: unplug", "pump: remove", "side bolt: undo"]


def test_what_springs_is_warned_of_both_ways():
    """A spring is under tension when it goes in as well."""
    assert {"pump: remove", "pump: refit"} <= set(at(PUMP.replace("heavy", "under tension"), "keep fingers out"))


def test_a_support_is_said_to_stand_first_and_to_stay_last():
    """One sentence for each direction."""
    text = PUMP.replace("heavy", "supported") + "put in:\n  prop: {secures: [pump], from: top, minutes: '1 in, 1 out'}\n"
    assert at(text, "must stand before it is opened") in (["pump bolts: undo"], ["side bolt: undo"])
    assert at(text, "stays until it is tight") == ["pump: refit"]


def test_json_has_the_cautions_of_the_step():
    """What a page shows is what the paper says."""
    sheet = plan_way(area(PUMP), shop())
    shown = [tuple(step["cautions"]) for step in plan_object(sheet)["steps"] if "cautions" in step]
    assert shown == [step.cautions for step in sheet.steps if step.operation]
