"""Trouble as a page or as JSON: one sentence and, for programs, one shape."""

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from putback.errors import Findings, NoWay, PutbackError

NO, NOT_FOUND, UNUSABLE, FAULT = 409, 404, 400, 500


def as_json(status: int, sentence: str, findings: tuple[str, ...] = ()) -> JSONResponse:
    """The one shape in which the API tells trouble.

    Parameters
    ----------
    status : int
        Of HTTP.
    sentence : str
        What is wrong and what to do.
    findings : tuple of str
        Each by itself, where there are several.
    """
    return JSONResponse({"error": {"status": status, "sentence": sentence, "findings": list(findings)}}, status)


def refused(headers: Headers, status: int, sentence: str) -> Response:
    """Trouble for whoever asked: JSON where the API was asked or JSON is wanted, a page otherwise."""
    if "application/json" in headers.get("accept", "") or headers.get("content-type", "").startswith("application/json"):
        return as_json(status, sentence)
    return as_page(status, sentence)


def as_page(status: int, sentence: str, findings: tuple[str, ...] = ()) -> Response:
    """Trouble as a page with a way back."""
    from putback.web.render import page

    return page("trouble.html", status=status, sentence=sentence, findings=findings, code=status)


def told(request: Request, error: Exception) -> Response:
    """Turn what went wrong into an answer; no traceback leaves the program.

    Parameters
    ----------
    request : Request
    error : Exception
    """
    status, sentence, findings = _sentence(error)
    answer = as_json if request.url.path.startswith("/api/") else as_page
    return answer(status, sentence, findings)


def _sentence(error: Exception) -> tuple[int, str, tuple[str, ...]]:
    match error:
        case HTTPException(status_code=404):
            return NOT_FOUND, "there is no such page; go back to the list of jobs", ()
        case HTTPException():
            return error.status_code, error.detail, ()
        case Findings():
            texts = tuple(map(str, error.findings))
            return UNUSABLE, f"{len(texts)} things to put right", texts
        case NoWay():
            return NO, str(error), ()
        case PutbackError():
            return UNUSABLE, str(error), ()
    return FAULT, "a fault in the program itself; nothing that was logged is lost. The server's terminal tells more", ()
