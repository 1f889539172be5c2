"""The record of a job as plain values: what the room `job` makes of the log, with photos and torques to be read."""

from collections.abc import Callable
from typing import Any

from putback.desk.handing_over import record_of
from putback.desk.view import View
from putback.paper.head import head_of
from putback.paper.job_sheet_data import Made
from putback.paper.look import Look
from putback.paper.photos import small_photos
from putback.units import show_number

MOST_PHOTOS = 60
PICTURES = "image/"


def record_paper(view: View, look: Look, file: Callable[[str], bytes]) -> Made:
    """All that a record says, and its photos.

    Parameters
    ----------
    view : View
    look : Look
    file : function
        Gives the content of a file of the ledger by its hash.
    """
    record = record_of(view)
    photos = _photos(record["files"], file)
    told = {
        "fasteners": [one | _figures(one, look) for one in record["fasteners"]],
        "fluids": [
            one | {"out": look.litres(one["out_l"]), "in": look.litres(one["in_l"])} for one in record["fluids"]
        ],
        "slips": [_slip(one, look) for one in record["slips"]],
        "files": [one | {"shown": _name(one) if _name(one) in photos else ""} for one in record["files"]],
    }
    return Made({"head": head_of(view, look)} | record | told, photos)


def _photos(files: list[dict], file: Callable[[str], bytes]) -> dict[str, bytes]:
    """The first 60 photos by the names under which they are shown; the same one is there once."""
    taken = list({_name(one): one["sha256"] for one in files if one["type"].startswith(PICTURES)}.items())[:MOST_PHOTOS]
    small = small_photos((hash for _, hash in taken), file)
    return {name: photo for (name, _), photo in zip(taken, small, strict=True) if photo}


def _name(one: dict) -> str:
    """Short enough that no place to break it is put in."""
    return f"photo-{one['sha256'][:12]}.jpg"


def _slip(one: dict, look: Look) -> dict[str, Any]:
    fasteners = [each | {"asked": look.torque(each["asked"])} for each in one["fasteners"]]
    return one | {"odometer": look.distance(one["at_kilometres"]), "fasteners": fasteners}


def _figures(one: dict, look: Look) -> dict[str, str]:
    """What was asked and what was done, as people read it."""
    torque = look.torque(f"{show_number(one['torque_nm'])} N·m") if one["torque_nm"] is not None else ""
    angle = f"{one['angle_deg']:g}°" if one["angle_deg"] is not None else ""
    return {"asked": look.torque(one["asked"] or ""), "done": " + ".join(filter(None, (torque, angle)))}
