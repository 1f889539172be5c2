"""A whole look at a drive: what speaks against its routes, and which route is right."""

from typing import NamedTuple

from putback.belt.drive import Drive
from putback.belt.finding import Finding, worst
from putback.belt.judge import judge_route
from putback.belt.propose import OF_THE_BELT, Proposal, propose
from putback.belt.route import Laid, lay

# How the right route is known: as the file has it, as the belt lies and nothing speaks against it, or by trying all.
KNOWN, AS_LAID, PROPOSED = "known", "as laid", "proposed"


Findings = tuple[Finding, ...]


class Advice(NamedTuple):
    """What a look at a drive comes to.

    Attributes
    ----------
    right : Laid or None
        The belt on the right route; None where no route is possible.
    origin : str
        KNOWN, AS_LAID or PROPOSED.
    findings : tuple of Finding
        What speaks against the belt on that route, or is to be asked about it.
    wrong : tuple of Finding
        What speaks against the route that the drive says is right, where another is taken for right.
    laid : tuple of Finding or None
        What speaks against the route as it was laid; None where none is told.
    others : tuple of Proposal
        Where no route is known to be right: what else nothing rules out.
    is_all : bool
        Whether all routes were tried where that was needed.
    """

    right: Laid | None
    origin: str
    findings: Findings
    wrong: Findings
    laid: Findings | None
    others: tuple[Proposal, ...]
    is_all: bool = True

    @property
    def verdict(self) -> str:
        """The worst of all findings; "stop" where no route is possible."""
        return "stop" if self.right is None else worst((*self.findings, *self.wrong, *(self.laid or ())))


def advise(drive: Drive) -> Advice:
    """Judge the routes of a drive, and find the right one.

    Parameters
    ----------
    drive : Drive

    Returns
    -------
    advice : Advice

    Raises
    ------
    InputError
        No known route is right, and the pulleys are too many to try all.

    Notes
    -----
    A known route that only its belt does not fit counts as right, unless another route fits that belt. Where no route
    is known and none fits, the likeliest is told with what speaks against the belt.
    """
    known = judge_route(drive, drive.route) if drive.route else ()
    laid = judge_route(drive, drive.laid) if drive.laid else None
    if drive.route and worst(known) != "stop":
        return Advice(lay(drive, drive.route), KNOWN, known, (), laid, ())
    found, for_other_belts, is_all = propose(drive, drive.laid or drive.route)
    if laid is not None and worst(laid) != "stop" and not drive.route:
        right = lay(drive, drive.laid)
        others = tuple(one for one in found if one.route != right.route)
        return Advice(right, AS_LAID, laid, (), laid, others, is_all)
    if found:
        return _proposed(found, known, laid, is_all)
    if drive.route and {one.code for one in known if one.verdict == "stop"} <= OF_THE_BELT:
        return Advice(lay(drive, drive.route), KNOWN, known, (), laid, (), is_all)
    if for_other_belts:
        return _proposed(for_other_belts, known, laid, is_all)
    return Advice(None, PROPOSED, (), known, laid, (), is_all)


def _proposed(found: tuple[Proposal, ...], known: Findings, laid: Findings | None, is_all: bool) -> Advice:
    first, *others = found
    return Advice(first.laid, PROPOSED, first.findings, known, laid, tuple(others), is_all)
