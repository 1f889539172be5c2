"""Labels for trays and bags as plain values: whose fasteners these are, where they go, how long and thick they are."""

from io import BytesIO
from typing import Any, NamedTuple
from urllib.parse import quote

from putback.desk.view import View
from putback.errors import InputError
from putback.job.plan_step import is_renewed
from putback.job.trays import Label, labels
from putback.paper.head import head_of
from putback.paper.job_sheet_data import Made
from putback.paper.look import Look
from putback.paper.signs import short

NAME, PART = 46, 40  # signs there is room for
LONGEST, THICKEST = 150.0, 24.0  # mm; what is longer or thicker is not drawn


class Drawn(NamedTuple):
    """A thread as it is drawn in its own size: diameter and length [mm]; no length where it is not known."""

    diameter: float
    length: float | None


def labels_of(view: View, look: Look) -> Made:
    """All labels of a job.

    Parameters
    ----------
    view : View
    look : Look

    Raises
    ------
    InputError
        There is nothing to lay into a tray.
    """
    found = labels(view.state, view.car, view.plan)
    if not found:
        raise InputError(
            f"{view.state.name}: no fastener comes off, so there is nothing to label; plan first, or log what came off"
        )
    files: dict[str, bytes] = {}
    rows = [_row(one, view, look, number, files) for number, one in enumerate(found, 1)]
    return Made({"head": head_of(view, look), "labels": rows}, files)


def _row(label: Label, view: View, look: Look, number: int, files: dict[str, bytes]) -> dict[str, Any]:
    fastener, item = view.car.fastener(label.group), view.car.items.get(label.group)
    group = view.state.groups.get(label.group)
    part = (item.owner if item else "") or (group.belongs_to if group else "") or ""
    size = fastener.thread.text if fastener and fastener.thread else (group.size if group else "")
    drawn = _drawn(fastener)
    page = item_page(view.id, label.group, look)
    if page:
        files[f"code-{number}.svg"] = code(page)
    return {
        "position": label.position,
        "item": short(label.group, NAME),
        "part": short(part, PART),
        "count": label.count,
        "size": short(size, PART),
        "noun": fastener.noun if fastener else "",
        "where": short(fastener.where if fastener else "", PART),
        "torque": look.torque(fastener.torque.shown) if fastener and fastener.torque else "",
        "left_hand": bool(fastener and fastener.left_hand),
        "scrap": is_renewed(label.group, view.car),
        "diameter_mm": drawn.diameter if drawn else None,
        "length_mm": drawn.length if drawn else None,
        "page": page,
        "code": f"code-{number}.svg" if page else "",
    }


def _drawn(fastener) -> Drawn | None:
    thread = fastener.thread if fastener else None
    if thread is None or thread.diameter > THICKEST:
        return None
    return Drawn(thread.diameter, thread.length if thread.length and thread.length <= LONGEST else None)


def item_page(job: str, item: str, look: Look) -> str:
    """The address of an item's page; empty without a server.

    Parameters
    ----------
    job, item : str
    look : Look
    """
    return f"{look.address.rstrip('/')}/jobs/{quote(job, safe='')}/item/{quote(item, safe='')}" if look.address else ""


def code(text: str) -> bytes:
    """A text as a QR code, as SVG (ISO/IEC 18004, level M).

    Parameters
    ----------
    text : str
    """
    import segno

    to = BytesIO()
    segno.make(text, error="m", micro=False).save(
        to, kind="svg", border=2, xmldecl=False, svgclass=None, lineclass=None
    )
    return to.getvalue()
