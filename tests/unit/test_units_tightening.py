"""What a sheet says a fastener is tightened to."""

import pytest

from putback.errors import InputError
from putback.units import FOOT_POUND, looks_like_torque, read_tightening


def refusal(text: str, unit: str | None = None) -> str:
    """The sentence with which a phrase is refused."""
    with pytest.raises(InputError) as caught:
        read_tightening(text, unit)
    return str(caught.value)


@pytest.mark.parametrize(
    ("text", "final", "low", "high"),
    [
        ("25 N·m", 25, None, None),
        ("20-25 N·m", 22.5, 20, 25),
        ("20 – 25 N·m", 22.5, 20, 25),
        ("20 N·m - 25 N·m", 22.5, 20, 25),
        ("20 to 25 N·m", 22.5, 20, 25),
        ("20...25 N·m", 22.5, 20, 25),
        ("25 ± 3 N·m", 25, 22, 28),
        ("25 N·m ± 3 N·m", 25, 22, 28),
        ("25 N·m +/-3", 25, 22, 28),
        ("25 N·m ± 10 %", 25, 22.5, 27.5),
        ("25 +3/-2 N·m", 25, 23, 28),
        ("25 +3/-0 N·m", 25, 25, 28),
        ("20-25 ft-lb", 22.5 * FOOT_POUND, 20 * FOOT_POUND, 25 * FOOT_POUND),
    ],
)
def test_ranges_and_tolerances(text, final, low, high):
    """Of a range the middle is meant; bounds are kept where the sheet says any."""
    told = read_tightening(text)

    assert told.final == pytest.approx(final)
    assert (told.low, told.high) == (low and pytest.approx(low), high and pytest.approx(high))


@pytest.mark.parametrize(
    ("text", "stages", "angles", "passes"),
    [
        ("92 N·m + 90°", (92,), (90,), 1),
        ("92 N·m then 90 deg", (92,), (90,), 1),
        ("92 Nm, 90°", (92,), (90,), 1),
        ("40 N·m / 90°", (40,), (90,), 1),
        ("92 N·m + 90° + 90°", (92,), (90, 90), 1),
        ("20 N·m + 40 N·m + 90°", (20, 40), (90,), 1),
        ("stage 1: 20 N·m; stage 2: 90°", (20,), (90,), 1),
        ("92 N·m + 90° ± 5°", (92,), (90,), 1),
        ("40 N·m plus a further quarter turn", (40,), (90,), 1),
        ("snug + 1/4 turn", (), (90,), 1),
        ("3/4 turn after gasket contact", (), (270,), 1),
        ("104 N·m in 2 passes", (104,), (), 2),
        ("passes 8 / 16 / 23 N·m", (8, 16, 23), (), 3),
        ("8/16/23 N·m + 90°", (8, 16, 23), (90,), 3),
    ],
)
def test_stages_angles_and_passes(text, stages, angles, passes):
    """Torques one after the other, then angles; the spin-on filter has an angle alone."""
    told = read_tightening(text)

    assert (told.stages, told.angles, told.passes) == (stages, angles, passes)


@pytest.mark.parametrize("text", ["25 N·m (18 ft-lb)", "25 N·m / 18 lb-ft", "25 N·m = 221 in-lb", "1.4 N·m (12 in-lb)"])
def test_one_torque_in_two_units_must_agree(text):
    """As nearly as both are printed: 25 N·m is 18.44 ft-lb, printed 18 (A6 of the units table)."""
    assert read_tightening(text).final == pytest.approx(25, abs=24)


def test_two_figures_that_do_not_agree_are_told():
    """28 for 18 is a slip of the printer; nobody may choose for the technician."""
    assert refusal("25 N·m (28 ft-lb)") == (
        '"25 N·m (28 ft-lb)" says two torques: 25 N·m and 28 ft-lb, which is 37.96 N·m; look at the sheet and write '
        "the right one"
    )


def test_numbers_take_the_unit_of_their_column():
    """Only where they have none of their own."""
    assert read_tightening("20-25", "Nm").low == 20
    assert read_tightening("92 + 90°", "Nm").stages == (92,)
    assert read_tightening("25 ft-lb", "Nm").final == pytest.approx(25 * FOOT_POUND)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("20 + 90°", 'write "20 N·m", "20 ft-lb" or "20 in-lb"'),
        ("20-25", 'write "20-25 N·m"'),
        ("25 +5 N·m", "has no clear unit"),
        ("90° + 25 N·m", "is no torque that is understood"),
        ("max 25 N·m", "is no torque that is understood"),
        ("snug", "is no torque that is understood"),
        ("25-20 N·m", "the bounds of a torque rise"),
        ("25 ± 30 N·m", "the bounds of a torque rise"),
        ("0 N·m", "a torque is above 0"),
        ("92 N·m + 0°", "an angle of tightening is above 0"),
        ("92 N·m + 1081°", "at most three turns"),
        ("", "is no torque that is understood"),
    ],
)
def test_what_is_not_understood_is_told(text, words):
    """One sentence that says what to write."""
    assert words in refusal(text)


def test_three_turns_are_the_most():
    """At the border."""
    assert read_tightening("92 N·m + 1080°").angles == (1080,)


@pytest.mark.parametrize(
    ("text", "looks"),
    [
        ("25", True), ("25 lb", True), ("20-25 N·m", True), ("20 N·m - 25 N·m", True), ("25 N·m in 2 passes", True),
        ("passes 8 / 16 N·m", True), ("25 N·m (18 ft-lb)", True), ("12 parsecs", False), ("rear edge", False),
        ("", False),
    ],
)  # fmt: skip
def test_what_looks_like_a_torque(text, looks):
    """A number with a unit of torque, or half of one; not every phrase that begins with a number."""
    assert looks_like_torque(text) is looks
