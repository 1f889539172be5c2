"""What to tighten each step of a plan with: the shop's wrench, its setting, and the order over a group.

Put together above the rooms: the plan says what is tightened, the torque room with what.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from putback.area.model import BACK, Fastener, Torque
from putback.torque.adapter import Adapter
from putback.torque.order import circle, grid
from putback.torque.settings import ANGLE_GAUGE, Settings, settings_for
from putback.torque.wrench import Band
from putback.units import TORQUE_UNITS, show_number
from putback.way.lay_out import step_tools
from putback.way.sheet import Sheet, SheetStep

IN_LINE, SQUARE = 0.0, 90.0  # degrees: how a crow-foot mostly stands to its wrench


@dataclass(frozen=True)
class Tightening:
    """How one step is tightened.

    Attributes
    ----------
    torque : Torque
        What the area's file asks for.
    settings : Settings
        The shop's wrench with its setting, or what is lacking.
    order : tuple of int
        Which of the group after which, numbered in turn; empty where the file names no pattern.
    in_line : Settings or None
        With a crow-foot: the setting where it carries straight on from the grip; `settings` is then for one that
        stands at a right angle to the wrench.
    """

    torque: Torque
    settings: Settings
    order: tuple[int, ...]
    in_line: Settings | None = None


def tightening(sheet: Sheet, step: SheetStep) -> Tightening | None:
    """How a step is tightened; None where it tightens nothing to a torque.

    Parameters
    ----------
    sheet : Sheet
    step : SheetStep
        One of the sheet's.
    """
    operation = step.operation
    fastener = operation.fastener if operation else None
    if fastener is None or fastener.torque is None or operation.direction != BACK or operation.level != 1:
        return None
    tools = step_tools(step)
    length = sheet.shop.adapters.get(tools[0])
    square = _settings(sheet, fastener.torque, tools, None if length is None else Adapter(length, SQUARE))
    in_line = None if length is None else _settings(sheet, fastener.torque, tools, Adapter(length, IN_LINE))
    return Tightening(fastener.torque, square, order_of(fastener), in_line)


def _settings(sheet: Sheet, torque: Torque, tools: tuple[str, ...], adapter: Adapter | None) -> Settings:
    shop = sheet.shop
    return settings_for(
        torque.stages,
        shop.wrenches,
        angles=() if torque.angle is None else (torque.angle,),
        tools=tools,
        owned=(*shop.tools, *(stock.name for stock in shop.stock)),
        tolerance=None if torque.low is None or torque.high is None else Band(torque.low, torque.high),
        adapter=adapter,
    )


def order_of(fastener: Fastener) -> tuple[int, ...]:
    """The order that a group's pattern stands for; empty where it has none, or one whose places are not known.

    Parameters
    ----------
    fastener : Fastener
    """
    if fastener.pattern in ("cross pattern", "star pattern"):
        return circle(fastener.count)
    found = re.fullmatch(r"centre outwards (\d+) ?x ?(\d+)", fastener.pattern or "")
    return grid(int(found[1]), int(found[2])) if found else ()


def wrenches(sheet: Sheet) -> list[str]:
    """The torque wrenches that a plan takes, in the order of their use, and the gauge for angles."""
    return list(dict.fromkeys(name for one in _all(sheet) for name in _laid_out(one)))


def lacking(sheet: Sheet) -> list[str]:
    """What no wrench of the shop can do, to be known before the first step; each with what it is for."""
    return [
        f"{step.operation.name}: {words}"
        for step in sheet.steps
        if (one := tightening(sheet, step)) is not None
        for words in one.settings.missing
    ]


def _all(sheet: Sheet) -> Iterator[Tightening]:
    return (one for step in sheet.steps if (one := tightening(sheet, step)) is not None)


def _laid_out(one: Tightening) -> Iterator[str]:
    yield from (choice.wrench.name for choice in one.settings.stages if choice is not None)
    if one.torque.angle is not None and not any(ANGLE_GAUGE in words for words in one.settings.missing):
        yield ANGLE_GAUGE


def setting_words(one: Tightening) -> list[str]:
    """What to set, in words; nothing where the shop lists no wrenches.

    Parameters
    ----------
    one : Tightening
    """
    if one.in_line is not None and None not in (*one.settings.stages, *one.in_line.stages):
        return [f"{_set(one.settings)} where the crow-foot stands at a right angle to it, {_set(one.in_line)} in line"]
    if any(choice is None for choice in one.settings.stages):
        return []
    return [_set(one.settings)]


def _set(settings: Settings) -> str:
    names = dict.fromkeys(choice.wrench.name for choice in settings.stages)
    if len(names) == 1:
        marks = " / ".join(choice.shown for choice in settings.stages)
        return f"{next(iter(names))} at {marks}"
    return ", ".join(f"{choice.wrench.name} at {choice.shown}" for choice in settings.stages)


def torque_words(torque: Torque, unit: str = "N·m") -> str:
    """A torque as it is told at the step: `to 24 N·m`, `to 24 N·m (17.7 ft-lb)`, `in passes of 8 / 16 / 23 N·m`.

    Parameters
    ----------
    torque : Torque
    unit : str
        The shop's, told besides N·m and the words of the file
    """
    text = torque.shown
    begin = f"in passes of {text.removeprefix('passes').strip()}" if text.startswith("passes") else f"to {text}"
    told = [one for one in dict.fromkeys(("N·m", unit)) if one not in text]
    besides = [f"{' / '.join(show_number(stage / TORQUE_UNITS[one].size, 3) for stage in torque.stages)} {one}" for one in told]
    return f"{begin} ({', '.join(besides)})" if besides else begin
