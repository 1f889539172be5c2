"""The list of jobs, and opening one."""

from itertools import groupby

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.jobs import HANDED_OVER, open_jobs
from putback.web.asked import settings
from putback.web.render import page


def job_list(request: Request) -> Response:
    """Jobs, grouped by what each waits for."""
    everything = request.query_params.get("all") == "1"
    lines = open_jobs(settings(request).ledger, signed=everything)
    groups = [(waits_for, list(group)) for waits_for, group in groupby(lines, lambda line: line.waits_for)]
    return page("jobs.html", groups=groups, handed_over=HANDED_OVER, all=everything)


ROUTES = [Route("/", job_list)]
