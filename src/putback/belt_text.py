"""A belt drive as text of 80 columns and as JSON: route, tensioner, tensions, and what speaks against it."""

from collections.abc import Iterable, Iterator, Sequence
from math import degrees, isfinite, tau

from putback.belt.advise import AS_LAID, KNOWN, PROPOSED, Advice
from putback.belt.drive import BACK, SAID, Drive, Route
from putback.belt.finding import Finding
from putback.belt.judge import turns
from putback.belt.load import SPRING, Grip, Working, rest_tension
from putback.belt.profile import width
from putback.belt.propose import Proposal
from putback.belt.pull import span_frequency
from putback.belt.route import Laid, lengths, speed_ratio, window_lengths
from putback.torque_text import sentences, wrapped
from putback.units import show_number

CAUTION = "The vehicle maker's route, belt and figures come before these."
HANDS = "Ignition off, so that nothing starts by itself; hands and sleeves away from the belt and the fan."
SPRING_LOAD = (
    "The tensioner is under spring load: turn it with a tool that cannot slip off, keep clear of its way, and let it "
    "come up slowly."
)
SEATED = "Before the start: every rib in its groove on every pulley"
HEADS = {
    KNOWN: "THE ROUTE, as the belt runs",
    AS_LAID: "THE ROUTE AS IT IS LAID, as the belt runs; nothing speaks against it",
    PROPOSED: "THE LIKELY ROUTE, as the belt runs; worked out, not known",
}
NO_ROUTE = (
    "No route over all of these pulleys turns them the right way and wraps them enough, whatever the belt: look at "
    "their places, sizes, rotations and sides."
)
MOST_OTHERS = 3  # routes that are told besides
_NAME = 22  # characters of a pulley's name in its column


def millimetres(length: float, digits: int = 0) -> str:
    """A length [m] as people read it.

    Parameters
    ----------
    length : float
    digits : int
        Behind the point; needless noughts are left out

    Examples
    --------
    >>> millimetres(1.538), millimetres(0.0249, 1)
    ('1538 mm', '24.9 mm')
    """
    return f"{float(f'{1000 * length:.{digits}f}'):g} mm"


# --- the drive ------------------------------------------------------------------------------------


def drive_lines(drive: Drive, advice: Advice, working: Working | None) -> Iterator[str]:
    """All there is to tell of a drive.

    Parameters
    ----------
    drive : Drive
    advice : Advice
    working : Working or None
        The right route at work; None where speed or tension is not known
    """
    yield from wrapped(_head(drive))
    yield from _block("THE ROUTE IN THE FILE IS WRONG", advice.wrong)
    if advice.laid is not None:
        yield from _block("THE BELT AS IT IS LAID", advice.laid) if advice.laid else _well_laid()
    if advice.right is None:
        yield ""
        yield from wrapped([NO_ROUTE])
        yield from _not_all(advice)
        return
    yield from _route_lines(advice.right, HEADS[advice.origin])
    if advice.findings is not advice.laid:
        yield from _block("TO LOOK AT, on this route", advice.findings)
    yield from _others(advice)
    yield from _tensioner_lines(advice.right)
    if working:
        yield from _working_lines(advice.right, working)
    yield ""
    yield from wrapped(_cautions(drive))


def _cautions(drive: Drive) -> Iterator[str]:
    yield HANDS
    if drive.tensioner:
        yield SPRING_LOAD
    yield SEATED + (", the pin out, the arm between its marks." if drive.tensioner else ", the belt tight.")


def _head(drive: Drive) -> Iterator[str]:
    belt = drive.belt
    yield drive.name.upper()
    source = f"; figures from: {drive.source}" if drive.source else ""
    wide, long = (millimetres(one, 1) for one in (width(belt.ribs, belt.profile), belt.length))
    ribs = f"{belt.ribs} rib{'' if belt.ribs == 1 else 's'}{' on each side' if belt.is_double else ''}"
    yield f"{belt.mark}: {ribs}, {wide} wide, {long} long{source}."
    yield f"Seen looking at the pulleys. {CAUTION}"


