"""Belt drives against printed figures and other people's formulas. Each test names where its numbers come from.

"Opened" means that a page was read on 2026-11-25; the standards that pages quote were not opened themselves.
"""

from math import degrees, exp, pi, radians, sin

import pytest
from shapely import Point, unary_union

from putback.belt.drive import RIBS, Stop
from putback.belt.geometry import ANTICLOCKWISE, CLOCKWISE, Wheel, loop
from putback.belt.profile import profile, read_mark, width
from putback.belt.pull import HALF_GROOVE, friction_ratio, in_grooves, span_frequency, span_tension
from putback.belt.route import lay, speed_ratio
from putback.drive_file import read_drive

from belt_samples import two_pulleys



def inside(x, y, radius):
    return Wheel(x, y, radius, ANTICLOCKWISE)


def test_g1_open_belt_in_inches():
    """D 18, d 6, C 96 in: 3.016511 and 3.266674 rad, 230.074 in; solutions to Shigley (Budynas), chapter 17,
    equations 17-1 and 17-2 (opened)."""
    found = loop([inside(0, 0, 9), inside(96, 0, 3)])

    assert found.wraps[::-1] == pytest.approx((3.016511, 3.266674), abs=1e-5)
    assert found.length == pytest.approx(230.074, abs=0.001)


def test_g2_open_belt():
    """D 300, d 200, C 1000 mm: 2787.899 mm, 174.268°; the same equations, a closed form (computed apart)."""
    found = loop([inside(0, 0, 150), inside(1000, 0, 100)])

    assert found.length == pytest.approx(2787.899, abs=0.01)
    assert degrees(found.wraps[1]) == pytest.approx(174.268, abs=0.001)


def test_g3_approximate_length():
    """L = 2C + pi (D + d)/2 + (D - d)²/(4C); a page of calculators (opened)."""
    approximate = 2 * 1000 + pi * 500 / 2 + 100**2 / 4000

    assert approximate == pytest.approx(2787.898, abs=0.01)
    assert loop([inside(0, 0, 150), inside(1000, 0, 100)]).length == pytest.approx(approximate, abs=0.01)


def test_g4_three_pulleys_inside():
    """Spans, wraps and 1230.305 mm; closed form, and the hull of package shapely (computed apart)."""
    circles = [(0, 0, 80), (300, 50, 30), (150, 260, 60)]
    found = loop([inside(*one) for one in circles])
    hull = unary_union([Point(x, y).buffer(r, quad_segs=20_000) for x, y, r in circles]).convex_hull

    assert found.length == pytest.approx(1230.305, abs=0.01)
    assert found.length == pytest.approx(hull.length, abs=1e-6)
    assert [one.length for one in found.spans] == pytest.approx([300.000, 256.320, 299.500], abs=0.01)
    assert [degrees(one) for one in found.wraps] == pytest.approx([142.727, 99.937, 117.336], abs=0.01)


def five_pulleys():
    circles = [(0, 0, 80), (280, 20, 27.5), (170, 140, 35), (210, 300, 62.5), (-30, 280, 70)]
    return loop([Wheel(*one, CLOCKWISE if n == 2 else ANTICLOCKWISE) for n, one in enumerate(circles)])


def test_g5_five_pulleys_with_one_on_the_back():
    """1627.296 mm, spans, wraps; closed form of directed tangents, a root solve and a polyline (computed apart)."""
    found = five_pulleys()

    assert found.length == pytest.approx(1627.296, abs=0.01)
    assert [one.length for one in found.spans] == pytest.approx([275.760, 150.312, 133.018, 240.715, 281.425], abs=0.01)
    assert [degrees(one) for one in found.wraps] == pytest.approx(
        [100.784, 140.223, 115.365, 143.256, 91.101], abs=0.01
    )


