"""The car differs: logged, planned again, and told what changes."""

from fractions import Fraction

import pytest
from desk_samples import THINKING, Desk, half_way_on_a

from putback.desk.change import Opened
from putback.desk.differs import Found, differs, plan_again, settle
from putback.desk.others import other_ways
from putback.errors import InputError

AREA = """\
area: 1
name: sample
figures from: invented
work from: {top: any posture}
targets: {pump: {new: 100.00}}
parts:
  pump:
    from: top
    minutes: 4 off, 6 on
    behind: [cover]
    held by:
      pump bolts: 2 x M8x30, class 8.8, 13 mm, 22 N·m
  cover:
    from: top
    minutes: 1 off, 1 on
    held by:
      cover clips: 2 x ball clip
"""


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def found(desk: Desk, item: str, what: str, **more):
    return differs(desk.ledger, desk.job, desk.stamp, Found(item, what, **more), THINKING)


@pytest.fixture
def seized(desk):
    """Scenario A: one of the two mount nuts turns with its stud, and the other is out."""
    desk.open("a", cap=76000.0)
    desk.plan()
    half_way_on_a(desk)
    return found(desk, "left mount nuts", "seized", note="turns with its stud")


def test_a_seized_mount_nut_leads_through_the_wheel_arch(seized):
    """Scenario A: heat shield 5 and drive shaft 22 min more off, everything else stays off, gearbox oil is owed."""
    change = seized.change

    assert change.opens == (Opened("heat shield", Fraction(5)), Opened("left drive shaft", Fraction(22)))
    assert ("fill the gearbox to its level", Fraction(8)) in change.owed
    assert "raise the engine 50 mm" in change.gone_steps and "remove the left drive shaft" in change.new_steps
    assert "remove the undertray" not in change.new_steps


@pytest.mark.slow
def test_the_other_ways_stand_beside_it(desk, seized):
    """Story 6: through the wheel arch 27 min off, over the lowered subframe 31 min off and the wheel alignment."""
    ways = other_ways(seized.view, desk.stamp.now(), THINKING)
    subframe = next(one for one in ways if "subframe" in one.name)

    assert ways[0].total == seized.change.after and ways[0].off == 27 and ways[0].reason == ""
    assert subframe.off == pytest.approx(31) and "check the wheel alignment" in dict(subframe.owed)
    assert [one.total.money for one in ways] == sorted(one.total.money for one in ways)


def test_a_dearer_way_asks_for_consent_with_the_new_total(seized):
    """Story 6, trap 72: what is done already counts; the audit says so as well until the customer has agreed."""
    change = seized.change

    assert change.whole_before.money == pytest.approx(Fraction(219982, 3))  # the first plan's 733.27
    assert change.consent.agreed == 76000 and change.consent.total == change.whole_after.money
    assert change.whole_after.money - change.whole_before.money == change.after.money - change.before.money
    assert "consent" in {point.key for point in seized.view.points}


def test_the_new_plan_is_in_force_at_once(seized):
    """With why it was made."""
    assert seized.view.state.plans[-1]["why"] == "left mount nuts: seized"
    assert any(step["id"] == "left drive shaft: remove" for step in seized.view.plan["steps"])


def test_freed_again_the_first_way_is_back(desk, seized):
    """Settled by heat: A2 goes on, and the total is what it was."""
    told = settle(desk.ledger, desk.job, desk.stamp, "left mount nuts", "freed with heat", THINKING)

    assert told.change.whole_after.money == seized.change.whole_before.money and told.change.consent is None
    assert "consent" not in {point.key for point in told.view.points}
    with pytest.raises(InputError, match='nothing about "left mount nuts" waits'):
        settle(desk.ledger, desk.job, desk.stamp, "left mount nuts", "again", THINKING)


def test_the_ladder_stands_beside_the_new_way(seized):
    """Cheapest first, and what is expected of the other way is what its plan says."""
    other = next(one for one in seized.ladder.rungs if one.means is None)
    assert other.expected.money == seized.change.after.money
    assert seized.ladder.rungs[0].expected.money < other.expected.money


def test_what_is_not_fitted_is_neither_opened_nor_asked_for(desk):
    """Its minutes fall away, and so do its clips."""
    desk.describe(AREA)
    told = found(desk, "cover", "not fitted")

    assert set(told.change.gone_steps) >= {"remove the cover", "refit the cover"} and told.change.new_steps == ()
    assert told.change.after.minutes < told.change.before.minutes


