"""The belt of a job: how it runs, and what is to be thought of it as it lies, of another one, and of what is seen.

Nothing is logged here; what is asked stands in the address, so that a page may be shown to a colleague.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.belt.advise import Advice
from putback.belt.drive import BACK, RIBS, Drive, Stop
from putback.belt.finding import Finding
from putback.belt.judge import judge_route
from putback.belt.profile import read_mark
from putback.belt.replacement import judge_belt
from putback.belt.route import side_on
from putback.belt.standing import judge_arm
from putback.belt.tone import judge_tone
from putback.belt_seen import hertz, seen
from putback.desk.belts import advice_of
from putback.desk.view import View
from putback.drive_file import must_hold
from putback.drive_phrases import angle
from putback.errors import InputError
from putback.job_json import belt_objects
from putback.torque_text import sentences
from putback.web.asked import view
from putback.web.pages_common import job_page

MOST_OFF = 3  # ribs; more than that nobody overlooks
NOT_ON = "-"
WEAR = ("cracks", "gauge", "torn", "offset")
USUAL_PROFILE = "PK"  # what belts of cars have, as a rule
_BARE = re.compile(r"\d+(?:[.,]\d+)?")
Said = Mapping[str, str]


class Answer(NamedTuple):
    """What was asked, and what is to be thought of it; no finding is a good answer."""

    about: str
    findings: tuple[Finding, ...]


class Place(NamedTuple):
    """A pulley as the form shows it: its number in the drive, its name, its place on the route or `NOT_ON`, the side of
    the belt, ribs off."""

    number: int
    pulley: str
    at: str
    side: str
    off: str


def belt(request: Request) -> Response:
    """The page, with answers to what was asked."""
    looked = view(request)
    said = {name: value.strip() for name, value in request.query_params.items() if value.strip()}
    belts = belt_objects(looked)
    chosen = _chosen(said, len(belts))
    drive = list(looked.drives.values())[chosen] if belts else None
    advice = advice_of(drive) if drive else None
    answers, wrong = _tried(said, drive, advice)
    return job_page(
        request,
        "belt.html",
        looked,
        wrong,
        400 if wrong else 200,
        belts=belts,
        chosen=chosen,
        answers=[(one.about, [(each.verdict, *sentences([each.words])) for each in one.findings]) for one in answers],
        said=said,
        seen_asked=any(name in said for name in WEAR),
        places=_places(drive, advice, said) if drive else [],
        runs=_runs(advice) if advice and advice.right else [],
        most_off=MOST_OFF,
        has_arm=bool(advice and advice.right and advice.right.angle is not None),
        can_sound=bool(drive and drive.belt.mass),
    )


def is_for(looked: View) -> bool:
    """Whether a job has anything to do with a belt, as far as is known.

    Parameters
    ----------
    looked : View
    """
    return looked.area is None or bool(looked.drives) or any(item.kind == "belt" for item in looked.car.items.values())


def _chosen(said: Said, count: int) -> int:
    text = said.get("belt", "1")
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 3 else 1
    return number - 1 if 1 <= number <= count else 0


def _tried(said: Said, drive: Drive | None, advice: Advice | None) -> tuple[list[Answer], tuple[str, ...]]:
    try:
        return list(_answers(said, drive, advice)), ()
    except InputError as error:
        return [], (str(error),)


def _answers(said: Said, drive: Drive | None, advice: Advice | None) -> Iterator[Answer]:
    if drive and "laid" in said:
        yield Answer("The belt as it lies", judge_route(drive, _route(drive, said)))
    if drive and advice.right:
        yield from _about_the_belt(said, advice)
    phrases = _phrases(said)
    if phrases:
        yield Answer("What was seen", tuple(seen(phrases, drive.belt.profile.name if drive else USUAL_PROFILE)))


def _about_the_belt(said: Said, advice: Advice) -> Iterator[Answer]:
    if "fit" in said:
        yield Answer(f"Another belt: {said['fit']}", judge_belt(advice.right, read_mark(said["fit"])))
    if "arm" in said:
        yield Answer("The arm as it stands", judge_arm(advice.right, angle(_with(said["arm"], "deg"))))
    if "tone" in said:
        tone = hertz(_with(said["tone"], "Hz"))
        yield Answer("The tension by its tone", judge_tone(advice.right, tone, said.get("run", "")))


def _phrases(said: Said) -> dict[str, str]:
    """What was seen, as the command line would be told it."""
    told = {}
    if "cracks" in said:
        told["cracks"] = f"{said['cracks']} in {_with(said.get('cracks over', '76'), 'mm')}"
    if "gauge" in said:
        depth = "" if said["gauge"] == "level" else _with(said.get("depth", ""), "mm")
        told["gauge"] = f"{depth} {said['gauge']}".strip()
    if "torn" in said:
        told["torn"] = _with(said["torn"], "mm")
    if "offset" in said:
        told["offset"] = f"{_with(said['offset'], 'mm')} over {_with(said.get('offset over', ''), 'mm')}".strip()
    return told


def _with(text: str, unit: str) -> str:
    """A bare figure with the unit that its field shows; anything else as it was typed."""
    return f"{text} {unit}" if _BARE.fullmatch(text) else text


# --- the belt as it lies --------------------------------------------------------------------------


def _places(drive: Drive, advice: Advice, said: Said) -> list[Place]:
    """The pulleys in the order of the right route, each as it was sent, or else as it is right."""
    numbers = {pulley.name: n for n, pulley in enumerate(drive.pulleys)}
    route = advice.right.route if advice.right else [Stop(name, side_on(drive, name)) for name in numbers]
    return [_place(numbers[stop.pulley], stop, str(at), said) for at, stop in enumerate(route, 1)]


def _place(n: int, stop: Stop, at: str, said: Said) -> Place:
    said_of = (said.get(f"{key} {n}", right) for key, right in (("at", at), ("side", stop.side), ("off", "0")))
    return Place(n, stop.pulley, *said_of)


def _route(drive: Drive, said: Said) -> tuple[Stop, ...]:
    """The route that was sent, by the places of the pulleys on it."""
    places = [(said.get(f"at {n}", NOT_ON), n) for n in range(len(drive.pulleys))]
    on = [(_whole(at), n) for at, n in places if at != NOT_ON]
    _must_differ(drive, on)
    route = tuple(_stop(drive.pulleys[n].name, said.get(f"side {n}"), said.get(f"off {n}", "0")) for _, n in sorted(on))
    trouble = must_hold(drive, route) or (None if route else "there is no pulley on this route")
    if trouble:
        raise InputError(trouble)
    return route


def _must_differ(drive: Drive, on: Iterable[tuple[int, int]]) -> None:
    taken: dict[int, int] = {}
    for at, n in on:
        if at in taken:
            one, other = drive.pulleys[taken[at]].name, drive.pulleys[n].name
            raise InputError(f"{one} and {other} both stand at place {at}; each has a place of its own")
        taken[at] = n


def _stop(name: str, side: str | None, off: str) -> Stop:
    if side not in (RIBS, BACK):
        raise InputError(f"say which side of the belt lies on the {name}")
    return Stop(name, side, _whole(off))


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 3):
        raise InputError(f'"{text}" is no place on the route; open this page again')
    return int(text)


def _runs(advice: Advice) -> list[str]:
    names = [stop.pulley for stop in advice.right.route]
    return [f"{name} to {names[(n + 1) % len(names)]}" for n, name in enumerate(names)]


ROUTES = [Route("/jobs/{job}/belt", belt, methods=["GET"])]
