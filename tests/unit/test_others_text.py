"""Other ways, a no, and the price of an order as they are printed: figures in columns, at most 80 signs wide."""

from functools import cache

import pytest
from area_samples import HEAD, area, shop
from order_samples import ONE_JACK, PROP, priced

from putback.errors import NoWay
from putback.others_text import no_way_lines, others_lines, priced_lines
from putback.plan_text import WIDTH
from putback.way.alternatives import alternatives
from putback.way.one_more import savings
from putback.way.plan import plan
from putback.way.task import make_task
from reference import demo_a

WAYS = """\
parts:
  lid: {from: top, minutes: "2 off, 2 on"}
  pump:
    from: top
    minutes: 4 off, 6 on
    out through:
      the top: {behind: [lid]}
      the side: {behind: [lid], with: strap, minutes: '5 off, 7 on'}
      the hatch: {with: hatch frame, minutes: '1 off, 1 on'}
      the floor: {only for: late}
"""
CARS = HEAD + "variants: {kind: [early, late]}\n"


def others(text: str = WAYS, **options) -> list[str]:
    task = make_task(area(text, CARS), options.pop("shop", None) or shop().with_more(equipment=[_strap()]), **options)
    best = plan(task)
    return list(others_lines(alternatives(task, best), savings(task, best)))


def _strap():
    from putback.area.model import Equipment

    return Equipment("strap")


def test_other_ways_with_what_they_cost_and_why():
    """The side 2 minutes more; the hatch would save 12; the floor is another car's."""
    assert others() == [
        "",
        "OTHER WAYS                                                         money     min",
        "     as planned                                                   114.00    14.0",
        "     pump: the side                                               116.00    16.0",
        "       2.00 more: 2.0 min of work",
        "       needs besides: strap",
        "     pump: the floor",
        "       only for late",
        "     pump: the hatch                                              102.00     2.0",
        "       sample shop lacks: hatch frame",
        "       it would save 12.00",
        "       needs besides: hatch frame",
        "",
        "ONE THING MORE WOULD SAVE",
        "     hatch frame                                                           12.00",
    ]


def test_by_minutes_the_figures_are_minutes():
    """In the reasons and in what is saved."""
    told = others(by="minutes")
    assert "       2.0 min more: 2.0 min of work" in told
    assert "     hatch frame                                                        12.0 min" in told


def test_nothing_else_to_do_is_told_too():
    """One way, nothing lacking: whoever asked gets an answer."""
    assert others("parts:\n  pump: {from: top, minutes: '4 off, 6 on'}\n") == [
        "",
        "OTHER WAYS",
        "     none, and no one thing more in the shop would save anything",
    ]


def no(text: str, **options) -> list[str]:
    with pytest.raises(NoWay) as caught:
        plan(make_task(area(text), shop(), **options))
    return list(no_way_lines(caught.value))


def test_a_no_with_what_would_open_a_way():
    """What is stuck, why each way fails, and each set with its price and its way."""
    text = (
        WAYS.replace("the top: {behind: [lid]}", "the top: {with: [hoist, sling]}")
        .replace(", only for: late", "")
        .replace("{only for: late}", "{with: floor saw}")
    )
    assert no(text.replace("with: strap", "with: [strap, sling]").replace("behind: [lid], ", "")) == [
        "no safe way to the pump in sample shop",
        "  nobody can remove the pump:",
        "    the top: for want of hoist and sling",
        "    the side: for want of sling and strap",
        "    the hatch: for want of hatch frame",
        "    the floor: for want of floor saw",
        "  a way would open with                                            money     min",
        "     hatch frame                                                  102.00     2.0",
        "       the hatch",
        "     floor saw                                                    110.00    10.0",
        "       the floor",
    ]


def test_a_no_that_nothing_would_change():
    """Told without a heading for what would open a way."""
    assert no("parts:\n  pump: {from: top, minutes: '4 off, 6 on'}\n", avoid=["pump"]) == [
        "no safe way to the pump in sample shop",
        "  nobody can remove the pump:",
        "    the pump must not be opened",
    ]


def test_a_no_for_want_of_enough():
    """The one jack is needed twice at once: nothing is stuck by itself."""
    one_jack = ONE_JACK.replace(", gas strut: 1", "")
    with pytest.raises(NoWay) as caught:
        plan(make_task(area(PROP.replace(", strut: {with: gas strut}", "")), shop("", one_jack)))

    assert list(no_way_lines(caught.value))[:4] == [
        "no safe way to the pump in sample shop",
        "  each step can be done, but not all of them: there is too little of something",
        "  a way would open with                                            money     min",
        "     floor jack                                                   125.00    25.0",
    ]


def test_an_order_with_all_that_is_to_be_told():
    """Its price, the points, what it leaves out, where it is dearer, what reverse does not say."""
    assert list(priced_lines(priced("lid, badge, pump by the top, tray"))) == [
        "THE MANUAL: WHAT IT COSTS",
        "",
        "                                                                   money     min",
        "     in this order                                                136.50    35.0",
        "     the cheapest way                                             132.50    31.0",
        "       more by 4.00: 2.0 min of work, 2.0 min of changing tool, place and",
        "         posture",
        "",
        "NOT ALLOWED AS IT WAS GIVEN",
        "     pump by the top: first remove the tray",
        "",
        "DEARER BY ITS PLACE IN THE ORDER",
        "     all together                                                           2.00",
        "     tray, at its best place                                                2.00",
        "",
        "WHAT REVERSE ORDER DOES NOT SAY",
        "     new ones go in, never the old: upper bolt",
        "     lower bolt: tightened after upper bolt",
        "     pump: the sleeve goes in first",
    ]


def test_what_is_left_out_is_told_part_by_part():
    """Out and back, each part once."""
    told = list(priced_lines(priced("pump by the top", "lid")))
    assert told[told.index("LEFT OUT, AND DONE ALL THE SAME") + 1 :] == [
        "     on the way in: lid; tray",
        "     on the way back: pump; tray",
    ]


def test_what_is_off_already_is_told():
    """In a job under way."""
    told = list(
        priced_lines(priced("tray, lid, pump by the top", at="posture: on a lift\nnow: {lid: off, tray: off}\n"))
    )
    assert told[told.index("OFF ALREADY") + 1] == "     tray; lid"


@cache
def demo_lines() -> tuple[str, ...]:
    task = make_task(demo_a.area(), demo_a.shop())
    best = plan(task)
    bare = make_task(demo_a.area(), demo_a.shop().without(["trim fork", "10 mm socket", "two-post lift", "axle stand"]))
    with pytest.raises(NoWay) as caught:
        plan(bare)
    return (*others_lines(alternatives(task, best), savings(task, best)), *no_way_lines(caught.value))


def test_no_line_is_wider_than_a_terminal():
    """Nor does one end in blanks."""
    lines = [*demo_lines(), *others(), *priced_lines(priced("lid, badge, pump by the top, tray"))]
    assert max(map(len, lines)) <= WIDTH
    assert [line for line in lines if line != line.rstrip()] == []


def test_figures_stand_in_their_columns():
    """Money ends where its heading ends, and so do minutes."""
    [heading] = [line for line in demo_lines() if line.startswith("OTHER WAYS")]
    planned = next(line for line in demo_lines() if "as planned" in line)
    money, minutes = heading.index("money") + len("money"), heading.index("min", heading.index("money")) + len("min")

    assert planned[:money].endswith("733.27")
    assert planned[:minutes].endswith("278.2") and len(planned) == minutes
