"""Money: exact until it is shown, rounded once.

The rule: every line that is shown is rounded to the cent, halves away from zero; a total is the sum of
the lines that are shown; tax is taken of that sum and rounded once. Whoever adds up what is printed gets
what is printed. docs/decisions/0008-money-rounds-where-it-shows.md says why.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

HALF = Fraction(1, 2)


def cents(exact: Fraction) -> int:
    """The whole cents that are shown for an exact amount in cents, halves away from zero.

    Parameters
    ----------
    exact : Fraction
        Cents, of either sign.

    Notes
    -----
    Below and above nought alike, so that a line and the same line taken off again come to nothing.

    Examples
    --------
    >>> cents(Fraction("234.5")), cents(Fraction("-234.5")), cents(Fraction("234.4"))
    (235, -235, 234)

    References
    ----------
    .. [1] Council Regulation (EC) No 1103/97, article 5: a half goes up.
    """
    whole = int(abs(exact) + HALF)
    return -whole if exact < 0 else whole


def decimal(whole: int) -> Decimal:
    """Whole cents as a decimal amount with two places, exact however large.

    Parameters
    ----------
    whole : int
        Cents.

    Examples
    --------
    >>> decimal(69847)
    Decimal('698.47')
    """
    with localcontext() as exactly:
        exactly.prec = max(28, len(str(whole)) + 2)
        return Decimal(whole).scaleb(-2).quantize(Decimal("0.01"), ROUND_HALF_UP)


@dataclass(frozen=True)
class Totals:
    """What some lines come to, in whole cents.

    Attributes
    ----------
    net : int
        The sum of the lines, before tax.
    tax, total : int
        The tax on that sum, and both together.
    """

    net: int
    tax: int
    total: int


def totals(lines: list[int], tax: Fraction) -> Totals:
    """Add up lines that are shown, and tax their sum.

    Parameters
    ----------
    lines : list of int
        Whole cents; what is taken off is below zero.
    tax : Fraction
        Share of the sum, 0 or more.

    Examples
    --------
    >>> totals([39177, 30670], Fraction(1, 5))
    Totals(net=69847, tax=13969, total=83816)
    """
    net = sum(lines)
    taxed = cents(net * tax)
    return Totals(net, taxed, net + taxed)
