"""The page on a first area grows one file in five steps, each of which is checked and planned."""

import re

import pytest

from putback import check
from putback.area.area_file import read_area
from putback.way import solve_core
from putback.way.from_area import core_problem
from putback.way.full_shop import full_shop
from putback.way.replay import replay

STEPS = range(1, 6)
BLOCK = re.compile(r"^```yaml step (\d)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@pytest.fixture(scope="module")
def blocks(root) -> list[tuple[int, str]]:
    """The blocks of the page with the step that each belongs to."""
    page = (root / "docs" / "first-area.md").read_text(encoding="utf-8")
    return [(int(step), block) for step, block in BLOCK.findall(page)]


@pytest.fixture(scope="module")
def files(root) -> dict[int, str]:
    return {step: (root / "docs" / "examples" / f"washer-pump-{step}.yaml").read_text(encoding="utf-8") for step in STEPS}


def test_every_block_stands_in_the_file_of_its_step(blocks, files):
    """Word for word, as far in; and a step takes nothing away that a later block does not bring back."""
    assert {step for step, _ in blocks} == set(STEPS)
    assert [(step, block) for step, block in blocks if block not in files[step]] == []


def test_nothing_in_the_files_is_hidden_from_the_page(blocks, files):
    """Each line of a step that the one before does not have stands in a block of that step."""
    shown = {step: "".join(block for own, block in blocks if own == step) for step in STEPS}
    before = {1: "", **{step: files[step - 1] for step in STEPS if step > 1}}
    new = {step: [line for line in files[step].splitlines() if line and line not in before[step].splitlines()] for step in STEPS}

    assert {step: [line for line in new[step] if line not in shown[step].splitlines()] for step in STEPS} == {step: [] for step in STEPS}


@pytest.mark.parametrize("step", STEPS)
def test_every_step_is_sound_and_can_be_planned(files, step):
    """By the check, the planner and the replay."""
    assert check.check_area(files[step], "f")[1] == []
    area = read_area(files[step], "f")
    translated = core_problem(area, full_shop(area, []))
    found = solve_core(translated.core, seconds=20)

    assert found.proved
    assert replay(translated.core, found.plan).broken == ()


def test_either_way_out_is_there(files):
    """The part and its plug leave by the wheel arch and by the lamp's opening."""
    area = read_area(files[5], "f")
    translated = core_problem(area, full_shop(area, []))

    assert {len(translated.operations[name].ways) for name in ("washer pump: remove", "pump plug: unplug")} == {2}
