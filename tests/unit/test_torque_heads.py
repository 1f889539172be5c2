"""Heads and threads, either way. Sizes against tables are in tests/reference."""

import pytest

from putback.errors import InputError
from putback.torque.heads import KEY, NEAR, heads_for_thread, heads_for_tool, read_across
from putback.torque.threads import metric, read_thread


@pytest.mark.parametrize(
    ("text", "across"),
    [
        ("15 mm", 15), ("15", 15), ("5,5 mm", 5.5), ("9/16 in", 14.2875), ('9/16"', 14.2875), ("9/16", 14.2875),
        ("1 1/8 in", 28.575), ("1 in", 25.4),
    ],
)  # fmt: skip
def test_sizes_as_stamped_on_the_tool(text, across):
    """A bare number is mm, a bare fraction inches: nobody stamps otherwise."""
    assert read_across(text) == pytest.approx(across)


@pytest.mark.parametrize("text", ["", "0 mm", "9/0", "M10", "15 cm", "9/16 mm", "5 in"])
def test_what_is_no_size_of_a_tool_is_refused(text):
    """Up to 100 mm."""
    with pytest.raises(InputError):
        read_across(text)


def test_one_head_may_have_several_threads():
    """15 mm: M10 of one standard, M12 of another; both are named."""
    found = {(head.size, head.standard) for head in heads_for_tool(15)}

    assert ("M10", "ISO 4161:2012, DIN 6923") in found
    assert ("M12", "ISO 4162:2012, JIS B 1189") in found


def test_a_key_is_told_from_a_spanner():
    """8 mm: the head of M5, or the key of M10."""
    assert {head.size for head in heads_for_tool(8) if head.tool == KEY} == {"M10", "M12"}
    assert "M5" in {head.size for head in heads_for_tool(8) if head.tool != KEY}


@pytest.mark.parametrize(("across", "near"), [(19, "1/2"), (22, "9/16")])
def test_tools_of_the_other_system_that_go_on_nearly(across, near):
    """19 mm on 3/4 in, 22 mm on 7/8 in: only when asked for."""
    assert near not in {head.size for head in heads_for_tool(across)}
    assert near in {head.size for head in heads_for_tool(across, NEAR)}


def test_the_smallest_thread_stands_first():
    """The order is by diameter, so that the same question has the same answer."""
    diameters = [head.diameter for head in heads_for_tool(19, NEAR)]

    assert diameters == sorted(diameters)


def test_a_wheel_nut_is_known_by_its_pitch():
    """M12x1.5 has wheel nuts of 17, 19 and 21 mm (common practice, no source); M12x1.75 has none."""
    found = [head.across for head in heads_for_thread(metric(12, 1.5)) if head.kind.startswith("wheel")]

    assert found == [17, 19, 21]
    assert not [head for head in heads_for_thread(metric(12)) if head.kind.startswith("wheel")]


def test_a_head_gives_all_pitches_of_its_size():
    """In metric and in inch sizes; the one pitch where the table names it."""
    heads = {head.standard: head for head in heads_for_thread(read_thread("1/2-20"))}

    assert [thread.name for thread in heads["ASME B18.2.1-2012, from memory"].threads()] == [
        "1/2-13 UNC",
        "1/2-20 UNF",
        "1/2-28 UNEF",
    ]
    assert [thread.name for thread in heads["common practice, no source"].threads()] == ["1/2-20 UNF"]
    assert [thread.name for thread in heads_for_tool(5)[0].threads()] == ["M6x1", "M6x0.75"]


def test_a_thread_that_no_standard_has_a_head_for():
    """Nothing is made up."""
    assert heads_for_thread(metric(8.5, 1)) == ()
    assert heads_for_tool(100) == ()