def _well_laid() -> Iterator[str]:
    yield ""
    yield "THE BELT AS IT IS LAID"
    yield "     Nothing speaks against it."


def _block(head: str, findings: Iterable[Finding]) -> Iterator[str]:
    """Findings below a heading, the stops marked; nothing where there are none."""
    findings = list(findings)
    if not findings:
        return
    yield ""
    yield head
    yield from finding_lines(findings)


def finding_lines(findings: Iterable[Finding]) -> Iterator[str]:
    """Findings as sentences, each with its verdict ahead.

    Parameters
    ----------
    findings : iterable of Finding
    """
    for one in findings:
        (sentence,) = sentences([one.words])
        first, *rest = wrapped([f"{one.verdict.upper():<4} {sentence}"])
        yield first
        yield from (f"   {line}" for line in rest)


# --- the route ------------------------------------------------------------------------------------


def _route_lines(laid: Laid, head: str) -> Iterator[str]:
    tones = _tones(laid)
    yield ""
    yield from wrapped([head])
    yield f"     {'':{_NAME}}  {'side':4}  {'turns':13}  {'wrap':>5}  {'run on':>7}{_tone_head(tones)}  {'speed':>5}"
    for n, stop in enumerate(laid.route):
        name = stop.pulley if len(stop.pulley) <= _NAME else ""
        if not name:
            yield from wrapped([f"     {stop.pulley}"])
        figures = f"{degrees(laid.loop.wraps[n]):4.0f}°  {millimetres(laid.loop.spans[n].length):>7}"
        figures += f"  {tones[n]:>6}" if tones else ""
        speed = speed_ratio(laid, stop)
        yield f"     {name:{_NAME}}  {stop.side:4}  {turns(laid, stop):13}  {figures}  {speed:5.2f}"
    yield from wrapped(_length_sentences(laid))


def _tone_head(tones: Sequence[str]) -> str:
    return f"  {'tone':>6}" if tones else ""


def _tones(laid: Laid) -> list[str]:
    """The tone of each run when it is plucked at rest; none where tension or mass is not known."""
    tension, mass = rest_tension(laid), laid.drive.belt.mass
    if not (tension and mass):
        return []
    return [f"{span_frequency(tension, one.length, mass):.0f} Hz" for one in laid.loop.spans]


def _length_sentences(laid: Laid) -> Iterator[str]:
    if laid.angle is None:
        yield f"The route takes up {millimetres(laid.loop.length, 1)} of belt; this one {_spare(laid)}."
    tension = rest_tension(laid)
    if tension:
        yield f"At rest the belt is under {show_number(tension, 3)} N; a run that is plucked sounds as told."
    if any(one.is_outside and not one.grooves for one in laid.drive.pulleys) and laid.drive.belt.back is None:
        yield (
            'How far the back of the belt lies above the effective diameter is not told ("back" in the file): on '
            "pulleys on its back the length may be some millimetres short."
        )


def _spare(laid: Laid) -> str:
    if abs(laid.spare) < 0.00005:
        return "fits it"
    return f"is {millimetres(abs(laid.spare), 1)} {'longer' if laid.spare > 0 else 'shorter'}"


def _others(advice: Advice) -> Iterator[str]:
    yield from _not_all(advice)
    if not advice.others:
        return
    first = f", the first {MOST_OTHERS} of {len(advice.others)}" if len(advice.others) > MOST_OTHERS else ""
    yield ""
    fits = "rotation and length allow" if advice.verdict != "stop" else "rotation allows"
    yield f"OTHER ROUTES that {fits}{first}"
    for one in advice.others[:MOST_OTHERS]:
        yield from (f"     {line}" for line in wrapped([route_words(one.route)]))


def _not_all(advice: Advice) -> Iterator[str]:
    if not advice.is_all:
        yield from wrapped(["So many routes are thinkable here that not all were tried; say rotations and sides."])


def route_words(route: Route) -> str:
    """A route in one line, with what runs on the back.

    Parameters
    ----------
    route : tuple of Stop
    """
    return ", ".join(f"{stop.pulley} (back)" if stop.side == BACK else stop.pulley for stop in route)


