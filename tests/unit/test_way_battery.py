"""No current before every plug and cable that was moved is on again."""

import pytest
from area_samples import HEAD, area, messages, shop, state

from putback.way.plan import plan_way

# The pump has a plug, and a live cable on a nut; the tool at hand would put the battery on first.
PUMP = """\
battery: battery clamp
parts:
  battery clamp:
    from: top
    tools: [10 mm]
    minutes: 1 off, 1 on
    held by: {clamp nut: "M6x18, class 8.8, 10 mm, 5 N·m"}
  pump:
    from: top
    tools: [10 mm]
    minutes: 4 off, 6 on
    behind: [main cable]
    held by: {pump bolts: "2 x M6x30, class 8.8, 10 mm, 8 N·m"}
    plugs: [pump plug]
cables:
  main cable:
    from: top
    minutes: 2 off, 2 on
    hazards: [live]
    held by: {cable nut: "M8 nut, class 8, 13 mm, 11 N·m"}
"""
DUCT = """\
  duct:
    from: top
    minutes: 1 off, 1 on
    plugs: [air plug]
"""


def way_back(text: str, head: str = HEAD, given: str = "") -> list[str]:
    """The steps after the swap."""
    described = area(text, head)
    sheet = plan_way(described, shop(), state=state(given, described) if given else None)
    return [step.id for step in sheet.moves("back")]


def with_duct(clamp: str = "", duct: str = "") -> str:
    """The sample with a duct that the pump is behind."""
    text = PUMP.replace("behind: [main cable]", "behind: [main cable, duct]").replace("cables:\n", DUCT + duct + "cables:\n")
    return text.replace("    tools: [10 mm]\n    minutes: 1 off", f"    tools: [10 mm]\n{clamp}    minutes: 1 off")


def test_the_battery_waits_for_every_plug_and_cable():
    """Trial: the clamp went on while the plug still hung. The plug, the cable and its nut come first, unasked."""
    steps = way_back(PUMP)
    assert steps.index("battery clamp: refit") > max(steps.index(name) for name in (
        "pump plug: plug in", "main cable: put on", "cable nut: tighten",
    ))  # fmt: skip


def test_plugs_of_parts_that_have_nothing_to_do_with_it_count_as_well():
    """The duct's plug is neither live nor near the battery."""
    steps = way_back(with_duct())
    assert steps.index("battery clamp: refit") > steps.index("air plug: plug in")


def test_a_plug_that_only_goes_on_over_the_battery_comes_after_it():
    """The duct lies over the battery: no circle, and the other plugs still come first."""
    text = with_duct(clamp="    behind: [duct]\n")
    steps = way_back(text)

    assert messages(text) == []
    assert steps.index("pump plug: plug in") < steps.index("battery clamp: refit") < steps.index("air plug: plug in")


def test_what_is_tightened_after_the_battery_makes_no_circle_either():
    """Said the other way round in the file, the file's word holds."""
    steps = way_back(with_duct(duct="    tighten after: [battery clamp]\n"))
    assert steps.index("battery clamp: refit") < steps.index("duct: refit")


def test_a_job_taken_up_half_way_keeps_to_it():
    """Battery and plug are off already, and the new pump is in."""
    given = "swapped: yes\nnow: {battery clamp: off, main cable: off, pump: off}\n"
    steps = way_back(PUMP, given=given)
    assert steps.index("battery clamp: refit") > steps.index("pump plug: plug in")


def test_a_file_without_a_battery_has_nothing_that_waits():
    """Neither has one whose battery is not there on this car."""
    text = PUMP.replace("battery: battery clamp\n", "").replace("    hazards: [live]\n", "")
    assert "pump: refit" in way_back(text)


@pytest.mark.parametrize("kind", ["cables", "parts"])
def test_the_battery_may_be_a_cable_itself(kind):
    """It does not wait for itself, nor for its own nut."""
    clamp = '  battery lead: {from: top, minutes: "1 off, 1 on", held by: {lead nut: "M6 nut, class 8, 10 mm, 5 N·m"}}\n'
    text = PUMP.replace("battery: battery clamp", "battery: battery lead").replace(f"{kind}:\n", f"{kind}:\n{clamp}")
    steps = way_back(text)
    assert steps.index("main cable: put on") < steps.index("battery lead: " + ("put on" if kind == "cables" else "refit"))
