"""Opening a job: the area file and the shop file are frozen as they are on that day."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from putback.area.area_file import read_area
from putback.area.model import Area
from putback.area.shop_file import read_shop
from putback.area.state_file import with_variants
from putback.desk.stamp import Stamp
from putback.drive_file import read_drive
from putback.errors import InputError
from putback.job.ledger import Ledger
from putback.way import names


@dataclass(frozen=True)
class File:
    """A file as somebody gave it: what it is called, and what it holds."""

    name: str
    data: bytes


def nothing_beside(name: str) -> None:
    """No file lies beside the area file.

    Parameters
    ----------
    name : str
    """


def open_job(
    ledger: Ledger,
    stamp: Stamp,
    name: str,
    *,
    area: File | None = None,
    shop: File | None = None,
    beside: Callable[[str], File | None] = nothing_beside,
    targets: Iterable[str] = (),
    variants: Iterable[str] = (),
    vehicle: str | None = None,
    cap: float | None = None,
) -> str:
    """Open a job; with an area file and a shop file, or for a car that nobody has described.

    Parameters
    ----------
    ledger : Ledger
    stamp : Stamp
    name : str
        What people call it.
    area, shop : File, optional
        Both or none; they are checked, and kept as they are.
    beside : function
        Gives the file of a name that lies beside the area file, if there is one: the drives that the area names are
        checked and kept as well. Where one is lacking the job is opened without it.
    targets : names, optional
        What is to be replaced; all targets of the area when left out.
    variants : names, optional
        What the car is, where an area knows several.
    vehicle : str, optional
        Which car, in the shop's own words.
    cap : float, optional
        What the customer has agreed to at most, before tax [cents]

    Returns
    -------
    job : str
        Its id.

    Raises
    ------
    InputError, Findings
        A file has something wrong with it, or a name is not in it.
    """
    if (area is None) != (shop is None):
        raise InputError("a job is opened with an area file and a shop file, or with neither; name the other as well")
    targets, variants = tuple(targets), tuple(variants)
    described = read_area(area.data, area.name) if area else None
    if shop:
        read_shop(shop.data, shop.name)
    if described:
        targets = targets or tuple(target.name.name for target in described.targets)
        names.check_targets(described, targets)
        with_variants(described, None, variants)
    drives = _drives(described, beside) if described else []
    job = stamp.new_id()
    event = stamp.event(
        job,
        "job opened",
        name=name,
        vehicle=vehicle,
        area=ledger.put_file(area.data) if area else None,
        area_file=area.name if area else None,
        shop=ledger.put_file(shop.data) if shop else None,
        shop_file=shop.name if shop else None,
        drives={drive.name: ledger.put_file(drive.data) for drive in drives} or None,
        targets=list(targets) or None,
        variants=list(variants) or None,
        cap=cap,
    )
    ledger.append([event])
    return job


def _drives(area: Area, beside: Callable[[str], File | None]) -> list[File]:
    """The drive files of an area that are there, checked."""
    found = [file for file in (beside(ref.name) for ref in area.drives) if file]
    for file in found:
        read_drive(file.data, file.name)
    return found
