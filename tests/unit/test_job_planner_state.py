"""The ledger's state in the planner's words."""

from fractions import Fraction

from log import Log, demo_area

from putback.area.model import Spread
from putback.area.state_file import At
from putback.job.planner_state import area_state, targets_left


def test_what_is_off_is_off_for_the_planner():
    """Parts, groups whole and in part, and things put in with their way."""
    log = Log(demo_area("a"), targets=["alternator"])
    log.off("left mount nuts", 1)
    log.off("mount-to-body bolts", 3)
    log.moved("engine support", "in", way="support bar")
    log.moved("engine cover", "off")
    at = area_state(log.state, log.area).at

    assert at["left mount nuts"] == At(0, 1)
    assert at["mount-to-body bolts"] == At(1)
    assert at["engine support"] == At(1, way="support bar")
    assert at["engine cover"] == At(1) and at["cover clips"] == At(1)


def test_what_is_run_in_by_hand_has_to_be_gone_to_again():
    """Wheel bolts that are in and not tight are loose; those of which some are out are never called tight."""
    log = Log(demo_area("a"))
    log.off("wheel bolts", 4)
    log.say("fasteners on", item="wheel bolts", count=3, new=False, evidence="hand-tight")
    assert area_state(log.state, log.area).at["wheel bolts"] == At(1, 1)
    log.say("fasteners on", item="wheel bolts", count=1, new=False, evidence="hand-tight")
    assert area_state(log.state, log.area).at["wheel bolts"] == At(1)


def test_a_seized_group_stays_shut_until_it_is_settled():
    """The reason goes with it."""
    log = Log(demo_area("a"))
    log.off("left mount nuts", 1)
    log.say("difference found", item="left mount nuts", what="seized", note="turns with its stud")
    assert area_state(log.state, log.area).shut == {"left mount nuts": "turns with its stud"}
    log.say("difference settled", item="left mount nuts", how="nut split")
    assert area_state(log.state, log.area).shut == {}


def test_a_wait_runs_down_by_the_clock():
    """Of ten minutes for the airbags four are over."""
    log = Log(demo_area("c"))
    log.moved("battery clamp", "off", _at=10)
    name = next(iter(area_state(log.state, log.area).waiting))
    assert area_state(log.state, log.area).waiting == {name: Fraction(10)}
    assert area_state(log.state, log.area, "2026-03-02T08:14:00.000Z").waiting == {name: Fraction(6)}
    assert area_state(log.state, log.area, "2026-03-02T08:21:00.000Z").waiting == {}


def test_the_swap_is_over_once_every_target_is_in():
    """Until then the ones left are planned for."""
    log = Log(demo_area("a"), targets=["alternator", "belt"])
    log.say("part swapped", part="belt")
    assert targets_left(log.state) == ("alternator",) and not area_state(log.state, log.area).swapped
    log.say("part swapped", part="alternator")
    assert area_state(log.state, log.area).swapped


def test_work_that_came_up_is_planned_until_it_is_done():
    """A stud to be repaired is a line of its own."""
    log = Log(demo_area("a"))
    log.say("work added", work="repair the stud", minutes=20)
    assert area_state(log.state, log.area).added == (("repair the stud", Spread(*[Fraction(20)] * 3)),)
    log.say("work done", work="repair the stud")
    assert area_state(log.state, log.area).added == ()


def test_what_broke_is_paid_once_and_only_a_thread_stays_in_its_hole():
    """A clip comes out in pieces; of a bolt the shank stays in; what is new anyway is not paid twice."""
    log = Log(demo_area("a"))
    for item, more in (("push pins", {"price": 70.0}), ("bracket bolt", {}), ("link nut", {}), ("undertray", {"price": 9000.0})):
        log.say("difference found", item=item, what="broken", **more)
    state = area_state(log.state, log.area)

    assert state.broken == {"push pins": 70, "bracket bolt": 0, "undertray": 9000}
    assert list(state.shut) == ["bracket bolt", "link nut"]

    log.off("push pins", 4)
    log.say("fasteners on", item="push pins", count=4, new=True, evidence="seated")
    assert list(area_state(log.state, log.area).broken) == ["bracket bolt", "undertray"]


def test_one_more_or_less_than_the_file_says_can_be_planned_with():
    """Four of five out where the file has four; three of three, where one was missing from the start."""
    log = Log(demo_area("a"))
    log.off("push pins", 5)
    log.say("fasteners on", item="push pins", count=1, new=True, evidence="seated")
    log.say("difference found", item="cover clips", what="not fitted", count=1)
    log.off("cover clips", 3)
    log.off("idler bolt", 2)
    log.on("idler bolt", 1, 43)
    at = area_state(log.state, log.area).at
    assert (at["push pins"], at["cover clips"], at["idler bolt"]) == (At(0, 3), At(1), At(1))
