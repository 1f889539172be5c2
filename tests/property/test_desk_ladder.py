"""The ladder against every way of trying means one after the other."""

from fractions import Fraction
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from putback.desk.ladder import Means, weigh
from putback.desk.planning import Total

WHOLE = st.integers(0, 200).map(Fraction)
CHANCES = st.integers(0, 20).map(lambda twentieths: Fraction(twentieths, 20))


@st.composite
def means(draw) -> tuple[Means, ...]:
    """Up to five means, whatever they take and however seldom they help."""
    figures = draw(st.lists(st.tuples(WHOLE, CHANCES), max_size=5))
    return tuple(Means(f"means {number}", "", "", *one) for number, one in enumerate(figures))


def tried(chosen: tuple[Means, ...], before: Fraction, after: Fraction) -> Fraction:
    """Minutes on average where these are tried in turn, and the other way is taken if none helps."""
    reached, minutes = Fraction(1), Fraction(0)
    for one in chosen:
        minutes += reached * (one.minutes + one.chance * before)
        reached *= 1 - one.chance
    return minutes + reached * after


@given(means(), WHOLE, WHOLE)
def test_the_cheapest_rung_is_the_cheapest_of_all_ways_to_try(offered, before, after):
    """No choice of means, in their order, is expected to take less than the best rung, and one takes just that."""
    rungs = weigh(offered, Total(before, None), Total(after, None), Fraction(0))
    ways = [chosen for size in range(len(offered) + 1) for chosen in combinations(offered, size)]

    assert min(one.expected.minutes for one in rungs) == min(tried(chosen, before, after) for chosen in ways)


@given(means(), WHOLE, WHOLE)
def test_each_rung_is_the_best_of_what_begins_with_it(offered, before, after):
    """Its own minutes are spent whatever follows."""
    rungs = weigh(offered, Total(before, None), Total(after, None), Fraction(0))
    for number, rung in enumerate(rungs[:-1]):
        later = offered[number + 1 :]
        ways = [(offered[number], *more) for size in range(len(later) + 1) for more in combinations(later, size)]
        assert rung.expected.minutes == min(tried(chosen, before, after) for chosen in ways)
