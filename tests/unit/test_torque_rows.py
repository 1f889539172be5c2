"""Rows judged on their way in, and written for an area file."""

import pytest

from putback.area.fastener import read_line
from putback.torque.pasted import read_pasted
from putback.torque.rows import Known, area_line, judge_rows
from putback.torque.threads import metric
from putback.units import read_tightening

AREA = {
    "stud nut": Known(metric(8), "5.8", "M8x1.25 stud nut, class 5.8", read_tightening("11 N·m")),
    "Upper bolt": Known(metric(10), "8.8", "M10x96 bolt, class 8.8"),
}


def judged(text: str, area=None):
    """The first row of a table, judged."""
    return judge_rows(read_pasted(text).rows, area)[0]


def codes(one) -> list[str]:
    return [found.code for found in one.judgement.findings if found.verdict != "fine"]


def test_each_row_is_held_against_its_thread():
    """97 ft-lb on a stud that 22.3 N·m bring to its proof load."""
    found = judged("stud nut; M8; 5.8; 97 ft-lb").judgement

    assert (found.verdict, found.unit_probably_meant) == ("stop", "in-lb")


def test_thread_and_class_come_from_the_area_where_the_sheet_has_none():
    """And capitals or blanks in the name change nothing."""
    assert codes(judged("STUD  NUT; 97 ft-lb", AREA)) == ["above-proof", "unit-slip", "torque-differs"]
    assert judged("upper bolt; 46 Nm", AREA).row.name == "Upper bolt"


def test_a_name_that_the_area_does_not_have_is_offered_the_nearest():
    """Nothing is matched by being near."""
    found = judged("uper bolt; 46 Nm", AREA)

    assert (codes(found), found.known) == (["name-not-known"], None)
    assert found.judgement.findings[-1].words == 'The area has no fastener "uper bolt"; did you mean "Upper bolt"?'
    assert (
        judged("something else; 46 Nm", AREA).judgement.findings[-1].words
        == 'The area has no fastener "something else"'
    )


def test_where_sheet_and_area_differ_it_is_asked_which_is_right():
    """Torque, thread and class; the same torque in another unit is no difference."""
    assert codes(judged("stud nut; 12 Nm", AREA)) == ["torque-differs"]
    assert codes(judged("stud nut; 97 in-lb", AREA)) == []
    assert codes(judged("Upper bolt; M10x1.25; 46 Nm", AREA)) == ["thread-differs"]
    assert codes(judged("Upper bolt; M10; 10.9; 46 Nm", AREA)) == ["class-differs"]


def test_without_thread_and_class_nothing_is_claimed():
    """Fine, with the remark that it was held against nothing."""
    found = judged("cover screw; 8 Nm").judgement

    assert (found.verdict, found.findings[0].code) == ("fine", "not-judged")


@pytest.mark.parametrize(
    ("text", "source", "line"),
    [
        ("cover screw; 8 Nm", "", "cover screw: fastener, 8 Nm"),
        ("upper bolt; M10; 8.8; 46 Nm", "page 12", "upper bolt: M10x1.5 bolt, class 8.8, 46 Nm, source page 12"),
        ("lower bolt; 12,5 Nm, 90°", "", "lower bolt: fastener, 12.5 Nm then 90°"),
        ("nut: 2; 8 Nm", "", '"nut: 2": fastener, 8 Nm'),
        ("wheel nut; 1/2-20; grade 8; 85 ft-lb", "", "wheel nut: fastener, 85 ft-lb  # 1/2-20 UNF, grade 8"),
        ("filter; snug + 1/4 turn", "", "# filter: snug + 1/4 turn (an angle: write it as a caution)"),
        ("bolt; M8; 8.8; 97 Nm", "", "# bolt: M8x1.25 bolt, class 8.8, 97 Nm"),
        (
            "cover screw; 8 Nm",
            "page 12, table 3",
            'cover screw: {is: "fastener", torque: "8 Nm", source: "page 12, table 3"}',
        ),
    ],
)
def test_lines_for_an_area_file(text, source, line):
    """A row that is not fine stands behind a #, until its question is answered."""
    assert area_line(judged(text), source) == line


@pytest.mark.parametrize(
    "torque",
    ["8 Nm", "20-25 ft-lb", "25 Nm ± 10 %", "92 Nm, 90°", "passes 8 / 16 / 23 Nm", "25 Nm (18 ft-lb)", "12,5 Nm"],
)
def test_an_area_file_reads_the_lines(torque):
    """Each torque comes back as it was."""
    one = judged(f"bolt; M14x1.5; 10.9; {torque}")
    line = area_line(one, "page 12").removeprefix("# ").removeprefix("bolt: ")
    fastener = read_line(line).fastener

    assert fastener.torque.stages == one.row.tightening.stages
    assert (fastener.torque.low, fastener.torque.high) == (one.row.tightening.low, one.row.tightening.high)
    assert (fastener.thread.pitch, fastener.property_class, fastener.source) == (1.5, "10.9", "page 12")
