"""Is a belt laid the right way round? Whatever geometry, ribs and rotation can say against a route."""

from collections.abc import Iterator
from math import degrees

from putback.belt.drive import BACK, DRIVER, IDLER, RIBS, SAID, Drive, Route, Stop
from putback.belt.finding import Finding
from putback.belt.geometry import beside, crossings, distance, struck
from putback.belt.route import Laid, in_running_order, inside, lay, rotation, track_of, turns_once
from putback.belt.tables import table
from putback.errors import InputError

SLACK = 0.001  # m; runs that touch a pulley by less are taken for pulleys measured by hand
# Without a tensioner: how far a belt may differ from its route, as a share of it. Adjusters and belts that are fitted
# by stretching take up so much; common practice, no source.
USUAL_SPARE, MOST_SPARE = 0.005, 0.03
LOOKS = 8  # steps of the arm in which its length is looked at
THE_SIDE = {RIBS: "its ribs", BACK: "its back"}


def judge_route(drive: Drive, route: Route, length: float | None = None) -> tuple[Finding, ...]:
    """Everything that speaks against a route, the gravest first.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
        At least two pulleys, in either direction
    length : float, optional
        Effective length of the belt [m]; that of the drive's own belt when left out

    Returns
    -------
    findings : tuple of Finding
        None where nothing speaks against it.
    """
    try:
        laid = lay(drive, route, length)
    except InputError as error:
        found = [*_of_sides(drive, in_running_order(drive, route)), Finding("crossing", "stop", error.message)]
    else:
        found = judge_laid(laid)
    return tuple(sorted(found, key=lambda one: one.verdict != "stop"))


def judge_laid(laid: Laid) -> list[Finding]:
    """Everything that speaks against a belt as it lies.

    Parameters
    ----------
    laid : Laid
    """
    through = list(_through(laid))
    found = [*_of_sides(laid.drive, laid.route), *through]
    if not through:  # of a belt that runs through itself lengths and wraps mean nothing
        found += [*_wraps(laid), *_length(laid), *_order(laid)]
    return found


# --- sides, grooves and ribs ----------------------------------------------------------------------


def _of_sides(drive: Drive, route: Route) -> Iterator[Finding]:
    sense = inside(drive, route)
    names = {stop.pulley for stop in route}
    for pulley in drive.pulleys:
        if pulley.name not in names:
            words = f"the belt leaves out the {pulley.name}"
            yield Finding("left out", "stop", words, pulley.name)
    for stop in route:
        yield from _turning(drive, stop, sense)
        yield from _face(drive, stop)
        yield from _ribs(drive, stop)


def _turning(drive: Drive, stop: Stop, sense: int) -> Iterator[Finding]:
    pulley = drive.pulley(stop.pulley)
    turns = sense if stop.side == RIBS else -sense
    if pulley.rotation and pulley.rotation != turns:
        words = (
            f"the {pulley.name} would turn {SAID[turns]}, and must turn {SAID[pulley.rotation]}: the belt passes it "
            "on the wrong side"
        )
        yield Finding("rotation", "stop", words, pulley.name)
    elif pulley.side and pulley.side != stop.side:
        words = (
            f"the belt touches the {pulley.name} with {THE_SIDE[stop.side]}, where {THE_SIDE[pulley.side]} belong"
            f"{'s' if pulley.side == BACK else ''}: it passes it on the wrong side"
        )
        yield Finding("side", "stop", words, pulley.name)


def _face(drive: Drive, stop: Stop) -> Iterator[Finding]:
    pulley = drive.pulley(stop.pulley)
    if pulley.grooves and not drive.belt.has_ribs_on(stop.side):
        words = f"the smooth back of the belt lies on the grooves of the {pulley.name}"
        yield Finding("face", "stop", words, pulley.name)
    if not pulley.grooves and stop.side == RIBS and pulley.side != RIBS:
        words = f"the ribs run on the {pulley.name}, which is flat and does not guide them"
        yield Finding("face", "ask", words, pulley.name)