def test_g5_the_same_by_a_drive_file():
    """As a technician would describe it: the same length, and the same balance."""
    places = {"a": (0, 0, 160), "b": (280, 20, 55), "c": (170, 140, 70), "d": (210, 300, 125), "e": (-30, 280, 140)}
    lines = [
        f"  {name}: {{is: {'driver' if name == 'a' else 'idler'}, at: '{x}, {y} mm', effective diameter: {size} mm"
        f"{', rotation: anticlockwise' if name == 'a' else ''}{'' if name == 'c' else ', grooves: 6'}}}"
        for name, (x, y, size) in places.items()
    ]
    head = "drive: 1\nname: five pulleys\nbelt: 6PK1627\nroute: [a, b, c, d, e]\npulleys:\n"
    drive = read_drive(head + "\n".join(lines) + "\n", "five.yaml")
    found = lay(drive, drive.route)

    assert 1000 * found.loop.length == pytest.approx(1627.296, abs=0.01)
    assert 1000 * found.spare == pytest.approx(-0.296, abs=0.01)
    assert [stop.side for stop in found.route] == ["ribs", "ribs", "back", "ribs", "ribs"]


def test_g6_turning_balance():
    """Wraps inside less wraps on the back are a full turn; geometry (computed apart)."""
    found = [degrees(one) for one in five_pulleys().wraps]

    assert sum(found) - 2 * found[2] == pytest.approx(360, abs=1e-9)
    assert degrees(five_pulleys().turning) == pytest.approx(360, abs=1e-9)


def test_g7_profile_pk():
    """Pitch 3.56 mm, least effective diameter 45 mm, effective line differential 2 mm; ISO 9981:2020 clauses 5.2 and
    5.4 and a glossary on ISO 9982, as quoted (pages opened)."""
    assert profile("PK")[1:] == pytest.approx((0.00356, 0.002, 0.045), rel=1e-12)


@pytest.mark.parametrize(("name", "pitch"), [("PH", 1.60), ("PJ", 2.34), ("PL", 4.70), ("PM", 9.40)])
def test_g8_other_pitches(name, pitch):
    """The same glossary (opened)."""
    assert 1000 * profile(name).pitch == pytest.approx(pitch, rel=1e-12)


def test_g9_mark_of_a_belt():
    """6PK2120: six ribs, PK, effective length 2120 mm, 21.36 mm of ribs; the same glossary (opened)."""
    found = read_mark("6PK2120")

    assert (found.ribs, found.profile.name, found.length) == (6, "PK", 2.12)
    assert 1000 * width(found.ribs, found.profile) == pytest.approx(21.36, rel=1e-12)


def test_g10_speed_ratio_counts_the_line_differential():
    """Effective diameters 140 and 55: (140 + 4)/(55 + 4) = 2.4407, not 2.5455; ISO 9981 clause 5.4 as quoted (opened),
    that it counts twice is from memory."""
    drive = two_pulleys()
    found = speed_ratio(lay(drive, drive.route), Stop("alternator", RIBS))

    assert found == pytest.approx(2.4407, abs=0.0005)
    assert found != pytest.approx(140 / 55, abs=0.05)


def test_g11_belt_friction():
    """0.3 over half a turn: 2.5663; 0.25 over two and a half turns: 50.754, so that 39.41 N hold 2000 N; worked
    questions of a page (opened; printed 2.6 and about 40 N)."""
    assert friction_ratio(0.3, pi) == pytest.approx(2.5663, abs=1e-4)
    assert friction_ratio(0.25, 5 * pi) == pytest.approx(50.754, abs=1e-3)
    assert 2000 / friction_ratio(0.25, 5 * pi) == pytest.approx(39.41, abs=0.01)


def test_g12_grooves():
    """1/sin of half the groove: 3.236 at 18°, 2.924 at 20°; the same page (opened). PK has 40° (from memory)."""
    assert in_grooves(1, radians(18)) == pytest.approx(3.236, abs=1e-3)
    assert in_grooves(1, radians(20)) == pytest.approx(2.924, abs=1e-3)
    assert degrees(2 * HALF_GROOVE) == pytest.approx(40)
    assert friction_ratio(in_grooves(0.3), 2) == pytest.approx(exp(0.3 * 2 / sin(radians(20))))


def test_g13_tone_of_a_span():
    """0.20 m, 400 N, 0.12 kg/m: 144.338 Hz; the string's equation (from memory, elementary physics)."""
    assert span_frequency(400, 0.20, 0.12) == pytest.approx(144.338, abs=0.01)


def test_g14_tension_from_the_tone():
    """0.25 m, 95 Hz, 0.12 kg/m: 270.75 N; T = 4 m L² f² (computed apart)."""
    assert span_tension(95, 0.25, 0.12) == pytest.approx(270.75, abs=0.01)
    assert span_tension(span_frequency(333, 0.21, 0.14), 0.21, 0.14) == pytest.approx(333)
