"""Another belt in place of the right one: will it do?"""

from putback.belt.drive import Belt
from putback.belt.finding import Finding
from putback.belt.judge import judge_route
from putback.belt.profile import Mark
from putback.belt.route import Laid, lengths, window_lengths

ROOM = 0.004  # m; a pinned belt with less to spare goes over the last pulley only by force (common practice, no source)


def judge_belt(laid: Laid, offered: Mark) -> tuple[Finding, ...]:
    """What is to be thought of a belt that is offered for a drive.

    Parameters
    ----------
    laid : Laid
        The drive with its own belt on the right route
    offered : Mark
        What the other belt says of itself

    Returns
    -------
    findings : tuple of Finding
        The gravest first; never empty, the last tells where the tensioner would stand.
    """
    own = laid.drive.belt
    found = [*_kind(own, offered), *_length(laid, offered), _place(laid, offered)]
    return tuple(sorted(found, key=lambda one: ("stop", "ask", "fine").index(one.verdict)))


def _kind(own: Belt, offered: Mark):
    if offered.profile.name != own.profile.name:
        words = (
            f"its profile is {offered.profile.name}, with a rib every {1000 * offered.profile.pitch:g} mm; the grooves "
            f"are made for {own.profile.name}, every {1000 * own.profile.pitch:g} mm"
        )
        yield Finding("profile", "stop", words)
    if offered.is_double != own.is_double:
        what = "ribs on both sides, where a smooth back belongs"
        yield Finding("profile", "stop", f"it has {what if offered.is_double else 'a smooth back, where ribs belong'}")
    if offered.ribs > own.ribs:
        yield Finding("ribs", "stop", f"it has {offered.ribs} ribs where {own.ribs} belong: they hang over")
    if offered.ribs < own.ribs:
        words = f"it has {offered.ribs} ribs where {own.ribs} belong: it carries less, and its place is not settled"
        yield Finding("ribs", "stop", words)


def _length(laid: Laid, offered: Mark):
    yield from (one for one in judge_route(laid.drive, laid.route, offered.length) if one.code == "length")
    if laid.angle is None or laid.drive.tensioner.pin is None:
        return
    room = offered.length - lengths(laid.drive, laid.route).pin
    if room < 0:
        yield Finding("room", "stop", f"with the tensioner pinned it is still {-1000 * room:.0f} mm too short to go on")
    elif room < ROOM:
        words = f"with the tensioner pinned it has {1000 * room:.0f} mm to spare: it goes on hard, do not lever it on"
        yield Finding("room", "ask", words)


def _place(laid: Laid, offered: Mark) -> Finding:
    more = 1000 * (offered.length - laid.drive.belt.length)
    length = "as long as the right one" if abs(more) < 0.05 else (
        f"{abs(more):g} mm {'longer' if more > 0 else 'shorter'} than the right one"
    )
    window = window_lengths(laid)
    if window is None:
        return Finding("place", "fine", f"it is {length}")
    least, most = (1000 * one for one in window)
    words = f"it is {length}; the tensioner takes {least:.0f} to {most:.0f} mm between its marks"
    return Finding("place", "fine", words)