def _ribs(drive: Drive, stop: Stop) -> Iterator[Finding]:
    pulley, belt = drive.pulley(stop.pulley), drive.belt
    if stop.ribs_off:
        off = 1000 * stop.ribs_off * belt.profile.pitch
        words = (
            f"{_count(stop.ribs_off, 'rib')} of the belt {'hang' if stop.ribs_off > 1 else 'hangs'} beside the "
            f"{pulley.name}: it sits {off:.1f} mm out of line, and will be thrown or cut"
        )
        yield Finding("rib off", "stop", words, pulley.name)
    if not pulley.grooves or not belt.has_ribs_on(stop.side):
        return
    if belt.ribs > pulley.grooves:
        words = f"the belt has {_count(belt.ribs, 'rib')}, the {pulley.name} only {_count(pulley.grooves, 'groove')}"
        yield Finding("ribs", "stop", words, pulley.name)
    if belt.ribs < pulley.grooves:
        words = (
            f"the belt has {_count(belt.ribs, 'rib')}, the {pulley.name} {_count(pulley.grooves, 'groove')}: is it "
            "the right belt, and in which grooves does it belong?"
        )
        yield Finding("ribs", "ask", words, pulley.name)
    if pulley.diameter < belt.profile.least_diameter - 1e-9:
        words = (
            f"the {pulley.name} has {1000 * pulley.diameter:g} mm; {belt.profile.name} belts are made for "
            f"{1000 * belt.profile.least_diameter:g} mm and more: look at the figure"
        )
        yield Finding("diameter", "ask", words, pulley.name)


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"


# --- the way of the belt --------------------------------------------------------------------------


def _through(laid: Laid) -> Iterator[Finding]:
    """What the belt would have to run through: itself, or a pulley that is not on that run."""
    missed = list(_missed(laid))
    if missed:  # all the rest comes of it
        yield from missed
        return
    hits = [(_run(laid.route, run), laid.route[pulley].pulley) for run, pulley in struck(laid.loop, SLACK)]
    hits += _left_on_the_way(laid)
    for run, name in hits:
        yield Finding("crossing", "stop", f"the run {run} passes through the {name}", name)
    crossed = crossings(laid.loop, SLACK)
    if crossed:
        yield _crossing(laid.route, crossed)
    if not (hits or crossed) and not turns_once(laid.loop, inside(laid.drive, laid.route)):
        most = max(range(len(laid.route)), key=lambda n: laid.loop.wraps[n])
        name = laid.route[most].pulley
        words = f"the belt would have to wind round the {name} by {degrees(laid.loop.wraps[most]):.0f}°"
        yield Finding("crossing", "stop", words, name)


def _missed(laid: Laid) -> Iterator[Finding]:
    """Pulleys that a taut belt would not touch."""
    sense = inside(laid.drive, laid.route)
    if turns_once(laid.loop, sense):
        return
    for n, gap in beside(laid.loop, sense):
        name = laid.route[n].pulley
        words = f"pulled tight the belt passes {1000 * gap:.0f} mm beside the {name} and does not touch it"
        yield Finding("not touched", "stop", f"{words}: look at where that sits, at the side and at the route", name)


def _crossing(route: Route, crossed: list[tuple[int, int]]) -> Finding:
    """One finding for all crossings: whoever mends the first looks at the whole belt anyhow."""
    one, other = crossed[0]
    words = f"the belt crosses itself: the run {_run(route, one)} crosses that {_run(route, other)}"
    more = f", and {len(crossed) - 1} more" if len(crossed) > 1 else ""
    return Finding("crossing", "stop", words + more)


def _left_on_the_way(laid: Laid) -> list[tuple[str, str]]:
    """Pulleys that the belt leaves out, and yet would have to run through: pairs of (run, name)."""
    names = {stop.pulley for stop in laid.route}
    return [
        (_run(laid.route, n), pulley.name)
        for pulley in laid.drive.pulleys
        if pulley.name not in names and pulley.centre
        for n, run in enumerate(laid.loop.spans)
        if distance(run, pulley.centre) < pulley.diameter / 2 - SLACK
    ]


def _run(route: Route, n: int) -> str:
    return f"from the {route[n].pulley} to the {route[(n + 1) % len(route)].pulley}"


