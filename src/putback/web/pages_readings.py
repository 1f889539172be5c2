"""Readings: what was read, what that makes of the suspects, the test worth doing next, and before against after."""

from collections.abc import Iterator
from time import perf_counter

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.concluding import weigh_again, weigh_and_keep
from putback.desk.planning import Thinking
from putback.desk.reading_names import reading_said
from putback.desk.view import View
from putback.desk.weighing import Weighed, form_of, weigh_kept
from putback.errors import Findings, InputError, PutbackError
from putback.job.ledger import LARGEST_FILE
from putback.models import BUILT_IN
from putback.models.form import NOT_FITTED, Reading
from putback.web.access import one_line
from putback.web.asked import of_job, settings, stamp, view
from putback.web.pages_common import Said, done, job_page, one_of, posting, under
from putback.weighed_text import next_words, proof_words, reasons, set_words, suspects, verdict_words

READ = "read: "
PLACES = ("posts", "stud")  # where the leads of a recorder may have been


def readings(request: Request, wrong: tuple[str, ...] = (), status: int = 200) -> Response:
    """What the readings say so far, and where the next ones are written down."""
    seen = view(request)
    try:
        found = weigh_kept(seen, _thinking()) if form_of(seen) else None
    except PutbackError as trouble:
        found, wrong = None, (*wrong, str(trouble))
    shown = _shown(found, seen) if found else {"models": BUILT_IN}
    return job_page(request, "readings.html", seen, wrong, status, read=READ, found=found, **shown)


def _shown(found: Weighed, seen: View) -> dict:
    first, others = _asked(found, bool(seen.state.swapped))
    return {
        "verdict": verdict_words(found),
        "go": found.answer.verdict == "go",
        "reasons": reasons(found),
        "suspects": [(name, share, round(100 * share)) for name, share in suspects(found)],
        "sets": set_words(found),
        "next": next_words(found) if not seen.state.swapped else (),
        "behind": [(found.form.readings[name].what, item) for name, item in found.behind.items()],
        "first": first,
        "others": others,
        "proofs": [proof_words(found, one) for one in found.proofs] if seen.state.swapped else (),
        "swapped": bool(seen.state.swapped),
    }


def _asked(found: Weighed, swapped: bool) -> tuple[list[dict], list[dict]]:
    """A field for each reading: those that are wanted now, and all others, what was read first."""
    wanted = dict.fromkeys(_wanted(found, swapped))
    now = found.after if swapped else found.before
    fields = {name: _field(one, now.get(name)) for name, one in found.form.readings.items()}
    others = [field for name, field in fields.items() if name not in wanted]
    return [fields[name] for name in wanted], sorted(others, key=lambda field: not field["value"])


def _wanted(found: Weighed, swapped: bool) -> Iterator[str]:
    if swapped:
        yield from (one.reading for one in found.proofs)
        return
    yield from (*found.answer.again, *found.answer.missing)
    for one in found.answer.next:
        yield from (name for name in found.form.tests[one.test].asks if name not in found.before)


def _field(one: Reading, value: float | str | None) -> dict:
    words = [] if one.free else [*one.choices]
    value = f"{value:g}" if isinstance(value, float) else value or ""
    words += [NOT_FITTED] if words and one.without else []
    return {
        "name": one.name,
        "what": one.what,
        "unit": one.unit,
        "words": words,
        "value": value,
        "figure": bool(one.unit),
    }


def _keep(request: Request, said: Said) -> None:
    """Log every field that was filled in and says something new; all or none."""
    seen, who = view(request), stamp(request)
    form = form_of(seen)
    if form is None:
        raise InputError("choose the model first")
    known = weigh_kept(seen, _thinking())
    now = known.after if seen.state.swapped else known.before
    events, wrong = [], []
    for name, text in under(said, READ):
        try:
            read = reading_said(form, name, text)
        except InputError as error:
            wrong.append(error)
            continue
        if now.get(name) != read.get("value", read.get("word")):
            events.append(who.event(seen.id, "reading taken", **read))
    if wrong:
        raise Findings(wrong)
    if not events:
        raise InputError("nothing new was written; fill in what you have read")
    settings(request).ledger.append(events)
    weigh_again(settings(request).ledger, seen.id, who, _thinking(), events)


def _choose(request: Request, said: Said) -> None:
    if said.get("model") not in BUILT_IN:
        raise InputError(f"choose one of {', '.join(BUILT_IN)}")
    weigh_and_keep(settings(request).ledger, of_job(request), stamp(request), _thinking(), said["model"])


def _thinking() -> Thinking:
    return Thinking(perf_counter)


ACTIONS = {"keep": _keep, "choose": _choose}


def does(request: Request, said: Said) -> str:
    """Log what was read, or go by another model."""
    one_of(ACTIONS, said)(request, said)
    return f"/jobs/{of_job(request)}/readings"


async def brought(request: Request) -> Response:
    """Take a record that was brought."""
    async with request.form(max_files=1, max_fields=4) as form:
        said = {name: value.strip() for name, value in form.items() if isinstance(value, str)}
        sent = form.get("file")
        if isinstance(sent, UploadFile):
            said["sent as"], said["data"] = sent.filename or "", await sent.read(LARGEST_FILE + 1)
    return await run_in_threadpool(done, request, said, readings, _bring)


def _bring(request: Request, said: dict) -> str:
    from putback.desk.recording import keep_record

    if not said.get("data"):
        raise InputError("choose the file of a record first")
    seen, who, ledger = view(request), stamp(request), settings(request).ledger
    name = one_line("file", said["sent as"].replace("\\", "/").rpartition("/")[2][:200] or "record.csv")
    at = said.get("at") if said.get("at") in PLACES else None
    events = keep_record(ledger, seen, who, name, said["data"], at)
    weigh_again(ledger, seen.id, who, _thinking(), events)
    return f"/jobs/{seen.id}/readings"


ROUTES = [
    *posting("/jobs/{job}/readings", readings, does),
    Route("/jobs/{job}/readings/record", brought, methods=["POST"]),
]
