"""The smallest sets of things that would open a way, judged by what can be reached."""

import pytest
from area_samples import HEAD, area, shop, state

from putback.area.model import Equipment
from putback.way.from_area_missing import MOST, Missing, having, in_words, smallest_missing, together
from putback.way.from_area_shop import CERTIFICATE, EQUIPMENT, PERSON, SERVICE, TOOL, Lack

# Three ways to the pump: a puller; a lamp and a mirror; or by the hatch, whose screw takes either of two odd tools.
THREE_WAYS = """\
parts:
  hatch:
    from: top
    minutes: 1 off, 1 on
    held by:
      hatch screw: {is: "M6x12, class 8.8, 7 N·m", tools: [hatch key, star key]}
  pump:
    from: top
    minutes: 4 off, 6 on
    out through:
      straight up: {with: hub puller}
      sideways: {with: [work lamp, 2 mirrors]}
      the hatch: {behind: [hatch]}
"""
PULLER, HATCH_KEY, STAR_KEY = Lack(EQUIPMENT, "hub puller"), Lack(TOOL, "hatch key"), Lack(TOOL, "star key")


def sets(text: str, **options) -> list[list[str]]:
    found = smallest_missing(area(text), options.pop("shop", shop()), ["pump"], **options)
    return [list(map(str, one)) for one in found]


def odd_ways(*kinds: int) -> str:
    """A pump with ways that lack so many kinds of things each."""
    ways = [
        f"      way {n}: {{with: [{', '.join(f'gadget {n}{k}' for k in 'abcdef'[:count])}]}}"
        for n, count in enumerate(kinds)
    ]
    return "parts:\n  pump:\n    from: top\n    minutes: 4 off, 6 on\n    out through:\n" + "\n".join(ways) + "\n"


def test_all_sets_of_the_least_size_are_found_by_name():
    """One thing will do: the puller or either key; the lamp and the mirrors are two things and no longer asked for."""
    assert sets(THREE_WAYS) == [["hub puller"], ["hatch key"], ["star key"]]


def test_a_way_that_is_not_there_costs_nothing():
    """With the hatch avoided its keys open nothing."""
    assert sets(THREE_WAYS, avoid=["hatch"]) == [["hub puller"]]


def test_what_is_off_already_is_not_missed():
    """With the hatch off the pump can be reached as it is; a key is missing all the same, for the way back."""
    off = state("now: {hatch: off}\n", area(THREE_WAYS))
    assert sets(THREE_WAYS, state=off) == [["hatch key"], ["star key"]]
    assert sets(THREE_WAYS, state=off, shop=shop().with_more(tools=["star key"])) == [[]]


def test_half_of_a_set_does_not_count_for_another():
    """A lamp is here: for the way with mirrors two mirrors are missing, and they are one kind of thing."""
    assert sets(THREE_WAYS, shop=shop().with_more(equipment=[Equipment("work lamp")]), avoid=["hatch"]) == [
        ["hub puller"],
        ["2 mirrors"],
    ]


@pytest.mark.parametrize(
    ("kinds", "sizes"),
    [
        ((MOST - 1, MOST), [MOST - 1]),  # below: the smaller one alone
        ((MOST, MOST), [MOST, MOST]),  # at: both of the same size
        ((MOST, MOST + 1), [MOST]),
        ((MOST + 1,), []),  # just above: no advice
    ],
)
def test_no_more_kinds_are_looked_at_than_the_most(kinds, sizes):
    """Sets of so many kinds of things are found, larger ones are not."""
    assert [len(one) for one in sets(odd_ways(*kinds))] == sizes


def test_what_two_steps_lack_is_put_together():
    """A lid that takes a key, over a pump that takes a puller: both are missing."""
    text = """\
parts:
  lid: {from: top, minutes: "1 off, 1 on", tools: [lid key]}
  pump: {from: top, minutes: "4 off, 6 on", behind: [lid], with: hub puller}
"""
    assert sets(text) == [["hub puller", "lid key"]]


def test_the_better_one_does_for_both():
    """A table for 100 kg below, one for 150 kg above: one table for 150 kg is missing."""
    text = """\
parts:
  lid: {from: top, minutes: "1 off, 1 on", with: table >= 100 kg}
  pump: {from: top, minutes: "4 off, 6 on", behind: [lid], with: table >= 150 kg}
"""
    assert sets(text) == [["table >= 150 kg"]]


@pytest.mark.parametrize(("rating", "covered"), [(149, False), (150, True), (151, True)])
def test_a_thing_covers_what_is_asked_less_of(rating, covered):
    """Rated below, at and above what is lacking."""
    asked, got = Lack(EQUIPMENT, "table", 1, 150), Lack(EQUIPMENT, "table", 1, rating)
    assert (together((asked,), (got,)) == (got,)) == covered


def test_a_certificate_and_a_helper_are_things_too():
    """An airbag in the way takes a certificate; a part for two takes a second person."""
    head = HEAD + "battery: clamp\n"
    text = """\
parts:
  clamp: {from: top, minutes: "1 off, 1 on"}
  bag: {from: top, minutes: "1 off, 1 on", hazards: [airbag]}
  pump: {from: top, minutes: "4 off, 6 on", behind: [bag], second person: 5 min}
"""
    [found] = smallest_missing(area(text, head), shop(), ["pump"])
    assert [(lack.kind, str(lack)) for lack in found] == [
        (CERTIFICATE, "certificate for airbags"),
        (PERSON, "second person"),
    ]


def test_a_shop_has_what_it_was_given():
    """Of each kind one; the sublet counts nothing, as nobody knows its price."""
    lacks = [
        Lack(TOOL, "lid key"),
        Lack(CERTIFICATE, "airbags"),
        Lack(PERSON, "second person"),
        Lack(SERVICE, "wheel alignment"),
        Lack(EQUIPMENT, "table", 2, 150),
    ]
    better = having(shop(), lacks)

    assert "lid key" in better.tools
    assert (better.certificates, better.people, better.sublets) == (
        ("airbags",),
        shop().people + 1,
        {"wheel alignment": 0},
    )
    assert better.has(Equipment("table", 2, 150)) and not better.has(Equipment("table", 3, 150))


def test_a_set_in_words():
    """One, two, three things."""
    assert in_words((PULLER,)) == "hub puller"
    assert in_words((PULLER, STAR_KEY)) == "hub puller and star key"
    assert in_words((PULLER, HATCH_KEY, STAR_KEY)) == "hub puller, hatch key and star key"


def test_levels_go_as_far_as_the_things_carry():
    """Without anything nothing moves; with the key the hatch comes off, screw first, and the pump by its way."""
    missing = Missing(area(THREE_WAYS), shop(), ["pump"], None)

    assert missing.levels() == {"hatch": 0, "hatch screw": 0, "pump": 0}
    assert missing.levels((HATCH_KEY,)) == {"hatch": 1, "hatch screw": 1, "pump": 1}
    assert missing.reaches(missing.levels((HATCH_KEY,)))
