"""A plan from where a job stands: made, kept beside the events, and compared with the one before."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from putback.desk.as_found import as_found
from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.errors import InputError
from putback.job.ledger import Ledger
from putback.job.planner_state import area_state, targets_left
from putback.job.state import JobState
from putback.plan_json import plan_object
from putback.way.sheet import Sheet
from putback.way.task import Task, make_task

SECONDS = 5.0


@dataclass(frozen=True)
class Thinking:
    """How long the planner may think.

    Attributes
    ----------
    clock : function
        Seconds that only grow.
    seconds : float
    """

    clock: Callable[[], float]
    seconds: float = SECONDS


@dataclass(frozen=True)
class Total:
    """What work comes to: expected minutes, and money before tax in cents; None where the shop has no labour rate."""

    minutes: Fraction
    money: Fraction | None

    def __add__(self, other: "Total") -> "Total":
        return Total(self.minutes + other.minutes, _both(self.money, other.money, 1))

    def __sub__(self, other: "Total") -> "Total":
        return Total(self.minutes - other.minutes, _both(self.money, other.money, -1))

    def at_least_nothing(self) -> "Total":
        """The same, but nothing below nought."""
        return Total(max(self.minutes, Fraction(0)), None if self.money is None else max(self.money, Fraction(0)))


def _both(one: Fraction | None, other: Fraction | None, sign: int) -> Fraction | None:
    return None if one is None or other is None else one + sign * other


def total(sheet: Sheet) -> Total:
    """What a plan comes to.

    Parameters
    ----------
    sheet : Sheet
    """
    return Total(sheet.minutes, sheet.money)


def task_on(view: View, now: str, **options) -> Task:
    """What is to be planned from where a job stands.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC, for waits that are running.
    options
        As for `putback.way.plan.plan_way`: avoid, without.

    Raises
    ------
    InputError
        Nobody has described this car.
    """
    if view.area is None or view.shop is None:
        words = "nobody has described this car, so there is no plan; what is logged leads the way back"
        raise InputError(f"{view.state.name}: {words}")
    area = as_found(view.area, view.state)
    return make_task(area, view.shop, targets_left(view.state), area_state(view.state, area, now), **options)


def plan_on(view: View, now: str, thinking: Thinking, **options) -> Sheet:
    """The cheapest way from where a job stands.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC, for waits that are running.
    thinking : Thinking
    options
        As for `putback.way.plan.plan_way`: avoid, without.

    Raises
    ------
    InputError
        Nobody has described this car.
    NoWay
        None exists from here with what the shop has.
    """
    from putback.way.plan import plan

    return plan(task_on(view, now, **options), clock=thinking.clock, seconds=thinking.seconds)


def keep_plan(
    ledger: Ledger, job: str, sheet: Sheet, stamp: Stamp, why: str | None = None, spent: Total | None = None
) -> View:
    """Put a plan in force.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    sheet : Sheet
    stamp : Stamp
    why : str, optional
        What made it necessary.
    spent : Total, optional
        What was done before it; worked out from the plan that was in force when left out.

    Returns
    -------
    view : View
        The job with the plan in force.
    """
    hash = ledger.put_file(json.dumps(plan_object(sheet), ensure_ascii=False).encode())
    spent = spent or spent_by(look(ledger, job).state, sheet)
    said = _said(total(sheet), "") | (_said(spent, "spent ") if spent and spent.minutes else {})
    ledger.append([stamp.event(job, "plan made", plan=hash, why=why, **said)])
    return look(ledger, job)


def _said(one: Total, before: str) -> dict[str, float]:
    money = {} if one.money is None else {f"{before}money": float(one.money)}
    return {f"{before}minutes": float(one.minutes)} | money


def spent_by(state: JobState, rest: Sheet) -> Total | None:
    """What was done so far: what the last plan was to cost less what is left of it, and what was done before it.

    Parameters
    ----------
    state : JobState
    rest : Sheet
        The cheapest way on, had nothing differed since.
    """
    if not state.plans:
        return Total(Fraction(0), Fraction(0))
    last = state.plans[-1]
    planned, earlier = _told(last, ""), _told(last, "spent ")
    if planned is None:
        return earlier
    done = (planned - total(rest)).at_least_nothing()
    return done + earlier if earlier else done


def _told(plan: dict, before: str) -> Total | None:
    """Minutes and money as an event tells them."""
    if f"{before}minutes" not in plan:
        return None
    money = plan.get(f"{before}money")
    return Total(exact(plan[f"{before}minutes"]), None if money is None else exact(money))


def exact(value: float) -> Fraction:
    """A figure of an event as a fraction, to its ten-thousandth.

    Parameters
    ----------
    value : float
    """
    return Fraction(value).limit_denominator(10_000)


def first_plan(ledger: Ledger, job: str, stamp: Stamp, thinking: Thinking) -> View:
    """Plan a job that was just opened, where its car is described, and put that plan in force.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    thinking : Thinking

    Returns
    -------
    view : View
        The job as it stands then.

    Raises
    ------
    NoWay
        There is none with what the shop has; the job is open all the same.
    """
    view = look(ledger, job)
    return keep_plan(ledger, job, plan_on(view, stamp.now(), thinking), stamp) if view.area else view
