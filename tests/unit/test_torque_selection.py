"""Which wrench, and what to set it to."""

from dataclasses import replace
from datetime import date

import pytest
from torque_samples import ALL, DAY, LARGE, LONG, MEDIUM, SMALL, a_wrench

from putback.errors import InputError
from putback.torque.adapter import Adapter
from putback.torque.selection import select
from putback.torque.wrench import Band
from putback.units import INCH_POUND


def names(selection) -> list[str]:
    return [choice.wrench.name for choice in selection.choices]


def test_trap_6_a_torque_below_every_wrench_names_one_that_would_do():
    """No guessing with a wrench that is too large."""
    selection = select(3.8, [MEDIUM, LARGE], day=DAY)

    assert selection.best is None
    assert selection.missing == "no wrench of this shop covers 3.8 N·m; a 1-5 N·m one would"
    assert [name for name, _ in selection.refused] == ["medium", "large"]


def test_a_shop_without_wrenches():
    """Says so."""
    assert select(90, []).missing == "this shop lists no torque wrench; a 40-200 N·m one would do for 90 N·m"


def test_a_choice_tells_setting_torque_error_and_band():
    """12.5 N·m through 38 mm straight on a lever of 240 mm: 10.79, set at 10.75, which gives 12.45 (+-4 %)."""
    best = select(12.5, ALL, day=DAY, adapter=Adapter(0.038, 0)).best

    assert (best.wrench.name, best.setting, best.shown) == ("medium", 10.75, "10.75 N·m")
    assert best.exact == pytest.approx(10.7914, abs=1e-4)
    assert best.torque == pytest.approx(12.4521, abs=1e-4)
    assert best.error == pytest.approx(-0.00383, abs=1e-5)
    assert best.band == pytest.approx((12.4521 / 1.04, 12.4521 / 0.96), abs=1e-3)
    assert best.notes == ()


def test_a_wrench_in_inch_pounds_is_set_in_inch_pounds():
    """To one of its own marks."""
    best = select(11.0, [a_wrench("40-200 in-lb in steps of 2 in-lb")]).best

    assert best.shown == "98 in-lb"
    assert best.torque == pytest.approx(98 * INCH_POUND)


def test_the_setting_must_lie_in_the_range_not_the_torque():
    """5.5 N·m through an adapter is set below 5; folded back 24 is set above 25."""
    assert "medium" not in names(select(5.5, ALL, adapter=Adapter(0.038, 0)))
    assert "medium" not in names(select(24, ALL, adapter=Adapter(0.038, 180)))
    assert "medium" in names(select(5.5, ALL, adapter=Adapter(0.038, 90)))


def test_with_an_adapter_the_lever_must_be_known():
    """The reason says how to tell it; at right angles it is not asked for."""
    bare = replace(MEDIUM, lever=None)

    assert "its lever is not known" in select(12.5, [bare], adapter=Adapter(0.038, 0)).missing
    assert select(12.5, [bare], adapter=Adapter(0.038, 90)).best.setting == 12.5


def test_trap_7_without_the_angle_no_wrench_is_offered():
    """Even where there would be one."""
    with pytest.raises(InputError, match="at what angle"):
        select(12.5, ALL, adapter=Adapter(0.038))


def test_an_adapter_that_reaches_a_grip_rules_that_wrench_out():
    """A longer one still does."""
    selection = select(100, [LONG, LARGE], adapter=Adapter(0.45, 180))

    assert names(selection) == []
    assert "reaches back" in dict(selection.refused)["large"]
    assert names(select(60, [LONG, LARGE], adapter=Adapter(0.45, 180))) == ["long"]


@pytest.mark.parametrize(
    ("torque", "given", "order"),
    [
        (70, {}, ["large", "long"]),  # both keep it; 70 lies in the middle half of 20-110 only
        (90, {}, ["large", "long"]),  # in neither middle half: the nearer to the middle of its range
        (104, {}, ["long", "large"]),
        (22, {"drive": "1/2 in"}, ["large", "medium"]),  # the drive goes before the middle
        (22, {}, ["medium", "large"]),
        (22.5, {"tolerance": Band(21.4, 23.6)}, ["medium", "large"]),
    ],
)
def test_wrenches_are_ranked_by_the_stated_rule(torque, given, order):
    """Tolerance, drive, middle of the range, calibration, nearness to the middle, name."""
    assert names(select(torque, ALL, day=DAY, **given)) == order


def test_a_tolerance_goes_before_all():
    """A finer wrench at the end of its range goes before a coarse one in the middle of its own."""
    fine, coarse = (
        a_wrench("20-50 N·m in steps of 1, ±2 %", "fine"),
        a_wrench("10-90 N·m in steps of 5, ±10 %", "coarse"),
    )

    selection = select(48, [coarse, fine], tolerance=Band(46, 50))

    assert names(selection) == ["fine", "coarse"]
    assert selection.choices[1].notes[0] == "its ±10 % may go beyond 46-50 N·m"
    assert select(48, [coarse], tolerance=Band(47, 49)).best.notes[0] == "its nearest mark is outside of 47-49 N·m"


def test_among_equals_the_calibrated_goes_first_and_an_overdue_one_is_still_offered():
    """With its warning."""
    late, good = replace(LARGE, name="a late one", calibrated=date(2020, 1, 1)), replace(LARGE, name="good")
    selection = select(65, [late, good], day=DAY)

    assert names(selection) == ["good", "a late one"]
    assert selection.choices[1].notes == ("its calibration of 2020-01-01 ran out on 2021-01-01",)


def test_at_the_very_bottom_of_a_scale_both_opinions_are_told():
    """20-110 N·m may be used at 21 by its marks, while a fifth of its maximum is 22."""
    assert any("below a fifth" in note for note in select(21, [LARGE], day=DAY).best.notes)
    assert not select(22, [LARGE], day=DAY).best.notes


@pytest.mark.parametrize("torque", [0, -5, float("nan")])
def test_a_torque_there_must_be(torque):
    """Above nought."""
    with pytest.raises(InputError, match="above 0"):
        select(torque, [SMALL])
