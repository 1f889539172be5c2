"""Threads against printed tables. Each row names where its numbers come from."""

import pytest

from putback.errors import InputError
from putback.torque import threads

COARSE = {6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0, 20: 2.5}


@pytest.mark.parametrize(("diameter", "area"), [(6, 20.1), (8, 36.6), (10, 58.0), (12, 84.3), (16, 157), (20, 245)])
def test_stress_areas(diameter, area):
    """ISO 898-1 nominal stress areas, coarse, as pages quote them (standard not opened); printed to 3 figures."""
    assert threads.stress_area(diameter, COARSE[diameter]) == pytest.approx(area, rel=0.004)


PROOF_LOADS = {
    "8.8": {6: 11600, 8: 21200, 10: 33700, 12: 48900, 14: 66700, 16: 91000, 20: 147000},
    "10.9": {6: 16700, 8: 30400, 10: 48100, 12: 70000, 14: 95500, 16: 130000},
}


@pytest.mark.parametrize(
    ("grade", "diameter", "load"),
    [(grade, diameter, load) for grade, loads in PROOF_LOADS.items() for diameter, load in loads.items()],
)
def test_proof_loads(grade, diameter, load):
    """ISO 898-1 proof loads, coarse [N], as pages quote them (standard not opened); 3 figures, rounded down."""
    area = threads.stress_area(diameter, COARSE[diameter])

    assert threads.proof_strength(grade, diameter) * area == pytest.approx(load, rel=0.007)


@pytest.mark.parametrize(
    ("grade", "diameter", "stress"),
    [("8.8", 16, 580), ("8.8", 16.1, 600), ("10.9", 12, 830), ("12.9", 12, 970), ("5.8", 8, 380)],
)
def test_proof_strengths(grade, diameter, stress):
    """ISO 898-1 table 3 [N/mm2], as a torque guideline quotes it; 5.8 from memory. 8.8 changes above 16 mm."""
    assert threads.proof_strength(grade, diameter) == stress


@pytest.mark.parametrize(("nut", "bolt"), [("8", "8.8"), ("10", "10.9")])
def test_a_nut_stands_for_the_bolt_that_it_is_made_for(nut, bolt):
    """ISO 898-2 table 1, from memory."""
    assert threads.proof_torque(12, 1.5, nut) == threads.proof_torque(12, 1.5, bolt)


@pytest.mark.parametrize(
    ("diameter", "pitch", "grade", "torque"),
    [
        (5, 0.8, "8.8", 8.2), (6, 1, "5.8", 9.2), (6, 1, "8.8", 14.0), (8, 1.25, "5.8", 22.3), (8, 1.25, "8.8", 34.0),
        (8, 1.25, "10.9", 48.6), (10, 1.5, "8.8", 67.3), (10, 1.25, "8.8", 71.0), (10, 1.25, "10.9", 101.6),
        (12, 1.5, "10.9", 175.5), (14, 1.5, "10.9", 289),
    ],
)  # fmt: skip
def test_proof_torques(diameter, pitch, grade, torque):
    """T = 0.2 d A S, worked out by hand with strengths from memory; no outside table."""
    assert threads.proof_torque(diameter, pitch, grade) == pytest.approx(torque, abs=0.5 if torque > 200 else 0.051)


def test_coarse_pitches():
    """ISO 261, from memory; the stress areas above depend on them."""
    assert {diameter: threads.pitches(diameter)[0] for diameter in COARSE} == COARSE


def test_a_class_or_thread_that_is_not_in_the_table_has_no_figure():
    """Nothing is made up."""
    assert threads.proof_torque(8, 1.25, "7.7") is None
    assert threads.pitches(8.5) == ()


def test_a_pitch_no_thread_can_have_is_refused():
    """Below the diameter and above 0."""
    with pytest.raises(InputError):
        threads.stress_area(8, 8)
