"""How the belts of a job run: in words, and as drawings under addresses of their own."""

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from putback.desk.belts import belt_svg
from putback.job_json import belt_objects
from putback.web.asked import view
from putback.web.calls import Call

PICTURE = "image/svg+xml"
# The drive was frozen with the job, so a page may show its drawing again without a connection.
KEPT = {"cache-control": "private, max-age=86400"}


def belts(request: Request) -> list:
    """The belts of a job, each in words and with the address of its drawing where there is one."""
    return belt_objects(view(request))


def drawing(request: Request) -> Response:
    """One drawing."""
    seen, number = view(request), request.path_params["belt"].removesuffix(".svg")
    files = dict(zip(map(str, range(1, 1 + len(seen.drives))), seen.drives, strict=True))
    text = belt_svg(seen, files[number]) if number in files else None
    if text is None:
        raise HTTPException(404, f"{seen.state.name}: there is no drawing {number} of a belt")
    return Response(text, media_type=PICTURE, headers=KEPT)


CALLS = [
    Call("GET", "/api/jobs/{job}/belts", "belts", "How the belts of a job run.", belts, "belts"),
    Call("GET", "/api/jobs/{job}/belts/{belt}", "drawing", "One of them as a drawing in SVG: `1.svg`.", drawing),
]
