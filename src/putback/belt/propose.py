"""Which route is the right one? All routes that geometry, rotation and length allow, the likeliest first."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from math import degrees
from typing import NamedTuple

from putback.belt.drive import BACK, DRIVER, RIBS, Drive, Pulley, Route, Stop
from putback.belt.finding import Finding, worst
from putback.belt.geometry import Span, crosses, distance, loop, span
from putback.belt.judge import SLACK, judge_laid
from putback.belt.route import Laid, lay, turns_once, wheel, window_lengths
from putback.belt.tables import table
from putback.errors import InputError

MOST_PULLEYS = 12
NEAR_ENOUGH = 0.05  # as a share; belts that differ by less do not tell which route was meant
# What may be wrong with a route that is right all the same, because the belt is not.
OF_THE_BELT = frozenset({"length", "ribs", "diameter"})
MOST_LOOKS = 20_000  # at pieces of routes, for each place of the arm; eight pulleys of a car take some hundreds


class Proposal(NamedTuple):
    """A route that nothing rules out but perhaps its belt, with the belt on it, and what speaks against it."""

    laid: Laid
    findings: tuple[Finding, ...]

    @property
    def route(self) -> Route:
        """In running order."""
        return self.laid.route

    @property
    def fits(self) -> bool:
        """Whether nothing rules out the belt either."""
        return worst(self.findings) != "stop"


class Proposals(NamedTuple):
    """All routes that nothing rules out, and those that only the belt rules out, both the likeliest first; `is_all` is
    False where there was too much to try."""

    routes: tuple[Proposal, ...]
    for_other_belts: tuple[Proposal, ...]
    is_all: bool


def propose(drive: Drive, like: Route = ()) -> Proposals:
    """All routes over all pulleys that nothing rules out.

    A route must turn every pulley the way it must turn, lay ribs in grooves, cross nothing, wrap enough, and leave the
    tensioner inside its marks with the drive's belt.

    Parameters
    ----------
    drive : Drive
        With at most twelve pulleys
    like : tuple of Stop, optional
        A route that somebody laid; of routes that are equally likely the one with most of its runs comes first

    Returns
    -------
    proposals : Proposals
        The likeliest first: fewest things to ask, then the belt wraps the pulleys best, then most like `like`. Of those
        for other belts the ones are ahead that its length comes near to.

    Raises
    ------
    InputError
        Too many pulleys to try all routes.

    Notes
    -----
    The likeliest is a guess: whoever lays out a drive gives every pulley as much wrap as there is room for. The order
    of the guess has no source.
    """
    if len(drive.pulleys) > MOST_PULLEYS:
        raise InputError(f"all routes are tried for up to {MOST_PULLEYS} pulleys; this drive has {len(drive.pulleys)}")
    blank = replace(drive, route=(), laid=())  # so that no route is preferred
    searches = list(_searches(blank))
    routes = dict.fromkeys(route for search in searches for route in search.routes())
    found = sorted((one for route in routes for one in _proposed(blank, route)), key=lambda one: _rank(one, like))
    right, others = (tuple(one for one in found if one.fits == fits) for fits in (True, False))
    return Proposals(right, others, all(search.looked <= MOST_LOOKS for search in searches))


def _proposed(drive: Drive, route: Route) -> Iterator[Proposal]:
    try:
        laid = lay(drive, route)
    except InputError:
        return
    findings = judge_laid(laid)
    if {one.code for one in findings if one.verdict == "stop"} <= OF_THE_BELT:
        yield Proposal(laid, tuple(findings))


def _rank(one: Proposal, like: Route) -> tuple:
    far, wrap = int(_misfit(one.laid) / NEAR_ENOUGH), round(_shortest_wrap(one.laid), 6)
    return far, len(one.findings), -wrap, -_shared(one.route, like), one.route


def _misfit(laid: Laid) -> float:
    """By how much a belt is too long or too short for a route, as a share of it; 0 where it is the right one."""
    window, length = window_lengths(laid), laid.loop.length + laid.spare
    spare = max(0.0, window[0] - length, length - window[1]) if window else abs(laid.spare)
    return spare / laid.loop.length


def _shortest_wrap(laid: Laid) -> float:
    """How well the worst pulley is wrapped: its wrap as a share of what is usual, at most 2."""
    shares = []
    for stop, wrap in zip(laid.route, laid.loop.wraps, strict=True):
        usual = table("wrap-common-practice")[laid.drive.pulley(stop.pulley).kind]["usual"]
        shares.append(min(degrees(wrap) / usual, 2.0))
    return min(shares)


def _shared(route: Route, like: Route) -> int:
    """How many runs two routes have in common, sides counted, directions not."""
    return len(_runs(route) & _runs(like)) if like else 0


def _runs(route: Route) -> set[frozenset]:
    ends = [(stop.pulley, stop.side) for stop in route]
    return {frozenset((ends[n - 1], ends[n])) for n in range(len(ends))}


# --- all routes -----------------------------------------------------------------------------------


def _searches(drive: Drive) -> Iterator["_Search"]:
    """For routes that cross nothing where the arm stands in the middle of its window, or at either end of it."""
    if drive.tensioner is None:
        yield _Search(drive, None)
        return
    window = drive.tensioner.window
    for angle in (sum(window) / 2, *window):
        yield _Search(drive, angle)


def sides(drive: Drive, pulley: Pulley) -> tuple[str, ...]:
    """The sides of the belt that may lie on a pulley, the likelier first.

    Parameters
    ----------
    drive : Drive
    pulley : Pulley
    """
    if pulley.side:
        return (pulley.side,)
    if pulley.kind == DRIVER:
        return (RIBS,)
    if pulley.rotation:
        return (RIBS,) if pulley.rotation == drive.driver.rotation else (BACK,)
    if pulley.grooves:
        return (RIBS, BACK) if drive.belt.is_double else (RIBS,)
    return (BACK, RIBS)


class _Search:
    """Looks for closed routes, run by run, and turns back where a run meets something."""

    def __init__(self, drive: Drive, angle: float | None):
        self.drive = drive
        driver = sides(drive, drive.driver)[0]
        self.sense = drive.driver.rotation * (1 if driver == RIBS else -1)
        self.stops = [Stop(one.name, side) for one in _driver_first(drive) for side in sides(drive, one)]
        self.wheels = [wheel(drive, stop, self.sense, angle) for stop in self.stops]
        self.runs = dict(self._free_runs())
        self.number = {ends: n for n, ends in enumerate(self.runs)}
        self.crossing = self._crossing_runs()
        self.looked = 0

    def routes(self) -> Iterator[Route]:
        """All of them, the driver first, in running order."""
        for ends in self._walk([0], 0):
            route = tuple(self.stops[at] for at in ends)
            if turns_once(loop([self.wheels[at] for at in ends]), self.sense):
                yield route

    def _walk(self, ends: list[int], taken: int) -> Iterator[list[int]]:
        """Go on from a piece of a route; `taken` are its runs, as bits."""
        self.looked += 1
        if self.looked > MOST_LOOKS:
            return
        names = {self.stops[at].pulley for at in ends}
        is_whole = len(names) == len(self.drive.pulleys)
        for after in (0,) if is_whole else range(len(self.stops)):
            run = self.number.get((ends[-1], after))
            if run is None or self.crossing[run] & taken or (not is_whole and self.stops[after].pulley in names):
                continue
            if is_whole:
                yield ends
            else:
                yield from self._walk([*ends, after], taken | 1 << run)

    def _free_runs(self) -> Iterator[tuple[tuple[int, int], Span]]:
        for one, start in enumerate(self.wheels):
            for other, end in enumerate(self.wheels):
                if self.stops[one].pulley == self.stops[other].pulley:
                    continue
                try:
                    found = span(start, end)
                except InputError:
                    continue
                if self._is_free(found, one, other):
                    yield (one, other), found

    def _is_free(self, found: Span, one: int, other: int) -> bool:
        own = {self.stops[one].pulley, self.stops[other].pulley}
        return all(
            distance(found, (wheel.x, wheel.y)) >= wheel.radius - SLACK
            for stop, wheel in zip(self.stops, self.wheels, strict=True)
            if stop.pulley not in own
        )

    def _crossing_runs(self) -> list[int]:
        """For each run the runs that it crosses, as bits."""
        bits = [0] * len(self.runs)
        spans = list(self.runs.values())
        for n, m in combinations(range(len(spans)), 2):
            if crosses(spans[n], spans[m], SLACK):
                bits[n] |= 1 << m
                bits[m] |= 1 << n
        return bits


def _driver_first(drive: Drive) -> list[Pulley]:
    return sorted(drive.pulleys, key=lambda one: one.kind != DRIVER)
