"""Tightening orders and their passes, as text of 80 columns and as JSON."""

import textwrap
from collections.abc import Iterator, Sequence

from putback.torque import passes as kinds
from putback.torque.group import Group
from putback.torque.passes import AGAIN_KM, Pass, shown
from putback.units import show_number

WIDTH = 80
CAUTION = "The vehicle maker's order, passes and figures come before these."


def order_json(group: Group, rounds: Sequence[Pass]) -> dict:
    """The order by number, or by name where there are names; and the passes, where there are any.

    Parameters
    ----------
    group : Group
    rounds : sequence of Pass
    """
    found = {"order": _called(group, group.order)}
    return found | ({"passes": [_pass_json(group, one) for one in rounds]} if rounds else {})


def _called(group: Group, order: Sequence[int]) -> list:
    return [group.names[number - 1] for number in order] if group.names else list(order)


def _pass_json(group: Group, one: Pass) -> dict:
    figures = {
        "torque_nm": one.torque,
        "percent": None if one.share is None else round(100 * one.share, 6),
        "angle_deg": one.angle,
    }
    return {"kind": one.kind, "order": _called(group, one.order)} | {
        key: value for key, value in figures.items() if value is not None
    }


def order_lines(group: Group, rounds: Sequence[Pass]) -> Iterator[str]:
    """The order, then each pass with what it is tightened to.

    Parameters
    ----------
    group : Group
    rounds : sequence of Pass
    """
    yield f"{group.what[0].upper()}{group.what[1:]}, in this order:"
    yield from _order_lines(group)
    yield from (line for one in pass_sentences(rounds) for line in textwrap.wrap(one, WIDTH, subsequent_indent="  "))
    yield CAUTION


def _order_lines(group: Group) -> Iterator[str]:
    if group.names:
        yield from (f"{step:4}  {name}" for step, name in enumerate(_called(group, group.order), 1))
    else:
        text = textwrap.wrap(shown(group.order).replace("-", "- "), WIDTH - 2)
        yield from (f"  {line.replace('- ', '-')}" for line in text)


def pass_sentences(rounds: Sequence[Pass]) -> Iterator[str]:
    """What to do in each round, as a sentence.

    Parameters
    ----------
    rounds : sequence of Pass
    """
    number = 0
    for one in rounds:
        number += one.kind in (kinds.PASS, kinds.ANGLE)
        yield _sentence(one, number)


def _sentence(one: Pass, number: int) -> str:
    torque = None if one.torque is None else f"{show_number(one.torque)} N·m"
    match one.kind:
        case kinds.SNUG:
            return f"Snug: all by hand, {f'at most {torque}' if torque else 'at most a fifth of the torque'}."
        case kinds.PASS:
            share = None if one.share is None else f"{show_number(100 * one.share)} %"
            return f"Pass {number}: {f'{torque} ({share})' if torque and share else torque or share}, in this order."
        case kinds.ROUND:
            return f"Then once round in turn at {torque or '100 %'}, until none moves any more."
        case kinds.ANGLE:
            return f"Pass {number}: each turned on by {show_number(one.angle)}°, in this order."
        case kinds.AGAIN:
            low, high = AGAIN_KM
            return f"Again{f' at {torque}' if torque else ''} after {low} to {high} km of driving (common practice)."
    raise AssertionError(one.kind)
