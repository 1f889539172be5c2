"""Two plans of one job side by side: what makes one of them dearer or longer."""

from dataclasses import dataclass, fields
from fractions import Fraction

from putback.way.breakdown import breakdown
from putback.way.sheet import Sheet

WORTH_SAYING = Fraction(1, 20)  # minutes, and cents below


@dataclass(frozen=True)
class Difference:
    """What one plan takes more than another; below zero where it takes less.

    Attributes
    ----------
    minutes : Fraction
        Expected minutes in all.
    money : Fraction or None
        Cents before tax; None where the shop has no labour rate.
    work : Fraction
        Likely minutes of the steps and of what they oblige to.
    risks, set_up, waits : Fraction
        Minutes, as in :class:`putback.way.breakdown.Breakdown`.
    bought : Fraction
        Cents for parts, fluids and work that is given out.
    """

    minutes: Fraction
    money: Fraction | None
    work: Fraction
    risks: Fraction
    set_up: Fraction
    waits: Fraction
    bought: Fraction


def difference(other: Sheet, best: Sheet) -> Difference:
    """What a plan takes more than the best one.

    Parameters
    ----------
    other, best : Sheet
        Plans of one job by the same objective.
    """
    one, two = breakdown(other), breakdown(best)
    less = {field.name: getattr(one, field.name) - getattr(two, field.name) for field in fields(one)}
    return Difference(
        minutes=other.minutes - best.minutes,
        money=None if other.money is None or best.money is None else other.money - best.money,
        work=less["steps"] + less["due"] + less["job_work"],
        risks=less["risks"],
        set_up=less["set_up"],
        waits=less["waits"],
        bought=less["bought"],
    )


def reason(other: Sheet, best: Sheet) -> str:
    """Why a plan lost against the best one, in words: what it takes more, and what it saves all the same.

    Parameters
    ----------
    other, best : Sheet
        Plans of one job by the same objective.
    """
    more = difference(other, best)
    if other.worth == best.worth:
        return f"costs the same; {_tie(other, best)}"
    parts = list(_parts(more))
    dearer = [words.format(amount) for words, amount, sign in parts if sign > 0]
    saved = [words.format(amount) for words, amount, sign in parts if sign < 0]
    lost = ", ".join(dearer) or "dearer by less than can be shown"
    return f"{lost}; saves {', '.join(saved)}" if saved else lost


def _tie(other: Sheet, best: Sheet) -> str:
    more = other.solved.changes - best.solved.changes
    if more > 0:
        return f"changes tool or place {'once' if more == 1 else f'{more} times'} more"
    return "either will do"


def _parts(more: Difference):
    """The differences that are worth saying, as (words, amount, sign)."""
    for words, value in (
        ("{} min of work", more.work),
        ("{} min of what rust and breakage take on average", more.risks),
        ("{} min of changing tool, place and posture", more.set_up),
        ("{} min of waiting", more.waits),
    ):
        if abs(value) >= WORTH_SAYING:
            yield words, f"{float(abs(value)):.1f}", 1 if value > 0 else -1
    if abs(more.bought) >= 1:
        yield "{} for parts and work given out", f"{float(abs(more.bought) / 100):.2f}", 1 if more.bought > 0 else -1
