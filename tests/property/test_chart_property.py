"""What holds for the chart of any course of work."""

from itertools import combinations

from chart_reading import arcs, dashed, drawn, group, numbers, outside, overlapping
from hypothesis import given, settings
from hypothesis import strategies as st

from property.strategies import courses_of_work
from putback.chart import chart_svg
from putback.chart.arcs import Arc, course, crossings, out_of_order

DRAWN = settings(max_examples=40)


def interlaced(one: Arc, two: Arc) -> bool:
    """Each of them has just one end of the other inside: the definition of crossing arcs, step by step."""
    inside = [step for step in (two.first, two.last) if one.first < step < one.last]
    around = [step for step in (one.first, one.last) if two.first < step < two.last]
    return len(inside) == len(around) == 1


def crossed(found: list[Arc]) -> int:
    return sum(interlaced(one, two) for one, two in combinations(found, 2))


@given(courses_of_work())
def test_crossings_are_those_counted_one_by_one(sheet):
    """Pair by pair, whichever of a pair is looked at first."""
    found = course(sheet).arcs
    assert crossings(found) == crossed(found) == crossed(found[::-1])


@given(courses_of_work())
def test_no_fewer_arcs_need_go_for_the_rest_to_nest(sheet):
    """Tried with every smaller set of them."""
    found = course(sheet).arcs
    odd = out_of_order(found)
    kept = [arc for arc in found if arc not in odd]

    assert crossed(kept) == 0
    for some in combinations(found, len(found) - len(odd) + 1):
        assert crossed(some) > 0


@DRAWN
@given(courses_of_work())
def test_there_is_an_arc_for_every_part_and_the_dashed_ones_are_out_of_order(sheet):
    """Whatever their names: as many paths, the dashed ones last."""
    plan, chart = course(sheet), drawn(sheet)
    parts = {step.operation.part for step in sheet.steps if step.operation}

    assert len(arcs(chart)) <= len(parts) == len(plan.arcs)  # names may look alike once they are cleaned
    assert len(dashed(chart)) <= len(plan.odd)
    assert len([path for path in group(chart, "arcs") if len(path)]) == len(parts)


@DRAWN
@given(courses_of_work())
def test_drawn_arcs_end_in_the_order_in_which_the_parts_are_closed(sheet):
    """And begin in the order in which they are opened; steps that take no time may share a height."""
    plan = course(sheet)
    solid = [arc for arc in plan.arcs if arc not in plan.odd]
    paths = [path for path in group(drawn(sheet), "arcs") if len(path)]
    ends = [(arc, numbers(path)) for arc, path in zip([*solid, *plan.odd], paths, strict=True)]

    for (one, path), (two, other) in combinations(ends, 2):
        assert (one.first < two.first) <= (path[1] <= other[1])
        assert (one.last < two.last) <= (path[-1] <= other[-1])


@DRAWN
@given(courses_of_work(), st.sampled_from([320, 360, 680]), st.randoms(use_true_random=False))
def test_every_chart_can_be_read(sheet, width, chance):
    """Sound XML, all texts inside the picture and none on another, wherever the job stands."""
    chart = drawn(sheet, width=width, done=chance.randint(0, len(sheet.steps)))

    assert outside(chart) == []
    assert overlapping(chart) == []


@DRAWN
@given(courses_of_work())
def test_the_same_course_gives_the_same_bytes(sheet):
    """No order of a set, no clock, no chance."""
    assert chart_svg(sheet) == chart_svg(sheet)
