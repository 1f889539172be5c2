"""What is done behind the last step, and in which order."""

import pytest
from area_samples import HEAD, area, findings, shop, state

from putback.area.late import in_order
from putback.plan_json import plan_object
from putback.plan_text import plan_lines
from putback.way.afterwards import afterwards
from putback.way.plan import plan_way

PUMP = """\
parts:
  pump:
    from: top
    minutes: 4 off, 6 on
    follow-ups: [zero the sensor, align, look again]
"""
WORK = """\
follow-ups:
  zero the sensor: {takes: 6 min, after: [align]}
  align: 45 min
  look again: at hand-over
job work:
  after:
    prime the oil: 3 min
    start it: {takes: 2 min, after: prime the oil}
    drive it: 9 min
"""


def names(work: str, pump: str = PUMP, more: str = "") -> list[str]:
    """The names behind the last step of a plan."""
    described = area(pump, HEAD + work)
    given = state(more, described) if more else None
    return [one.name for one in afterwards(plan_way(described, shop(), state=given))]


def refused(work: str) -> str:
    """The one thing that is wrong with it, and where."""
    [finding] = findings(PUMP, HEAD + work)
    return finding


def test_follow_ups_come_before_job_work_each_in_the_order_of_the_file():
    """Not in the order in which the steps oblige to them; what is told at the hand-over is no work."""
    assert names(WORK.replace("{takes: 6 min, after: [align]}", "6 min")) == [
        "zero the sensor", "align", "prime the oil", "start it", "drive it",
    ]  # fmt: skip


def test_what_names_something_comes_after_it():
    """The sensor is zeroed when the wheels are aligned."""
    assert names(WORK)[:2] == ["align", "zero the sensor"]


def test_a_follow_up_may_come_after_job_work():
    """It then stands under LAST, between the work around it; the rest is owed ahead of that."""
    work = WORK.replace("after: [align]", "after: [start it]")
    assert names(work) == ["align", "prime the oil", "start it", "zero the sensor", "drive it"]

    text = "\n".join(plan_lines(plan_way(area(PUMP, HEAD + work), shop())))
    order = ["OWED BY", "align", "LAST", "start it", "zero the sensor", "drive it", "AT HAND-OVER", "look again"]
    end = text[text.index("OWED BY") :]
    assert [words for words in sorted(order, key=end.index)] == order


def test_a_chain_holds_where_its_middle_is_not_owed():
    """Zeroing after aligning after starting: without the aligning it still comes after the start."""
    work = WORK.replace("  align: 45 min", "  align: {takes: 45 min, after: [start it]}")
    pump = PUMP.replace("zero the sensor, align, look again", "zero the sensor")
    assert names(work, pump) == ["prime the oil", "start it", "zero the sensor", "drive it"]


def test_repairs_that_were_added_come_before_job_work():
    """A name that the area does not know is in nobody's way."""
    assert names(WORK, more="added work: {weld it: 20 min}\n")[2:4] == ["weld it", "prime the oil"]


def test_what_fills_comes_first_of_the_follow_ups():
    """An engine is started only when its fluids are in."""
    work = WORK.replace("  look again", "  fill: 5 min\n  look again")
    pump = PUMP + "    loses: 1 l oil\n    filled by: fill\n"
    assert names(work, pump)[:3] == ["fill", "align", "zero the sensor"]


def test_job_work_keeps_its_minutes_in_the_long_form():
    """Both forms cost the same."""
    long, short = (area(PUMP, HEAD + work) for work in (WORK, WORK.replace("{takes: 2 min, after: prime the oil}", "2 min")))
    assert plan_way(long, shop()).minutes == plan_way(short, shop()).minutes


def test_json_tells_the_order():
    """Kind, name, minutes."""
    told = plan_object(plan_way(area(PUMP, HEAD + WORK), shop()))["afterwards"]
    assert [(one["kind"], one["name"], one["minutes"]) for one in told][:3] == [
        ("follow-up", "align", 45), ("follow-up", "zero the sensor", 6), ("job work", "prime the oil", 3),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("[align]", "[algin]", '11:43: "algin" is neither a follow-up nor job work that comes after; did you mean "align"?'),
        ("[align]", "[look again]", '11:43: "look again" is told at the hand-over, so nothing comes after it; take it out'),
        ("[align]", "[zero the sensor]", '11:43: "zero the sensor" comes after "zero the sensor": a circle'),
        ("align: 45 min", "align: {takes: 45 min, after: zero the sensor}", '11:43: "zero the sensor" comes after "align", "align" comes'),
        ("at hand-over", "{takes: at hand-over, after: align}", '13:44: "look again" is told at the hand-over, behind'),
        ("    drive it: 9", "    align: 9", '"align" is a follow-up and job work'),
        ("{takes: 6 min, after: [align]}", "{after: [align]}", '11:20: a follow-up needs "takes"'),
        ("after: prime the oil", "before: drive it", 'work after has no key "before"'),
    ],
)
def test_an_order_that_cannot_be_is_told_with_its_place(old, new, words):
    """Slips, circles, and what comes behind everything anyhow."""
    assert words in refused(WORK.replace(old, new))


def test_a_long_row_of_work_is_sorted_at_once():
    """Two hundred follow-ups, each after all before it."""
    row = [f"work {n}" for n in range(200)]
    lines = [f"  {name}: {{takes: 1 min, after: [{', '.join(row[:n][-40:])}]}}" for n, name in enumerate(row)]
    described = area(PUMP.replace("[zero the sensor, align, look again]", "[work 0]"), HEAD + "follow-ups:\n" + "\n".join(reversed(lines)) + "\n")
    assert in_order(described, reversed(row)) == row
