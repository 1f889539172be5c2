"""The quote of a job as it was first planned: what the customer was told before anything was opened."""

from fractions import Fraction

from putback.desk.planning import Thinking, task_on
from putback.desk.view import View, view_of
from putback.errors import InputError
from putback.estimate.agreed import Cap, Consent
from putback.estimate.quote import Quote, make_quote
from putback.estimate.terms import Terms
from putback.job.ledger import Ledger
from putback.way.plan import plan
from putback.way.replay import replay
from putback.way.sheet import Sheet, sheet_of
from putback.way.solve import Solved
from putback.way.task import Task

SWAP = "swap"


def quote_of(ledger: Ledger, view: View, thinking: Thinking) -> Quote:
    """The quote of a job by its first plan.

    Parameters
    ----------
    ledger : Ledger
    view : View
    thinking : Thinking
        For a plan that was made with wishes that nobody kept; any other is read back as it was.

    Raises
    ------
    InputError
        Nobody has described this car, or nothing is planned yet.
    NoWay
        There is none with what the shop has.
    """
    if not view.state.plans:
        raise InputError(f"{view.state.name}: nothing is planned yet, so there is nothing to quote; plan first")
    key = _key(view)
    if key not in _QUOTED:
        if len(_QUOTED) >= _MOST:
            _QUOTED.pop(next(iter(_QUOTED)), None)
        _QUOTED[key] = _quoted(ledger, view, thinking)
    return _QUOTED[key]


# What was quoted once stays so: it follows from files that are known by their content.
_QUOTED: dict[tuple, Quote] = {}
_MOST = 64


def _key(view: View) -> tuple:
    state = view.state
    return state.area_file, state.shop_file, state.plans[0]["plan"], state.plans[0]["number"], view.id, state.cap


def _quoted(ledger: Ledger, view: View, thinking: Thinking) -> Quote:
    first = next(at for at, row in enumerate(view.logged) if row.event.kind == "plan made")
    then = view_of(ledger, view.id, view.logged[: first + 1])
    task = task_on(then, view.logged[first].event.at)
    sheet = stored_sheet(task, then.plan) or plan(task, clock=thinking.clock, seconds=thinking.seconds)
    return make_quote(task, sheet, _terms(view))


def _terms(view: View) -> Terms:
    """What was agreed when the job was opened."""
    cap = view.state.cap
    return Terms(consents=(Consent(Cap(Fraction(cap), False)),) if cap is not None else ())


def stored_sheet(task: Task, plan: dict) -> Sheet | None:
    """A plan that was kept as JSON, as the sheet that it was made from.

    Parameters
    ----------
    task : Task
        What was planned.
    plan : dict
        As JSON has it.

    Returns
    -------
    sheet : Sheet or None
        None where the plan does not fit the task any more, to the last step.
    """
    steps = [[step["id"], _way(task, step), step["context"]] for step in plan["steps"]]
    if any(way is None for _, way, _ in steps):
        return None
    found = replay(task.told.core, steps)
    if found.broken:
        return None
    lower = found.total - round(plan["gap"] * max(1, found.total))
    return sheet_of(task, Solved(found.total, found.changes, lower, plan["proved"], 0.0, 0.0, 0, steps))


def _way(task: Task, step: dict) -> int | None:
    """Which of its ways a step takes; None where there is no such way."""
    if step["direction"] == SWAP:
        return 0
    operation = task.told.operations.get(step["id"])
    ways = [way.name for way in operation.ways] if operation else []
    return ways.index(step["way"]) if step["way"] in ways else None
