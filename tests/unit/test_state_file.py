"""State files: where a job stands."""

from fractions import Fraction

import pytest
from area_samples import HEAD, PUMP, area, state

from putback.area.state_file import At, scan_state, with_variants
from putback.errors import InputError

AREA = (
    PUMP
    + """\
    plugs: [pump plug]
  wheel:
    from: wheel arch
    minutes: 5 off, 7 on
    held by:
      wheel bolts: 4 x M12x1.5x45, class 10.9, 17 mm, 100 N·m, on the ground
put in:
  support:
    secures: [pump]
    by:
      bar: {from: top, minutes: "3 in, 2 out"}
      jack: {from: under, minutes: "4 in, 3 out"}
job work:
  before: {look: 3 min}
"""
)


def messages(text: str, head: str = HEAD) -> list[str]:
    return [finding.message for finding in scan_state("state: 1\n" + text, "state.yaml", area(AREA, head))[1]]


def test_what_belongs_to_a_part_is_off_with_it():
    """Unless it is named itself."""
    now = state("now:\n  pump: off\n  pump plug: plugged\n", area(AREA)).at

    assert now == {"pump": At(1), "pump bolts": At(1), "pump plug": At(0)}


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("loose", At(1)),
        ("out", At(2)),
        ("3 of 4 loose", At(0, 3)),
        ("3 of 4 out", At(1, 3)),
        ("4 of 4 out", At(2)),
        ("0 of 4 out", At(1)),
    ],
)
def test_partial_counts(text, where):
    """So many of a group have gone one state further than the rest."""
    assert state(f"now:\n  wheel bolts: {text}\n", area(AREA)).at["wheel bolts"] == where


def test_a_thing_put_in_says_by_which_way():
    """Where there are several."""
    assert state("now:\n  support: by jack\n", area(AREA)).at["support"] == At(1, 0, "jack")


def test_the_rest_of_a_state():
    """Context, what is shut, broken, absent, done and added."""
    read = state(
        "posture: on a lift\nworking from: under\ntool in hand: 13 mm socket\n"
        "cannot be opened: {wheel bolts: seized}\nbroken: {pump plug: 3.50}\nnot fitted: [wheel]\n"
        "swapped: yes\ndone: [look]\nadded work: {mend it: 20 min}\n",
        area(AREA),
    )

    assert (read.posture, read.vantage, read.tool) == ("on a lift", "under", "13 mm socket")
    assert (read.shut, read.broken, read.absent) == (
        {"wheel bolts": "seized"},
        {"pump plug": Fraction(350)},
        ("wheel",),
    )
    assert (read.swapped, read.done, read.added[0][0]) == (True, ("look",), "mend it")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("now: {pomp: off}\n", '"pomp" is not in this file; did you mean "pump"?'),
        ("now: {pump: aside}\n", '"pump" is never "aside"; its states are: fitted, off'),
        ("now: {wheel bolts: 3 of 5 out}\n", '"3 of 5 out": there are 4 of "wheel bolts"'),
        ("now: {wheel bolts: 5 of 4 out}\n", '"5 of 4 out": there are 4 of "wheel bolts"'),
        ("now: {wheel bolts: 3 of 4 tight}\n", '"3 of 4 tight": say how many are loose or out'),
        ("now: {support: by crane}\n", '"support" has no way "crane"; it has: bar; jack'),
        ("now: {support: in}\n", '"support" may be put in in several ways; say which: by bar or by jack'),
        ("working from: roof\n", '"roof" is not a place to work from; there are: top, under, wheel arch'),
        ("done: [dance]\n", '"dance" is not job work of this area; there are: look'),
        ("variants: [estate]\n", '"estate" is not a variant of this area; there are: none'),
        ("area: another\n", 'this state belongs to "another", not to "sample"'),
        ("posture: flying\n", 'expected "on the ground" or "on a lift" or "on stands", got "flying"'),
        ("swapped: perhaps\n", 'expected "yes" or "no", got "perhaps"'),
    ],
)
def test_what_does_not_fit_the_area_is_told(text, message):
    """Names, states, counts."""
    assert messages(text) == [message]


def test_a_car_on_its_wheels_must_have_them():
    """A state that cannot be is told."""
    head = HEAD + "on the ground: {stands on: [wheel]}\n"

    assert messages("now: {wheel: off}\n", head) == [
        'the car is on the ground, but "wheel" is off; write where it stands as "posture: on a lift"'
    ]
    assert messages("posture: on a lift\nnow: {wheel: off}\n", head) == []
    assert messages("now: {wheel bolts: loose}\n", head) == []


DRIVEN = HEAD + "variants:\n  drive: [rear-wheel drive, all-wheel drive]\n  doors: [three, five]\n"


def test_variants_may_be_said_by_name():
    """To those of a state file they are added; an untouched car will do."""
    read = area(PUMP, DRIVEN)
    under_way = state("variants: [five]\nswapped: yes\n", read)

    assert with_variants(read, None, ["all-wheel drive"]).variants == ("all-wheel drive",)
    found = with_variants(read, under_way, ["all-wheel drive", "five"])
    assert (found.variants, found.swapped) == (("five", "all-wheel drive"), True)


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (["al-wheel drive"], '"al-wheel drive" is no variant of sample; did you mean "all-wheel drive"?'),
        (["hovercraft"], '"hovercraft" is no variant of sample; there are: rear-wheel drive, all-wheel drive, three, five'),
        (
            ["all-wheel drive", "rear-wheel drive"],
            'a car is "rear-wheel drive" or "all-wheel drive", not both; name the one that it is',
        ),
    ],
)
def test_a_variant_that_cannot_be_is_refused(names, words):
    """Unknown, or excluded by another one."""
    with pytest.raises(InputError) as told:
        with_variants(area(PUMP, DRIVEN), None, names)

    assert told.value.message == words


def test_a_state_file_cannot_name_two_variants_that_exclude_each_other():
    """The car is one of them."""
    text = "state: 1\nvariants: [three, five]\n"

    assert [str(one) for one in scan_state(text, "state.yaml", area(PUMP, DRIVEN))[1]] == [
        'state.yaml:2:19: a car is "three" or "five", not both; name the one that it is'
    ]
