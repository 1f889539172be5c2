"""Units at the edge: one torque, its number and its unit."""

import pytest

from putback import units
from putback.errors import InputError


def refusal(text: str) -> str:
    """The sentence with which a torque is refused."""
    with pytest.raises(InputError) as caught:
        units.torque(text)
    return str(caught.value)


def test_foot_pounds_and_inch_pounds():
    """Exact by definition; NIST SP 811 B.8 prints 1.355818 and 0.1129848 (print values from memory)."""
    assert pytest.approx(1.3558179483314004, rel=1e-12) == units.FOOT_POUND
    assert pytest.approx(0.1129848290276167, rel=1e-12) == units.INCH_POUND


def test_units_agree_with_an_outside_library():
    """scipy.constants has foot, inch, pound and standard gravity from the same definitions."""
    constants = pytest.importorskip("scipy.constants")

    assert pytest.approx(constants.lbf * constants.foot, rel=1e-12) == units.FOOT_POUND
    assert pytest.approx(constants.lbf * constants.inch, rel=1e-12) == units.INCH_POUND
    assert pytest.approx(constants.kgf, rel=1e-12) == units.KILOPOND_METRE


SPELLINGS = {
    "N·m": [
        "N·m", "Nm", "N.m", "N m", "n·m", "N⋅m", "N∙m", "N•m", "N*m", "N-m", "N\u00a0m", "N\u202fm", "NM", "nm", "nM",
        "Newton metres", "newton-meter",
    ],
    "N·cm": ["N·cm", "Ncm", "NCM"],
    "N·mm": ["N·mm", "Nmm"],
    "cN·m": ["cN·m", "cNm"],
    "mN·m": ["mN·m", "mNm"],
    "daN·m": ["daN·m", "daNm", "m.daN"],
    "kN·m": ["kN·m", "kNm"],
    "ft-lb": [
        "ft-lb", "ft-lbs", "ft lb", "ft lbs", "ftlb", "FT-LBS", "ft. lbs.", "ft.lb", "ft-lbf", "lb-ft", "lbft",
        "lbf·ft",
        "lbf ft", "lbf.ft", "lb.ft.", "foot-pounds", "foot pounds", "pound-feet", "pound-force feet", "ft/lb",
        "ft/lbs", "ft#",
    ],
    "in-lb": [
        "in-lb", "in lbs", "inlb", "in. lbs.", "lb-in", "lbin", "lbf·in", "lbf.in", "inch pounds", "inch-pound",
        "in/lbs", "in-#",
    ],
    "in-oz": ["in-oz", "oz-in", "ozf·in", "ounce-inches"],
    "kgf·m": ["kgf·m", "kgf-m", "kgfm", "kp·m", "kpm", "kg·m", "kg-m", "kgm", "mkg", "m·kg", "mkp"],
    "kgf·cm": ["kgf·cm", "kgf cm", "kgcm", "kg-cm", "cmkg", "kp·cm"],
}  # fmt: skip


@pytest.mark.parametrize(("name", "word"), [(name, word) for name, words in SPELLINGS.items() for word in words])
def test_one_unit_in_many_spellings(name, word):
    """With and without a blank, in capitals and small letters, with every dot and dash there is.

    That `mkg`, `kgm` and `kg·m` on an old sheet are kilogram-force metres is common practice, no source.
    """
    assert units.read_torque(f"25 {word}") == units.read_torque(f"25{word}") == (25.0, units.TORQUE_UNITS[name])


OUTSIDE = {
    "N·m": "N*m", "N·cm": "N*cm", "N·mm": "N*mm", "cN·m": "cN*m", "mN·m": "mN*m", "daN·m": "daN*m", "kN·m": "kN*m",
    "ft-lb": "force_pound*foot", "in-lb": "force_pound*inch", "in-oz": "force_ounce*inch",
    "kgf·m": "force_kilogram*m", "kgf·cm": "force_kilogram*cm", "kgf·mm": "force_kilogram*mm",
}  # fmt: skip


@pytest.mark.parametrize("name", units.TORQUE_UNITS)
def test_the_size_of_every_unit_agrees_with_an_outside_library(name):
    """pint knows the same units by other names."""
    pint = pytest.importorskip("pint")
    size = pint.UnitRegistry()(OUTSIDE[name]).to("N*m").magnitude

    assert units.TORQUE_UNITS[name].size == pytest.approx(size, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("12.5 N·m", 12.5),
        ("12,5 N·m", 12.5),
        ("7 1/2 N·m", 7.5),
        ("7½ N·m", 7.5),
        ("7-1/2 N·m", 7.5),
        ("0,125 N·m", 0.125),
    ],
)
def test_numbers_as_people_write_them(text, number):
    """Decimal point or comma, halves and quarters."""
    assert units.torque(text) == number


def test_a_comma_that_may_part_thousands_is_asked_about():
    """One and a quarter, or twelve hundred and fifty."""
    assert refusal("1,250 N·m") == '"1,250" may be 1.25 or 1250; write it without the comma'


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("25", '"25 N·m", "25 ft-lb" or "25 in-lb"'),
        ("25 lb", '"25 ft-lb" or "25 in-lb"'),
        ("25 lbs.", '"25 ft-lb" or "25 in-lb"'),
        ("25 #", '"25 ft-lb" or "25 in-lb"'),
        ("25 lb/in", '"25 ft-lb" or "25 in-lb"'),
        ("25 kg", '"25 kgf·m" or "25 kgf·cm"'),
        ("25 kg/cm", '"25 kgf·m" or "25 kgf·cm"'),
        ("25 oz", '"25 in-oz" or "25 in-lb"'),
        ("25 N", '"25 N·m" or "25 N·cm"'),
        ("25 MN·m", '"25 N·m" or "25 mN·m"'),
        ("25 foot", '"25 N·m", "25 ft-lb" or "25 in-lb"'),
        ("25 J", '"25 N·m", "25 ft-lb" or "25 in-lb"'),
        ("25 N·m*", '"25 N·m"'),
    ],
)
def test_a_unit_that_may_mean_two_things_is_asked_about(text, question):
    """The question offers what it may have been meant for."""
    assert refusal(text) == f'torque "{text}" has no clear unit; write {question}'


@pytest.mark.parametrize("text", ["0 N·m", "N·m", "-3 N·m", "", "99999999999 N·m", "1e3 N·m", "25 N·ft"])
def test_what_is_no_torque_is_refused(text):
    """No number, no torque, no unit."""
    refusal(text)


@pytest.mark.parametrize(
    ("value", "shown"), [(25.0, "25 N·m"), (10.9594, "10.96 N·m"), (131.5, "131.5 N·m"), (5.5, "5.5 N·m")]
)
def test_torques_are_shown_with_their_unit(value, shown):
    """Four figures that count, no tail of zeros."""
    assert units.show_torque(value) == shown


def test_a_torque_is_shown_in_the_shops_unit_as_well():
    """Newton metres first, and not twice."""
    assert units.show_both(97 * units.INCH_POUND, "in-lb") == "10.96 N·m (97 in-lb)"
    assert units.show_both(25.0, "N·m") == "25 N·m"
