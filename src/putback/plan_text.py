"""A plan as text of 80 columns, readable without colour."""

import re
import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import takewhile

from putback import tightening
from putback.area.model import MARKS, OUT, PUT_IN, Fastener
from putback.area.tools import BARE_HANDS
from putback.way import lay_out
from putback.way.afterwards import FOLLOW_UP, JOB_WORK, Late, afterwards, is_for_later
from putback.way.car_moves import CAR_MOVES
from putback.way.fills import fills
from putback.way.sheet import Sheet, SheetStep

WIDTH = 80
_TEXT, _TOOL, _TIME = 42, 24, 7  # columns of a step's words, of its tools and of its minutes


def plan_lines(sheet: Sheet, proof: bool = True) -> Iterator[str]:
    """The whole plan: what it comes to, the way in, the swap, the way back, and what is still owed.

    Parameters
    ----------
    sheet : Sheet
    proof : bool
        Whether to say how sure it is that nothing costs less.
    """
    yield from _head(sheet, proof=proof)
    yield from _parts(sheet)
    yield from _laid_out(sheet)
    yield from _left_on(sheet)
    yield from _work(sheet, "before", "FIRST")
    yield from _steps(sheet)
    yield from _ending(sheet)
    yield from _afterwards(sheet)
    yield from _handed_over(sheet)


def way_in_lines(sheet: Sheet) -> Iterator[str]:
    """The head of a plan that is taken up half-way, and its steps as far as the swap."""
    yield from _head(sheet, "the way in from here")
    end = next((n for n, step in enumerate(sheet.steps) if step.operation is None), len(sheet.steps))
    yield from _steps(replace(sheet, steps=sheet.steps[:end]))


# --- what it comes to -----------------------------------------------------------------------------


def _head(sheet: Sheet, title: str = "the way in and the way back", proof: bool = True) -> Iterator[str]:
    yield from _wrapped(f"{' and '.join(sheet.targets)}: {title}".upper())
    yield from _wrapped(f"{sheet.area.name}; {sheet.shop.name}")
    yield ""
    if sheet.money is not None:
        amount = f"{money(sheet.money)} {sheet.shop.currency}".strip()
        yield from _wrapped(f"{amount}, parts and labour, before tax")
    yield f"{clock_time(sheet.minutes)} expected ({minutes(sheet.minutes)} min, risks and set-up included)"
    yield from _wrapped(_proof(sheet)) if proof else ()
    yield from _wrapped("The vehicle maker's instructions and figures come before everything here.")


def _proof(sheet: Sheet) -> str:
    if sheet.proved:
        return "Proved: no other way and no other order costs less."
    return f"Not proved cheapest: at most {float(100 * sheet.gap):.1f} % could still be saved."


def money(cents: Fraction) -> str:
    """Cents as an amount with two decimals, halves away from zero."""
    whole = int(abs(cents) + Fraction(1, 2))
    return f"{'-' if cents < 0 and whole else ''}{whole // 100}.{whole % 100:02d}"


def minutes(value: Fraction) -> str:
    """Minutes with one decimal, halves up."""
    tenths = int(value * 10 + Fraction(1, 2))
    return f"{tenths // 10}.{tenths % 10}"


def clock_time(value: Fraction) -> str:
    """Minutes as hours and minutes."""
    whole = int(value + Fraction(1, 2))
    return f"{whole // 60} h {whole % 60:02d} min" if whole >= 60 else f"{whole} min"


# --- what to have before the start ----------------------------------------------------------------


def _parts(sheet: Sheet) -> Iterator[str]:
    parts, fluids = lay_out.new_parts(sheet), lay_out.fluids(sheet)
    if parts or fluids:
        yield from ("", "NEW PARTS TO HAVE BEFORE THE START")
    for name, price, count in parts:
        yield from _line(f"{count} x {name}", money(price * count) if price else "")
    for one in fluids:
        yield from _line(f"{float(one.litres):g} l {one.name}", money(one.price) if one.price else "")


def _laid_out(sheet: Sheet) -> Iterator[str]:
    tools = sizes_together(lay_out.tools(sheet))
    things = [str(one) for one in lay_out.equipment(sheet)]
    wrenches = tightening.wrenches(sheet)
    if tools or things or wrenches:
        yield from ("", "TO LAY OUT")
    for words in (tools, wrenches, things):
        yield from _listed(words)
    if sheet.shop.wrenches:
        for words in tightening.lacking(sheet):
            yield from textwrap.wrap(words, WIDTH, initial_indent="   ! ", subsequent_indent=" " * 7)


def _left_on(sheet: Sheet) -> Iterator[str]:
    if sheet.stays_on:
        yield from ("", "STAYS AS IT IS, NOTHING HERE NEEDS IT MOVED")
    yield from _listed(sheet.stays_on)


def _listed(words: Iterable[str]) -> list[str]:
    return textwrap.wrap("; ".join(words), WIDTH, initial_indent=" " * 5, subsequent_indent=" " * 7)


