"""What the ways of a job ask for: what the shop lacks, what it has, and what a plan takes."""

from area_samples import HEAD, SHOP, area, shop

from putback.way.asked_for import lacking, owned, taken
from putback.way.plan import plan
from putback.way.task import make_task

AREA_HEAD = HEAD + "battery: clamp\nfollow-ups: {adjust it: 3 min with light box}\n"
TEXT = """\
parts:
  clamp: {from: top, minutes: "1 off, 1 on"}
  bag: {from: top, minutes: "1 off, 1 on", hazards: [airbag]}
  pump:
    minutes: 4 off, 6 on
    out through:
      above: {behind: [bag], from: top, tools: [pipe tongs], second person: 2 min}
      below: {from: under, with: [drain pan, cradle >= 50 kg or strap], follow-ups: [adjust it]}
"""


def task(**more):
    return make_task(area(TEXT, AREA_HEAD), shop().with_more(**more))


def names(lacks) -> list[str]:
    return list(map(str, lacks))


def test_everything_that_some_way_asks_for_is_lacking_unless_it_is_there():
    """Of every kind, and both offers of a choice; stands and jack too, though the lift is here."""
    made = task()
    found = names(lacking(made, made.missing()))

    assert found == [
        "certificate for airbags",
        *("4 axle stands", "cradle >= 50 kg", "drain pan", "floor jack", "light box", "strap"),
        "pipe tongs",
    ]


def test_a_second_person_is_a_thing_as_well():
    """Where one works alone, as in the sample shop, and something is held by two."""
    text = TEXT.replace("tools: [pipe tongs], second person: 2 min", "with: second person")
    made = make_task(area(text, AREA_HEAD), shop())
    assert "second person" in names(lacking(made, made.missing()))


def test_what_is_there_is_owned():
    """The lift; with a drain pan that one too. Tools and certificates do not wear out by being needed twice."""
    made = task()
    assert names(owned(made, made.missing())) == ["two-post lift"]

    from putback.area.model import Equipment

    made = task(equipment=[Equipment("drain pan")], tools=["pipe tongs"])
    assert names(owned(made, made.missing())) == ["drain pan", "two-post lift"]


def test_what_a_plan_takes():
    """Below: the pan, of the choice what is there, the lift, what the follow-up asks for; no tongs, no certificate."""
    equipment = "{two-post lift: 1, drain pan: 1, strap: 1, light box: 1}"
    made = make_task(area(TEXT, AREA_HEAD), shop("", SHOP.replace("{two-post lift: 1}", equipment)))
    assert taken(plan(made)) == {"drain pan", "strap", "two-post lift", "light box"}


def test_a_plan_with_a_helper_and_a_certificate():
    """Above: tongs, a second person, a certificate for the bag."""
    base = SHOP.replace("tools:", "people: 2\ncertificates: [airbags]\ntools:") + "  others: [pipe tongs]\n"
    assert taken(plan(make_task(area(TEXT, AREA_HEAD), shop("", base)))) == {"pipe tongs", "second person", "airbags"}
