"""What runs out is filled in again, and the plan says so as work."""

import pytest
from area_samples import HEAD, area, messages, shop

from putback.area.model import Area
from putback.plan_json import plan_object
from putback.plan_text import plan_lines
from putback.way.fills import fills
from putback.way.plan import plan_way
from reference import demo_a, demos

FOLLOW_UPS = "follow-ups:\n  fill to the level: 8 min\n  look again: at hand-over\n"
PUMP = """\
parts:
  pump:
    from: top
    minutes: 4 off, 6 on
    loses: 0.5 l oil, 4.00
"""
COOLANT = """\
  coolant: {goes: drained, from: top, minutes: "4 off, 9 on", loses: 2 l coolant}
"""


def told(described: Area) -> str:
    """The end of the printed plan, from the last step on."""
    text = "\n".join(plan_lines(plan_way(described, shop())))
    return text[text.index("refit the pump") :]


def test_what_nothing_else_fills_is_work_behind_the_last_step():
    """Trial: who followed the plan to the letter started the engine without oil."""
    sheet = plan_way(area(PUMP), shop())
    lines = told(area(PUMP, HEAD + "job work: {after: {start it: 2 min}}\n"))

    assert [(one.words, one.part, one.step, one.follow_up) for one in fills(sheet)] == [("0.5 l oil", "pump", None, None)]
    order = ["OWED BY WHAT WAS OPENED", "fill in again: 0.5 l oil (pump)", "before the engine starts", "LAST", "start it"]
    assert [words for words in sorted(order, key=lines.index)] == order


def test_a_follow_up_that_fills_says_how_much_of_what():
    """It is owed without being listed twice, and costs its minutes once."""
    described = area(PUMP + "    filled by: fill to the level\n", HEAD + FOLLOW_UPS)
    sheet, lines = plan_way(described, shop()), told(described)

    assert sheet.due == (("fill to the level", 8),)
    assert "fill to the level" in lines and "with 0.5 l oil" in lines and "! before the engine starts" in lines
    assert "fill in again" not in lines


def test_a_follow_up_that_is_listed_as_well_is_owed_once():
    """Both keys name it."""
    text = PUMP + "    filled by: fill to the level\n    follow-ups: [fill to the level]\n"
    assert [ref.name for ref in area(text, HEAD + FOLLOW_UPS).items["pump"].base.follow_ups] == ["fill to the level"]


def test_the_way_back_of_what_was_drained_is_the_filling():
    """The amount stands at that step, and nowhere behind the last one."""
    described = area(PUMP.replace("    loses: 0.5 l oil, 4.00\n", "    behind: [coolant]\n") + COOLANT)
    sheet = plan_way(described, shop())
    [fill] = fills(sheet)

    assert sheet.steps[fill.step - 1].id == "coolant: fill"
    assert "with 2 l coolant" in "\n".join(plan_lines(sheet))
    assert "fill in again" not in "\n".join(plan_lines(sheet))


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("    filled by: fill to the levle\n", 'did you mean "fill to the level"?'),
        ("    filled by: look again\n", "before the engine starts, not at the hand-over"),
    ],
)
def test_a_filling_that_cannot_be_is_told(more, words):
    """A name with a slip, and one that comes too late."""
    [message] = messages(PUMP + more, HEAD + FOLLOW_UPS)
    assert words in message


def test_filled_by_without_a_loss_is_told():
    """Nothing runs out, so nothing is filled."""
    [message] = messages(PUMP.replace("loses: 0.5 l oil, 4.00", "filled by: fill to the level"), HEAD + FOLLOW_UPS)
    assert "say under loses what runs out" in message


def test_json_tells_what_fills_each_fluid():
    """Part, litres, and the follow-up of the demo area's gearbox; its drive shaft is out where the mount cannot be."""
    told = plan_object(plan_way(demo_a.area(), demo_a.shop(), avoid=["left mount nuts", "subframe"]))

    assert told["fluids"] == [
        {"name": "gearbox oil", "litres": 0.7, "price": 11.2}
        | {"filled": [{"part": "left drive shaft", "litres": 0.7, "step": None, "follow_up": "fill the gearbox to its level"}]}
    ]


def test_the_coolant_of_demo_area_b_is_filled_at_its_step():
    """From above, where the lower manifold is off."""
    sheet = plan_way(demos.area("b"), demo_a.shop(), avoid=["exhaust section"])
    [fill] = fills(sheet)
    assert sheet.steps[fill.step - 1].text.startswith("fill 2.2 l of coolant slowly")