def sizes_together(tools: list[str]) -> list[str]:
    """Tools that differ in size alone as one: "8, 10 mm socket".

    Parameters
    ----------
    tools : list of str
    """
    sizes: dict[str, list[str]] = {}
    for tool in tools:
        found = re.fullmatch(r"([\d.]+) (mm .+)", tool)
        size, kind = found.groups() if found else ("", tool)
        sizes.setdefault(kind, []).append(size)
    return [f"{', '.join(found)} {kind}".strip() for kind, found in sizes.items()]


# --- the steps ------------------------------------------------------------------------------------


def _steps(sheet: Sheet) -> Iterator[str]:
    phase, place, told = "", None, set()
    last_swap = max((step.number for step in sheet.steps if step.operation is None), default=0)
    for step in sheet.steps:
        if _phase(step) != phase:
            phase, place = _phase(step), None
            yield from ("", f"{phase:{WIDTH - _TIME}}{'min':>{_TIME}}")
        if "posture" in step.changes:
            yield from _car_moved(step.context["posture"])
        if _place(step) != place:
            place = _place(step)
            yield from _wrapped(f"  -- {place}{_getting_there(step)}")
        yield from _step(sheet, step, phase, told)
        if step.number == last_swap:
            yield from _work_lines(sheet, "swap")


def _phase(step: SheetStep) -> str:
    if step.operation is None:
        return "SWAP"
    return "WAY IN" if step.operation.direction == OUT else "WAY BACK"


def _car_moved(posture: str, figure: str = "") -> Iterator[str]:
    move = CAR_MOVES[posture]
    yield f"  >> {move.text.upper():{WIDTH - 5 - _TIME}}{figure:>{_TIME}}".rstrip()
    yield from (line for caution in move.cautions for line in _note("!", caution))


def _place(step: SheetStep) -> str:
    """From where, and how the car stands."""
    words = [_NAMED.get(name, f"{name} {{}}").format(value) for name, value in step.context.items() if name != "tool"]
    return ", ".join(words)


_NAMED = {"vantage": "from {}", "posture": "car {}"}


def _getting_there(step: SheetStep) -> str:
    is_moved = any(name != "tool" for name in step.changes)
    return f" ({minutes(step.set_up)} min to set up)" if is_moved and step.set_up else ""


def _ending(sheet: Sheet) -> Iterator[str]:
    """What the last step leaves to be changed."""
    for name, value, time in sheet.ending:
        figure = minutes(time) if time else ""
        yield from _car_moved(value, figure) if name == "posture" else _line(f"{name} back: {value}", figure)


def _step(sheet: Sheet, step: SheetStep, phase: str, told: set[tuple]) -> Iterator[str]:
    for time, since in step.not_before:
        after = f"after step {since}" if since else "from now on"
        idle = f"; wait, {minutes(step.wait)} min of it are left when all before is done" if step.wait else ""
        yield from textwrap.wrap(f"not before {minutes(time)} min {after} are over{idle}", WIDTH, initial_indent="  >> ", subsequent_indent=" " * 7)
    if step.wait and not step.not_before:
        yield f"  >> wait {minutes(step.wait)} min before this step"
    texts = textwrap.wrap(step.text, _TEXT) or [""]
    tools = textwrap.wrap(_tools(step), _TOOL, break_on_hyphens=False) or [""]
    time = minutes(step.way.minutes.likely) if step.way else ""
    for n in range(max(len(texts), len(tools))):
        number = f"{step.number:4d}" if n == 0 else ""
        text, tool = (column[n] if n < len(column) else "" for column in (texts, tools))
        yield f"{number:4} {text:{_TEXT}} {tool:{_TOOL}}{time if n == 0 else '':>{_TIME}}".rstrip()
    if step.operation:
        notes = ((label, text) for label, text in _notes(sheet, step) if text)
        for label, text in notes:
            note = phase, step.operation.part, label, text
            if label not in _ONCE or note not in told:
                told.add(note)
                yield from _note(label, text)
    if step.then_wait:
        yield f"  >> then wait {minutes(step.then_wait)} min"


# Notes that are said once for a part on the way in, and once on the way back.
_ONCE = ("way:", "to get at the", "needed for the", "why:", "!")


def _tools(step: SheetStep) -> str:
    if step.way is None:
        return ""
    fitted = step.operation.holds if step.operation.direction == OUT else ()
    things = [str(one) for one in (*fitted, *step.way.equipment)]
    tools = [tool for tool in lay_out.step_tools(step) if tool != BARE_HANDS or not things]
    return " + ".join([*tools, *things])