# --- the tensioner --------------------------------------------------------------------------------


def _tensioner_lines(laid: Laid) -> Iterator[str]:
    if laid.angle is None:
        return
    yield ""
    yield "THE TENSIONER"
    yield from (f"     {line}" for line in _indented(sentences(_tensioner_words(laid))))


def _indented(lines: Iterable[str]) -> Iterator[str]:
    import textwrap

    for line in lines:
        yield from textwrap.wrap(line, 75, subsequent_indent="  ", break_on_hyphens=False)


def _tensioner_words(laid: Laid) -> Iterator[str]:
    yield arm_words(laid)
    least, most = map(millimetres, window_lengths(laid))
    yield f"belts of {least} to {most} keep it between them"
    yield slacken_words(laid)
    if laid.drive.tensioner.pin is not None:
        yield pin_words(laid)


def arm_words(laid: Laid) -> str:
    """Where the arm of a tensioner stands with its belt, and where its marks are.

    Parameters
    ----------
    laid : Laid
        With a tensioner
    """
    arm = laid.drive.tensioner
    where = f"the arm stands at {degrees(laid.angle):.1f}° with this belt"
    if arm.marks:
        long, short = (f"{degrees(one):g}°" for one in arm.marks)
        return f"{where}; its marks are at {long} (longest belt) and {short} (shortest)"
    return f"{where}; it has no marks, its stops are at {degrees(arm.free):g}° and {degrees(arm.loaded):g}°"


def slacken_words(laid: Laid) -> str:
    """How the belt is slackened.

    Parameters
    ----------
    laid : Laid
        With a tensioner
    """
    arm = laid.drive.tensioner
    return f"to slacken the belt turn the arm {SAID[arm.slackens]}{f', with the {arm.tool}' if arm.tool else ''}"


def pin_words(laid: Laid) -> str:
    """Where a pin holds the arm, and what the belt then has to spare.

    Parameters
    ----------
    laid : Laid
        With a tensioner that has a pin
    """
    arm = laid.drive.tensioner
    size = f"a {millimetres(arm.pin_diameter, 1)} pin" if arm.pin_diameter else "the pin"
    room = laid.drive.belt.length - lengths(laid.drive, laid.route).pin
    spare = f"the belt then has {millimetres(room)} to spare" if room > 0 else "the belt does not go on then"
    return f"{size} holds it at {degrees(arm.pin):g}°; {spare}"


# --- at work --------------------------------------------------------------------------------------


def _working_lines(laid: Laid, working: Working) -> Iterator[str]:
    if not working.grips:
        return
    speed = laid.drive.speed * 60 / tau
    yield ""
    yield f"AT WORK: {laid.drive.driver.name} at {speed:.0f} rpm, belt at {working.speed:.1f} m/s"
    yield f"     {'':{_NAME}}  {'torque':>9}  {'pull':>6}  {'tight':>6}  {'slack':>6}  {'margin':>6}"
    for grip in working.grips:
        yield _grip_line(grip)
    yield from wrapped(_working_words(working))


def _grip_line(grip: Grip) -> str:
    figures = (f"{value:.0f} N" for value in (grip.pull, grip.tight, grip.slack))
    cells = "  ".join(f"{text:>6}" for text in figures)
    margin = f"{grip.margin:6.1f}" if isfinite(grip.margin) else f"{'-':>6}"
    torque = f"{show_number(grip.torque, 3)} N·m"
    return f"     {grip.stop.pulley[:_NAME]:{_NAME}}  {torque:>9}  {cells}  {margin}"


def _working_words(working: Working) -> Iterator[str]:
    yield "Margin: how many times the pull could be before the belt slips; dry, and with figures that are estimates."
    for grip in working.grips:
        if grip.margin < 1:
            yield f"The belt slips on the {grip.stop.pulley} at this load."
    if working.source != SPRING:
        yield "The tension is the one that is told for rest; no spring keeps it up as the belt stretches."


