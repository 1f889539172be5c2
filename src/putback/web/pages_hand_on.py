"""A job passes to a colleague, stops for a while, and is taken up again."""

from starlette.requests import Request
from starlette.responses import Response

from putback.desk import passing_on
from putback.desk.passing_on import hand_on_of, to_confirm
from putback.web.access import one_line
from putback.web.asked import of_job, settings, stamp, view
from putback.web.pages_common import Said, job_page, needed, one_of, posting, under

FACT = "fact: "


def hand_on(request: Request, wrong: tuple[str, ...] = (), status: int = 200) -> Response:
    """The sheet, and what can be done now: hand on or pause, take over, go on."""
    seen, who = view(request), stamp(request)
    state, sheet = seen.state, hand_on_of(seen, who.now())
    mine = bool(state.handed_to) and state.handed_to.casefold() == who.person.casefold()
    said = {"sheet": sheet, "sections": _sections(sheet), "handed_to": state.handed_to, "mine": mine, "fact": FACT}
    return job_page(
        request, "hand_on.html", seen, wrong, status, paused=state.paused, confirm=to_confirm(seen), signed=state.signed, **said
    )


def _sections(sheet) -> list[tuple[str, tuple[str, ...]]]:
    """What the sheet tells in sentences, by heading; only what there is."""
    told = [
        ("Hangs on", sheet.held),
        ("Bare and live once the battery is on", sheet.live),
        ("In by hand only, not tight", [f"{one.count} of {one.of} {one.item}" for one in sheet.loose]),
        ("Parts off or aside", sheet.off),
        ("Unplugged", sheet.unplugged),
        ("Put in", sheet.put_in),
        ("Drained", sheet.drained),
        ("Fasteners out", [f"{one.count} of {one.of} {one.item}{f', {one.where}' if one.where else ''}" for one in sheet.out]),
        ("Not over yet", sheet.waits),
        ("The car differs", sheet.differences),
        ("Questions", sheet.questions),
        ("Owed", sheet.owed),
        ("Last steps, the latest first", sheet.last),
        ("Next", (sheet.next,) if sheet.next else ()),
    ]
    return [(title, tuple(lines)) for title, lines in told if lines]


def _hand(request: Request, said: Said) -> None:
    to = one_line("colleague", needed(said, "to", "say to whom it goes"))
    passing_on.hand_on(settings(request).ledger, of_job(request), stamp(request), to)


def _take_over(request: Request, said: Said) -> None:
    keys = [key for key, _ in under(said, FACT)]
    passing_on.take_over(settings(request).ledger, of_job(request), stamp(request), keys)


def _pause(request: Request, said: Said) -> None:
    passing_on.pause(settings(request).ledger, of_job(request), stamp(request), said.get("reason") or None)


def _resume(request: Request, said: Said) -> None:
    passing_on.resume(settings(request).ledger, of_job(request), stamp(request))


def _confirm(request: Request, said: Said) -> None:
    passing_on.confirm(settings(request).ledger, of_job(request), stamp(request))


ACTIONS = {"hand on": _hand, "take over": _take_over, "pause": _pause, "go on": _resume, "confirm": _confirm}


def does(request: Request, said: Said) -> str:
    """Do what the button says; who takes over goes on to the step now."""
    one_of(ACTIONS, said)(request, said)
    job = of_job(request)
    return f"/jobs/{job}" if said["do"] in ("take over", "confirm") else f"/jobs/{job}/hand-on"


ROUTES = posting("/jobs/{job}/hand-on", hand_on, does)
