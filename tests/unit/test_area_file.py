"""Reading an area file: what each key means once it is read."""

from fractions import Fraction

import pytest
from area_samples import HEAD, PUMP, area, findings, messages

from putback.area.area_file import read_area
from putback.area.model import BACK, OUT, Caution
from putback.errors import Findings


def test_a_part_and_its_fasteners_become_items():
    """The fasteners belong to the part, in the order of the file."""
    read = area(PUMP)

    assert list(read.items) == ["pump", "pump bolts"]
    assert read.items["pump bolts"].owner == "pump"
    assert read.belonging_to("pump") == (read.items["pump bolts"],)


@pytest.mark.parametrize(
    ("section", "states"),
    [
        ("parts", ("fitted", "off")),
        ("plugs", ("plugged", "unplugged")),
        ("cables", ("on", "off")),
        ("lines", ("joined", "open")),
        ("belts", ("on", "off")),
    ],
)
def test_states_are_named_in_the_words_of_the_trade(section, states):
    """Each section has its own."""
    text = PUMP if section == "parts" else PUMP + f"{section}:\n  other: {{from: top, minutes: '1 off, 1 on'}}\n"
    name = "pump" if section == "parts" else "other"

    assert area(text).items[name].states == states


def test_where_a_part_goes_names_its_state():
    """What stands behind a comma is only for people."""
    read = area(PUMP.replace("    from: top\n", '    from: top\n    goes: "lowered 65 mm, on the table"\n', 1))

    assert read.items["pump"].states == ("fitted", "lowered 65 mm")


def test_fasteners_are_loose_in_between_only_where_something_needs_it():
    """On the ground, or while something else holds."""
    on_the_ground = PUMP.replace("22 N·m", "22 N·m, on the ground")
    held = PUMP.replace("pump bolts: 2", "pump bolts: {is: '2").replace("22 N·m", "22 N·m', loosen while: [pump]}")

    assert area(PUMP).items["pump bolts"].states == ("tight", "out")
    assert area(on_the_ground).items["pump bolts"].states == ("tight", "loose", "out")
    assert area(held).items["pump bolts"].states == ("tight", "loose", "out")


def test_a_mapping_says_the_same_as_a_line():
    """Key by key."""
    at_length = """\
      pump bolts:
        count: 2
        of: M8x30
        class: 8.8
        tools: [13 mm]
        torque: 22 N·m
"""
    line = "      pump bolts: 2 x M8x30, class 8.8, 13 mm, 22 N·m\n"
    one, other = area(PUMP).items["pump bolts"], area(PUMP.replace(line, at_length)).items["pump bolts"]

    assert other.fastener == one.fastener
    assert other.base.tools == one.base.tools


def test_a_mapping_adds_to_its_line():
    """Flags, price, place and source besides the line."""
    text = PUMP.replace(
        "pump bolts: 2 x M8x30, class 8.8, 13 mm, 22 N·m",
        'pump bolts: {is: "2 x M8x30, class 8.8, 13 mm", torque: 22 N·m + 90°, flags: [one-time, coated], '
        "price: 1234.56, where: rear, source: measured}",
    )
    fastener = area(text).items["pump bolts"].fastener

    assert (fastener.torque.angle, fastener.one_time, fastener.coated) == (90, True, True)
    assert (fastener.price, fastener.where, fastener.source) == (123456, "rear", "measured")


def test_plugs_are_a_list_or_say_more():
    """Both forms make the same items."""
    listed = area(PUMP + "    plugs: [pump plug, sensor plug]\n")
    told = area(PUMP + "    plugs:\n      pump plug: the slide must click\n      sensor plug: {from: under}\n")

    assert [item.name for item in listed.belonging_to("pump")][1:] == ["pump plug", "sensor plug"]
    assert told.items["pump plug"].about == "the slide must click"
    assert told.items["sensor plug"].base.stand.vantages[0].name == "under"


