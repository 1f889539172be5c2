"""A plan as text of 80 columns, readable without colour."""

import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from putback.area.model import MARKS, OUT, PUT_IN, Fastener
from putback.way.sheet import Sheet, SheetStep

WIDTH = 80
_TEXT, _TOOL = 42, 24  # columns of a step's words and of its tools


def plan_lines(sheet: Sheet) -> Iterator[str]:
    """The whole plan: what it comes to, the way in, the swap, the way back, and what is still owed."""
    yield from _head(sheet)
    yield from _work(sheet, "before", "FIRST")
    yield from _steps(sheet)
    yield from _end(sheet)


def way_in_lines(sheet: Sheet) -> Iterator[str]:
    """The head of a plan and its steps as far as the swap."""
    yield from _head(sheet)
    end = next((n for n, step in enumerate(sheet.steps) if step.operation is None), len(sheet.steps))
    yield from _steps(replace(sheet, steps=sheet.steps[:end]))


# --- what it comes to -----------------------------------------------------------------------------


def _head(sheet: Sheet) -> Iterator[str]:
    yield from _wrapped(f"{' and '.join(sheet.targets)}: the way in and the way back".upper())
    yield from _wrapped(f"{sheet.area.name}; {sheet.shop.name}")
    yield ""
    if sheet.money is not None:
        yield f"{money(sheet.money)} before tax, parts and labour"
    yield f"{clock_time(sheet.minutes)} expected ({minutes(sheet.minutes)} min, risks and set-up included)"
    yield from _wrapped(_proof(sheet))
    yield from _wrapped("The vehicle maker's instructions and figures come before everything here.")


def _proof(sheet: Sheet) -> str:
    if sheet.proved:
        return "Proved: no other way and no other order costs less."
    return f"Not proved cheapest: at most {float(100 * sheet.gap):.1f} % could still be saved."


def money(cents: Fraction) -> str:
    """Cents as an amount with two decimals, halves up."""
    whole = int(cents + Fraction(1, 2)) if cents >= 0 else -int(-cents + Fraction(1, 2))
    return f"{whole // 100}.{whole % 100:02d}"


def minutes(value: Fraction) -> str:
    """Minutes with one decimal, halves up."""
    tenths = int(value * 10 + Fraction(1, 2))
    return f"{tenths // 10}.{tenths % 10}"


def clock_time(value: Fraction) -> str:
    """Minutes as hours and minutes."""
    whole = int(value + Fraction(1, 2))
    return f"{whole // 60} h {whole % 60:02d} min" if whole >= 60 else f"{whole} min"


# --- the steps ------------------------------------------------------------------------------------


def _steps(sheet: Sheet) -> Iterator[str]:
    phase, place, told = "", None, set()
    for step in sheet.steps:
        if _phase(step) != phase:
            phase, place = _phase(step), None
            yield from ("", phase)
        if _place(step) != place:
            place = _place(step)
            yield f"  -- {place}{_getting_there(step)}"
        yield from _step(step, phase, told)
        if step.operation is None:
            yield from _work_lines(sheet, "swap")


def _phase(step: SheetStep) -> str:
    if step.operation is None:
        return "SWAP"
    return "WAY IN" if step.operation.direction == OUT else "WAY BACK"


def _place(step: SheetStep) -> str:
    """From where, and how the car stands."""
    vantage, posture, *others = [value for name, value in step.context.items() if name != "tool"]
    return ", ".join([f"from {vantage}", f"car {posture}", *others])


def _getting_there(step: SheetStep) -> str:
    is_moved = any(name != "tool" for name in step.changes)
    return f" ({minutes(step.set_up)} min to change)" if is_moved and step.set_up else ""


def _step(step: SheetStep, phase: str, told: set[tuple]) -> Iterator[str]:
    if step.wait:
        yield f"     wait {minutes(step.wait)} min"
    texts = textwrap.wrap(step.text, _TEXT) or [""]
    tools = textwrap.wrap(_tools(step), _TOOL) or [""]
    time = minutes(step.way.minutes.likely) if step.way else ""
    for n in range(max(len(texts), len(tools))):
        number = f"{step.number:4d}" if n == 0 else ""
        text, tool = (column[n] if n < len(column) else "" for column in (texts, tools))
        yield f"{number:4} {text:{_TEXT}} {tool:{_TOOL}}{time if n == 0 else '':>7}".rstrip()
    if step.operation:
        notes = ((label, text) for label, text in _notes(step) if text)
        for label, text in notes:
            note = phase, step.operation.part, label, text
            if label not in _ONCE or note not in told:
                told.add(note)
                yield from _note(label, text)