def _notes(sheet: Sheet, step: SheetStep) -> Iterator[tuple[str, str]]:
    """What to know about a step, as (label, text)."""
    operation, way = step.operation, step.way
    if operation.kind != PUT_IN:
        yield "way:", way.name
    if operation.fastener:
        yield "", _fastener(operation.fastener, operation.direction, operation.level, sheet.shop.torque_unit)
        yield from _wrench(sheet, step)
    if operation.direction == OUT:
        yield _REASON.get(operation.kind, "to get at the"), ", for the ".join(step.reason)
    for risk in (*operation.risks, *way.risks):
        share = f"{float(100 * risk.probability):g} %"
        yield "may happen:", f"{risk.what} ({share}, then {minutes(risk.minutes)} min)"
    yield from (("with", fill.words) for fill in fills(sheet) if fill.step == step.number)
    for caution in step.cautions:
        yield "!", caution
    if operation.direction == OUT:
        yield "why:", operation.why


def _wrench(sheet: Sheet, step: SheetStep) -> Iterator[tuple[str, str]]:
    """Which torque wrench, and what to set it to; a shop that lists none knows what it has."""
    how = tightening.tightening(sheet, step)
    if how is not None and sheet.shop.wrenches:
        yield from (("with the", words) for words in tightening.setting_words(how))
        yield from (("!", words) for words in (*how.settings.notes, *how.settings.missing))


_REASON = dict.fromkeys((PUT_IN, MARKS), "needed for the")


def _fastener(fastener: Fastener, direction: str, level: int, unit: str) -> str:
    """What to know of a fastener now: its direction on the way out, its torque when it is finally tightened."""
    parts = []
    if fastener.left_hand:
        parts.append("LEFT-HAND THREAD: undo clockwise" if direction == OUT else "LEFT-HAND THREAD: tighten anticlockwise")
    if direction == OUT:
        parts += [fastener.where] if fastener.where else []
        parts += ["not to be used again"] if fastener.one_time else []
        return ", ".join(parts)
    if level == 1 and fastener.torque:
        parts.append(tightening.torque_words(fastener.torque, unit))
        parts += [_pattern(fastener)] if fastener.pattern else []
    if level == fastener_top(fastener):
        parts += ["NEW"] if fastener.one_time else []
        parts += [fastener.where] if fastener.where else []
    return ", ".join(parts)


def _pattern(fastener: Fastener) -> str:
    order = tightening.order_of(fastener)
    return f"{fastener.pattern} {'-'.join(map(str, order))}" if order else fastener.pattern


def fastener_top(fastener: Fastener) -> int:
    """The level of a fastener that is out: one step further where it has a loose state."""
    return 2 if fastener.on_the_ground else 1


def _note(label: str, text: str) -> list[str]:
    first = f"       {label} " if label else "       "
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=" " * 9)


# --- work around the steps, and the end -----------------------------------------------------------


def _work(sheet: Sheet, when: str, heading: str) -> Iterator[str]:
    lines = list(_work_lines(sheet, when))
    if lines:
        yield from ("", heading, *lines)


def _work_lines(sheet: Sheet, when: str) -> Iterator[str]:
    for work in sheet.job_work:
        if work.when == when:
            yield from _line(work.name, minutes(work.minutes.likely))


def _afterwards(sheet: Sheet) -> Iterator[str]:
    """What is owed by what was opened, as far as no job work comes before it; then the rest in its order."""
    lines = afterwards(sheet)
    owed = list(takewhile(lambda one: one.kind != JOB_WORK, lines))
    for heading, part in (("OWED BY WHAT WAS OPENED", owed), ("LAST", lines[len(owed) :])):
        yield from ("", heading) if part else ()
        for one in part:
            yield from _late(sheet, one)


def _late(sheet: Sheet, one: Late) -> Iterator[str]:
    is_given_out = one.kind == FOLLOW_UP and not one.minutes
    figure = minutes(one.minutes) if one.minutes else ""
    yield from _line(f"{one.name}: given out" if is_given_out else one.name, figure)
    if one.kind == FOLLOW_UP:
        wanted = [str(offer) for demand in sheet.area.follow_ups[one.name].equipment for offer in demand.offers]
        yield from _note("with", " or ".join(wanted)) if wanted and one.minutes else ()
        yield from (line for fill in one.fills for line in _note("with", fill.words))
    yield from _note("!", _FILLED) if one.fills else ()


_FILLED = "before the engine starts"  # common practice, no source


def _handed_over(sheet: Sheet) -> Iterator[str]:
    """What has to be said or agreed at the hand-over."""
    later = [name for name, _ in sheet.due if is_for_later(sheet, name)]
    if later:
        yield from ("", "AT HAND-OVER")
    for name in later:
        yield from _line(name, "")


def _line(text: str, figure: str) -> Iterator[str]:
    """Words at the left, a figure at the right of their first line."""
    first, *rest = textwrap.wrap(text, _TEXT + _TOOL)
    yield f"     {first:{_TEXT + _TOOL + 2}}{figure:>{_TIME}}".rstrip()
    yield from (f"     {line}" for line in rest)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent=" " * (len(text) - len(text.lstrip())))