def test_cautions_know_their_direction():
    """`off` and `on` of a part, `in` and `out` of a thing put in: in is its way out."""
    text = PUMP + (
        "    cautions: [hot, {off: mark it, on: clean it}]\n"
        "put in:\n  pin: {secures: [pump], from: top, part of: pump, cautions: [{in: push it home}]}\n"
    )
    read = area(text)

    assert read.items["pump"].base.cautions == (Caution("hot"), Caution("mark it", OUT), Caution("clean it", BACK))
    assert read.items["pin"].base.cautions == (Caution("push it home", OUT),)


def test_where_it_is_done_from():
    """A vantage, or one of several; a posture or a setting after a comma."""
    turned = HEAD + "turns:\n  steering: [straight ahead, full left]\n"
    text = PUMP.replace("    from: top\n", "    from: top or under, on a lift, steering full left\n", 1)
    stand = area(text, turned).items["pump"].base.stand

    assert [ref.name for ref in stand.vantages] == ["top", "under"]
    assert (stand.posture, stand.turned) == ("on a lift", (("steering", "full left"),))


def test_money_of_targets_and_what_is_always_new():
    """In cents."""
    read = area(PUMP + "always new:\n  seal: 4 x 0.35\n")

    assert read.targets[0].new == 10000
    assert [(part.name, part.count, part.cost) for part in read.always_new] == [("seal", 4, Fraction(140))]


def test_job_work_has_its_time():
    """Before, at the swap, after."""
    read = area(
        PUMP + "job work: {before: {look: 3 min}, at the swap: {compare: 2 min}, after: {drive: 9-10-15 min}}\n"
    )

    assert [(work.name, work.when, work.minutes.likely) for work in read.job_work] == [
        ("look", "before", 3),
        ("compare", "swap", 2),
        ("drive", "after", 10),
    ]


def test_a_follow_up_may_be_sublet_under_its_own_name():
    """Or under another."""
    text = PUMP + "follow-ups:\n  bleed: 6 min\n  align: sublet\n  test: 5 min, or sublet brake test\n"
    follow_ups = area(text).follow_ups

    assert [one.sublet for one in follow_ups.values()] == [None, "align", "brake test"]


# What is wrong is told with its place


def test_everything_wrong_is_told_at_once_sorted_by_place():
    """One pass over the file finds all of it."""
    text = PUMP.replace("minutes: 4 off, 6 on", "minuts: 4 off, 6 on").replace("22 N·m", "22 lb") + "colour: red\n"

    assert findings(text) == [
        '13:5: a part has no key "minuts"; did you mean "minutes"?',
        '15:19: torque "22 lb" has no clear unit; write "22 ft-lb" or "22 in-lb"',
        '16:1: an area file has no key "colour"; it takes area, name, vehicle, figures from, battery, drive, variants, '
        "work from, on the ground, turns, targets, always new, job work, follow-ups, parts, plugs, cables, lines, "
        "belts, put in, match",
    ]


def test_a_name_used_twice_is_told_with_both_places():
    """Across sections, as names are for the whole file."""
    text = PUMP + "plugs:\n  pump: {from: top, minutes: '1 off, 1 on'}\n"

    assert findings(text) == ['17:3: "pump" is the name of something in line 11 already; give each its own']


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("area: 1", "area: 2", 'version 1 of the form is read here, the file says "2"'),
        ("name: sample\n", "", 'an area file needs "name"'),
        ("work from:", "work from: [top]\nwork:", 'expected places to work from, each with its colon, as in "top: any posture", got a list'),
        ("under: raised", "under: up", 'expected "any posture" or "on the ground" or "raised" or "on a lift" or '
         '"on stands", got "up"'),
        ("{new: 100.00}", "{new: dear}", '"dear" is no amount of money; write it as "268.00", without the currency'),
        ("{new: 100.00}", "{}", 'a target needs "new"'),
    ],
)  # fmt: skip
def test_a_head_that_is_wrong_is_told(old, new, message):
    """Missing keys, other versions, values of the wrong kind."""
    assert message in messages(PUMP, HEAD.replace(old, new))


