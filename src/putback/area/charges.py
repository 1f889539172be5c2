"""What a shop adds to minutes and prices when it makes a quote. docs/shop-files.md explains the keys."""

import re
from dataclasses import dataclass, field
from fractions import Fraction

from putback.area import quantity
from putback.area.shape import Either, Record, Row, Word
from putback.errors import InputError

PARTS, FASTENERS, CONSUMABLES, FLUIDS, SUBLETS = GOODS = ("parts", "fasteners", "consumables", "fluids", "sublets")
LABOUR, EVERYTHING = "labour", "everything"
SHAPES = ("beta", "triangular", "log-normal")
MOST_TIMES = 10  # a mark-up or a doubt above ten times is a slip of the pen


@dataclass(frozen=True)
class Portion:
    """A share of something, or an amount in cents; one of them is None.

    `of` says what the share is of, or what the amount is taken off.
    """

    share: Fraction | None = None
    amount: Fraction | None = None
    of: str = EVERYTHING
    most: Fraction | None = None  # cents


@dataclass(frozen=True)
class Billed:
    """Minutes that are billed for a job, and where they come from, in words."""

    minutes: Fraction
    source: str = ""


@dataclass(frozen=True)
class Doubt:
    """How far a time may be off for which there is a single figure: least and most as shares of it."""

    low: Fraction
    high: Fraction
    shape: str = SHAPES[0]


@dataclass(frozen=True)
class Charges:
    """How a shop makes quotes; money in cents, rates in cents per hour, shares of 1.

    Attributes
    ----------
    mark_up : dict of str to Fraction
        What is added to what the shop pays, for each kind of `GOODS`.
    second_person : Fraction or None
        Rate of the second person; that of everyone when None.
    supplies : Portion or None
        Shop supplies: a share of labour, or an amount for each job.
    disposal, disposal_litre : Fraction
        For each job, and for each litre that runs out.
    discount, deposit : Portion or None
        What the customer is let off, and what is asked for ahead of the work.
    doubt : Doubt or None
    """

    mark_up: dict[str, Fraction] = field(default_factory=dict)
    second_person: Fraction | None = None
    supplies: Portion | None = None
    disposal: Fraction = Fraction(0)
    disposal_litre: Fraction = Fraction(0)
    discount: Portion | None = None
    deposit: Portion | None = None
    doubt: Doubt | None = None


NO_CHARGES = Charges()
_NUMBER = r"\d+(?:\.\d+)?"


def per_hour(text: str) -> Fraction:
    """A rate in cents per hour, from `92.00 per hour`."""
    found = re.fullmatch(rf"({_NUMBER})\s*(?:per hour|/\s*h)", text.strip())
    if not found:
        raise InputError(f'"{text}" is no labour rate; write it as "92.00 per hour"')
    return quantity.money(found[1])


def percent(text: str, most: int = MOST_TIMES) -> Fraction:
    """A share from `15 %`, at most so many times the whole."""
    found = re.fullmatch(rf"({_NUMBER})\s*%", text.strip())
    if not found:
        raise InputError(f'"{text}" is no share; write it as "15 %"')
    share = Fraction(found[1]) / 100
    if share > most:
        raise InputError(f'"{text}" is above {100 * most} %; check the figure')
    return share


def supplies(text: str) -> Portion:
    """`3 % of labour`, `3 % of labour, at most 25.00`, or `5.00`."""
    share, _, limit = (part.strip() for part in text.partition(","))
    found = re.fullmatch(r"(.+%)\s*of labour", share)
    if not found and (limit or "%" in share):
        raise InputError(f'"{text}" is not understood; write "3 % of labour, at most 25.00", or an amount')
    if limit and not limit.startswith("at most "):
        raise InputError(f'"{text}" is not understood; write the limit as "at most 25.00"')
    most = quantity.money(limit.removeprefix("at most ")) if limit else None
    return Portion(share=percent(found[1], 1), of=LABOUR, most=most) if found else Portion(amount=quantity.money(share), of=LABOUR)


