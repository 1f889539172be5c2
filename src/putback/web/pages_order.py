"""Parts: what the job takes, what of it is ordered, here, wrong or returned."""

from collections.abc import Iterator

from starlette.requests import Request
from starlette.responses import Response

from putback.desk.view import View
from putback.estimate.to_order import HERE, NEEDED, NEW_PART, ONE_TIME, ORDERED, RETURNED, USED_UP, WRONG, Ordered
from putback.web.asked import of_job, view
from putback.web.pages_common import Said, job_page, log, needed, one_of, posting, whole

BAD = "part found wrong"
# What a button says, the status of those it is for, the event that it logs.
BUTTONS = {
    "Ordered": (NEEDED, "part ordered"),
    "In stock": (NEEDED, "part arrived"),
    "Here": (ORDERED, "part arrived"),
    "Wrong": (HERE, BAD),
    "Returned": (WRONG, "part returned"),
}


def order(request: Request, wrong: tuple[str, ...] = (), status: int = 200) -> Response:
    """The list, and what to lay out."""
    seen = view(request)
    wrong_ones = seen.state.wrong
    lines = [
        {"line": line, "buttons": _buttons(line), "here": line.at(HERE), "wrong": wrong_ones.get(line.name)} for line in to_order(seen)
    ]
    return job_page(request, "order.html", seen, wrong, status, lines=lines, plan=seen.plan or {})


def to_order(seen: View) -> Iterator[Ordered]:
    """What the plan in force takes, then what somebody has ordered besides, each with how it stands.

    Parameters
    ----------
    seen : View
    """
    planned = {one["name"]: one for one in (seen.plan or {}).get("new_parts", ())}
    for name in dict.fromkeys((*planned, *seen.state.targets, *seen.state.parts)):
        pieces = _pieces(seen.state.parts.get(name, {}))
        count = planned.get(name, {}).get("count") or max(1, pieces.get(ORDERED, 0) + pieces.get(HERE, 0))
        match = seen.area.match if seen.area and name in seen.state.targets else ()
        yield Ordered(name, _kind(name, seen), count, _about(name, seen), match=match, pieces=pieces)


def _pieces(row: dict[str, int]) -> dict[str, int]:
    """How many stand where, from how many were ever ordered, came, were wrong and went back."""
    ever = [row.get(name, 0) for name in ("ordered", "arrived", "wrong", "returned")]
    ordered, here, bad = (max(0, one - after) for one, after in zip(ever, ever[1:], strict=False))
    found = {ORDERED: ordered, HERE: here, WRONG: bad, RETURNED: ever[3]}
    return {status: count for status, count in found.items() if count}


def _kind(name: str, seen: View) -> str:
    if name in seen.state.targets:
        return NEW_PART
    fastener = seen.car.fastener(name)
    return ONE_TIME if fastener and fastener.one_time else USED_UP


def _about(name: str, seen: View) -> str:
    described = seen.car.items.get(name)
    if described is None:
        return ""
    return described.about or seen.car.named(name).removeprefix(name).removeprefix(", ")


def _buttons(line: Ordered) -> dict[str, int]:
    """What can be said of it now, each with how many that would be for; a fault has a form of its own."""
    found = {words: line.at(status) for words, (status, kind) in BUTTONS.items() if kind != BAD}
    return {words: count for words, count in found.items() if count}


def does(request: Request, said: Said) -> str:
    """Log what became of a part."""
    part = needed(said, "part", "say which part")
    _, kind = one_of(BUTTONS, said)
    note = said.get("note") or None if kind == BAD else None
    log(request, kind, part=part, count=whole(said.get("count") or "1", part), note=note)
    return f"/jobs/{of_job(request)}/order"


ROUTES = posting("/jobs/{job}/order", order, does)
