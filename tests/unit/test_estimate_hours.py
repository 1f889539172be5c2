"""How long a plan takes, and what makes that unsure."""

from fractions import Fraction

import pytest
from area_samples import HEAD, PUMP
from quote_samples import RICH, SUBLETS, job, rich

from putback.area.charges import Doubt
from putback.estimate.hours import hours
from putback.estimate.pieces import pieces

DOUBT = Doubt(Fraction(9, 10), Fraction(3, 2))


def test_a_parts_minutes_with_its_fasteners_are_one_time():
    """4-5-8 off and 6 on for the pump with its bolts, then the road test; follow-ups without minutes are none."""
    found = pieces(*_with_area(job(RICH, SUBLETS)))

    assert [(piece.name, tuple(map(int, (piece.spread.low, piece.spread.likely, piece.spread.high)))) for piece in found] == [
        ("pump, out", (4, 5, 8)), ("pump, back", (6, 6, 6)), ("try it out", (3, 5, 9)),
    ]  # fmt: skip
    assert [piece.given for piece in found] == [True, False, True]


def _with_area(made):
    task, sheet = made
    return sheet, task.area


def test_a_doubt_widens_single_figures_only():
    """6 min may be 5.4 to 9; what the file spreads stays as it is."""
    found = {piece.name: piece.spread for piece in pieces(*_with_area(job(RICH, SUBLETS)), DOUBT)}

    assert (found["pump, back"].low, found["pump, back"].high) == (Fraction("5.4"), 9)
    assert (found["pump, out"].low, found["pump, out"].high) == (4, 8)


def test_least_likely_and_most():
    """Set-up 4 x 1 min for the tool (taken up, laid down, taken up, laid down or less) is sure; the rest is 13-16-23, and 30 for the bolt."""
    found = rich().hours
    set_up = found.likely - 16

    assert (found.least, found.most) == (13 + set_up, 23 + set_up + 30)
    assert found.planned == found.likely + 6  # a fifth of 30 min


def test_the_exact_moments_are_the_sum_of_their_parts():
    """Beta means of 32/6 and 32/6, 6 for the pump back, and 6 for the risk."""
    found = rich().hours

    assert found.moments.mean == pytest.approx(float(found.likely - 16) + 32 / 6 + 6 + 32 / 6 + 6)
    assert found.by_hand.mean == pytest.approx(found.moments.mean)


def test_the_shares_of_the_spread_make_one():
    """The largest first."""
    shares = [share for _, share in rich().hours.shares]

    assert sum(shares) == pytest.approx(1)
    assert shares == sorted(shares, reverse=True)
    assert rich().hours.shares[0][0] == "bolt shears"


def test_more_jobs_take_more_time():
    """50, 80 and 95 of a hundred, in rising order and between least and most."""
    found = rich().hours
    times = [float(found.least), *found.within.values(), float(found.most)]

    assert list(found.within) == [50, 80, 95]
    assert times == sorted(times)


def test_where_nothing_is_unsure_every_job_takes_the_same():
    """Single figures, no doubt, no risk."""
    task, sheet = job(PUMP, head=HEAD)
    found = hours(sheet, 1)

    assert set(found.within.values()) == {float(sheet.minutes)}
    assert (found.shares, found.moments.variance) == ((), 0.0)
    assert found.least == found.most == sheet.minutes
