"""What else could be replaced while the car is open."""

from area_samples import area, shop, state
from quote_samples import job, terms_of

from putback.estimate.terms import NO_TERMS
from putback.estimate.while_open import nearly_free, while_open
from putback.way.plan import plan
from putback.way.task import make_task

# The cover is off anyway; the hose hides behind the pump; the guard is elsewhere; the bracket never leaves the car.
TEXT = """\
parts:
  cover: {from: top, minutes: '2 off, 3 on'}
  pump: {from: top, behind: [cover], minutes: '4 off, 6 on'}
  hose: {from: top, behind: [pump], minutes: '2 off, 2 on', new parts: {hose: 8.00}}
  guard: {from: under, minutes: '1 off, 1 on'}
  bracket: {goes: aside, from: top, minutes: '1 off, 1 on'}
"""


def offer(text: str = TEXT, terms=NO_TERMS, **options):
    return while_open(*job(text, **options), terms, seconds=None)


def test_what_is_off_anyway_costs_its_price_and_no_more():
    """The cover: no minutes; its price is not known, or that of the terms."""
    plain = {one.name: one for one in offer().found}["cover"]
    priced = {one.name: one for one in offer(terms=terms_of("prices: {cover: 30.00}\n")).found}["cover"]

    assert (plain.is_off, plain.minutes, plain.cents, plain.has_price) == (True, 0, 0, False)
    assert (priced.cents, priced.has_price) == (3000, True)


def test_what_lies_behind_costs_little_more():
    """The hose: its own 4 min at 1.00 a minute and 8.00; alone it would take cover and pump off as well: 19 min."""
    found = {one.name: one for one in offer().found}["hose"]

    assert (found.minutes, found.cents, found.is_off, found.has_price) == (4, 1200, False, True)
    assert found.alone == (19, 2700)


def test_only_what_leaves_the_car_is_offered():
    """Neither the bracket, which goes aside, nor the target itself; nor the guard, which saves nothing against a job of its own."""
    assert sorted(one.name for one in offer().found) == ["cover", "hose"]
    assert offer().unseen == ()


def test_what_must_not_be_opened_is_not_offered():
    """Nor planned."""
    assert [one.name for one in offer(avoid=("hose",)).found] == ["cover"]


def test_the_least_dear_comes_first():
    """Both of them are worth an offer."""
    found = offer().found

    assert [one.cents for one in found] == [0, 1200]
    assert nearly_free(found) == list(found)


def test_what_there_was_no_time_for_is_said():
    """What is off anyway has its price all the same, only what it would cost alone is not known."""
    found = while_open(*job(TEXT), clock=lambda: 0.0, seconds=0)

    assert [(one.name, one.cents, one.alone) for one in found.found] == [("cover", 0, None)]
    assert found.unseen == ("hose", "guard")


def test_a_job_under_way_is_taken_as_it_stands_and_alone_as_a_closed_car():
    """The cover is off at the start; the hose alone would still take cover and pump off."""
    described = area(TEXT)
    task = make_task(described, shop(), state=state("now: {cover: off}\n", described))
    found = {one.name: one for one in while_open(task, plan(task), seconds=None).found}

    assert (found["cover"].is_off, found["cover"].alone) == (True, (5, 500))
    assert (found["hose"].minutes, found["hose"].alone) == (4, (19, 2700))


def test_once_the_part_is_swapped_only_what_is_off_is_offered():
    """Nothing more comes off then."""
    described = area(TEXT)
    task = make_task(described, shop(), state=state("swapped: yes\nnow: {cover: off, pump: off}\n", described))

    assert [one.name for one in while_open(task, plan(task), seconds=None).found] == ["cover"]


def test_another_way_may_take_less_time_and_is_named():
    """Through the cheap side the pump takes 30 min and nothing else; with the hose behind the lid the dear side has a sense."""
    text = """\
parts:
  lid: {from: top, minutes: '5 off, 5 on', new parts: {lid seal: 50.00}}
  hose: {from: top, behind: [lid], minutes: '1 off, 1 on'}
  pump:
    from: top
    out through:
      the side: {minutes: '20 off, 20 on'}
      the top: {behind: [lid], minutes: '3 off, 3 on'}
"""
    found = {one.name: one for one in offer(text).found}["hose"]

    assert (found.minutes, found.other_way) == (-22, "the top")


def test_a_price_of_today_for_what_only_one_job_takes_stands_in_no_others_way():
    """The seal belongs to the lid, which no other job opens."""
    text = TEXT + "  lid: {from: top, minutes: '1 off, 1 on', new parts: {lid seal: 2.00}}\n"
    found = {one.name: one for one in offer(text, terms=terms_of("prices: {lid seal: 3.00}\n")).found}

    assert found["cover"].alone == (5, 500)
