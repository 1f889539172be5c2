"""How long a plan takes, how sure that is, and what makes it unsure."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from putback.area.charges import Doubt
from putback.estimate.pieces import Piece, pieces
from putback.estimate.risks import LESS, MORE, Chance, chances, own_variance, risk_moments
from putback.estimate.simulate import SEED, simulate
from putback.estimate.spread import Moments, three_point
from putback.way.breakdown import breakdown
from putback.way.sheet import Sheet

LEVELS = (50, 80, 95)  # of a hundred such jobs, so many are done in that time
RUST_OF_THE_CAR = "the car is rustier than its class, or less so"


@dataclass(frozen=True)
class Hours:
    """The minutes of a plan.

    Attributes
    ----------
    planned : Fraction
        As the plan counts: likely minutes, and each risk at what it takes on average.
    likely : Fraction
        The same if no risk comes.
    least, most : Fraction
        If everything takes its least; if everything takes its most and every risk comes.
    moments : Moments
        Mean and variance of the whole, exactly, in minutes.
    within : dict of int to float
        Minutes in which 50, 80 and 95 of a hundred such jobs are done, by simulation.
    shares : tuple of (name, share)
        What the variance comes from, the largest first; together 1, empty where nothing is unsure.
    by_hand : Moments
        By the rule of thumb of three points, for whoever checks with a pocket calculator; risks exactly.
    pieces : tuple of Piece
    chances : tuple of Chance
    """

    planned: Fraction
    likely: Fraction
    least: Fraction
    most: Fraction
    moments: Moments
    within: dict[int, float]
    shares: tuple[tuple[str, float], ...]
    by_hand: Moments
    pieces: tuple[Piece, ...]
    chances: tuple[Chance, ...]


def hours(sheet: Sheet, rust: int, doubt: Doubt | None = None, *, seed: int = SEED) -> Hours:
    """The minutes of a plan with their spread.

    Parameters
    ----------
    sheet : Sheet
    rust : int
        How many times as likely as at usual rust a risk is that grows with it; as the plan was made with.
    doubt : Doubt, optional
        How far a time may be off for which the area file has a single figure.
    seed : int
        Of the simulation.
    """
    times, found = pieces(sheet, sheet.area, doubt), chances(sheet, rust)
    likely = sheet.minutes - breakdown(sheet).risks
    certain = likely - _sum(piece.spread.likely for piece in times)
    risks = risk_moments(found)
    whole = _together(certain, [piece.shape.moments for piece in times], risks.moments)
    return Hours(
        planned=sheet.minutes,
        likely=likely,
        least=certain + _sum(piece.spread.low for piece in times),
        most=certain + _sum(piece.spread.high for piece in times) + _sum(one.minutes for one in found),
        moments=whole,
        within=_within(times, found, certain, seed),
        shares=_shares(times, found, risks.together, whole.variance),
        by_hand=_together(certain, [_by_hand(piece) for piece in times], risks.moments),
        pieces=times,
        chances=found,
    )


def _together(certain: Fraction, parts: list[Moments], risks: Moments) -> Moments:
    return sum(parts, Moments(float(certain), 0.0)) + risks


def _by_hand(piece: Piece) -> Moments:
    return three_point(piece.shape.low, piece.shape.likely, piece.shape.high)


def _within(times: tuple[Piece, ...], found: tuple[Chance, ...], certain: Fraction, seed: int) -> dict[int, float]:
    """The smallest minutes that so many in a hundred of the simulated jobs do not pass."""
    unsure = [piece.shape for piece in times if piece.shape.variance]
    sure = float(certain + _sum(piece.spread.likely for piece in times if not piece.shape.variance))
    if not unsure and not found:
        return dict.fromkeys(LEVELS, sure)
    drawn = simulate(unsure, found, sure, seed=seed)
    return {level: float(drawn[-(-len(drawn) * level // 100) - 1]) for level in LEVELS}


def _shares(times: tuple[Piece, ...], found: tuple[Chance, ...], rust: float, whole: float) -> tuple[tuple[str, float], ...]:
    parts: dict[str, float] = {}
    for name, variance in _variances(times, found, rust):
        parts[name] = parts.get(name, 0.0) + variance
    shares = [(name, variance / whole) for name, variance in parts.items() if variance]
    return tuple(sorted(shares, key=lambda share: (-share[1], share[0])))


def _variances(times: tuple[Piece, ...], found: tuple[Chance, ...], rust: float) -> Iterator[tuple[str, float]]:
    yield from ((piece.name, piece.shape.variance) for piece in times)
    yield from ((one.what, float(own_variance(one, LESS) + own_variance(one, MORE)) / 2) for one in found)
    yield RUST_OF_THE_CAR, rust


def _sum(values) -> Fraction:
    return sum(values, Fraction(0))
