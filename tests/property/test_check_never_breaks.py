"""Whatever people type, the check ends in sentences: files spoilt at random never end in an exception."""

import random

import pytest

from putback import check, demo
from putback.drive_file import scan_drive
from putback.way.from_area import core_problem

WORDS = [
    "on", "5 off, 7 on", "[]", "{}", "~", '""', "engine", "-1", "7 x", "M6x", "25", "raised", "by", "0", "1e99",
    "\u00e9", "[a, [b]]", "{a: {b: c}}", "1 of 2 out",
]  # fmt: skip
SIGNS = "abx:,[]{}-0159 \"'#&*!|>%@"


def spoilt(text: str, seed: int) -> str:
    """The text with one to three lines lost, doubled, cut, shifted or mistyped."""
    rng = random.Random(seed)
    lines = text.splitlines()
    for _ in range(rng.randint(1, 3)):
        at = rng.randrange(len(lines))
        lines[at : at + 1] = _spoilt_line(lines[at], rng)
    return "\n".join(lines)


def _spoilt_line(line: str, rng: random.Random) -> list[str]:
    key, colon, _ = line.partition(":")
    cut = rng.randrange(len(line) + 1)
    choices = [[], [line, line], [line[:cut]], ["  " + line], [line[:cut] + rng.choice(SIGNS) + line[cut + 1 :]]]
    if colon:
        choices.append([f"{key}: {rng.choice(WORDS)}"])
    return rng.choice(choices)


def sound(name: str) -> str:
    return demo.text(name).decode()


SHOP = check.check_shop(sound("demo-shop.yaml"), "s.yaml")[0]


def spoilt_findings(name: str, text: str) -> list:
    """What is wrong with a demo file's spoilt text."""
    if name == "demo-shop.yaml":
        return check.check_shop(text, "f.yaml")[1]
    if name == "demo-a-drive.yaml":
        return scan_drive(text, "f.yaml")[1]
    if name.removesuffix(".yaml").count("-") == 1:
        return check.check_area(text, "f.yaml", SHOP)[1]
    return check.check_state(text, "f.yaml", check.check_area(sound(f"{name[:6]}.yaml"), "a.yaml")[0])[1]


@pytest.mark.slow
@pytest.mark.parametrize("name", demo.FILES)
def test_spoilt_files_end_in_sentences(name):
    """Each finding names its place."""
    for seed in range(50):
        for finding in spoilt_findings(name, spoilt(sound(name), seed)):
            assert finding.place is not None
            assert "\n" not in finding.message


@pytest.mark.slow
def test_what_passes_the_check_can_be_translated():
    """The check leaves nothing for the translation to stumble over."""
    passed = 0
    for seed in range(80):
        area, findings = check.check_area(spoilt(sound("demo-a.yaml"), seed), "f.yaml")
        if not findings:
            core_problem(area, SHOP)
            passed += 1

    assert passed > 5
