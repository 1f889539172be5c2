"""A waiting time does what it says, or is refused."""

import pytest
from area_samples import area, messages, shop

from putback.way.plan import plan_way

WAITING = """\
parts:
  drain:
    from: top
    minutes: 1 off, 1 on
    wait after: 12 min
  pump:
    from: top
    behind: [drain]
    minutes: 4 off, 6 on
"""


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("    behind: [drain]\n", ""),
        ("    behind: [drain]\n", "    while: [drain]\n"),
        ("  pump:\n    from: top\n    behind: [drain]\n", "  pump:\n    from: top\n    wait after: 3 min\n    behind: [drain]\n"),
    ],
)
def test_a_wait_that_nothing_waits_for_is_told(old, new):
    """Nobody is behind the drain; or the thing that is looks at it in place; or it is the target, which comes last."""
    [message] = messages(WAITING.replace(old, new))
    assert message.startswith('nothing waits after "') and 'name it under "behind"' in message


def test_a_wait_for_something_else_than_the_battery_counts():
    """Twelve minutes from the drain to the pump behind it, and from a plug to the part that it belongs to."""
    assert messages(WAITING.replace("    behind: [drain]\n", "    plugs: {drain plug: {wait after: 2 min}}\n    behind: [drain off]\n")) == []
    sheet = plan_way(area(WAITING), shop())
    assert [(step.id, step.not_before) for step in sheet.steps if step.not_before] == [("pump: remove", ((12, 1),))]


def test_a_name_that_leads_nowhere_is_told_as_such():
    """The slip of the pen alone, not also that nothing waits."""
    assert messages(WAITING.replace("[drain]", "[drain of]")) == ['"drain" is never "of"; its states are: fitted, off']


def test_what_is_live_waits_after_the_battery():
    """No name under behind is needed where the hazard asks for it."""
    live = WAITING.replace("    behind: [drain]\n", "    hazards: [live]\n")
    assert messages("battery: drain\n" + live) == []
