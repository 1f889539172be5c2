"""The papers of a job: as PDF to be printed, and what they say as CSV or JSON."""

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from putback.paper.kinds import PAPERS, Matter, made, pdf
from putback.paper.look import A4, METRIC, Look
from putback.paper.matter import file_name, matter_of
from putback.paper.rows import paper_csv
from putback.web.asked import of_job, settings, stamp, thinking, view
from putback.web.calls import Call
from putback.web.trouble import Json

_TYPES = {"pdf": "application/pdf", "csv": "text/csv; charset=utf-8", "json": "application/json"}
ASKS = {
    "sheet": "`a4` or `letter`",
    "units": "`metric`, or `us` for foot-pounds, miles and quarts beside",
    "language": "of what is printed, such as `en`",
}


def paper(request: Request) -> Response:
    """One paper in one form."""
    kind, _, form = request.path_params["paper"].rpartition(".")
    if kind not in PAPERS or form not in _TYPES:
        raise HTTPException(404, f"there is no such paper; there are: {', '.join(PAPERS)}, each as .pdf, .csv or .json")
    matter = matter_asked(request)
    if form == "json":
        return Json(made(kind, matter).data)
    content = pdf(kind, matter) if form == "pdf" else paper_csv(made(kind, matter).data)
    named = f'{"inline" if form == "pdf" else "attachment"}; filename="{file_name(kind, matter.view, form)}"'
    return Response(content, media_type=_TYPES[form], headers={"content-disposition": named})


def matter_asked(request: Request) -> Matter:
    """What papers of the job are made of, with the wishes behind the question mark.

    Parameters
    ----------
    request : Request
    """
    own, asked = settings(request), request.query_params
    look = Look(asked.get("sheet") or A4, asked.get("units") or METRIC, asked.get("language") or "en", own.address)
    return matter_of(own.ledger, of_job(request), look, stamp(request).now(), thinking(request), view(request))


CALLS = [
    Call(
        "GET",
        "/api/jobs/{job}/papers/{paper}",
        "paper",
        "A paper of the job, such as `estimate.pdf`, `labels.csv` or `record.json`.",
        paper,
        asks=ASKS,
    ),
]
