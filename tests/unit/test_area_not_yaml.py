"""What is no YAML is told in the words of whoever typed it."""

import pytest

from putback.area.nodes import parse

SLIPS = {
    "a colon in a text": ("a: b: c\n", 'f:1:5: not YAML: a second colon; a text with a colon and a space in it needs quotation marks'),
    "a lost colon": ("parts\n  pump:\n", "f:2:7: not YAML: this key cannot stand here; does the line above lack its colon"),
    "a lost space": ("a:b\nc: d\n", "f:2:2: not YAML: this key cannot stand here; does the line above lack its colon, or the space"),
    "too far in": ("a:\n  b: c\n    d: e\n", "f:3:6: not YAML: this key cannot stand here"),
    "too far out": ("a:\n  b:\n    c: d\n   e: f\n", "f:4:4: not YAML: this does not go on with what begins in line 2, column 3; keys that belong"),
    "an open list": ("a: [b, c\nd: e\n", 'f:2:2: not YAML: what begins in line 1, column 4 is not closed; a "]"'),
    "an open mapping": ("a: {b: c\nd: e\n", 'f:2:2: not YAML: what begins in line 1, column 4 is not closed; a "}"'),
    "an open quotation": ('a: "b\n', "f:2:1: not YAML: the quotation mark that begins in line 1, column 4 is not closed"),
    "half in quotation marks": ('a: "b" c\n', "put the whole text into quotation marks, or none of it"),
    "a list beside its key": ("a: - b\n", 'f:1:4: not YAML: a list that is written with "- " begins on a line of its own'),
    "a sign of YAML": ("a: @b\n", "f:1:4: not YAML: a text that begins with @ needs quotation marks"),
    "a tab": ("a:\n\t- b\n", "f:2:1: not YAML: a tab; indent with spaces"),
    "bytes of another kind": ("a\x00:\x00", "f:1: character U+0000 may not stand in YAML; save the file as UTF-8 text"),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_is_told_with_what_to_do(name):
    """And with its place."""
    text, words = SLIPS[name]
    _, findings = parse(text, "f")

    assert len(findings) == 1
    assert words in str(findings[0])


def test_a_large_text_is_told_as_well():
    """Where only the quick reader has the time for it."""
    _, findings = parse("a:\n" + "  - b\n" * 20_000 + "  c: d: e\n", "f")

    assert str(findings[0]).startswith("f:20002:3: not YAML: this does not go on with what begins in line 2")