# Notes that are said once for a part on the way in, and once on the way back.
_ONCE = ("by way of", "in the way of", "needed for", "why:", "!")


def _tools(step: SheetStep) -> str:
    if step.way is None:
        return ""
    chosen = step.way.tool_set(step.context.get("tool", "")) or (step.context.get("tool", ""),)
    return " + ".join([*chosen, *(str(one) for one in step.way.equipment)])


def _notes(step: SheetStep) -> Iterator[tuple[str, str]]:
    """What to know about a step, as (label, text)."""
    operation, way = step.operation, step.way
    if operation.kind != PUT_IN:
        yield "by way of", way.name
    if operation.fastener:
        yield "", _fastener(operation.fastener, operation.direction, operation.level)
    if operation.direction == OUT:
        yield _REASON.get(operation.kind, "in the way of"), step.reason[0] if step.reason else ""
    for risk in (*operation.risks, *way.risks):
        share = f"{float(100 * risk.probability):g} %"
        yield "may happen:", f"{risk.what} ({share}, then {minutes(risk.minutes)} min)"
    for caution in dict.fromkeys((*operation.cautions, *way.cautions)):
        yield "!", caution
    if operation.direction == OUT:
        yield "why:", operation.why


_REASON = dict.fromkeys((PUT_IN, MARKS), "needed for")


def _fastener(fastener: Fastener, direction: str, level: int) -> str:
    """What to know of a fastener now: its direction on the way out, its torque when it is finally tightened."""
    parts = []
    if fastener.left_hand:
        parts.append("LEFT-HAND THREAD: undo clockwise" if direction == OUT else "LEFT-HAND THREAD: tighten anticlockwise")
    if direction == OUT:
        parts += [fastener.where] if fastener.where else []
        parts += ["not to be used again"] if fastener.one_time else []
        return ", ".join(parts)
    if level == 1 and fastener.torque:
        parts.append(f"to {fastener.torque.text or f'{fastener.torque.final:g} N·m'}")
        parts += [fastener.pattern] if fastener.pattern else []
    if level == fastener_top(fastener):
        parts += ["NEW"] if fastener.one_time else []
        parts += [fastener.where] if fastener.where else []
    return ", ".join(parts)


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
            yield f"     {work.name:{_TEXT + _TOOL}} {minutes(work.minutes.likely):>7}"


def _end(sheet: Sheet) -> Iterator[str]:
    yield from _work(sheet, "after", "LAST")
    if sheet.due:
        yield from ("", "OWED BEFORE HAND-OVER")
        for name, time in sheet.due:
            yield f"     {name:{_TEXT + _TOOL}} {minutes(time) if time else '':>7}".rstrip()
    yield from _bought(sheet)


def _bought(sheet: Sheet) -> Iterator[str]:
    parts = [(target.name.name, target.new, 1) for target in sheet.area.targets if target.name.name in sheet.targets]
    parts += [(part.name, part.price, part.count) for part in sheet.area.always_new]
    used = [part for step in sheet.steps if step.operation for part in step.operation.uses_up]
    parts += [(part.name, part.price, part.count) for part in used]
    if not parts:
        return
    yield from ("", "NEW PARTS, TO HAVE BEFORE THE START")
    for name, price, count in _together(parts):
        yield f"     {f'{count} x {name}':{_TEXT + _TOOL}} {money(price * count) if price else '':>7}".rstrip()


def _together(parts: Iterable[tuple[str, Fraction, int]]) -> list[tuple[str, Fraction, int]]:
    counts: dict[tuple[str, Fraction], int] = {}
    for name, price, count in parts:
        counts[name, price] = counts.get((name, price), 0) + count
    return [(name, price, count) for (name, price), count in counts.items()]


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH)
