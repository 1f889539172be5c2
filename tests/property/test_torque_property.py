"""What must hold for any thread, class and torque."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.torque import preload as p
from putback.torque.classes import classes, proof_torque
from putback.torque.generic import generic_range
from putback.torque.interval import Range
from putback.torque.judge import judge
from putback.torque.pasted import read_pasted
from putback.torque.rows import area_line, judge_rows
from putback.torque.threads import metric, pitches, read_thread
from putback.torque.work import EVIDENCE, Work
from putback.units import TORQUE_UNITS, Tightening, read_tightening, show_in

SIZES = [5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 22, 24]
METRIC = [metric(size, pitch) for size in SIZES for pitch in pitches(size)]
INCH = [
    read_thread(name) for name in ("#10-24", "1/4-20", "5/16-18", "3/8-16", "7/16-20", "1/2-13", "1/2-20", "3/4-16")
]
THREADS = st.sampled_from(METRIC + INCH)
UNITS = st.sampled_from(sorted(TORQUE_UNITS))
FRICTIONS = st.tuples(st.floats(0.05, 0.4), st.floats(0.05, 0.4)).map(lambda two: Range(*sorted(two)))


@st.composite
def bolts(draw):
    """A thread and one of its classes."""
    thread = draw(THREADS)
    return thread, draw(st.sampled_from(classes(thread)))


def tightening(value: float, unit: str) -> Tightening | None:
    """A torque as it would be typed, where it can be typed in that unit."""
    text = show_in(value, unit)
    return read_tightening(text) if 0.001 < float(text.split()[0]) < 1e6 else None


@given(
    bolts(),
    st.floats(1.001, 40),
    UNITS,
    st.one_of(st.none(), st.floats(0.02, 20)),
    st.booleans(),
    st.sampled_from((*EVIDENCE, None)),
)
def test_above_proof_is_never_fine(bolt, times, unit, spec_times, angle, evidence):
    """Whatever the unit, the sheet, the angle and the evidence."""
    thread, grade = bolt
    proof = proof_torque(thread, grade)
    entered = tightening(times * proof, unit)
    spec = tightening(spec_times * proof, unit) if spec_times else None
    if entered is None or entered.final <= proof:
        return
    if spec and angle:
        spec = read_tightening(f"{spec.text} + 90°")
    done = Work(evidence=evidence, angle_done=True)

    assert judge(entered, spec, thread=thread, property_class=grade, done=done).verdict == "stop"


@given(bolts(), st.floats(0.2, 0.88), st.floats(-0.05, 0.05))
def test_what_keeps_to_a_sound_sheet_is_fine(bolt, share, off):
    """No false alarm within the tolerance."""
    thread, grade = bolt
    spec = share * proof_torque(thread, grade)
    found = judge(tightening(spec * (1 + off), "N·m"), tightening(spec, "N·m"), thread=thread, property_class=grade)

    assert (found.verdict, found.unit_probably_meant) == ("fine", None)


@given(bolts(), st.floats(0.2, 0.88), st.permutations(["N·m", "ft-lb", "in-lb"]))
def test_every_slip_among_the_three_units_is_recognised(bolt, share, units):
    """The number of the sheet, typed with another unit."""
    thread, grade = bolt
    wrong, right, _ = units
    spec = tightening(share * proof_torque(thread, grade), right)
    found = judge(read_tightening(f"{spec.readings[-1].number:g} {wrong}"), spec, thread=thread, property_class=grade)

    assert found.verdict != "fine"
    assert found.unit_probably_meant == right


@given(THREADS, st.floats(1, 500), FRICTIONS, FRICTIONS)
def test_preload_and_torque_enclose_each_other(thread, torque, in_thread, under_head):
    """From torque to preload and back the range holds the torque that it began with."""
    load = p.preload_of(torque, thread, in_thread, under_head)

    assert p.torque_for(load.low, thread, in_thread, under_head).high == pytest.approx(torque)
    assert p.torque_for(load.high, thread, in_thread, under_head).low == pytest.approx(torque)


@given(bolts(), FRICTIONS)
def test_more_friction_takes_more_torque_for_less_preload(bolt, friction):
    """The generic range widens with the friction, and never turns round."""
    found = generic_range(*bolt, friction)
    exact = generic_range(*bolt, Range(friction.low, friction.low))

    assert exact.torque.low == found.torque.low
    assert exact.preload.high == found.preload.high
    assert 0 < found.torque.low <= found.torque.high


BITS = st.sampled_from(
    [
        "bolt",
        "M8x1.25",
        "8.8",
        "25",
        "12,5",
        "Nm",
        "ft-lb",
        "lb",
        "+ 90°",
        "\t",
        ";",
        ",",
        "|",
        "   ",
        " ",
        "...",
        "Name",
        "Torque",
    ]
)
LINES = st.lists(st.one_of(st.lists(BITS, max_size=9).map("".join), st.text(max_size=20)), max_size=6)


@given(LINES)
def test_no_line_of_a_table_is_lost(lines):
    """Every line is a row, a heading or a refusal, once, unless there is nothing in it."""
    text = "\n".join(line.replace("\n", " ").replace("\r", " ") for line in lines)
    found = read_pasted(text)
    told = sorted(
        [row.line for row in found.rows] + [line for line, _ in found.headings] + [one.line for one in found.refused]
    )
    blank = [number for number, line in enumerate(text.split("\n"), 1) if not re.search(r"\w|[^\s|:+=_\-–—]", line)]

    assert sorted(told + blank) == [*range(1, len(text.split("\n")) + 1)]
    assert all("\n" not in one.reason for one in found.refused)
    for row in judge_rows(found.rows):
        assert "\n" not in area_line(row, "page 1")
