"""The belt of a job: what its steps have to show, from the drive that was frozen when the job was opened."""

import re
from functools import lru_cache
from typing import NamedTuple

from putback.belt.advise import Advice, advise
from putback.belt.drive import Drive
from putback.belt.load import Working, at_work, rest_tension
from putback.belt_step_text import (
    PHOTO,
    drive_words,
    held_words,
    off_words,
    on_words,
    released_words,
    undescribed_words,
)
from putback.belt_text import drive_lines
from putback.desk.view import View
from putback.drive_file import scan_drive
from putback.drive_svg import description, drive_svg
from putback.job.car import Car
from putback.job.state import JobState
from putback.job.step import WAY_BACK, WAY_IN, Step
from putback.torque_text import sentences

BELT = "belt"  # the area's word for the kind
_CALLED = re.compile(r"\bbelt$", re.IGNORECASE)
_OTHERS = re.compile(r"seat|safety|lap|timing|cam|toothed|conveyor", re.IGNORECASE)  # belts that have no ribs


class BeltPicture(NamedTuple):
    """How a belt runs: the file of its drive, what the drive is called, what the picture shows, and words for it.

    Where no route can be there is no picture; `shows` is empty then.
    """

    file: str
    name: str
    shows: str
    words: tuple[str, ...]


class BeltHelp(NamedTuple):
    """What a step about a belt shows besides: whether a photo of its route is wanted, sentences, and pictures."""

    photo: bool
    words: tuple[str, ...]
    pictures: tuple[BeltPicture, ...]


def belt_pictures(view: View, belt: str | None = None) -> tuple[BeltPicture, ...]:
    """The pictures of a job's belts.

    Parameters
    ----------
    view : View
    belt : str, optional
        Only of this belt of the area
    """
    return tuple(_picture(file, drive) for file, drive in _drives_of(view, belt).items())


def belt_svg(view: View, file: str) -> str | None:
    """The drawing of a drive; None where there is no such drive, or no route of it that can be.

    Parameters
    ----------
    view : View
    file : str
        The drive's file
    """
    drive = view.drives.get(file)
    return _svg(drive) if drive and advice_of(drive).right else None


def belt_help(view: View, step: Step) -> BeltHelp | None:
    """What a step shows besides, where it is about a belt or about what holds one slack.

    Parameters
    ----------
    view : View
    step : Step
    """
    belt = _belt_of(step, view.car) if step.phase in (WAY_IN, WAY_BACK) else None
    if belt is None:
        return _undescribed(view, step)
    itself, going = step.item == belt, step.phase == WAY_IN
    photo = itself and going and not _has_photo(belt, view.state)
    words = (off_words if going else on_words) if itself else (held_words if going else released_words)
    told = [sentence for drive in _drives_of(view, belt).values() for sentence in words(advice_of(drive))]
    return BeltHelp(photo, (*_asking(photo), *told, *lacking(view)), belt_pictures(view, belt))


def _undescribed(view: View, step: Step) -> BeltHelp | None:
    """Of a belt of which only the name is known, on its way back."""
    is_called_so = _CALLED.search(step.item) and not _OTHERS.search(step.item)
    if view.area is None and step.phase == WAY_BACK and is_called_so:
        return BeltHelp(False, tuple(undescribed_words()), ())
    return None


def _asking(photo: bool) -> tuple[str, ...]:
    return tuple(sentences([PHOTO])) if photo else ()


def lacking(view: View) -> tuple[str, ...]:
    """What is to be said of a drive that the area names and the job has not.

    Parameters
    ----------
    view : View
    """
    if view.drives or not view.area or not view.area.drives:
        return ()
    names = ", ".join(ref.name for ref in view.area.drives)
    return (f"There is no drawing of the belt: {names} did not lie beside the area file when this job was opened.",)


def _belt_of(step: Step, car: Car) -> str | None:
    """The belt that a step moves, or that what it moves holds."""
    if step.kind == BELT:
        return step.item
    item = car.items.get(step.item)
    return next((ref.name for ref in item.secures if car.kind(ref.name) == BELT), None) if item else None


def _has_photo(belt: str, state: JobState) -> bool:
    return any("file" in note for note in state.notes.get(belt, ()))


def _drives_of(view: View, belt: str | None) -> dict[str, Drive]:
    """The drives of a belt: all where the car has no other belt, else those that are called by its name."""
    belts = [item.name for item in view.car.items.values() if item.kind == BELT]
    if belt is None or belts == [belt]:
        return view.drives
    return {file: drive for file, drive in view.drives.items() if belt in (drive.name, file.removesuffix(".yaml"))}


@lru_cache(maxsize=64)
def advice_of(drive: Drive) -> Advice:
    """What a look at a drive comes to, remembered, for trying all routes takes its time.

    Parameters
    ----------
    drive : Drive
    """
    return advise(drive)


@lru_cache(maxsize=64)
def _svg(drive: Drive) -> str:
    advice = advice_of(drive)
    return drive_svg(drive, advice.right, advice.origin)


def _picture(file: str, drive: Drive) -> BeltPicture:
    advice = advice_of(drive)
    shows = description(advice.right) if advice.right else ""
    return BeltPicture(file, drive.name, shows, tuple(drive_words(drive, advice)))


# --- a drive file by itself -----------------------------------------------------------------------


class DriveSeen(NamedTuple):
    """A drive file as it is understood: lines as the command line has them, its drawing, and what that shows; both
    empty where no route can be."""

    lines: tuple[str, ...]
    svg: str
    shows: str


def drive_seen(data: bytes, name: str) -> DriveSeen | None:
    """A drive file; None where something is wrong with it.

    Parameters
    ----------
    data : bytes
    name : str
        Of the file
    """
    drive, findings = scan_drive(data, name)
    if drive is None or findings:
        return None
    advice = advice_of(drive)
    lines = tuple(drive_lines(drive, advice, _working(drive, advice)))
    return DriveSeen(lines, _svg(drive), description(advice.right)) if advice.right else DriveSeen(lines, "", "")


def _working(drive: Drive, advice: Advice) -> Working | None:
    known = advice.right and drive.speed and rest_tension(advice.right)
    return at_work(advice.right, drive.speed) if known else None
