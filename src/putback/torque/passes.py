"""Rounds over a group of fasteners: snug, pass after pass, once round, angles, and again after driving.

References
----------
.. [1] Passes at 30, 60 and 100 % of the torque and then one round in turn at 100 %: gasket makers' pages; their sheets
   also have 25, 50 and 100 %, and ASME PCC-1 gives 20-30, 50-70 and 100 %, then in turn until no nut moves any more
   (PCC-1 from memory). The vehicle maker's passes go before all of them.
.. [2] Hand tight, then 10 to 20 lbf·ft, never above 20 % of the torque: a gasket maker's work sheet.
.. [3] Wheels again after 50 to 100 miles (80 to 160 km): common practice, as printed on a wheel-adapter maker's chart.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from putback.errors import InputError
from putback.torque.wrench import Band
from putback.units import FOOT_POUND

USUAL_SHARES = (0.3, 0.6, 1.0)  # [1]
AGAIN_KM = (80, 160)  # [3]
_SNUG = Band(10 * FOOT_POUND, 20 * FOOT_POUND)  # [2]
_SNUG_SHARE = 0.2  # of the final torque [2]

SNUG, PASS, ROUND, ANGLE, AGAIN = "snug", "pass", "round", "angle", "again"


@dataclass(frozen=True)
class Pass:
    """One round over a group.

    Parameters
    ----------
    kind : str
        `SNUG` all by hand; `PASS` at a share of the torque or a stage of the maker's; `ROUND` once more in turn at the
        full torque; `ANGLE` turned on; `AGAIN` after some driving
    order : tuple of int
        Numbers of the fasteners, from 1
    torque : float, optional
        [N·m]; of `SNUG` the most; None where the final torque is not known
    share : float, optional
        Of the final torque, for `PASS`
    angle : float, optional
        [degrees], for `ANGLE`
    """

    kind: str
    order: tuple[int, ...]
    torque: float | None = None
    share: float | None = None
    angle: float | None = None


def passes(
    order: Sequence[int],
    target: float | None = None,
    *,
    shares: Sequence[float] = USUAL_SHARES,
    stages: Sequence[float] = (),
    angles: Sequence[float] = (),
    last_round: Sequence[int] = (),
    again: bool = False,
) -> tuple[Pass, ...]:
    """All rounds over a group, in the order in which they are made.

    Parameters
    ----------
    order : sequence of int
        Numbers of the fasteners, from 1, as they are tightened
    target : float, optional
        Final torque [N m]
    shares : sequence of float
        Of the target, rising to 1
    stages : sequence of float
        The maker's torques [N m], the last one final; they take the place of target and shares
    angles : sequence of float
        The maker's angles after the torque [degrees], each for all fasteners before the next one
    last_round : sequence of int
        The numbers in turn, for once more round at the full torque; none where angles follow
    again : bool
        Whether the torque is checked again after some driving, as of wheels

    Returns
    -------
    rounds : tuple of Pass

    Raises
    ------
    InputError
        Shares that do not rise to 1.

    Examples
    --------
    >>> [one.torque for one in passes((1, 3, 2, 4), 100)]
    [20.0, 30.0, 60.0, 100.0]
    """
    order = tuple(order)
    final = stages[-1] if stages else target
    rounds = [Pass(SNUG, order, None if final is None else min([snug(final).high, *stages]))]
    rounds += [Pass(PASS, order, torque) for torque in stages] if stages else _shared(order, target, shares)
    if last_round and not angles:
        rounds.append(Pass(ROUND, tuple(last_round), final))
    rounds += [Pass(ANGLE, order, angle=angle) for angle in angles]
    if again:
        rounds.append(Pass(AGAIN, order, final))
    return tuple(rounds)


def usual_shares(count: int) -> tuple[float, ...]:
    """The shares of so many passes, where nobody has said which: 30, 60 and 100 % for three, else equal steps.

    Parameters
    ----------
    count : int
        From 1; equal steps are common practice, no source
    """
    return USUAL_SHARES if count == len(USUAL_SHARES) else tuple(step / count for step in range(1, count + 1))


def _shared(order: tuple[int, ...], target: float | None, shares: Sequence[float]) -> list[Pass]:
    if not shares or shares[-1] != 1 or list(shares) != sorted(set(shares)) or shares[0] <= 0:
        text = "/".join(f"{100 * share:g}" for share in shares)
        raise InputError(f'passes rise to 100 % of the torque, as in "30/60/100", got "{text}"')
    return [Pass(PASS, order, None if target is None else share * target, share) for share in shares]


def snug(target: float) -> Band:
    """Where to snug fasteners before the first pass: 13.6 to 27.1 N·m, but never above 20 % of the torque.

    Parameters
    ----------
    target : float
        Final torque [N m]

    Examples
    --------
    >>> [round(end, 1) for end in snug(100)]
    [13.6, 20.0]
    """
    high = min(_SNUG.high, _SNUG_SHARE * target)
    return Band(min(_SNUG.low, high), high)


def shown(order: Sequence[int]) -> str:
    """An order as people write it: `1-3-5-2-4`."""
    return "-".join(map(str, order))
