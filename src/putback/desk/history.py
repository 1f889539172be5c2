"""What the ledger knows over all jobs: what was done to a vehicle before, and how long things really take here."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from putback.area.model import Area
from putback.desk.jobs import open_jobs
from putback.desk.view import View, look
from putback.job.ledger import Ledger
from putback.job.learning import Learned, learn, of_parts
from putback.job.times import by_person, spent

SOON = 365  # days within which the same part again asks for the cause (trap 32)


@dataclass(frozen=True)
class Past:
    """One job of a vehicle.

    Attributes
    ----------
    swapped, opened : tuple of str
        Parts that were replaced, and what was opened for it.
    differences : tuple of str
    good : bool or None
        Whether every reading after the repair was as it should be; None where none was judged.
    """

    job: str
    name: str
    opened_at: str
    signed_at: str
    kilometres: float | None
    complaint: str
    swapped: tuple[str, ...]
    opened: tuple[str, ...]
    differences: tuple[str, ...]
    good: bool | None


def vehicle_history(ledger: Ledger, vehicle: str) -> list[Past]:
    """The jobs of a vehicle, the latest first.

    Parameters
    ----------
    ledger : Ledger
    vehicle : str
        As the jobs name it, or a part of that, such as the end of its number; capitals and blanks do not count.
    """
    wanted = _plain(vehicle)
    known = {line.id: _plain(line.vehicle) for line in open_jobs(ledger, signed=True)}
    return [_past(look(ledger, row.id)) for row in ledger.jobs() if wanted and wanted in known.get(row.id, "")]


def _plain(text: str) -> str:
    return "".join(text.split()).casefold()


def _past(view: View) -> Past:
    state = view.state
    judged = [one.good for one in {one.what: one for one in state.readings if one.when == "after"}.values() if one.good is not None]
    return Past(
        job=view.id,
        name=state.name,
        opened_at=state.opened_at,
        signed_at=state.signed["at"] if state.signed else "",
        kilometres=next((one["kilometres"] for one in state.intake if "kilometres" in one), None),
        complaint=next((one["complaint"] for one in state.intake if "complaint" in one), ""),
        swapped=tuple(state.swapped),
        opened=tuple(item.name for item in state.items.values() if item.left and item.name not in state.swapped),
        differences=tuple(f"{one.item}: {one.what}{f', {one.settled}' if one.settled else ''}" for one in state.differences),
        good=all(judged) if judged else None,
    )


def again_soon(past: list[Past], targets: tuple[str, ...], now: str) -> list[str]:
    """Parts that were replaced less than a year ago and are to be replaced again; each asks for the cause first.

    Parameters
    ----------
    past : list of Past
    targets : tuple of str
    now : str
        The time in UTC.
    """
    found = []
    for one in past:
        days = (datetime.fromisoformat(now) - datetime.fromisoformat(one.opened_at)).days
        for part in targets:
            if part in one.swapped and days < SOON:
                found.append(
                    f"{part}: replaced {days} days ago already ({one.name}); find the cause first, and have a third reading "
                    "taken by another person"
                )
    return found


def own_times(ledger: Ledger, area: Area) -> list[Learned]:
    """What the parts of an area take here, from all jobs on that area that were handed over.

    Parameters
    ----------
    ledger : Ledger
    area : Area
    """
    return learn(of_parts(spent(view.logged, view.state, view.area), area) for view in _done(ledger, area.name))


def _done(ledger: Ledger, area: str) -> Iterator[View]:
    views = (look(ledger, row.id) for row in ledger.jobs())
    return (view for view in views if view.state.signed and view.area is not None and view.area.name == area)


def time_of_people(ledger: Ledger, job: str | None = None) -> dict[str, float]:
    """Minutes of each person, on one job or on all.

    Parameters
    ----------
    ledger : Ledger
    job : str, optional
        Its id.
    """
    found: dict[str, float] = {}
    for row in ledger.jobs():
        if job in (None, row.id):
            view = look(ledger, row.id)
            for person, minutes in by_person(spent(view.logged, view.state, view.area)).items():
                found[person] = found.get(person, 0.0) + minutes
    return found
