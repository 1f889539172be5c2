"""Whether a group of fasteners was closed in the order and the passes that were asked for."""

from collections.abc import Sequence
from dataclasses import dataclass

from putback.torque.passes import ANGLE, PASS, ROUND, Pass, shown


@dataclass(frozen=True)
class Tightened:
    """What somebody did: a fastener by its number, at a torque [N·m] or by an angle [degrees]."""

    fastener: int
    torque: float | None = None
    angle: float | None = None


# Passes are told apart by their torques; whether each is exactly right is not the question here.
_NEAR = 0.1


def what_is_open(done: Sequence[Tightened], rounds: Sequence[Pass], *, on_a_circle: bool = False) -> tuple[str, ...]:
    """Whether a group was closed in this order and in these passes, and if not, why it still counts as open.

    Snugging by hand and what comes after driving are not looked at.

    Parameters
    ----------
    done : sequence of Tightened
        What was done, as it happened
    rounds : sequence of Pass
        What there is to do
    on_a_circle : bool
        Whether the numbers go round a circle: then it does not matter where an order begins, nor which way round

    Returns
    -------
    reasons : tuple of str
        One for each round that was not made as it should; empty where the group is closed

    Examples
    --------
    >>> what_is_open([Tightened(1, 30), Tightened(2, 30)], [Pass(PASS, (1, 2), 30), Pass(PASS, (1, 2), 100)])
    ('pass 2 of 2 (100 N·m): not made',)
    """
    wanted = [one for one in rounds if one.kind in (PASS, ROUND, ANGLE)]
    reasons, left = [], list(done)
    for number, one in enumerate(wanted, 1):
        made, left = left[: len(one.order)], left[len(one.order) :]
        if reason := _not_made(made, one, on_a_circle):
            reasons.append(f"pass {number} of {len(wanted)} ({_what(one)}): {reason}")
    if left:
        reasons.append(f"fastener {left[0].fastener} was tightened once more after the last pass")
    return tuple(reasons)


def _not_made(made: Sequence[Tightened], one: Pass, on_a_circle: bool) -> str | None:
    """Why a round does not count, or None."""
    if not made:
        return "not made"
    for each in made:
        if _is_other(each, one):
            return f"fastener {each.fastener} got {_what(each)}"
    numbers = tuple(each.fastener for each in made)
    if lacking := [number for number in one.order if number not in numbers]:
        return f"left out: {', '.join(map(str, lacking))}"
    orders = turned(one.order) if on_a_circle else (one.order,)
    if numbers not in orders:
        return f"made in the order {shown(numbers)}, not {shown(one.order)}"
    return None


def _is_other(each: Tightened, one: Pass) -> bool:
    """Whether something else was done than the round asks for; a figure that is not recorded does not count."""
    if (each.angle is not None) != (one.angle is not None) and (each.angle, each.torque) != (None, None):
        return True
    pairs = ((each.torque, one.torque), (each.angle, one.angle))
    return any(None not in pair and abs(pair[0] - pair[1]) > _NEAR * pair[1] for pair in pairs)


def _what(one: Pass | Tightened) -> str:
    if one.angle is not None:
        return f"{one.angle:g}°"
    if one.torque is not None:
        return f"{one.torque:g} N·m"
    return f"{100 * one.share:g} %" if isinstance(one, Pass) and one.share else "full torque"


def turned(order: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """An order on a circle begun at any of its fasteners, either way round."""
    count = len(order)
    return tuple(
        tuple((sign * (number - 1) + shift) % count + 1 for number in order)
        for shift in range(count)
        for sign in (1, -1)
    )
