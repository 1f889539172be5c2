"""Torque wrenches, adapters and tightening orders against printed figures. Each test names where its numbers come from.

"Opened" means that a page was read on 2026-11-25; the standards that pages quote were not opened themselves.
"""

from datetime import date
from itertools import pairwise

import pytest

from putback.area.wrench import Wrench
from putback.torque.adapter import Adapter, applied, gain, setting
from putback.torque.calibration import MONTHS, OPERATIONS, calibration, deviation_of, due
from putback.torque.order import circle
from putback.torque.passes import AGAIN_KM, USUAL_SHARES, passes, snug
from putback.torque.wrench import covers, deviation, lowest
from putback.units import FOOT_POUND


@pytest.mark.parametrize(("most", "share"), [(5, 0.06), (10, 0.06), (10.01, 0.04), (300, 0.04)])
def test_c1_permissible_deviation(most, share):
    """ISO 6789 type II class A: 6 % up to a maximum of 10 N·m, 4 % above; a torque-tool maker's manual (opened).

    A seller of testing machines prints 1.5, 2 and 3 %, which contradicts all other pages; it is not followed.
    """
    assert deviation(Wrench("one", 1, most)) == share


@pytest.mark.parametrize(("reference", "percent"), [(96.5, 3.627), (95, 5.263)])
def test_c2_deviation_formula(reference, percent):
    """A = 100 (Xa - Xr) / Xr, ISO 6789-1 clause 7 (from memory); the arithmetic was done apart."""
    assert 100 * deviation_of(100, reference) == pytest.approx(percent, abs=1e-3)


def test_c3_the_lowest_test_point_is_the_lowest_torque_of_use():
    """Tested at 20, 60 and 100 % of the maximum; the same manual and a calibration laboratory's page (opened)."""
    unmarked = Wrench("one", None, 200)

    assert lowest(unmarked) == pytest.approx(0.20 * 200)
    assert all(covers(unmarked, share * 200) for share in (0.20, 0.60, 1.00))


def test_c4_usable_range():
    """A wrench of 40-200 N·m begins at its lowest mark (ISO 6789-1:2017, a laboratory's article, opened).

    A fifth of the maximum where no mark is known (2003 practice, opened).
    """
    marked, unmarked = Wrench("one", 40, 200), Wrench("other", None, 200)

    assert (lowest(marked), lowest(unmarked)) == (40, 40)
    assert (covers(marked, 39.9), covers(marked, 40), covers(marked, 200), covers(marked, 200.1)) == (
        False, True, True, False,
    )  # fmt: skip


def test_c5_recalibration():
    """12 months or 5000 operations; a firm's own procedure goes before it (calibration laboratories, opened)."""
    usual = Wrench("one", 40, 200, calibrated=date(2026, 1, 15), used=100)
    own = Wrench("one", 40, 200, calibrated=date(2026, 1, 15), months=6)

    assert (MONTHS, OPERATIONS) == (12, 5000)
    assert (due(usual), due(own)) == (date(2027, 1, 15), date(2026, 7, 15))
    assert calibration(usual, date(2026, 11, 25)).rank == 0
    assert calibration(own, date(2026, 11, 25)).rank == 2


def test_c6_adapter_in_line():
    """80 N·m, lever 40 cm, adapter 5 cm: 71.1 N·m; worked example of a page of calculators (opened)."""
    assert setting(80, 0.40, Adapter(0.05, 0)) == pytest.approx(71.11, abs=0.01)


def test_c7_adapter_in_line_in_feet_and_inches():
    """50 lbf·ft, lever 16 in, adapter 2 in: 44.44 lbf·ft; worked example of a torque wrench's manual (opened)."""
    found = setting(50 * FOOT_POUND, 16 * 0.0254, Adapter(2 * 0.0254, 0))

    assert found / FOOT_POUND == pytest.approx(44.44, abs=0.01)


def test_c8_adapter_at_an_angle():
    """No correction at 90°, L/(L - E) at 180°; an engineering handbook's page with both arms (opened).

    One page on building engines says that the correction applies at 90° only; it is the other way round.
    """
    assert setting(100, 0.35, Adapter(0.045, 90)) == 100
    assert setting(100, 0.35, Adapter(0.045, 180)) == pytest.approx(100 * 350 / (350 - 45), rel=1e-12)
    assert setting(100, 0.35, Adapter(0.045, 0)) != 100


def test_c9_adapter_at_45_degrees():
    """100 N·m, lever 350 mm, adapter 45 mm: 91.666 N·m (computed apart, no outside table)."""
    assert setting(100, 0.350, Adapter(0.045, 45)) == pytest.approx(91.666, abs=0.01)


def test_c10_what_a_forgotten_adapter_applies():
    """Set to 100 N·m with lever 350 mm and 45 mm in line: 112.857 N·m (computed apart, no outside table)."""
    assert applied(100, 0.350, Adapter(0.045, 0)) == pytest.approx(112.857, abs=0.01)


def test_c11_a_straight_socket_extension_changes_nothing():
    """Along the axis of the drive; the same wrench's manual (opened)."""
    assert gain(0.35, None) == 1


@pytest.mark.parametrize("count", range(4, 61, 2))
def test_c12_crosswise_lands_opposite(count):
    """12, 6, 3 and 9 o'clock, then halve; a gasket maker's description (opened)."""
    order = circle(count)

    assert sorted(order) == list(range(1, count + 1))
    assert all((order[at + 1] - order[at]) % count == count // 2 for at in range(0, count, 2))


@pytest.mark.parametrize(
    ("count", "order"),
    [
        (4, (1, 3, 2, 4)),
        (8, (1, 5, 3, 7, 2, 6, 4, 8)),
        (12, (1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12)),
    ],
)
def test_c13_crosswise_by_position(count, order):
    """A gasket maker's work sheet (opened); the legacy pattern of ASME PCC-1 (from memory)."""
    assert circle(count) == order


def test_c14_first_snug():
    """10 to 20 lbf·ft (13.6 to 27.1 N·m), never above 20 % of the torque; the same work sheet (opened)."""
    assert snug(1000) == pytest.approx((13.6, 27.1), abs=0.05)
    assert snug(50) == pytest.approx((10, 10))


def test_c15_star_of_five():
    """1-3-5-2-4, each step 144° (common practice, no source)."""
    order = circle(5)
    steps = [abs(a - b) * 72 for a, b in pairwise(order)]

    assert order == (1, 3, 5, 2, 4)
    assert all(min(step, 360 - step) >= 144 for step in steps)


def test_c16_passes():
    """30, 60 and 100 %, then one round at 100 % (two gasket makers' pages, opened).

    A work sheet has 25, 50 and 100 %; PCC-1 20-30, 50-70 and 100 % (from memory). Both can be asked for.
    """
    kinds = [(one.kind, one.torque) for one in passes(circle(8), 100, last_round=range(1, 9))]

    assert USUAL_SHARES == (0.3, 0.6, 1.0)
    assert kinds[1:] == [("pass", 30), ("pass", 60), ("pass", 100), ("round", 100)]
    assert [one.torque for one in passes(circle(8), 100, shares=(0.25, 0.5, 1))][1:] == [25, 50, 100]


def test_b30_wheels_again_after_driving():
    """50 to 100 miles (80 to 160 km): a wheel-adapter maker's chart (opened; common practice)."""
    assert pytest.approx((50 * 1.609344, 100 * 1.609344), rel=0.01) == AGAIN_KM