def discount(text: str) -> Portion:
    """`5 % off labour`, `5 % off parts`, `5 %` off everything, or an amount such as `20.00`."""
    found = re.fullmatch(r"(.+?)(?:\s+off\s+(.+))?", text.strip())
    off = found[2] or EVERYTHING if found else EVERYTHING
    if off not in (LABOUR, PARTS, EVERYTHING):
        raise InputError(f'"{text}" is not understood; a discount is off labour, off parts or off everything')
    return _portion(found[1] if found else text, off)


def deposit(text: str) -> Portion:
    """`30 %` of what is to pay, or an amount such as `100.00`."""
    return _portion(text, EVERYTHING)


def _portion(text: str, of: str) -> Portion:
    return Portion(share=percent(text, 1), of=of) if "%" in text else Portion(amount=quantity.money(text), of=of)


def billed(text: str) -> Billed:
    """`4.5 h, own time`, `4 h 30 min` or `270 min`: minutes, and where they come from."""
    time, _, source = (part.strip() for part in text.partition(","))
    found = re.fullmatch(rf"(?:({_NUMBER})\s*h)?\s*(?:({_NUMBER})\s*min)?", time)
    if not found or not time:
        raise InputError(f'"{text}" is no time; write it as "4.5 h" or "270 min", and behind a comma where it is from')
    return Billed(quantity.time(found[1] or "0") * 60 + quantity.time(found[2] or "0"), source)


def doubt(text: str) -> Doubt:
    """`90-140 %`, or `90-140 %, triangular`: least and most of what a single figure says, and the shape."""
    found = re.fullmatch(rf"({_NUMBER})\s*-\s*({_NUMBER})\s*%(?:\s*,\s*(.+))?", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write least and most of a time as "90-140 %"')
    low, high, shape = Fraction(found[1]) / 100, Fraction(found[2]) / 100, found[3] or SHAPES[0]
    if not low <= 1 <= high <= MOST_TIMES:
        raise InputError(f'"{text}": the least is at most 100 %, the most at least that and at most {100 * MOST_TIMES} %')
    if shape not in SHAPES:
        raise InputError(f'"{shape}" is no shape of a spread; there are: {", ".join(SHAPES)}')
    return Doubt(low, high, shape)


AMOUNT = Word(quantity.money, "an amount of money", "4.50", number=True)
PERCENT = Word(percent, "a share", "15 %")
BILLED = Word(billed, "a time that is billed", "4.5 h, own time")
DISCOUNT = Word(discount, "a discount", "5 % off labour", number=True)
DEPOSIT = Word(deposit, "a deposit", "30 %", number=True)
QUOTES = Record(
    "how quotes are made",
    {
        "mark-up": Either(PERCENT, Record("mark-ups", dict.fromkeys(GOODS, PERCENT))),
        "second person": Word(per_hour, "a labour rate", "60.00 per hour"),
        "shop supplies": Word(supplies, "shop supplies", "3 % of labour, at most 25.00", number=True),
        "disposal": Either(AMOUNT, Record("disposal", {"each job": AMOUNT, "each litre": AMOUNT})),
        "discount": DISCOUNT,
        "deposit": DEPOSIT,
        "single figures": Word(doubt, "how far a single figure may be off", "90-140 %"),
    },
)


def charges(row: Row) -> Charges:
    """The charges that a shop file holds."""
    said, disposal = row.get("mark-up", {}), row.get("disposal", Fraction(0))
    by_kind = isinstance(disposal, dict)
    return Charges(
        mark_up=dict(said) if isinstance(said, dict) else dict.fromkeys(GOODS[:-1], said),
        second_person=row.get("second person"),
        supplies=row.get("shop supplies"),
        disposal=disposal.get("each job", Fraction(0)) if by_kind else disposal,
        disposal_litre=disposal.get("each litre", Fraction(0)) if by_kind else Fraction(0),
        discount=row.get("discount"),
        deposit=row.get("deposit"),
        doubt=row.get("single figures"),
    )
