"""The hand-over: every open point with the way back to it, answers by name, and the signature."""

from starlette.requests import Request
from starlette.responses import Response

from putback.desk import handing_over
from putback.desk.reach import Reach, reaches
from putback.job.audit import bars
from putback.job.points import ASK, REMARK, STOP
from putback.web.access import one_line
from putback.web.asked import of_job, settings, stamp, thinking, view
from putback.web.pages_common import Said, job_page, log, needed, one_of, posting
from putback.web.people import may_sign

TITLES = {STOP: "Must be done", ASK: "Done, or answered for by name", REMARK: "For the record"}


def hand_over(request: Request, wrong: tuple[str, ...] = (), status: int = 200) -> Response:
    """What stands open; what it costs to reach is asked for by the page's script, or with `?costs=1`."""
    seen = view(request)
    costs = reaches(seen, stamp(request).now(), thinking(request)) if request.query_params.get("costs") == "1" else {}
    groups = [(weight, title, [point for point in seen.points if point.weight == weight]) for weight, title in TITLES.items()]
    return job_page(
        request,
        "hand_over.html",
        seen,
        wrong,
        status,
        groups=[group for group in groups if group[2]],
        costs={key: reach.words.removeprefix(f"{reach.item}: ") for key, reach in costs.items() if _is_worth_saying(reach)},
        barring=sum(1 for point in seen.points if bars(point)),
        state=seen.state,
    )


def _is_worth_saying(reach: Reach) -> bool:
    """Where nothing has to be opened there is nothing to say."""
    return bool(reach.parts) or reach.off is None


def _answer(request: Request, said: Said) -> str:
    """Somebody takes a point on himself."""
    by = one_line("signer", needed(said, "by", "say who answers for it"))
    keys = {point.key for point in view(request).points if point.weight == ASK}
    if said.get("point") in keys:  # else it was settled meanwhile, and nobody has to answer for it
        reason = needed(said, "reason", "say the reason; it goes on the record")
        may_sign(request, by, said.get("pin", ""))
        log(request, "point accepted", point=said["point"], reason=reason, by=by)
    return f"/jobs/{of_job(request)}/hand-over"


def _sign(request: Request, said: Said) -> str:
    """Hand over, or be told what bars it."""
    by = one_line("signer", needed(said, "by", "say who signs"))
    may_sign(request, by, said.get("pin", ""))
    job, own = of_job(request), settings(request)
    told = handing_over.hand_over(own.ledger, job, stamp(request), thinking(request), by, said.get("customer") or None)
    return f"/jobs/{job}/hand-over?costs=1" if told.barred else f"/jobs/{job}/record"


ACTIONS = {"answer": _answer, "sign": _sign}


def does(request: Request, said: Said) -> str:
    """Answer for a point, or sign."""
    return one_of(ACTIONS, said)(request, said)


ROUTES = posting("/jobs/{job}/hand-over", hand_over, does)
