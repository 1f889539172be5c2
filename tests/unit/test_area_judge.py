"""Whether an area makes sense by itself."""

import pytest
from area_samples import HEAD, PUMP, messages

COVER = (
    PUMP
    + """\
  cover:
    from: top
    minutes: 1 off, 1 on
"""
)


def test_a_sound_area_has_no_findings():
    """Nor has one with a cover."""
    assert messages(PUMP) == messages(COVER) == []


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("    behind: [covr]\n", '"covr" is not in this file; did you mean "cover"?'),
        ("    behind: [cover aside]\n", '"cover" is never "aside"; its states are: fitted, off'),
        ("    behind: [pump bolts]\n    follow-ups: [bleed]\n", '"bleed" is not one of the follow-ups of this file; '
         "there are: none"),
        ("    hazards: [hott]\n", '"hott" is not a hazard that is known here; did you mean "hot"?'),
        ("    only for: [estate]\n", '"estate" is not a variant; there are: none'),
        ("    part of: pomp\n", '"pomp" is not in this file; did you mean "pump"?'),
        ("    behind: [cover]\n", '"cover" waits for itself; take it out of its own list'),
        ("    rides on: cover\n", '"cover" names itself; take it out'),
    ],
)  # fmt: skip
def test_names_lead_somewhere(text, message):
    """A name that leads nowhere is told with the nearest one that does."""
    assert message in messages(COVER + text)


def test_a_vantage_must_be_listed():
    """One works only from places that the file names."""
    assert messages(PUMP.replace("from: top", "from: tip")) == [
        '"tip" is not a place to work from; did you mean "top"?'
    ]


def test_a_target_must_be_there():
    """So must what the car stands on, and the battery."""
    head = HEAD.replace("pump:", "pomp:") + "battery: clamp\non the ground: {stands on: [wheel]}\n"

    assert messages(PUMP, head) == [
        '"pomp" is not in this file; did you mean "pump"?',
        '"clamp" is not in this file',
        '"wheel" is not in this file',
    ]


@pytest.mark.parametrize("tag", ["live", "airbag"])
def test_what_needs_the_battery_off_needs_a_battery_in_the_file(tag):
    """A live cable without a battery to disconnect gets a finding."""
    expected = f'"cover" is {tag}, but the file names no battery to disconnect first'

    assert expected in messages(COVER + f"    hazards: [{tag}]\n")


def test_what_is_supported_needs_its_support():
    """Something put in must secure it."""
    support = "put in:\n  strap: {secures: [cover], from: top, part of: cover}\n"
    bare = COVER + "    hazards: [supported]\n"

    assert any("nothing that is put in secures it" in message for message in messages(bare))
    assert messages(bare + support) == []


def test_it_must_be_said_where_it_is_done_from():
    """Or each of its ways must say it."""
    text = PUMP.replace("    from: top\n", "", 1)

    assert '"pump" does not say where it is done from; give it a "from"' in messages(text)


def test_threaded_fasteners_need_a_tool():
    """Clips may be left to bare hands."""
    assert messages(PUMP.replace(", 13 mm", "")) == [
        '"pump bolts" names no tool; write its size, such as "10 mm" or "T25"'
    ]
    assert messages(PUMP.replace("2 x M8x30, class 8.8, 13 mm, 22 N·m", "2 x ball clip")) == []


def test_minutes_must_come_from_somewhere():
    """Of its own, or as a share of something else."""
    text = PUMP.replace("    minutes: 4 off, 6 on\n", "")

    assert '"pump" has no minutes; write them as "5 off, 7 on"' in messages(text)


def test_a_torque_needs_a_source():
    """One for the file, or one in the line."""
    head = HEAD.replace("figures from: invented\n", "")

    assert messages(PUMP, head) == [
        'the torque of "pump bolts" names no source; add "source ..." to the line, or "figures from" to the file'
    ]
    assert messages(PUMP.replace("22 N·m", "22 N·m, source measured"), head) == []


def test_something_put_in_that_nobody_needs_is_told():
    """It would never be put in."""
    text = PUMP + "put in:\n  pin: {from: top, minutes: '1 in, 1 out'}\n"

    assert messages(text) == ['nothing needs "pin"; say what it secures or covers']


def test_a_slip_is_told_once():
    """What could not be read is not missed a second time."""
    text = PUMP.replace("4 off, 6 on", "4 of, 6 on")

    assert messages(text) == ['"4 of, 6 on" is not understood; write minutes as "5 off, 7 on"']


def test_what_is_part_of_itself_is_told_once():
    """However many things are in the circle."""
    text = PUMP + "  a: {from: top, part of: b}\n  b: {from: top, part of: c}\n  c: {from: top, part of: a}\n"

    assert messages(text) == ['"a" and "b" and "c": one "part of" the other, in a circle; take one of them out']


def test_what_rides_on_itself_is_told():
    """One rides on the other, the other on the one."""
    head = HEAD.replace("work from:\n", "work from:\n  bench: any posture\n")
    text = PUMP + "  a: {from: top, minutes: '1 off, 1 on', rides on: b}\n  b: {from: top, minutes: '1 off, 1 on', rides on: a}\n"

    assert messages(text, head) == ['"a" and "b": one "rides on" the other, in a circle; take one of them out']


def test_parts_of_parts_have_an_end():
    """Ten deep is read, eleven are not."""
    chain = "".join(f"  p{n}: {{from: top, part of: {f'p{n - 1}' if n else 'pump'}}}\n" for n in range(11))

    assert messages(PUMP + "".join(chain.splitlines(keepends=True)[:-1])) == []  # at
    assert '"p10" stands more than 10 times "part of" deep; name the whole itself' in messages(PUMP + chain)  # above


def test_what_is_put_in_is_not_covered():
    """A cap for a cap is a slip of the pen."""
    text = PUMP + "put in:\n  cap: {covers: pump, part of: pump, from: top}\n  lid: {covers: cap, part of: pump, from: top}\n"

    assert messages(text) == ['"cap" is put in itself; name the part that "lid" covers']
