"""Where the minutes and the money of a plan go."""

from dataclasses import dataclass
from fractions import Fraction

from putback.way.sheet import Sheet


@dataclass(frozen=True)
class Breakdown:
    """The minutes of a plan by what they are spent on, and what is bought; together they make its totals.

    Attributes
    ----------
    steps : Fraction
        Likely minutes of the steps themselves.
    risks : Fraction
        Minutes that what may go wrong takes on average.
    set_up, waits : Fraction
        Minutes for changes of tool, place and posture, and minutes of waiting.
    job_work : Fraction
        Minutes of what belongs to the job whichever way is taken.
    due : Fraction
        Minutes of what falls due once: follow-ups, a second person, waits that are counted in full.
    bought : Fraction
        Cents for parts, fluids and work that is given out; 0 where the shop has no labour rate.
    """

    steps: Fraction
    risks: Fraction
    set_up: Fraction
    waits: Fraction
    job_work: Fraction
    due: Fraction
    bought: Fraction


def breakdown(sheet: Sheet) -> Breakdown:
    """Take a sheet's totals apart."""
    steps = sheet.likely.likely
    risks = _sum(one.operation.expected_risk + one.way.expected_risk for one in sheet.steps if one.operation)
    set_up = _sum(one.set_up for one in sheet.steps) + _sum(minutes for _, _, minutes in sheet.ending)
    waits = _sum(one.wait for one in sheet.steps)
    job_work = _sum(work.minutes.likely for work in sheet.job_work)
    due = sheet.minutes - (steps + risks + set_up + waits + job_work)
    bought = Fraction(0) if sheet.money is None else sheet.money - sheet.shop.labour * sheet.minutes / 60
    return Breakdown(steps, risks, set_up, waits, job_work, due, bought)


def _sum(values) -> Fraction:
    return sum(values, Fraction(0))
