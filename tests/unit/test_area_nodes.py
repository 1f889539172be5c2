"""YAML as it is let in: plain data with places, and one quick sentence for everything else."""

import time

import pytest

from putback.area.nodes import LARGEST, List, Map, Text, parse


def one_finding(data) -> str:
    """The only finding of a text."""
    root, findings = parse(data, "f.yaml")
    assert root is None
    assert len(findings) == 1
    return str(findings[0])


def values(text: str) -> list[str]:
    """The scalar values of a flat mapping."""
    root, findings = parse(text, "f.yaml")
    assert not findings
    return [value.value for _, value in root.entries]


def test_words_stay_what_was_typed():
    """YAML 1.2 core: what YAML 1.1 turns into truth values, octal or base 60 stays text (YAML 1.2.2, chapter 10.3)."""
    text = "a: on\nb: off\nc: yes\nd: no\ne: 1:30\nf: 012\ng: 5 off, 7 on\nh: 268.00\n"

    assert values(text) == ["on", "off", "yes", "no", "1:30", "012", "5 off, 7 on", "268.00"]


def test_a_text_over_several_lines_is_one_line():
    """However it is folded, so that neither a message nor a printed plan breaks off in the middle."""
    text = "a: >-\n  long\n  text\nb: |\n  two\n  lines\nc: with a gap\n\n  in it\n"

    assert values(text) == ["long text", "two lines", "with a gap in it"]


def test_keys_too_stay_what_was_typed():
    """`on:` and `off:` are keys like any other."""
    root, _ = parse("on: 1\noff: 2\nyes: 3\n", "f.yaml")

    assert [key.value for key, _ in root.entries] == ["on", "off", "yes"]


def test_nodes_know_their_place():
    """Lines and columns count from 1."""
    root, _ = parse("a:\n  - b\n  - {c: d}\n", "f.yaml")
    key, listed = root.entries[0]

    assert tuple(key.place) == ("f.yaml", 1, 1)
    assert [tuple(item.place)[1:] for item in listed.items] == [(2, 5), (3, 5)]


def test_a_key_given_twice_is_told_with_both_places():
    """The first one counts."""
    root, findings = parse("a: 1\nb: 2\na: 3\n", "f.yaml")

    assert [str(finding) for finding in findings] == ['f.yaml:3:1: "a" stands here and in line 1; keep one of them']
    assert [key.value for key, _ in root.entries] == ["a", "b"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a: &x 1\nb: *x\n", "anchor"),
        ("a: *x\n", "alias"),
        ("a: !!python/object:os.system x\n", "tag"),
        ("a: 1\n---\nb: 2\n", "second document"),
        ("a: b: c\n", "needs quotation marks"),
        ("a:\n\t- b\n", "not with tabs"),
        ("a: [1, 2\n", "not YAML"),
        ("a: \x00\n", "U+0000"),
    ],
)
def test_what_is_not_plain_data_is_refused(text, words):
    """One sentence with a place; no exception."""
    assert words in one_finding(text)


def test_a_file_that_is_not_utf_8_is_told_so():
    """With the line of the first byte that does not fit."""
    latin = "a: 1\nb: 90\u00b0\n".encode("latin-1")

    assert one_finding(latin) == "f.yaml:2: the file is not UTF-8 text; save it as UTF-8"


def test_a_byte_order_mark_does_no_harm():
    """Some editors write one."""
    root, findings = parse("a: 1\n".encode("utf-8-sig"), "f.yaml")

    assert (root.entries[0][0].value, findings) == ("a", [])


@pytest.mark.parametrize(
    "data",
    [
        b"a: 1\n" * 10_000_000,  # 50 MB
        b"a: 1\n" * 90_000,
        b"[" * 490_000,
        b"a: " + b"x" * 490_000,
        b"- " * 240_000,
    ],
    ids=["large", "one key for ever", "deep flow", "long text", "deep block"],
)
def test_bombs_end_in_one_sentence_at_once(data):
    """A file that is made to break readers is refused in less than two seconds."""
    begun = time.monotonic()
    one_finding(data[: LARGEST + 1])

    assert time.monotonic() - begun < 2


def test_an_empty_file_has_no_root():
    """Whoever reads it says what was expected."""
    assert parse("", "f.yaml") == (None, [])


def test_empty_values_are_told_from_quoted_ones():
    """`a:` has no value, `a: ""` has an empty one."""
    root, _ = parse('a:\nb: ""\nc: ~\n', "f.yaml")

    assert [value.empty for _, value in root.entries] == [True, False, True]


def test_lists_and_mappings_nest():
    """The shapes of YAML come through."""
    root, _ = parse("a: [x, {y: z}]\n", "f.yaml")
    listed = root.entries[0][1]

    assert isinstance(listed, List)
    assert isinstance(listed.items[0], Text)
    assert isinstance(listed.items[1], Map)


@pytest.mark.parametrize("typed", ["5 off,   7 on", "5\u00a0off,\u20027 on", '"5 off,\\t7 on"', "|\n  5 off,\n  7 on"])
def test_white_space_counts_as_one_space(typed):
    """Of any kind and length, ends of lines included."""
    assert values(f"a: {typed}\n") == ["5 off, 7 on"]


@pytest.mark.parametrize("sign", ["\\e", "\\x9b", "\\u202e", "\\u200b", "\\u2066"])
def test_signs_that_cannot_be_seen_are_refused(sign):
    """Unicode categories Cc and Cf: they steer a terminal, or make two names look alike (UTR 36, from memory)."""
    assert "which cannot be seen; type it again" in one_finding(f'a: "x{sign}y"\n')
    assert "which cannot be seen; type it again" in one_finding(f'"x{sign}y": a\n')


def test_signs_of_any_script_are_read():
    """Whatever can be seen."""
    assert values("a: Öl, µm, 90°, Ω, 二, é, 🔧\n") == ["Öl, µm, 90°, Ω, 二, é, 🔧"]
