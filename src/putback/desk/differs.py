"""The car differs from its description: that is logged, and the job is planned again from where it really stands."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from putback.area.spelling import nearest
from putback.area.tools import BARE_HANDS, tool_list
from putback.desk.change import Change, change
from putback.desk.ladder import STUCK, Ladder, ladder
from putback.desk.planning import Thinking, keep_plan, plan_on, total
from putback.desk.safe import Safe, make_safe
from putback.desk.stamp import Stamp
from putback.desk.variants import AsVariant, check_variant, ways_as_others
from putback.desk.view import View, look
from putback.errors import InputError, NoWay
from putback.job.ledger import Ledger
from putback.job.planner_state import stays_shut
from putback.job.state import Difference
from putback.way.sheet import Sheet

NEW = "extra found"


@dataclass(frozen=True)
class Found:
    """What was found to differ.

    Attributes
    ----------
    item : str
    what : str
        One of `putback.job.kinds.DIFFERENCES`.
    count : int or None
        How many of a group.
    note : str or None
        Such as how it looks, or in what way it is stuck.
    tool : str or None
        What it really takes, where that is what differs.
    price : float or None
        Of a new one, in cents, where it broke.
    """

    item: str
    what: str
    count: int | None = None
    note: str | None = None
    tool: str | None = None
    price: float | None = None


@dataclass(frozen=True)
class Differs:
    """What a difference means for the job.

    Attributes
    ----------
    view : View
        The job with the difference, and with the new plan where there is one.
    sentences : tuple of str
        What it means, and what to do about it.
    ladder : Ladder or None
        For what is stuck: the means to free it beside another way, cheapest first.
    change : Change or None
        What the new plan changes; None for a car that nobody has described, and where there is no way.
    no_way : NoWay or None
        The honest no, with what would open a way.
    meanwhile : Safe or None
        Where there is no way, or a part is wrong: what it takes to make the car safe.
    variants : tuple of AsVariant
        Where there is no way: other variants that the car may be, for which there is one.
    """

    view: View
    sentences: tuple[str, ...]
    ladder: Ladder | None = None
    change: Change | None = None
    no_way: NoWay | None = None
    meanwhile: Safe | None = None
    variants: tuple[AsVariant, ...] = ()


def differs(ledger: Ledger, job: str, stamp: Stamp, found: Found, thinking: Thinking) -> Differs:
    """Log what differs, plan again from the real state, put that plan in force, and tell what changed.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    found : Found
    thinking : Thinking
        For each of the plans that are compared.

    Raises
    ------
    InputError
        Nobody knows the item, or the tool is not understood; nothing was logged then.
    """
    view = look(ledger, job)
    _check(view, found)
    rest = _rest(view, stamp, thinking)
    said = {name: getattr(found, name) for name in ("item", "what", "count", "note", "tool", "price")}
    ledger.append([stamp.event(job, "difference found", **said)])
    told = _plan_again(ledger, job, stamp, thinking, rest, f"{found.item}: {found.what}")
    if found.what == "wrong part":
        told = replace(told, meanwhile=make_safe(told.view, stamp.now(), thinking))
    return replace(told, sentences=tuple(_meaning(found, told)), ladder=_ladder(found, told, rest))


def plan_again(
    ledger: Ledger, job: str, stamp: Stamp, thinking: Thinking, why: str | None = None, **options
) -> Differs:
    """Plan again from where a job stands, put that plan in force, and tell what changed; nothing else is logged.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    thinking : Thinking
    why : str, optional
        What made it necessary.
    options
        As for `putback.way.plan.plan_way`: avoid, without.
    """
    rest = _rest(look(ledger, job), stamp, thinking) if any(options.values()) else None
    return _plan_again(ledger, job, stamp, thinking, rest, why, **options)


def settle(ledger: Ledger, job: str, stamp: Stamp, item: str, how: str, thinking: Thinking) -> Differs:
    """Log how something seized, broken or otherwise different was put right, and plan again.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    item : str
    how : str
    thinking : Thinking

    Raises
    ------
    InputError
        Nothing about this item is open.
    """
    view = look(ledger, job)
    open_ones = [one.item for one in view.state.differences if not one.settled]
    if item not in open_ones:
        there_are = f"; open are: {', '.join(dict.fromkeys(open_ones))}" if open_ones else ""
        raise InputError(f'nothing about "{item}" waits to be settled{there_are}')
    rest = _rest(view, stamp, thinking)
    ledger.append([stamp.event(job, "difference settled", item=item, how=how)])
    return _plan_again(ledger, job, stamp, thinking, rest, f"{item}: {how}")


def vary(ledger: Ledger, job: str, stamp: Stamp, variant: str, thinking: Thinking) -> Differs:
    """Log which variant the car turned out to be, plan again, and tell what changed.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    variant : str
    thinking : Thinking

    Raises
    ------
    InputError
        The description knows no such variant, or the car is that one already.
    """
    view = look(ledger, job)
    check_variant(view, variant)
    rest = _rest(view, stamp, thinking)
    ledger.append([stamp.event(job, "variant found", variant=variant)])
    return _plan_again(ledger, job, stamp, thinking, rest, f"this car has: {variant}")


def _check(view: View, found: Found) -> None:
    """A slip in a name must not become a part of the car; only what is found besides has a new name."""
    known = {**view.car.items, **view.state.items, **view.state.groups, **dict.fromkeys(view.state.targets)}
    if found.item not in known and found.what not in (NEW, "wrong part") and view.area:
        near = nearest(found.item, known, 0.5)
        advice = f'did you mean "{near}"?' if near else f'say "{NEW}" where it is not in the description'
        raise InputError(f'there is no "{found.item}" on this car; {advice}')
    if found.what == "not fitted" and found.item in view.state.targets:
        raise InputError(f"{found.item}: it is what the car came for; a job for another part is another job")
    if found.what == "other tool":
        if not found.tool:
            raise InputError(f"{found.item}: say which tool it takes")
        tool_list(found.tool)


def _rest(view: View, stamp: Stamp, thinking: Thinking) -> Sheet | None:
    """What is still to do as far as was known; None where there is no plan for that."""
    try:
        return plan_on(view, stamp.now(), thinking) if view.area else None
    except NoWay:
        return None


def _plan_again(
    ledger: Ledger, job: str, stamp: Stamp, thinking: Thinking, rest: Sheet | None, why: str | None, **options
) -> Differs:
    view = look(ledger, job)
    if view.area is None:
        return Differs(view, ())
    try:
        sheet = plan_on(view, stamp.now(), thinking, **options)
    except NoWay as no_way:
        safe, others = make_safe(view, stamp.now(), thinking), ways_as_others(view, ledger, stamp, thinking)
        return Differs(view, (), no_way=no_way, meanwhile=safe, variants=others)
    changed = change(rest, sheet, view.state)
    return Differs(keep_plan(ledger, job, sheet, stamp, why, changed.spent), (), change=changed)


def _ladder(found: Found, told: Differs, rest: Sheet | None) -> Ladder | None:
    """For what stays shut by it, and for what nobody has described."""
    if found.what not in STUCK:
        return None
    view = told.view
    described = view.area.items.get(found.item) if view.area else None
    if described is not None and not stays_shut(_logged(found, view), described):
        return None
    after = told.change.after if told.change else None
    labour, own = (view.shop.labour, view.shop.seized) if view.shop else (Fraction(0), None)
    return ladder(found.item, found.what, view.area, rest and total(rest), after, labour, own)


def _logged(found: Found, view: View) -> Difference:
    """What was found, as the job has it now."""
    same = (one for one in reversed(view.state.differences) if (one.item, one.what) == (found.item, found.what))
    return next(same)


def _meaning(found: Found, told: Differs) -> Iterator[str]:
    """What each sort of difference means, in a sentence or two."""
    match found.what:
        case "not fitted":
            yield f"{found.item}: not on this car; nothing waits for it any more, and it is not asked for at the end"
        case "extra found":
            yield from _extra(found, told.view)
        case "seized":
            yield f"{found.item}: stays shut until somebody says how it was freed; try the gentle means before the rough ones"
        case "broken":
            yield from _broken(found, told.view)
        case "wrong part":
            yield f"{found.item}: does not go in; order the right one, and keep the old one until that is here"
        case "other tool":
            yield from _other_tool(found, told.view)


def _extra(found: Found, view: View) -> Iterator[str]:
    if found.item in view.car.items:
        yield f"{found.item}: more than the description knows; log all that come off, and all are asked for again"
    else:
        yield f"{found.item}: not in the description; log it by this name when it comes off, and it is asked for again"
    yield "it is proposed for the area file when the job is over; the file itself is never changed"


def _broken(found: Found, view: View) -> Iterator[str]:
    described = view.car.items.get(found.item)
    if described is None:
        yield f"{found.item}: a new one is needed"
    elif stays_shut(_logged(found, view), described):
        yield f"{found.item}: what is left of it sits in its hole; it stays shut until somebody says how it came out"
    else:
        yield f"{found.item}: comes off all the same, and a new one goes in"
    if described is not None and found.price is None and not _price_known(described):
        yield "the price of a new one is not known, so the total is without it"


def _price_known(described) -> bool:
    fastener = described.fastener
    return fastener is not None and fastener.price is not None


def _other_tool(found: Found, view: View) -> Iterator[str]:
    yield f"{found.item}: takes {found.tool}"
    if view.shop:
        sets = tool_list(found.tool)
        lacks = [[one for one in tools if one not in (*view.shop.tools, BARE_HANDS)] for tools in sets]
        if all(lacks):
            yield f"{view.shop.name} has no {' and no '.join(min(lacks, key=len))}"
