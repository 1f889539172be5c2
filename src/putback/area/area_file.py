"""Reading an area file: text in, an Area out, or everything that is wrong with it at once."""

from dataclasses import replace
from typing import Any

from putback.area import judge
from putback.area.area_shapes import AREA
from putback.area.build import SECTIONS, Builder
from putback.area.model import POSTURES, Area, FollowUp, JobWork, NewPart, Ref, Target
from putback.area.notes import Notes, bounded
from putback.area.shape import Report, Row, read_row
from putback.errors import Findings, InputError


def read_area(data: bytes | str, file: str) -> Area:
    """Read an area file.

    Parameters
    ----------
    data : bytes or str
        What the file holds; bytes must be UTF-8.
    file : str
        Its name, for the places in messages.

    Returns
    -------
    area : Area

    Raises
    ------
    Findings
        Everything found wrong, sorted by place.
    """
    area, findings = scan_area(data, file)
    if findings:
        raise Findings(findings)
    return area


def scan_area(data: bytes | str, file: str) -> tuple[Area | None, list[InputError]]:
    """Like `read_area`, but gives the findings back; with them the area may be incomplete or None."""
    return bounded(lambda notes: _scanned(data, file, notes), file)


def _scanned(data: bytes | str, file: str, notes: Notes) -> Area | None:
    row = read_row(AREA, data, file, notes)
    if row is None:
        return None
    area = _area(row, file, notes.append)
    notes += judge.findings(area)
    return area


def _area(row: Row, file: str, report: Report) -> Area:
    return Area(
        name=row.get("name", ""),
        file=file,
        items=_items(row, report),
        targets=_targets(row),
        vantages={name.name: POSTURES[posture] for name, posture in row.get("work from", ())},
        vehicle=row.get("vehicle", ""),
        figures_from=row.get("figures from"),
        battery=row.get("battery"),
        drives=row.get("drive", ()),
        stands_on=row.get("on the ground", {}).get("stands on", ()),
        turns=_settings(row),
        variants={name.name: values for name, values in row.get("variants", ())},
        always_new=tuple(NewPart(name.name, price, count) for name, (count, price) in row.get("always new", ())),
        job_work=_job_work(row.get("job work", {})),
        follow_ups=_follow_ups(row),
        spoilt=tuple(row.spoilt),
        match=tuple((name.name, value) for name, value in row.get("match", ())),
    )


def _items(row: Row, report: Report) -> dict:
    builder = Builder(_settings(row), report, {})
    for section, kind in SECTIONS.items():
        for name, thing in row.get(section, ()):
            builder.thing(name, thing, kind)
    for name, thing in row.get("put in", ()):
        builder.put_in(name, thing)
    return builder.items


def _settings(row: Row) -> dict[str, tuple[str, ...]]:
    return {name.name: values for name, values in row.get("turns", ())}


def _targets(row: Row) -> tuple[Target, ...]:
    return tuple(Target(name, said.get("new", 0), said.get("core deposit", 0)) for name, said in row.get("targets", ()))


def _job_work(row: dict) -> tuple[JobWork, ...]:
    times = (("before", "before"), ("at the swap", "swap"), ("after", "after"))
    said = [(name.name, when, *_taking(one)) for key, when in times for name, one in row.get(key, ())]
    return tuple(JobWork(name, when, spread, after) for name, when, spread, after in said if spread is not None)


def _follow_ups(row: Row) -> dict[str, FollowUp]:
    said = [(name.name, *_taking(one)) for name, one in row.get("follow-ups", ())]
    return {name: _named(name, takes, after) for name, takes, after in said if takes is not None}


def _taking(said: object) -> tuple[Any, tuple[Ref, ...]]:
    """What work takes, and what it comes after; the first alone where it stands in one line."""
    return (said.get("takes"), said.get("after", ())) if isinstance(said, Row) else (said, ())


def _named(name: str, said: FollowUp, after: tuple[Ref, ...]) -> FollowUp:
    return replace(said, name=name, sublet=said.sublet or name if said.sublet is not None else None, after=after)
