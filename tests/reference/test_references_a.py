"""Units of torque and pressure against outside figures. Each test names where its numbers come from."""

import pytest

from putback.units import FOOT_POUND, INCH_POUND, KILOPOND_METRE, TORQUE_UNITS, torque


def test_a1_foot_pound():
    """Exact: 0.3048 m x 0.45359237 kg x 9.80665 m/s2; NIST SP 811 B.8 prints 1.355818 (from memory)."""
    assert pytest.approx(1.3558179483314004, rel=1e-12) == FOOT_POUND
    assert round(FOOT_POUND, 6) == 1.355818


def test_a2_inch_pound():
    """A twelfth; NIST SP 811 B.8 prints 0.1129848 (from memory), a navy's table of conversions 0.112985 (opened)."""
    assert pytest.approx(0.1129848290276167, rel=1e-12) == INCH_POUND
    assert (round(INCH_POUND, 7), round(INCH_POUND, 6)) == (0.1129848, 0.112985)


@pytest.mark.parametrize(("text", "value"), [("18 lbf·ft", 24.4047), ("89 lbf·in", 10.0556)])
def test_a3_a4_conversions(text, value):
    """Worked out from A1 and A2; no outside table."""
    assert torque(text) == pytest.approx(value, abs=0.001)


def test_a5_inch_pounds_read_as_foot_pounds():
    """89 lbf·in read as lbf·ft is 120.668 N·m, twelve times too much; worked out, no outside table."""
    assert torque("89 lbf·ft") == pytest.approx(120.668, abs=0.01)
    assert torque("89 lbf·ft") / torque("89 lbf·in") == pytest.approx(12, rel=1e-12)


@pytest.mark.parametrize(("unit", "number"), [("ft-lb", 18.4391), ("in-lb", 221.269)])
def test_a6_from_newton_metres(unit, number):
    """25 N·m; worked out from A1 and A2, no outside table."""
    assert torque("25 N·m") / TORQUE_UNITS[unit].size == pytest.approx(number, abs=0.001)


def test_a7_to_a9_what_the_units_are_built_from():
    """psi, bar and inch as scipy.constants and pint have them: the pound-force and the inch here give the same psi."""
    constants = pytest.importorskip("scipy.constants")
    pint = pytest.importorskip("pint").UnitRegistry()
    from putback.torque.classes import PSI
    from putback.torque.threads import INCH

    assert pytest.approx(constants.psi / 1e6, rel=1e-12) == PSI  # N/mm2
    assert pytest.approx(0.06894757293168, rel=1e-9) == PSI * 10  # bar
    assert 0.1 / PSI == pytest.approx(14.503773773, rel=1e-8)  # psi in a bar
    assert pytest.approx(pint("1 bar").to("psi").magnitude, rel=1e-12) == 0.1 / PSI
    assert pytest.approx(pint("1 inch").to("mm").magnitude, rel=1e-12) == INCH == 25.4


def test_a10_kilopond_metre():
    """Standard gravity; scipy.constants and pint agree."""
    constants = pytest.importorskip("scipy.constants")
    pint = pytest.importorskip("pint").UnitRegistry()

    assert pytest.approx(9.80665, rel=1e-12) == KILOPOND_METRE
    assert pytest.approx(constants.kgf, rel=1e-12) == KILOPOND_METRE
    assert pint("1 force_kilogram * m").to("N*m").magnitude == pytest.approx(KILOPOND_METRE, rel=1e-12)