def test_a_broken_clip_comes_off_all_the_same_and_is_paid_for(desk):
    """Its price is what the job costs more; nothing is shut, so there is no ladder."""
    desk.describe(AREA)
    told = found(desk, "cover clips", "broken", count=1, price=70.0)

    assert told.change.after.money - told.change.before.money == 70
    assert told.ladder is None and told.change.new_steps == ()


def test_a_broken_bolt_shuts_its_part_and_that_is_an_honest_no(desk):
    """No other way to the pump: what it takes to free it, and the car is made safe meanwhile."""
    desk.describe(AREA)
    told = found(desk, "pump bolts", "broken", count=1)

    assert told.no_way is not None and told.change is None
    assert {one.name for one in told.ladder.rungs} == {"extractor", "drill"}
    assert told.meanwhile is not None and told.meanwhile.steps == ()
    assert "the price of a new one is not known" in " ".join(told.sentences)


def test_another_tool_that_the_shop_has_changes_the_tool_only(desk):
    """The next plan takes it in hand."""
    desk.describe(AREA)
    told = found(desk, "pump bolts", "other tool", tool="14 mm")

    assert told.change.new_steps == () and "14 mm socket" in told.view.plan["tools"]


def test_another_tool_that_the_shop_lacks_is_an_honest_no(desk):
    """Trap 51: said now, with what would open a way."""
    desk.describe(AREA)
    told = found(desk, "pump bolts", "other tool", tool="T60")
    assert "has no T60 bit" in " ".join(told.sentences) and "T60 bit" in str(told.no_way)


def test_what_is_found_besides_has_a_new_name_and_nothing_else_has(desk):
    """Story 31: an own part is logged under its own name; a slip in any other name is refused, and nothing logged."""
    desk.describe(AREA)
    before = len(desk.look().logged)
    with pytest.raises(InputError, match='did you mean "cover clips"'):
        found(desk, "cover clip", "seized")
    with pytest.raises(InputError, match="say which tool"):
        found(desk, "pump bolts", "other tool")
    with pytest.raises(InputError, match="it is what the car came for"):
        found(desk, "pump", "not fitted")
    assert len(desk.look().logged) == before

    told = found(desk, "hidden bracket", "extra found")
    assert "proposed for the area file" in " ".join(told.sentences) and told.change.new_steps == ()


def test_a_wrong_part_stops_the_swap_not_the_plan(desk):
    """Stories 17 and 36: the plan stays, the audit bars the hand-over, and the car can be left meanwhile."""
    desk.describe(AREA)
    told = found(desk, "pump", "wrong part", note="solid pulley")
    assert told.change.new_steps == told.change.gone_steps == ()
    assert "wrong part: pump" in {point.key for point in told.view.points}
    assert told.meanwhile is not None and told.meanwhile.no_way is None


def test_a_car_that_nobody_described_keeps_the_difference_and_offers_the_ladder(desk):
    """Nothing can be planned or weighed; the gentle means come before the rough ones."""
    desk.open()
    told = found(desk, "exhaust nut", "seized")
    assert told.change is None and told.no_way is None and told.ladder.rungs[0].name == "soak"
    assert told.view.state.differences[0].item == "exhaust nut"


def test_work_that_came_up_counts_in_the_next_plan(desk):
    """The stud of the mount is repaired as a line of its own: 20 min at 60.00 an hour are 20.00."""
    desk.describe(AREA)
    desk.plan()
    desk.say("work added", work="repair the stud", minutes=20)
    told = plan_again(desk.ledger, desk.job, desk.stamp, THINKING, "a stud to repair")
    last, first = told.view.state.plans[-1], told.view.state.plans[0]
    assert last["money"] - first["money"] == pytest.approx(2000)


def test_a_part_to_avoid_is_dearer_by_what_it_is_dearer(desk):
    """What was done before still counts in full."""
    desk.open("a", cap=76000.0)
    desk.plan()
    desk.moved("engine cover", "off")
    told = plan_again(desk.ledger, desk.job, desk.stamp, THINKING, "the customer's wish", avoid=["left engine mount"])
    assert told.change.spent.minutes > 0
    assert told.change.whole_after.money > told.change.whole_before.money
