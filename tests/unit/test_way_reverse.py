"""What "refit in reverse order" does not say of a plan."""

import pytest
from area_samples import HEAD, PUMP, area, shop
from order_samples import priced, task

from putback.way.plan import plan, plan_way
from putback.way.reverse import not_said_by_reverse


def told(parts: str, head: str = HEAD) -> tuple[str, ...]:
    return not_said_by_reverse(plan_way(area(parts, head), shop()))


def pump(line: str, more: str = "") -> str:
    """The pump, held by bolts of that line."""
    return PUMP.replace("2 x M8x30, class 8.8, 13 mm, 22 N·m", line) + more


def test_what_has_no_other_side_needs_nothing_said():
    """Two plain bolts: off and on are alike."""
    assert told(PUMP) == ()


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("2 x M8x30, class 8.8, 13 mm, 22 N·m, one-time", "new ones go in, never the old: pump bolts"),
        ("2 x M8x30, class 8.8, 13 mm, 22 N·m + 90°", "pump bolts: in stages, 22 N·m + 90°"),
        ("2 x M8x30, class 8.8, 13 mm, 22 N·m in 2 passes", "pump bolts: in stages, 22 N·m in 2 passes"),
        (
            "4 x M8x30, class 8.8, 13 mm, 22 N·m in 2 passes, cross pattern",
            "pump bolts: in stages, 22 N·m in 2 passes, cross pattern",
        ),
        (
            "2 x M8x30, class 8.8, 13 mm, 22 N·m, on the ground",
            "pump bolts: finally tightened with the car on the ground",
        ),
    ],
)
def test_fasteners_that_go_back_otherwise(line, said):
    """New ones, an angle, passes, the ground."""
    assert told(pump(line)) == (said,)


def test_what_is_tightened_after_what():
    """One bolt pulls the part into place."""
    text = pump(
        "M8x30, class 8.8, 13 mm, 22 N·m", "      side bolt: M8x40, class 8.8, 13 mm, 22 N·m, after pump bolts\n"
    )
    assert told(text) == ("side bolt: tightened after pump bolts",)


def test_the_battery_goes_on_last():
    """It came off first or anywhere; it goes back on when nothing else is to be plugged in."""
    clamp = "  clamp: {from: top, minutes: '1 off, 1 on'}\n"
    text = PUMP.replace("    from: top\n", "    from: top\n    behind: [clamp]\n") + clamp
    assert told("battery: clamp\n" + text) == ("clamp: back on after every plug and cable",)
    assert told(text) == ()


def test_marks_are_aligned_to():
    """Made on the way in, needed on the way back."""
    text = PUMP + "put in:\n  dial marks: {marks: [pump], from: top, minutes: '1 in, 0 out'}\n"
    assert told(text) == ("pump: aligned to the dial marks before it is finally tightened",)


def test_what_ran_out_is_filled():
    """Oil that the pump loses."""
    assert told(PUMP + "    loses: 0.7 l gear oil, 11.20\n") == ("pump: filled with gear oil",)


def test_cautions_of_the_way_back_alone():
    """What was said on the way in already is not said again."""
    cautions = "    cautions:\n      - off: hold it\n      - on: the sleeve goes in first\n      - both ways\n"
    assert told(PUMP + cautions) == ("pump: the sleeve goes in first",)


def test_what_is_owed_afterwards():
    """Follow-ups, and work that belongs to the job."""
    work = "job work: {before: {readings: 3 min}, after: {road test: 5 min}}\n"
    head = HEAD + "follow-ups: {look for leaks: at hand-over}\n" + work
    assert told(PUMP + "    follow-ups: [look for leaks]\n", head) == (
        "afterwards, which nothing on the way in mirrors: look for leaks, road test",
    )  # fmt: skip


def test_each_is_said_once_and_nothing_of_what_stays_on():
    """The wheel is not touched, so that nothing of its bolts is said; by the arch it is."""
    always = {
        "new ones go in, never the old: upper bolt",
        "lower bolt: tightened after upper bolt",
        "pump: the sleeve goes in first",
    }
    assert set(not_said_by_reverse(plan(task()))) == always

    by_the_arch = not_said_by_reverse(priced("pump by the arch").sheet)
    assert len(by_the_arch) == len(set(by_the_arch))
    assert set(by_the_arch) - always == {
        "wheel bolts: in stages, 110 N·m in 2 passes, star pattern",
        "wheel bolts: finally tightened with the car on the ground",
        "afterwards, which nothing on the way in mirrors: re-check the wheel bolts",
    }