def test_a_list_where_words_belong_is_told():
    """With what was expected, and an example."""
    assert messages(PUMP.replace("4 off, 6 on", "[4, 6]")) == [
        'expected minutes off and on, as in "5 off, 7 on", got a list'
    ]


def test_an_empty_file_is_told_so():
    """One sentence, no exception but Findings."""
    with pytest.raises(Findings) as caught:
        read_area(b"", "empty.yaml")

    assert str(caught.value) == "empty.yaml: the file is empty"


def test_reading_twice_gives_equal_areas():
    """Same input, same area."""
    assert area(PUMP) == area(PUMP)


def test_a_target_may_be_its_price_alone():
    """Where there is no deposit to tell."""
    assert area(PUMP, HEAD.replace("{new: 100.00}", "100.00")).targets == area(PUMP).targets


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("work from:\n  top: any posture\n", "work from:\n  top: standing\n", ['expected "any posture" or']),
        ("targets:\n  pump: {new: 100.00}\n", "targets: [pump]\n", ["expected parts to be replaced"]),
        ("    from: top\n", "", ['"pump" does not say where it is done from']),
        ("    minutes: 4 off, 6 on\n", "", ['"pump" has no minutes']),
        ("    from: top\n", "    from: top\n    follow-ups: [bleed]\n", ['"bleed" is not one of the follow-ups']),
    ],
)
def test_one_slip_is_one_finding(old, new, words):
    """What only follows from it is not told as well."""
    found = messages((HEAD + PUMP).replace(old, new), "")

    assert len(found) == len(words)
    assert all(message.startswith(start) for message, start in zip(found, words, strict=True))


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("from: top", "from: top\n    behind: cover, lid", "several names stand in brackets, with commas: [cover, lid]"),
        ("from: top", "from: top\n    behind:\n      cover\n      lid", "several names stand in brackets, with commas: [cover, lid]"),
        ("{new: 100.00}", "{new: 64,00}", "a decimal is written with a point, as in 5.50"),
        ("4 off, 6 on", "4,5 off, 6 on", "a decimal is written with a point"),
        ("22 N·m", "22,5 N·m", 'a decimal is written with a point, as in "9.5"'),
        ("class 8.8", "8.8", '"8.8" may be a class or a torque; write "class 8.8"'),
        ("13 mm", "13 mm wrench", '"13 mm wrench" is no tool that is known; write "10 mm" for a socket'),
        ("M8x30", "3/8-16 UNC", 'an inch thread stands behind a word, as in "3 x bolt 3/8-16 UNC"'),
        ("2 x M8x30, class 8.8, 13 mm, 22 N·m", "{is: M8x30, 13 mm}", "a text with a comma in it needs quotation marks between { and }"),
        ("held by:\n      pump bolts: ", "held by: ", 'expected fasteners, each with its colon, as in "upper bolts: 4 x M8x20, 13 mm"'),
    ],
)
def test_slips_of_the_first_hour_are_told_with_what_to_write(old, new, words):
    """What people type who see the language for the first time."""
    text = (HEAD + PUMP).replace(old, new) + "  cover: {from: top, minutes: '1 off, 1 on'}\n  lid: {from: top, minutes: '1 off, 1 on'}\n"

    assert any(words in message for message in messages(text, ""))


@pytest.mark.parametrize("line", ["2xM8x30, class 8.8, 13mm, 22Nm", "2 × M8 x 30, class 8.8, 13 mm socket, 22 N·m"])
def test_spaces_are_free_where_nothing_else_is_meant(line):
    """As people type them."""
    told = area((HEAD + PUMP).replace("2 x M8x30, class 8.8, 13 mm, 22 N·m", line), "").items["pump bolts"]
    plain = area(PUMP).items["pump bolts"]

    assert (told.fastener.count, told.fastener.thread.length, told.fastener.torque.final, told.base.tools) == (2, 30, 22, plain.base.tools)
