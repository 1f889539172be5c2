"""What can be printed of a job; and the page of one item, which the codes on labels lead to."""

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.view import View
from putback.errors import InputError
from putback.job.next_step import next_steps
from putback.job.plan_step import tray, turn, where
from putback.job.trays import tray_map
from putback.paper.kinds import PAPERS
from putback.paper.look import SHEETS, UNITS
from putback.web.asked import stamp, view
from putback.web.pages_common import job_page

SHEET_WORDS, UNIT_WORDS = (
    dict(zip(SHEETS, ("A4", "Letter"), strict=True)),
    dict(zip(UNITS, ("N·m, km, l", "US units beside"), strict=True)),
)


def papers(request: Request) -> Response:
    """Links to all papers, on the sheet and in the units that are chosen."""
    seen, asked = view(request), request.query_params
    sheet, units = (asked.get("sheet") or SHEETS[0]), (asked.get("units") or UNITS[0])
    if sheet not in SHEETS or units not in UNITS:
        raise InputError("choose the sheet and the units from those on the page")
    found = [
        {"kind": kind, "title": one.title, "words": one.words, "lacks": _lacks(one, seen)}
        for kind, one in PAPERS.items()
    ]
    return job_page(
        request, "papers.html", seen, papers=found, sheet=sheet, units=units, sheets=SHEET_WORDS, unit_words=UNIT_WORDS
    )


def _lacks(paper, seen: View) -> str:
    return "nothing is planned yet" if paper.planned and seen.plan is None else ""


def item(request: Request) -> Response:
    """Where one item is, how it stands, what is still to do about it, and what was noted of it."""
    seen, name = view(request), request.path_params["item"]
    if not _is_known(name, seen):
        raise HTTPException(404, f"{seen.state.name}: nothing of this job is called so")
    fastener, described, group = seen.car.fastener(name), seen.car.items.get(name), seen.state.groups.get(name)
    steps = [step for step in next_steps(seen.state, seen.car, seen.plan, stamp(request).now()) if step.item == name]
    facts = {
        "part": (described.owner if described else group.belongs_to if group else "") or "",
        "size": (fastener.thread.text if fastener and fastener.thread else group.size if group else "") or "",
        "tray": _tray(name, seen),
        "stands": _stands(name, seen),
        "where": where(name, seen.car),
        "torque": fastener.torque.shown if fastener and fastener.torque else "",
        "turn": turn(name, True, seen.car),
        "tools": " or ".join(" + ".join(tools) for tools in described.base.tools) if described else "",
    }
    return job_page(request, "item.html", seen, item=name, steps=steps, notes=seen.state.notes.get(name, []), **facts)


def _is_known(name: str, seen: View) -> bool:
    return any(name in known for known in (seen.car.items, seen.state.groups, seen.state.items))


def _tray(name: str, seen: View) -> str:
    """Where it lies, or is to go."""
    positions = tray_map(seen.state, seen.car, seen.plan)
    return tray(name, False, seen.state, positions) or positions.get(name, "")


def _stands(name: str, seen: View) -> str:
    """How it stands, as far as the log knows."""
    group, moved = seen.state.groups.get(name), seen.state.items.get(name)
    if group is None:
        return moved.state if moved else "nobody has touched it"
    told = [
        f"{count} {words}"
        for count, words in ((group.out, "out"), (group.hand_tight, "in by hand, not tight"))
        if count
    ]
    return ", ".join(told) or f"all {group.total} in" if group.touched else "nobody has touched it"


ROUTES = [Route("/jobs/{job}/papers", papers), Route("/jobs/{job}/item/{item:path}", item)]
