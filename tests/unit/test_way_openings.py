"""What would open a way where there is none: the smallest sets, each with the plan that it opens."""

from area_samples import SHOP, area, shop

from putback.way.from_area_missing import MOST
from putback.way.openings import openings
from putback.way.task import make_task

PUMP = "parts:\n  pump:\n    from: top\n    minutes: 4 off, 6 on\n    out through:\n"


def opened(text: str, shop=None, **options) -> list[tuple[str, object]]:
    task = make_task(area(text), shop or globals()["shop"](), **options)
    return [(" and ".join(map(str, one.lacks)), one.sheet and one.sheet.minutes) for one in openings(task)]


def test_the_cheapest_way_opened_stands_first():
    """By hand: 4 + 6 minutes and each way's own; equal ones by name."""
    text = (
        PUMP
        + """\
      a: {with: winch, minutes: '9 off, 9 on'}
      b: {with: hub puller, minutes: '5 off, 7 on'}
      c: {with: auger, minutes: '5 off, 7 on'}
"""
    )
    assert opened(text) == [("auger", 12), ("hub puller", 12), ("winch", 18)]


def test_fewer_kinds_of_things_go_before_a_cheaper_way():
    """Two things would open a way of 2 minutes, one thing a way of 18: the one thing it is."""
    text = (
        PUMP
        + """\
      a: {with: winch, minutes: '9 off, 9 on'}
      b: {with: [hub puller, auger], minutes: '1 off, 1 on'}
"""
    )
    assert opened(text) == [("winch", 18)]


ONE_JACK = """\
parts:
  lid:
    from: top
    minutes: 2 off, 2 on
    hazards: [supported]
  pump:
    from: under
    behind: [lid]
    minutes: 4 off, 6 on
put in:
  prop:
    secures: [lid]
    from: top, on the ground
    with: floor jack
    minutes: 1 in, 1 out
"""
ON_STANDS = SHOP.replace("on a lift: 3 min up, 2 min down", "on stands: 3 min up, 2 min down")
ON_STANDS = ON_STANDS.replace("{two-post lift: 1}", "{floor jack: 1, axle stand: 4}")


def test_what_is_needed_twice_at_once_is_missing_once_more():
    """The only jack props the lid while the car is to be raised: a second one opens a way, and so does a lift."""
    # 1 in, 2 off; up 3; change of place 2, 4 off, 6 on; down 2; change of place 2, 2 on, 1 out
    minutes = 1 + 2 + 3 + 2 + 4 + 6 + 2 + 2 + 2 + 1
    assert opened(ONE_JACK, shop("", ON_STANDS)) == [("floor jack", minutes), ("two-post lift", minutes)]


def test_what_the_shop_has_not_got_may_do_for_what_it_has_too_little_of():
    """A strut in place of the jack does as well, 8 minutes dearer."""
    text = ONE_JACK.replace(
        "    with: floor jack\n    minutes: 1 in, 1 out\n",
        """\
    by:
      jack: {with: floor jack, minutes: '1 in, 1 out'}
      strut: {with: gas strut, minutes: '5 in, 5 out'}
""",
    )
    assert [lacks for lacks, _ in opened(text, shop("", ON_STANDS))] == ["floor jack", "two-post lift", "gas strut"]


def test_where_too_much_is_lacking_the_cheapest_way_is_told_whole():
    """One kind more than are tried set by set, on the way that is shorter; the other way is no advice."""
    things = [f"gadget {letter}" for letter in "abcde"]
    assert len(things) == MOST + 1
    text = (
        PUMP
        + f"""\
      long: {{with: [winch, {", ".join(things)}], minutes: '9 off, 9 on'}}
      short: {{with: [{", ".join(things)}], minutes: '5 off, 7 on'}}
"""
    )
    assert opened(text) == [(" and ".join(things), 12)]


def test_where_no_shop_could_do_it_nothing_is_told():
    """The pump must not be opened."""
    assert opened(PUMP + "      a: {with: winch}\n", avoid=["pump"]) == []


def test_without_time_for_a_plan_the_things_stand_alone():
    """A clock that has run out: what surely opens a way is told, what it costs is not."""
    text = PUMP + "      a: {with: winch}\n      b: {with: auger}\n"
    ticks = iter(range(0, 10**9, 1000))
    found = openings(make_task(area(text), shop()), clock=lambda: next(ticks), seconds=1)

    assert sorted(str(one.lacks[0]) for one in found) == ["auger", "winch"]
