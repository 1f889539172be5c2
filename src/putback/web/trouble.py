"""Trouble as a page or as JSON: one sentence and, for programs, one shape."""

import json
from http import HTTPStatus
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response

from putback.errors import Findings, LedgerError, NoWay, PutbackError

NO, NOT_FOUND, UNUSABLE, LATER, FAULT = 409, 404, 400, 503, 500
# What starlette says by itself, in a sentence of ours.
SENTENCES = {
    404: "there is no such page; go back to the list of jobs",
    405: "this address takes no such request; the description of the API tells which",
}


class Json(JSONResponse):
    """JSON in UTF-8; half a sign, which UTF-8 cannot say, is written as JSON escapes it."""

    def render(self, content: Any) -> bytes:
        """The bytes of it.

        Parameters
        ----------
        content : JSON values
        """
        text = json.dumps(content, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
        return text.encode("utf-8", "backslashreplace")


def as_json(status: int, sentence: str, findings: tuple[str, ...] = ()) -> Response:
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
    return Json({"error": {"status": status, "sentence": sentence, "findings": list(findings)}}, status)


def as_page(status: int, sentence: str, findings: tuple[str, ...] = ()) -> Response:
    """Trouble as a page with a way back."""
    from putback.web.render import page

    return page("trouble.html", status=status, sentence=sentence, findings=findings, code=status)


def refused(path: str, status: int, sentence: str, findings: tuple[str, ...] = ()) -> Response:
    """Trouble for whoever asked: JSON where the API was asked, a page otherwise.

    Parameters
    ----------
    path : str
        What was asked for.
    status : int
        Of HTTP.
    sentence : str
    findings : tuple of str
    """
    return (as_json if path.startswith("/api/") else as_page)(status, sentence, findings)


def told(request: Request, error: Exception) -> Response:
    """Turn what went wrong into an answer; no traceback leaves the program.

    Parameters
    ----------
    request : Request
    error : Exception
    """
    answer = refused(request.url.path, *_sentence(error))
    answer.headers.update(getattr(error, "headers", None) or {})
    return answer


def _sentence(error: Exception) -> tuple[int, str, tuple[str, ...]]:
    match error:
        case HTTPException(status_code=status):
            own = error.detail == HTTPStatus(status).phrase
            return status, SENTENCES.get(status, error.detail) if own else error.detail, ()
        case ClientDisconnect():
            return UNUSABLE, "the connection broke off before all of it was here; send it again", ()
        case Findings():
            texts = tuple(map(str, error.findings))
            return UNUSABLE, f"{len(texts)} things to put right", texts
        case NoWay():
            return NO, str(error), ()
        case LedgerError():
            return LATER, str(error), ()
        case PutbackError():
            return UNUSABLE, str(error), ()
    return FAULT, "a fault in the program itself; nothing that was logged is lost. The server's terminal tells more", ()
