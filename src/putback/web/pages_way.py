"""The way: out and back as a picture with the line of now, why each part is touched, and the other ways on request."""

from itertools import groupby, takewhile

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.chart import chart_svg, stored_plan
from putback.desk.differs import plan_again
from putback.desk.others import other_ways
from putback.desk.view import View
from putback.desk_text import total_words
from putback.job.plan_moves import Left, moves_left
from putback.job.state import whole_job
from putback.job_json import belt_objects
from putback.web.asked import of_job, settings, stamp, thinking, view
from putback.web.pages_common import Said, job_page, posting

HEADINGS = {"in": "Way in", "swap": "Swap", "back": "Way back"}
PICTURE = "image/svg+xml"


def way(request: Request, wrong: tuple[str, ...] = (), status: int = 200) -> Response:
    """The plan in force, and what is done of it; with `?others=1` what else could be done from here."""
    seen = view(request)
    asked = request.query_params.get("others") == "1" and seen.area is not None
    others = other_ways(seen, stamp(request).now(), thinking(request)) if asked else []
    return job_page(
        request,
        "way.html",
        seen,
        wrong,
        status,
        plan=seen.plan,
        belts=belt_objects(seen),
        described=seen.area is not None,
        legs=_legs(seen),
        others=[(one, total_words(one.total)) for one in others],
        plans=_plans(seen),
    )


def _legs(seen: View) -> list[tuple[str, list[dict]]]:
    """The steps by leg of the way, those of one part together with the reason why it is touched."""
    moves = _moves(seen)
    return [(HEADINGS[leg], [_stretch(part, list(some)) for part, some in groupby(found, _part)]) for leg, found in groupby(moves, _leg)]


def _moves(seen: View) -> list[Left]:
    return moves_left(seen.state, seen.car, seen.plan) if seen.plan else []


def _leg(move: Left) -> str:
    return move.step["direction"]


def _part(move: Left) -> str:
    return move.step.get("part", "")


def _stretch(part: str, moves: list[Left]) -> dict:
    chain = moves[0].step.get("reason", [])
    rows = [{"number": one.step["number"], "text": one.step["text"], "minutes": one.step.get("minutes"), "done": not one.left} for one in moves]
    return {"part": part, "why": chain, "steps": rows}


def _plans(seen: View) -> list[dict]:
    """What the whole job was to come to by each plan, the latest first."""
    return [
        {
            "why": one.get("why") or "",
            "minutes": whole_job(one, "minutes"),
            "money": None if (cents := whole_job(one, "money")) is None else cents / 100,
        }
        for one in reversed(seen.state.plans)
    ]


def picture(request: Request) -> Response:
    """The chart of the plan in force."""
    seen = view(request)
    if seen.plan is None or seen.area is None:
        raise HTTPException(404, f"{seen.state.name}: it has no plan, so there is no picture of it")
    done = len(list(takewhile(lambda one: not one.left, _moves(seen))))
    return Response(chart_svg(stored_plan(seen.plan, seen.area.items), done=done), media_type=PICTURE)


def does(request: Request, said: Said) -> str:
    """Plan again from where the job stands, with or without a wish."""
    wishes = {name: _listed(said.get(name, "")) for name in ("avoid", "without")}
    why = said.get("why") or None
    told = plan_again(settings(request).ledger, of_job(request), stamp(request), thinking(request), why, **wishes)
    if told.no_way:
        raise told.no_way
    return f"/jobs/{of_job(request)}/way"


def _listed(text: str) -> list[str]:
    return [one.strip() for one in text.split(",") if one.strip()]


ROUTES = [*posting("/jobs/{job}/way", way, does), Route("/jobs/{job}/way.svg", picture)]
