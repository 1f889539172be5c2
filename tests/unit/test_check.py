"""Everything that is wrong with a file, found in one go."""

import pytest
from area_samples import HEAD, PUMP, SHOP, shop

from putback import check, demo
from putback.area.fastener import read_line

COVER = "  cover:\n    from: top\n    minutes: 1 off, 1 on\n    held by:\n      cover clips: 2 x ball clip\n"


def found(text: str, the_shop=None, head: str = HEAD) -> list[str]:
    """The findings of an area, without the file's name."""
    return [str(one).removeprefix("sample.yaml:") for one in check.check_area(head + text, "sample.yaml", the_shop)[1]]


def test_the_demo_files_are_clean():
    """Area, shop and the job half done, together."""
    files = {name: demo.text(name) for name in demo.FILES}

    assert check.check_files(files, "demo-shop.yaml") == []


# Torques


@pytest.mark.parametrize(
    ("line", "ok"),
    [
        ("M8x1.25 stud nut, class 5.8, 20.0 N·m", True),  # below 0.9 x 22.3 = 20.07
        ("M8x1.25 stud nut, class 5.8, 20.2 N·m", False),  # above
        ("M8x1.25 stud nut, class 5.8, 97 in-lb", True),
        ("M8x1.25 stud nut, class 5.8, 97 ft-lb", False),
        ("M14x1.5x112, class 10.9, 92 N·m + 90°", True),  # the stage before the angle: 92 of 289
        ("M14x1.5x112, class 10.9, 270 N·m + 90°", False),
        ("M8x46, class 8.8, passes 8 / 16 / 23 N·m", True),
        ("M8x46, class 8.8, passes 8 / 16 / 32 N·m", False),
        ("ST5x16, 2.2 N·m", True),  # no table for tapping screws
        ("M12x1.5 lock nut, class 10, 77 N·m", True),
        ("M10x1.3x40, class 8.8, 40 N·m", False),  # no such pitch
        ("M8x30, 40 N·m", True),  # no class, no judgement
    ],
)
def test_a_torque_stays_below_nine_tenths_of_the_proof_torque(line, ok):
    """0.2 d A S by the thread tables; strengths and friction factor as in tests/reference/test_threads.py."""
    assert (check.torque_finding(read_line(line).fastener) is None) == ok


def test_foot_pounds_for_inch_pounds_are_guessed():
    """131.5 N·m on M8, class 5.8: 5.9 times the proof torque of 22.3 N·m."""
    words = check.torque_finding(read_line("M8x1.25 stud nut, class 5.8, 97 ft-lb").fastener)

    assert words == (
        'torque "97 ft-lb" is 5.9 x the proof torque (22.3 N·m) of M8x1.25, class 5.8; were inch-pounds meant?'
    )


@pytest.mark.parametrize(
    ("torque", "ok"),
    [
        ("97 in-lb", False),  # 10.96 N·m of 155.6: 0.07; in ft-lb 0.85
        ("150 in-lb", True),  # 0.11, but 203 N·m would be above proof: nobody meant that
        ("11 N·m", True),  # low, and no slip of pounds
        ("97 in-lb + 60°", True),  # snug, then an angle
    ],
)
def test_inch_pounds_that_hardly_tighten_are_asked_about(torque, ok):
    """M12x1.75, class 10.9: proof torque 0.2 x 12 x 84.3 x 830 = 167.9 N·m (ISO 898-1)."""
    words = check.torque_finding(read_line(f"M12, class 10.9, 18 mm, {torque}").fastener)

    assert (words is None) is ok
    assert ok or words.endswith("were foot-pounds meant?")



def test_torque_findings_have_their_place():
    """That of the group's name."""
    assert found(PUMP.replace("22 N·m", "40 N·m"))[0].startswith("15:7: pump bolts: torque")


def test_a_thread_without_a_coarse_pitch_must_say_its_pitch():
    """M15 has fine pitches only (ISO 261, from memory)."""
    assert "write the pitch" in check.torque_finding(read_line("M15x30, class 8.8, 20 N·m").fastener)


# Minutes


def test_minutes_that_do_not_add_up_are_told():
    """A group may not take longer than the part that it belongs to."""
    text = PUMP.replace("pump bolts: 2", 'pump bolts: {is: "2').replace("22 N·m", '22 N·m", minutes: "5 off, 2 on"}')

    assert found(text) == [
        '11:3: the minutes of "pump" are fewer than those of what belongs to it (pump bolts) together'
    ]


def test_a_way_shorter_than_its_fasteners_is_told():
    """Undoing two bolts is counted two of the four minutes."""
    ways = "    out through:\n      a: {minutes: 'N off, 6 on'}\n      b: {from: under}\n"

    assert found(PUMP + ways.replace("N", "2")) == []  # at
    assert found(PUMP + ways.replace("N", "1.9")) == [
        '11:3: "pump" has fewer minutes by "a" than its fasteners take alone'
    ]


# Needs


def test_a_circle_is_told_in_plain_words_once():
    """The shortest one stands for all that hang on it."""
    text = PUMP + "    behind: [cover]\n" + COVER + "    behind: [lid]\n"
    text += "  lid: {from: top, minutes: '1 off, 1 on', behind: [pump]}\n"

    assert found(text) == [
        "11:3: pump waits for cover, cover waits for lid, lid waits for pump: a circle that nothing can open"
    ]


