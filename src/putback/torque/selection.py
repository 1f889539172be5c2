"""Which of a shop's torque wrenches to take, and what to set it to.

Wrenches that can do a torque are ranked by, in this order:

1. the tolerance of the fastener is kept: whatever the wrench's deviation does; else at least by the mark set. Where no
   tolerance is known, whether the nearest mark is off by no more than the wrench itself may be;
2. its drive is the one that is asked for, where one is;
3. the setting lies in the middle half of its range;
4. its calibration is in date; then not known; then overdue;
5. how near to the middle of its range; then the name.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from putback.errors import InputError
from putback.torque import adapter as adapters
from putback.torque import wrench
from putback.torque.adapter import Adapter
from putback.torque.calibration import calibration
from putback.torque.wrench import Band, TorqueWrench
from putback.units import TORQUE_UNITS, show_in, show_number, show_torque

_EXACT = 1e-9  # relative; what floats may be off


@dataclass(frozen=True)
class Choice:
    """One wrench for one torque.

    Parameters
    ----------
    wrench : TorqueWrench
    setting : float
        In the unit of its scale, on one of its marks
    exact : float
        What would have to be set if every torque had a mark [N·m]
    torque : float
        What the fastener gets at the setting [N·m]
    error : float
        What the mark is off, as a share of the torque wanted
    band : Band
        What the fastener may get, with the wrench's deviation [N·m]
    rank : tuple
        The smaller, the better; see the head of this module
    notes : tuple of str
        What to know: calibration, range, drive, tolerance
    """

    wrench: TorqueWrench
    setting: float
    exact: float
    torque: float
    error: float
    band: Band
    rank: tuple
    notes: tuple[str, ...] = ()

    @property
    def shown(self) -> str:
        """The setting with its unit: `98 in-lb`."""
        return f"{show_number(self.setting, 6)} {self.wrench.unit}"


@dataclass(frozen=True)
class Selection:
    """The wrenches for one torque, best first; why the others will not do; and what is missing if none does."""

    choices: tuple[Choice, ...]
    refused: tuple[tuple[str, str], ...] = ()
    missing: str | None = None

    @property
    def best(self) -> Choice | None:
        return self.choices[0] if self.choices else None


def select(
    torque: float,
    wrenches: Sequence[TorqueWrench],
    *,
    day: date | None = None,
    tolerance: Band | None = None,
    drive: str | None = None,
    adapter: Adapter | None = None,
) -> Selection:
    """Rank a shop's wrenches for one torque.

    Parameters
    ----------
    torque : float
        Wanted at the fastener [N m], above 0
    wrenches : sequence of TorqueWrench
    day : date, optional
        Of the work; without it nobody asks for calibrations
    tolerance : Band, optional
        What the fastener's torque may lie between [N m]
    drive : str, optional
        The drive that is asked for: ``1/2 in``
    adapter : Adapter, optional
        What sits between wrench and fastener, if that moves the axis

    Returns
    -------
    selection : Selection

    Raises
    ------
    InputError
        An adapter whose angle is not known, or a torque that is not above 0.
    """
    adapters.setting(torque, None, None)  # a torque there is
    if adapters.counts(adapter) and adapter.angle is None:
        raise InputError(adapters.ASK_ANGLE)
    refused = [(one.name, reason) for one in wrenches if (reason := _refusal(one, torque, adapter))]
    out = {name for name, _ in refused}
    choices = [_choice(one, torque, day, tolerance, drive, adapter) for one in wrenches if one.name not in out]
    choices.sort(key=lambda choice: choice.rank)
    return Selection(tuple(choices), tuple(refused), None if choices else _missing(torque, wrenches, refused, adapter))


def _refusal(one: TorqueWrench, torque: float, adapter: Adapter | None) -> str | None:
    """Why a wrench will not do, or None."""
    if adapters.counts(adapter) and one.lever is None and wrench.covers(one, torque):
        return 'its lever is not known; say it in the shop file, as in "lever 400 mm"'
    try:
        exact = torque if one.lever is None else adapters.setting(torque, one.lever, adapter)
    except InputError as error:  # the adapter reaches back to the grip of this one
        return str(error)
    return None if wrench.covers(one, exact) else _out_of_range(one, exact)


def _out_of_range(one: TorqueWrench, exact: float) -> str:
    return f"its range is {wrench.show_range(one)}, this is {show_in(exact, one.unit)}"


def _choice(
    one: TorqueWrench,
    torque: float,
    day: date | None,
    tolerance: Band | None,
    drive: str | None,
    adapter: Adapter | None,
) -> Choice:
    exact = adapters.setting(torque, one.lever, adapter)
    mark = wrench.on_scale(one, exact)
    got = adapters.applied(mark * TORQUE_UNITS[one.unit].size, one.lever, adapter)
    share = wrench.deviation(one)
    given, error = wrench.band(got, share), got / torque - 1
    checked = calibration(one, day)
    off = abs(exact - _middle(one)) / (one.high - wrench.lowest(one))
    kept = _kept(got, error, given, share, tolerance)
    rank = (kept, not _drive_fits(one, drive), off > 0.25, checked.rank, round(off, 9), one.name)
    notes = (
        _tolerance_note(kept, share, tolerance),
        _drive_note(one, drive),
        _low_note(one, exact),
        _unmarked_note(one),
        checked.words,
    )
    return Choice(one, mark, exact, got, error, given, rank, tuple(note for note in notes if note))


def _middle(one: TorqueWrench) -> float:
    return (wrench.lowest(one) + one.high) / 2


def _kept(got: float, error: float, given: Band, share: float, tolerance: Band | None) -> int:
    """0 where the tolerance is kept, 1 where only the mark keeps it, 2 where not even that; see rule 1."""
    if tolerance is None:
        return 0 if abs(error) <= share + _EXACT else 1
    if tolerance.holds(given):
        return 0
    return 1 if tolerance.holds(Band(got, got)) else 2


def _tolerance_note(kept: int, share: float, tolerance: Band | None) -> str | None:
    if not kept:
        return None
    if tolerance is None:
        return "its marks are coarse for this torque"
    allowed = f"{show_number(tolerance.low)}-{show_torque(tolerance.high)}"
    if kept == 2:
        return f"its nearest mark is outside of {allowed}"
    return f"its ±{show_number(100 * share)} % may go beyond {allowed}"


def _drive_fits(one: TorqueWrench, drive: str | None) -> bool:
    return drive is None or one.drive is None or one.drive == drive


def _drive_note(one: TorqueWrench, drive: str | None) -> str | None:
    return None if _drive_fits(one, drive) else f"its drive is {one.drive}: it takes a straight adapter to {drive}"


def _low_note(one: TorqueWrench, exact: float) -> str | None:
    """Both opinions on the lower end of a range: its lowest mark (2017), a fifth of the maximum (2003)."""
    if exact >= wrench.LOWEST_SHARE * one.high * (1 - _EXACT):
        return None
    return "in its range, but below a fifth of its maximum, where older practice does not trust a wrench"


def _unmarked_note(one: TorqueWrench) -> str | None:
    return None if one.step else "the steps of its scale are not known: set it as near as it goes"


def _missing(
    torque: float, wrenches: Sequence[TorqueWrench], refused: Sequence[tuple[str, str]], adapter: Adapter | None
) -> str:
    """What there is to say when no wrench will do, and what would."""
    would = f"a {wrench.common_range(torque)} one would"
    if not wrenches:
        return f"this shop lists no torque wrench; {would} do for {show_torque(torque)}"
    near = [(one.name, dict(refused)[one.name]) for one in wrenches if wrench.covers(one, torque)]
    if near and adapter is not None:
        return f"no wrench of this shop will do for {show_torque(torque)} with this adapter; {near[0][0]}: {near[0][1]}"
    return f"no wrench of this shop covers {show_torque(torque)}; {would}"
