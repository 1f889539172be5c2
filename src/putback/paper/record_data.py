"""The record of a job as plain values: what the room `job` makes of the log, with photos and torques as they are read."""

from collections.abc import Callable
from typing import Any

from putback.desk.handing_over import record_of
from putback.desk.view import View
from putback.errors import InputError
from putback.paper.head import head_of
from putback.paper.job_sheet_data import Made
from putback.paper.look import Look
from putback.paper.photos import small_photo
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
    files: dict[str, bytes] = {}
    shown = [_file(one, file, files) for one in record["files"]]
    fasteners = [one | _figures(one, look) for one in record["fasteners"]]
    fluids = [one | {"out": look.litres(one["out_l"]), "in": look.litres(one["in_l"])} for one in record["fluids"]]
    slips = [one | {"odometer": look.distance(one["at_kilometres"]), "fasteners": [each | {"asked": look.torque(each["asked"])} for each in one["fasteners"]]} for one in record["slips"]]
    told = {"fasteners": fasteners, "fluids": fluids, "slips": slips, "files": shown}
    return Made({"head": head_of(view, look)} | record | told, files)


def _figures(one: dict, look: Look) -> dict[str, str]:
    """What was asked and what was done, as people read it."""
    torque = look.torque(f"{show_number(one['torque_nm'])} N·m") if one["torque_nm"] is not None else ""
    angle = f"{one['angle_deg']:g}°" if one["angle_deg"] is not None else ""
    return {"asked": look.torque(one["asked"] or ""), "done": " + ".join(filter(None, (torque, angle)))}


def _file(one: dict, file: Callable[[str], bytes], files: dict[str, bytes]) -> dict[str, Any]:
    """A file of the job; the first 60 photos are shown, the others named."""
    name = ""
    if one["type"].startswith(PICTURES) and len(files) < MOST_PHOTOS:
        try:
            photo = small_photo(file(one["sha256"]))
        except InputError:  # a file that was lost does not cost the record
            photo = None
        if photo:
            name = f"photo-{len(files) + 1}.jpg"
            files[name] = photo
    return one | {"shown": name}