def test_a_circle_through_one_of_several_ways_is_none():
    """The other way opens it."""
    ways = "    out through:\n      a: {behind: [cover]}\n      b: {from: under}\n"

    assert found(PUMP + ways + COVER + "    behind: [pump]\n") == []


def test_a_circle_of_tightening_is_told():
    """It shows only on the way back."""
    bolts = "      {} bolt: {{is: 'M8x30, class 8.8, 13 mm, 22 N·m', tighten after: [{} bolt]}}\n"
    text = PUMP[: PUMP.index("      pump bolts")] + bolts.format("upper", "lower") + bolts.format("lower", "upper")

    assert found(text) == [
        "15:7: on the way back upper bolt waits for lower bolt, lower bolt waits for upper bolt: "
        "a circle that nothing can open"
    ]


def test_needs_that_exclude_each_other_are_told():
    """Off and still on at once."""
    ways = "    out through:\n      a: {behind: [cover], while: [cover]}\n"

    assert found(PUMP + ways + COVER) == [
        '11:3: "pump" can never move: what must be out of the way for it and what must still be in place '
        "exclude each other"
    ]


def test_what_is_done_on_the_ground_cannot_need_the_wheel_off():
    """The car could not stand."""
    head = HEAD + "on the ground: {stands on: [wheel]}\n"
    text = PUMP.replace("from: top", "from: top, on the ground") + "    behind: [wheel]\n"
    text += "  wheel: {from: wheel arch, minutes: '5 off, 7 on'}\n"

    assert '"pump" can never move: it is done on the ground' in "\n".join(found(text, head=head))


# The shop


def test_a_target_that_this_shop_cannot_reach_is_told():
    """With the smallest sets of things that would open a way."""
    text = PUMP + "    with: [puller]\n    out through:\n      a: {with: [press, vice]}\n      b: {from: under}\n"

    assert found(text, shop()) == ['9:3: this shop has no way to "pump"; it would take: puller']


def test_a_target_within_reach_is_not_told():
    """Nor is equipment that another way does without."""
    ways = "    out through:\n      a: {with: [press]}\n      b: {from: under}\n"

    assert found(PUMP + ways, shop()) == []


def test_names_written_differently_in_area_and_shop_are_told():
    """A plain lack is none of these."""
    the_shop = shop(base=SHOP.replace("lift: 1}", "lift: 1, support table: 1}"))
    ways = "    out through:\n      a: {with: [suport table >= 150 kg]}\n      b: {from: under}\n"

    assert found(PUMP + ways, the_shop) == [
        '17:18: the shop has no "suport table", but a "support table"; write both names the same'
    ]


# Files


def test_kinds_are_told_by_their_keys():
    """A state file names its area, and is a state file all the same, whichever comes first."""
    assert check.kind_of("area: 1\n", "f") == "area"
    assert check.kind_of("state: 1\narea: sample\n", "f") == "state"
    assert check.kind_of("area: sample\nstate: 1\n", "f") == "state"
    assert check.kind_of("shop: 1\n", "f") == "shop"
    assert check.kind_of("horn: 1\n", "f") is None


def test_a_file_of_no_kind_is_told():
    """With what would make it one."""
    (finding,) = check.check_files({"f.yaml": b"horn: 1\n"})

    assert str(finding) == (
        'f.yaml:1:1: it cannot be told what this is; begin with "area: 1", "shop: 1", "state: 1" or "drive: 1"'
    )


def test_what_speaks_against_the_route_of_a_drive_stands_at_its_pulleys(root):
    """A pulley that a taut belt passes is a mistake; little wrap is worth a look, and no mistake."""
    names = ("idlers_that_are_not_reached.yaml", "ribs_on_both_sides.yaml")
    missed, little = (check.check_drive((root / "tests" / "data" / "belt_odd" / name).read_bytes(), name) for name in names)

    assert [str(one).partition(" beside")[0] for one in missed] == [
        f"{names[0]}:13:{at}: pulled tight the belt passes {gap} mm" for at, gap in ((40, 7), (58, 13))
    ]
    assert [one.place[1:] for one in little] == [(11, 9), (11, 28)]
    assert (check.wrong(missed), check.wrong(little)) == (missed, [])
    assert check.check_drive(demo.text("demo-a-drive.yaml"), "f.yaml") == []


def test_a_state_is_checked_with_its_area():
    """Found by name among the files, or else asked for."""
    files = {"area.yaml": (HEAD + PUMP).encode(), "state.yaml": b"state: 1\nnow: {pump: aside}\n"}

    assert [str(one) for one in check.check_files(files)] == [
        'state.yaml:2:13: "pump" is never "aside"; its states are: fitted, off'
    ]
    assert "name the area file as well" in str(check.check_files({"state.yaml": files["state.yaml"]})[0])


def test_the_shop_must_be_a_shop():
    """Whatever stands behind --shop."""
    files = {"area.yaml": (HEAD + PUMP).encode(), "other.yaml": (HEAD + PUMP).encode()}

    assert str(check.check_files(files, "other.yaml")[0]) == (
        'other.yaml: this is no shop file; a shop file begins with "shop: 1"'
    )


def test_bytes_that_are_no_yaml_are_one_finding():
    """Not two."""
    assert [str(one) for one in check.check_files({"f.yaml": b"a: &x 1\n"})] == [
        "f.yaml:1:4: an anchor (&name) is not read here; write things out where they belong"
    ]
