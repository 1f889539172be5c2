"""A job as it stands now: its events, what they add up to, the frozen description of the car, and the plan."""

import json
from dataclasses import dataclass, field
from functools import cached_property

from putback.area.area_file import read_area
from putback.area.model import Area
from putback.area.shop_file import Shop, read_shop
from putback.belt.drive import Drive
from putback.drive_file import read_drive
from putback.errors import Findings, InputError
from putback.job.audit import audit
from putback.job.car import Car
from putback.job.events import Event
from putback.job.fold import fold
from putback.job.ledger import Ledger, Logged
from putback.job.points import Point
from putback.job.state import JobState


@dataclass(frozen=True)
class View:
    """A job at one moment.

    Attributes
    ----------
    id : str
    logged : list of Logged
        All its events.
    state : JobState
    area, shop : Area, Shop or None
        The frozen copies; None for a car that nobody has described.
    plan : dict or None
        The plan in force, as `putback way --json` has it.
    drives : dict of str to Drive
        The frozen belt drives of the area by their files; those that were there when the job was opened.
    """

    id: str
    logged: list[Logged]
    state: JobState
    area: Area | None
    shop: Shop | None
    plan: dict | None
    drives: dict[str, Drive] = field(default_factory=dict)

    @cached_property
    def car(self) -> Car:
        """What is known of the car."""
        return Car(self.area, self.shop, self.state.variants)

    @cached_property
    def points(self) -> list[Point]:
        """What stands open, the worst first."""
        return audit(self.state, self.area, self.shop)


def look(ledger: Ledger, job: str) -> View:
    """A job as it stands now.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.

    Raises
    ------
    InputError
        There is no such job.
    """
    return view_of(ledger, job, ledger.events(job))


def view_of(ledger: Ledger, job: str, logged: list[Logged]) -> View:
    """A job as its events tell it.

    Parameters
    ----------
    ledger : Ledger
        For the files that they name.
    job : str
        Its id.
    logged : list of Logged
        All its events.

    Raises
    ------
    InputError
        There are none.
    """
    if not logged:
        raise InputError(f'{ledger.place}: there is no job "{job}"; the list of jobs tells which there are')
    opened = next((row.event for row in logged if row.event.kind == "job opened"), None)
    area, shop = _frozen(ledger, opened)
    state = fold(logged, area)
    return View(job, logged, state, area, shop, _plan(ledger, state), _drives(ledger, opened))


def supposed(ledger: Ledger, view: View, event: Event) -> View:
    """A job as it would be with one more event, which is not logged.

    Parameters
    ----------
    ledger : Ledger
    view : View
        The job as it is.
    event : Event
    """
    return view_of(ledger, view.id, [*view.logged, Logged(view.logged[-1].number + 1, event, "")])


def _frozen(ledger: Ledger, opened: Event | None) -> tuple[Area | None, Shop | None]:
    said = opened.data if opened else {}
    area = _area(ledger, said["area"], said.get("area file", "area")) if "area" in said else None
    shop = _shop(ledger, said["shop"], said.get("shop file", "shop")) if "shop" in said else None
    return area, shop


def _drives(ledger: Ledger, opened: Event | None) -> dict[str, Drive]:
    kept = opened.data.get("drives", {}) if opened else {}
    found = {name: _drive(ledger, hash, name) for name, hash in kept.items()}
    return {name: drive for name, drive in found.items() if drive}


def _drive(ledger: Ledger, hash: str, name: str) -> Drive | None:
    """None where it cannot be read any more: a job goes on without the picture of its belt."""
    try:
        return _once("drive", hash, lambda: read_drive(ledger.file(hash), name))
    except (InputError, Findings):
        return None


# A file is known by its content, so what was read once need not be read again, whatever ledger it came from.
_READ: dict[tuple[str, str], Area | Shop | Drive | dict] = {}
_MOST_READ = 256


def _area(ledger: Ledger, hash: str, name: str) -> Area:
    return _once("area", hash, lambda: read_area(ledger.file(hash), name))


def _shop(ledger: Ledger, hash: str, name: str) -> Shop:
    return _once("shop", hash, lambda: read_shop(ledger.file(hash), name))


def _once(kind: str, hash: str, read):
    if (kind, hash) not in _READ:
        if len(_READ) >= _MOST_READ:
            _READ.pop(next(iter(_READ)), None)
        _READ[kind, hash] = read()
    return _READ[kind, hash]


def _plan(ledger: Ledger, state: JobState) -> dict | None:
    if not state.plans:
        return None
    hash = state.plans[-1]["plan"]
    return _once("plan", hash, lambda: json.loads(ledger.file(hash)))