def _wraps(laid: Laid) -> Iterator[Finding]:
    for stop, wrap in zip(laid.route, laid.loop.wraps, strict=True):
        pulley = laid.drive.pulley(stop.pulley)
        limits = table("wrap-common-practice")[pulley.kind]
        if degrees(wrap) < limits["usual"]:
            much = "far too little" if degrees(wrap) < limits["least"] else "little"
            words = f"the belt wraps the {pulley.name} by {degrees(wrap):.0f}°, which is {much} for {_a(pulley.kind)}"
            yield Finding("wrap", "stop" if degrees(wrap) < limits["least"] else "ask", words, pulley.name)


def _a(kind: str) -> str:
    return {DRIVER: "the pulley that drives", IDLER: "an idler"}.get(kind, "a driven pulley")


def _length(laid: Laid) -> Iterator[Finding]:
    if laid.angle is None:
        yield from _without_arm(laid)
        return
    arm, spare = laid.drive.tensioner, 1000 * laid.spare
    if spare > 0:
        words = f"the belt is {spare:.0f} mm too long here: it hangs slack with the tensioner at its free stop"
        yield Finding("length", "stop", words)
    elif spare < 0:
        words = f"the belt is {-spare:.0f} mm too short here, even with the tensioner turned to its loaded stop"
        yield Finding("length", "stop", words)
    elif not arm.holds(laid.angle, arm.window):
        yield Finding("length", "stop", _beyond_a_mark(laid))
    yield from _over_centre(laid)


def _beyond_a_mark(laid: Laid) -> str:
    arm = laid.drive.tensioner
    long, short = arm.marks
    is_long = abs(laid.angle - long) < abs(laid.angle - short)
    which, mark = ("longest", long) if is_long else ("shortest", short)
    return (
        f"the tensioner stands at {degrees(laid.angle):.1f}°, beyond its mark for the {which} belt "
        f"({degrees(mark):g}°)"
    )


def _without_arm(laid: Laid) -> Iterator[Finding]:
    share = laid.spare / laid.loop.length
    if abs(share) > USUAL_SPARE:
        more, so = ("longer", "hangs slack") if share > 0 else ("shorter", "does not go on unstretched")
        words = (
            f"the belt is {abs(1000 * laid.spare):.0f} mm {more} than its route of {1000 * laid.loop.length:.0f} mm: "
            f"it {so}, unless something that is adjusted makes up for it"
        )
        yield Finding("length", "stop" if abs(share) > MOST_SPARE else "ask", words)


def _over_centre(laid: Laid) -> Iterator[Finding]:
    """Whether the arm, on its way from stop to stop, comes to where turning it on tightens the belt again."""
    arm = laid.drive.tensioner
    angles = [arm.free + (arm.loaded - arm.free) * n / LOOKS for n in range(LOOKS + 1)]
    try:
        track = track_of(laid.drive, laid.route)
        taken = [track.loop(angle).length for angle in angles]
    except InputError:
        return
    if any(after > before for before, after in zip(taken, taken[1:], strict=False)):
        words = (
            "turning the tensioner to its loaded stop does not slacken the belt all the way: look at its pivot, its "
            "arm and its angles"
        )
        yield Finding("tensioner", "ask", words)


def _order(laid: Laid) -> Iterator[Finding]:
    """The first place where a route that would do otherwise is not the known one."""
    known = {stop.pulley: stop for stop in laid.drive.route}
    if known.keys() != {stop.pulley for stop in laid.route}:
        return
    right = in_running_order(laid.drive, laid.drive.route)
    for n, stop in enumerate(laid.route):
        if stop.pulley != right[n].pulley:
            words = f"after the {laid.route[n - 1].pulley} the belt goes to the {stop.pulley}"
            yield Finding("order", "stop", f"{words}; on the known route to the {right[n].pulley}", stop.pulley)
            return
        pulley = laid.drive.pulley(stop.pulley)
        if stop.side != right[n].side and not (pulley.side or pulley.rotation):  # else that was said already
            words = f"the belt touches the {stop.pulley} with {THE_SIDE[stop.side]}"
            yield Finding("side", "stop", f"{words}, on the known route with {THE_SIDE[right[n].side]}", stop.pulley)


def turns(laid: Laid, stop: Stop) -> str:
    """How a pulley turns, in a word.

    Parameters
    ----------
    laid : Laid
    stop : Stop
    """
    return SAID[rotation(laid, stop)]
