"""A plan from where a job stands: made, kept beside the events, and compared with the one before."""

import json
from collections.abc import Callable
from dataclasses import dataclass

from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.errors import InputError
from putback.job.ledger import Ledger
from putback.job.stand import area_state, targets_left
from putback.plan_json import plan_object
from putback.way.plan import plan_way
from putback.way.sheet import Sheet

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
    if view.area is None or view.shop is None:
        raise InputError(f'{view.state.name}: nobody has described this car, so there is no plan; what is logged leads the way back')
    state = area_state(view.state, view.area, now)
    return plan_way(
        view.area, view.shop, targets_left(view.state), state, clock=thinking.clock, seconds=thinking.seconds, **options
    )


def keep_plan(ledger: Ledger, job: str, sheet: Sheet, stamp: Stamp, why: str | None = None) -> View:
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

    Returns
    -------
    view : View
        The job with the plan in force.
    """
    hash = ledger.put_file(json.dumps(plan_object(sheet), ensure_ascii=False).encode())
    money = None if sheet.money is None else float(sheet.money)
    ledger.append([stamp.event(job, "plan made", plan=hash, money=money, minutes=float(sheet.minutes), why=why)])
    return look(ledger, job)
