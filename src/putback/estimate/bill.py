"""The lines of a quote, and what they come to."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from putback.area.charges import EVERYTHING, FLUIDS, GOODS, LABOUR, PARTS, SUBLETS, Charges, Portion
from putback.estimate.goods import Good
from putback.estimate.money import cents, decimal, totals
from putback.estimate.words import time_words

SUPPLIES, DISPOSAL, DISCOUNT = "shop supplies", "disposal", "discount"


@dataclass(frozen=True)
class Labour:
    """Minutes of somebody at a rate in cents per hour."""

    name: str
    minutes: Fraction
    rate: Fraction


@dataclass(frozen=True)
class Line:
    """One line as it is shown.

    Attributes
    ----------
    kind : str
        LABOUR, one of `putback.area.charges.GOODS`, SUPPLIES, DISPOSAL or DISCOUNT.
    name, about : str
    count : int
    cents : int or None
        What is asked for all of it; None where its price is not known. What is taken off is below zero.
    """

    kind: str
    name: str
    count: int
    cents: int | None
    about: str = ""


@dataclass(frozen=True)
class Bill:
    """Lines and their totals, in whole cents.

    Attributes
    ----------
    lines : tuple of Line
    net, tax, total : int
        The sum of the lines with a price, the tax on it, and both together.
    deposit : int
        How much of the total is asked for ahead of the work.
    """

    lines: tuple[Line, ...]
    net: int
    tax: int
    total: int
    deposit: int

    @property
    def unpriced(self) -> tuple[str, ...]:
        """What is in the lines without a price, and so not in the totals."""
        return tuple(line.name for line in self.lines if line.cents is None)


def bill(labour: Sequence[Labour], bought: Sequence[Good], charges: Charges, tax: Fraction) -> Bill:
    """Put the lines together, in the order in which they are shown.

    Parameters
    ----------
    labour : sequence of Labour
    bought : sequence of Good
    charges : Charges
    tax : Fraction
        Share of the sum of the lines.
    """
    lines = [_labour(one) for one in labour]
    lines += [_good(good, charges) for good in _by_kind(bought)]
    lines += _supplies(lines, charges.supplies)
    lines += _disposal(bought, charges)
    lines += _discount(lines, charges.discount)
    sums = totals([line.cents for line in lines if line.cents is not None], tax)
    return Bill(tuple(lines), sums.net, sums.tax, sums.total, _share_of(charges.deposit, sums.total))


def _labour(one: Labour) -> Line:
    about = f"{time_words(one.minutes)} at {decimal(cents(one.rate))} per hour"
    return Line(LABOUR, one.name, 1, cents(one.minutes * one.rate / 60), about)


def _by_kind(bought: Iterable[Good]) -> list[Good]:
    return sorted(bought, key=lambda good: GOODS.index(good.kind))


def _good(good: Good, charges: Charges) -> Line:
    asked = None if good.each is None else good.count * good.each * (1 + charges.mark_up.get(good.kind, Fraction(0)))
    return Line(good.kind, good.name, good.count, None if asked is None else cents(asked), good.about)


def _supplies(lines: Iterable[Line], said: Portion | None) -> Iterator[Line]:
    if said:
        labour = sum(line.cents for line in lines if line.kind == LABOUR)
        asked = said.amount if said.share is None else said.share * labour
        yield Line(SUPPLIES, SUPPLIES, 1, cents(asked if said.most is None else min(asked, said.most)))


def _disposal(bought: Iterable[Good], charges: Charges) -> Iterator[Line]:
    litres = sum((good.count * good.litres for good in bought if good.kind == FLUIDS), Fraction(0))
    asked = charges.disposal + litres * charges.disposal_litre
    if asked:
        yield Line(DISPOSAL, DISPOSAL, 1, cents(asked))


def _discount(lines: Sequence[Line], said: Portion | None) -> Iterator[Line]:
    if said:
        off = _share_of(said, sum(line.cents or 0 for line in lines if _is_of(said.of, line)))
        words = "" if said.of == EVERYTHING else f"off {said.of}"
        yield Line(DISCOUNT, f"{DISCOUNT} {words}".strip(), 1, -off)


def _is_of(scope: str, line: Line) -> bool:
    match scope:
        case kind if kind == LABOUR:
            return line.kind == LABOUR
        case kind if kind == PARTS:  # whatever is handed over; work given out is not
            return line.kind in GOODS and line.kind != SUBLETS
    return True


def _share_of(said: Portion | None, whole: int) -> int:
    """So much of a sum in cents, and never more than all of it."""
    if said is None:
        return 0
    return min(whole, cents(said.amount if said.share is None else said.share * whole))
