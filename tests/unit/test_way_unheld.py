"""A part that would hang on nothing while other work goes on is told of."""

from area_samples import area, shop

from putback.area.state_file import read_state
from putback.plan_json import plan_object
from putback.plan_text import plan_lines
from putback.way.plan import plan_way
from putback.way.unheld import unheld

# Both bolts take the 13 mm socket, both lids come off by hand: so the bolts are undone first, and then the lids removed.
TWO = """\
parts:
  lid: {from: top, minutes: "4 off, 4 on", held by: {lid bolts: "2 x M8x30, class 8.8, 13 mm, 22 N·m"}}
  flap: {from: top, minutes: "4 off, 4 on", held by: {flap bolts: "2 x M8x30, class 8.8, 13 mm, 22 N·m"}}
  pump: {from: top, minutes: "4 off, 6 on", behind: [lid, flap]}
"""


def told(text: str, more: str = "") -> dict[str, str]:
    """The cautions of a plan, by the operation at which they stand."""
    sheet = plan_way(area(text + more), shop())
    return {sheet.steps[number - 1].id: words for number, [words] in unheld(sheet.area, sheet.steps).items()}


def test_what_is_undone_first_and_removed_later_hangs_on_nothing():
    """One lid follows its bolts at once; between the other's bolts and itself there are steps of somebody else."""
    words = told(TWO)

    assert words
    assert all("hold" in one for one in words.values())
    assert {name.split(":")[1].strip() for name in words} <= {"undo", "refit"}


def test_a_part_that_follows_its_bolts_at_once_is_held_until_then():
    """One part, its bolts just before it."""
    assert told(TWO.replace(", behind: [lid, flap]", ", behind: [lid]")) == {}


def test_clips_count_for_nothing():
    """A cover on clips stays where it lies."""
    assert told(TWO.replace("2 x M8x30, class 8.8, 13 mm, 22 N·m", "2 x ball clip, 13 mm")) == {}


def test_what_is_secured_is_held():
    """Something put in holds both."""
    more = "put in:\n  prop: {secures: [lid, flap], from: top, minutes: \"1 in, 1 out\"}\n"
    assert told(TWO, more) == {}


def test_the_caution_is_one_of_the_steps_and_so_stands_in_text_and_json():
    """At the step that it is for, once; a page or a paper has nothing to add."""
    sheet = plan_way(area(TWO), shop())
    number, [words] = next(iter(unheld(sheet.area, sheet.steps).items()))

    assert words in sheet.steps[number - 1].cautions
    assert words in plan_object(sheet)["steps"][number - 1]["cautions"]
    assert " ".join(" ".join(plan_lines(sheet)).split()).count(words) == 1


def test_a_part_that_is_off_already_is_not_told_of():
    """Nothing hangs that lies on the bench; its refit is followed by its bolts at once."""
    described = area(TWO)
    state = read_state("state: 1\nswapped: yes\nnow: {lid: off, flap: off, pump: off}\n", "state.yaml", described)
    sheet = plan_way(described, shop(), state=state)

    assert all(sheet.steps[number - 1].operation.direction == "back" for number in unheld(sheet.area, sheet.steps))
