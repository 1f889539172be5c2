"""Beside the plan: what the other ways cost, what the shop lacks, and what an order costs that somebody gives."""

import textwrap
from collections.abc import Iterable, Iterator

from putback.area.model import BACK, OUT
from putback.plan_text import WIDTH, minutes, money
from putback.way.alternatives import Alternative, Choice
from putback.way.compare import reason
from putback.way.from_area_missing import in_words
from putback.way.lay_out import equipment, tools
from putback.way.no_way import NoSafeWay, ways_taken
from putback.way.one_more import Saving
from putback.way.price_order import Priced
from putback.way.sheet import Sheet

_MONEY, _MINUTES = 9, 8  # columns of the figures at the right
_WORDS = WIDTH - _MONEY - _MINUTES - 5


def others_lines(alternatives: Iterable[Alternative], savings: Iterable[Saving]) -> Iterator[str]:
    """Every other way with what it costs and why it lost, and what one thing more would save."""
    chosen, *others = alternatives
    savings = list(savings)
    if not others and not savings:
        yield from ("", "OTHER WAYS", "     none, and no one thing more in the shop would save anything")
    if others:
        yield from ("", _figures("OTHER WAYS", "money" if chosen.sheet.money is not None else "", "min", indent=0))
        yield from _told("as planned", chosen.sheet)
    for other in others:
        yield from _alternative(other, chosen)
    if savings:
        yield from ("", "ONE THING MORE WOULD SAVE")
    for saving in savings:
        yield from _told(str(saving.lack), None, _amount(chosen.sheet, saving.saves))


def _alternative(other: Alternative, chosen: Alternative) -> Iterator[str]:
    yield from _told(_choices(other.choices), other.sheet)
    if other.lacks or other.sheet is None:
        yield from _note(other.reason)
    if other.sheet is None:
        return
    more = other.sheet.worth - chosen.sheet.worth
    if more < 0:
        yield from _note(f"it would save {_amount(chosen.sheet, -more)}")
    else:
        yield from _note(
            f"{f'{_amount(chosen.sheet, more)} more: ' if more else ''}{reason(other.sheet, chosen.sheet)}"
        )
    if besides := [one for one in needs(other.sheet) if one not in needs(chosen.sheet)]:
        yield from _note(f"needs besides: {', '.join(besides)}")


def _choices(choices: Iterable[Choice]) -> str:
    """The choices that lead to one plan, those of one part together."""
    ways: dict[str, list[str]] = {}
    for choice in choices:
        ways.setdefault(choice.part, []).append(choice.way)
    return "; ".join(f"{part}: {', '.join(names)}" for part, names in ways.items())


def needs(sheet: Sheet) -> list[str]:
    """The equipment and the tools of a plan."""
    return [*map(str, equipment(sheet)), *tools(sheet)]


def no_way_lines(no_way: NoSafeWay) -> Iterator[str]:
    """Why nothing leads to the target, and what would open a way, the cheapest first."""
    yield from textwrap.wrap(
        f"no safe way to the {' and the '.join(no_way.task.targets)} in {no_way.task.shop.name}", WIDTH
    )
    for stuck in no_way.stuck:
        yield from _note(f"nobody can {stuck.operation}:", 2)
        for name, why in stuck.ways:
            yield from _note(f"{name}: {why}" if name else why, 4)
    if not no_way.stuck:
        too_little = "each step can be done, but not all of them: there is too little of something"
        yield from _note(too_little if no_way.openings else no_way.found, 2)
    if no_way.openings:
        has_money = any(one.sheet and one.sheet.money is not None for one in no_way.openings)
        yield _figures("  a way would open with", "money" if has_money else "", "min", indent=0)
    for opening in no_way.openings:
        yield from _told(in_words(opening.lacks), opening.sheet)
        if opening.sheet:
            yield from _note("; ".join(ways_taken(opening.sheet)))


def priced_lines(priced: Priced) -> Iterator[str]:
    """What an order costs, and where it is not allowed or dearer than it need be."""
    yield from textwrap.wrap(f"{priced.order.name}: what it costs".upper(), WIDTH)
    yield from ("", _figures("", "money" if priced.sheet.money is not None else "", "min", indent=0))
    yield from _told("in this order", priced.sheet)
    yield from _told(
        "the cheapest way" if priced.best.proved else "the cheapest way found in the time given", priced.best
    )
    if priced.sheet.worth > priced.best.worth:
        more = _amount(priced.best, priced.sheet.worth - priced.best.worth)
        yield from _note(f"more by {more}: {reason(priced.sheet, priced.best)}")
    if priced.points:
        yield from ("", "NOT ALLOWED AS IT WAS GIVEN")
    for point in priced.points:
        yield from _note(f"{point.entry}: first {', '.join(point.first)}", 5)
    if priced.done_already:
        yield from ("", "OFF ALREADY")
        yield from _note("; ".join(priced.done_already), 5)
    yield from _left_out(priced)
    if priced.dearer:
        yield from ("", "DEARER BY ITS PLACE IN THE ORDER")
        yield from _told("all together", None, _amount(priced.best, priced.sequence))
    for entry, saves in priced.dearer:
        yield from _told(f"{entry}, at its best place", None, _amount(priced.best, saves))
    if not priced.looked_at_all:
        yield from _note("the time did not suffice to look at every entry; give it more with --seconds", 5)
    if priced.reverse:
        yield from ("", "WHAT REVERSE ORDER DOES NOT SAY")
    for point in priced.reverse:
        yield from _note(point, 5)


def _left_out(priced: Priced) -> Iterator[str]:
    """What the order does not name, part by part."""
    if priced.left_out:
        yield from ("", "LEFT OUT, AND DONE ALL THE SAME")
    for words, direction in (("on the way in", OUT), ("on the way back", BACK)):
        parts = dict.fromkeys(step.operation.part for step in priced.left_out if step.operation.direction == direction)
        if parts:
            yield from _note(f"{words}: {'; '.join(parts)}", 5)


def _told(text: str, sheet: Sheet | None, figure: str = "") -> Iterator[str]:
    """Words at the left, what a plan costs at the right of their first line."""
    first, *rest = textwrap.wrap(text, _WORDS)
    if sheet is not None:
        amount = "" if sheet.money is None else money(sheet.money)
        yield _figures(first, amount, minutes(sheet.minutes))
    else:
        yield f"     {first:{_WORDS}}{figure:>{_MONEY + _MINUTES}}".rstrip()
    yield from (f"     {line}" for line in rest)


def _figures(text: str, amount: str, time: str, indent: int = 5) -> str:
    return f"{'':{indent}}{text:{_WORDS + 5 - indent}}{amount:>{_MONEY}}{time:>{_MINUTES}}".rstrip()


def _amount(sheet: Sheet, worth) -> str:
    """Money or minutes, whichever the plan is to save."""
    return money(worth) if sheet.saves_money else f"{minutes(worth)} min"


def _note(text: str, indent: int = 7) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2))
