"""The area file as it is now beside the copy that a job was opened with; the job keeps its own."""

from collections.abc import Callable, Iterator

from putback.area.area_file import scan_area
from putback.area.model import Area, Fastener, Item
from putback.area.spelling import nearest
from putback.belt.drive import Drive
from putback.desk.opening import File
from putback.desk.view import View
from putback.drive_file import scan_drive


def edited_since(view: View, data: bytes | str, file: str = "the area file") -> list[str]:
    """What differs between the file and the job's own copy in names, counts, threads, torques and what is used once.

    Parameters
    ----------
    view : View
    data : bytes or str
        What the file holds now.
    file : str
        What it is called.

    Returns
    -------
    sentences : list of str
        In the order of the job's copy, then what is new; none where nothing that matters for the job differs. The job
        goes on with its own copy whatever they say.
    """
    if view.area is None:
        return []
    now, findings = scan_area(data, file)
    if now is None or findings:
        return [f"{file} cannot be read as it is now, so nobody knows what differs: {findings[0]}"]
    return list(_differences(view.area, now))


def drives_edited(view: View, beside: Callable[[str], File | None]) -> list[str]:
    """What differs between the drive files that the area names, as they are now, and those of the job.

    Parameters
    ----------
    view : View
    beside : function
        Gives the file of a name that lies beside the area file now, or None

    Returns
    -------
    sentences : list of str
    """
    files = [file for ref in (view.area.drives if view.area else ()) if (file := beside(ref.name))]
    told = ((file.name, _drive_edited(view.drives.get(file.name), file)) for file in files)
    return [f"{name}: {words}" for name, words in told if words]


def _drive_edited(then: Drive | None, file: File) -> str:
    now, findings = scan_drive(file.data, file.name)
    if now is None or findings:
        return f"it cannot be read as it is now: {findings[0].message}"
    if then is None:
        return "how the belt runs is told now, it was not when the job began"
    return "" if now == then else "the belt drive is another in the file now; this job shows the one it began with"


def _differences(then: Area, now: Area) -> Iterator[str]:
    new = [name for name in now.items if name not in then.items]
    for name, item in then.items.items():
        if name in now.items:
            yield from _of_item(item, now.items[name])
        else:
            like = nearest(name, new, 0.7)
            yield f"{name}: not in the file any more{f'; is it called {like} now?' if like else ''}"
    for name in new:
        yield f"{name}: in the file now, not when the job began; this job does not ask for it"


def _of_item(then: Item, now: Item) -> Iterator[str]:
    for what, before, after in _said(then, now):
        if before != after:
            yield f"{then.name}: {what} {_told(after)} in the file now, {_told(before)} in this job"


def _said(then: Item, now: Item) -> Iterator[tuple[str, object, object]]:
    yield "part", then.owner, now.owner
    yield "states", ", ".join(then.states), ", ".join(now.states)
    if then.fastener or now.fastener:
        one, other = then.fastener or Fastener(0), now.fastener or Fastener(0)
        yield "count", one.count, other.count
        yield "thread", _thread(one), _thread(other)
        yield "torque", _torque(one), _torque(other)
        yield "one-time", one.one_time, other.one_time
        yield "left-hand", one.left_hand, other.left_hand


def _thread(fastener: Fastener) -> str | None:
    return fastener.thread.text if fastener.thread else None


def _torque(fastener: Fastener) -> str | None:
    return fastener.torque.shown if fastener.torque else None


def _told(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "none" if value is None else str(value)