# --- JSON -----------------------------------------------------------------------------------------


def drive_json(drive: Drive, advice: Advice, working: Working | None) -> dict:
    """The same for other programs; lengths in mm, angles in degrees, forces in N.

    Parameters
    ----------
    drive : Drive
    advice : Advice
    working : Working or None
        As for `drive_lines`
    """
    found = {
        "name": drive.name,
        "belt": {"mark": drive.belt.mark, "ribs": drive.belt.ribs, "length_mm": _mm(drive.belt.length)},
        "verdict": advice.verdict,
        "findings": [finding_json(one) for one in advice.findings],
        "wrong": [finding_json(one) for one in advice.wrong],
    }
    if advice.laid is not None:
        found["laid"] = [finding_json(one) for one in advice.laid]
    if advice.right is not None:
        found["route"] = {"origin": advice.origin} | _route_json(advice.right)
    if not advice.is_all:
        found["all_routes_tried"] = False
    if advice.others:
        found["other_routes"] = [_proposal_json(one) for one in advice.others]
    if working:
        found["at_work"] = _working_json(working)
    return found


def finding_json(one: Finding) -> dict:
    """A finding for other programs.

    Parameters
    ----------
    one : Finding
    """
    about = {"pulley": one.pulley} if one.pulley else {}
    return {"code": one.code, "verdict": one.verdict, "words": one.words} | about


def _mm(length: float) -> float:
    return round(1000 * length, 3)


def _route_json(laid: Laid) -> dict:
    found = {"length_mm": _mm(laid.loop.length), "spare_mm": _mm(laid.spare), "pulleys": _pulleys_json(laid)}
    tension = rest_tension(laid)
    if tension:
        found["tension_n"] = round(tension, 2)
    if laid.angle is not None:
        found["tensioner"] = _tensioner_json(laid)
    return found


def _pulleys_json(laid: Laid) -> list[dict]:
    tension, mass = rest_tension(laid), laid.drive.belt.mass
    found = []
    for stop, wrap, run in zip(laid.route, laid.loop.wraps, laid.loop.spans, strict=True):
        one = {
            "name": stop.pulley,
            "side": stop.side,
            "turns": turns(laid, stop),
            "wrap_deg": round(degrees(wrap), 4),
            "run_on_mm": _mm(run.length),
            "speed_ratio": round(speed_ratio(laid, stop), 5),
        }
        if tension and mass:
            one["tone_hz"] = round(span_frequency(tension, run.length, mass), 2)
        found.append(one)
    return found


def _tensioner_json(laid: Laid) -> dict:
    arm, found = laid.drive.tensioner, lengths(laid.drive, laid.route)
    at_stops = {"free": _mm(found.free), "loaded": _mm(found.loaded)}
    others = {"longest": found.longest, "shortest": found.shortest, "pin": found.pin}
    return {
        "angle_deg": round(degrees(laid.angle), 4),
        "inside_its_marks": not laid.spare and arm.holds(laid.angle, arm.window),
        "slacken": SAID[arm.slackens],
        "lengths_mm": at_stops | {key: _mm(value) for key, value in others.items() if value is not None},
    }


def _proposal_json(one: Proposal) -> dict:
    route = [{"name": stop.pulley, "side": stop.side} for stop in one.route]
    return {"route": route, "findings": [finding_json(finding) for finding in one.findings]}


def _working_json(working: Working) -> dict:
    return {
        "belt_speed_m_per_s": round(working.speed, 3),
        "runs_n": [round(one, 2) for one in working.spans],
        "pulleys": [
            {
                "name": one.stop.pulley,
                "torque_nm": round(one.torque, 4),
                "pull_n": round(one.pull, 2),
                "tight_n": round(one.tight, 2),
                "slack_n": round(one.slack, 2),
                "ratio": round(one.ratio, 4) if isfinite(one.ratio) else None,
                "ratio_at_slip": round(one.limit, 4),
                "margin": round(one.margin, 4) if isfinite(one.margin) else None,
            }
            for one in working.grips
        ],
    }
