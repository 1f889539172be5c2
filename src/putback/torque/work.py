"""Whether the work on a fastener counts: may it be called closed?

Every rule looks at what was told and brings up one finding or none. What was not told counts as not done.
"Stop" means that the fastener counts as open.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from putback.torque.finding import Finding
from putback.units import Tightening, show_number

CLICKED, READ, FELT, ASSUMED = "clicked at the setting", "value read", "by feel", "assumed"
EVIDENCE = (CLICKED, READ, FELT, ASSUMED)
SOFT = ("plastic", "insulator", "copper alloy", "brass", "bronze")
HASTE_COUNT, HASTE_SECONDS = 4, 10.0


@dataclass(frozen=True)
class Work:
    """What is known of a fastener and of how it was tightened.

    Parameters
    ----------
    evidence : str, optional
        One of `EVIDENCE`: how the torque is known
    angle_done : bool
        Whether the angle after the torque was turned
    one_time, stretch, self_locking, coated, left_hand : bool
        What the fastener is: for one use, tightened past yield, a self-locking nut, coated or with threadlock
    new : bool
        Whether a new one was fitted
    uses : int, optional
        How many times this very piece has been tightened, this time included
    overridden_by, override_reason : str
        Who lets an old one-time fastener stay, and why; both, or it does not count
    cleaned : bool
        Whether thread and hole of a coated fastener were cleaned, and threadlock renewed
    lubricated, spec_lubricated : bool
        Oil or anti-seize on the thread; whether the figure is given for that
    into : str
        What the stud or bolt sits in, such as ``plastic`` or ``copper alloy``
    impact_tool, held_back : bool
        How it was turned, and whether the stud was held against turning
    lengths : int
        How many lengths there are in its group
    long_at : str
        Where the long ones went, as confirmed
    swapped : bool
        A long one was found where a short one belongs
    will_not_move : bool
        It was reported not to come loose
    on_the_ground, raised : bool
        Whether it is tightened with the car on its wheels, and whether the car is raised
    rubber_bush, at_rest : bool
        Whether it clamps a rubber bush, and whether the suspension stands at its rest height
    """

    evidence: str | None = None
    angle_done: bool = False
    one_time: bool = False
    stretch: bool = False
    self_locking: bool = False
    coated: bool = False
    left_hand: bool = False
    new: bool = False
    uses: int | None = None
    overridden_by: str = ""
    override_reason: str = ""
    cleaned: bool = False
    lubricated: bool = False
    spec_lubricated: bool = False
    into: str = ""
    impact_tool: bool = False
    held_back: bool = False
    lengths: int = 1
    long_at: str = ""
    swapped: bool = False
    will_not_move: bool = False
    on_the_ground: bool = False
    raised: bool = False
    rubber_bush: bool = False
    at_rest: bool = False


def findings(work: Work, spec: Tightening | None = None) -> tuple[Finding, ...]:
    """What stands against calling a fastener closed, and what to remark.

    Parameters
    ----------
    work : Work
    spec : Tightening, optional
        What it should be tightened to

    Returns
    -------
    findings : tuple of Finding
        In the order of the rules
    """
    return tuple(found for rule in _RULES if (found := rule(work, spec)))


def _evidence(work: Work, spec: Tightening | None) -> Finding | None:
    match work.evidence:
        case "by feel":
            words = "Tightened by feel: no torque is on record; put a wrench on it, or say why none reaches."
            return Finding("by-feel", "ask", words)
        case "assumed":
            words = "Assumed, not measured: it counts as not tightened until somebody puts a wrench on it."
            return Finding("assumed", "ask", words)
        case "clicked at the setting":
            words = "Clicked: at least the setting was reached, within what the wrench may be off; perhaps more."
            return Finding("clicked", "fine", words)
    return None


def _angle(work: Work, spec: Tightening | None) -> Finding | None:
    if not spec or not spec.angles or work.angle_done:
        return None
    angles = " and ".join(f"{show_number(angle)}°" for angle in spec.angles)
    words = f"The angle of {angles} after the torque is not done: the fastener counts as open."
    return Finding("angle-missing", "stop", words)


def _once_only(work: Work, spec: Tightening | None) -> Finding | None:
    if not work.one_time or work.new:
        return None
    if work.overridden_by and work.override_reason:
        words = (
            f"One-time fastener used again, by {work.overridden_by}: {work.override_reason}. It stands on the record."
        )
        return Finding("one-time-overridden", "fine", words)
    words = (
        "A one-time fastener goes in new, and this one is not said to be new; or give name and reason, for the record."
    )
    return Finding("one-time-old", "stop", words)


def _stretched(work: Work, spec: Tightening | None) -> Finding | None:
    if not work.stretch or (work.uses or 1) <= 1:
        return None
    words = f"A stretch bolt holds once; this one has been tightened {work.uses} times. Fit a new one."
    return Finding("stretch-bolt-used", "stop", words)


def _locking(work: Work, spec: Tightening | None) -> Finding | None:
    if not work.self_locking or (work.uses or 1) <= 1:
        return None
    words = f"A self-locking nut locks once; this one has been tightened {work.uses} times. Replace it."
    return Finding("lock-nut-used", "stop", words)


def _coating(work: Work, spec: Tightening | None) -> Finding | None:
    if not work.coated or work.new or work.cleaned:
        return None
    words = (
        "Coated or with threadlock: fit a new one, or clean thread and hole and renew the threadlock; until then, open."
    )
    return Finding("coating-not-renewed", "stop", words)


def _lubricated(work: Work, spec: Tightening | None) -> Finding | None:
    if not work.lubricated or work.spec_lubricated:
        return None
    words = (
        "Oil or anti-seize on the thread, and the figure is for a dry one: the same torque then clamps about a third "
        "more (nut factor 0.15 for 0.20, common practice, no source). Clean the thread, or look for the maker's figure "
        "for a lubricated one; nothing is taken off here."
    )
    return Finding("lubricated-thread", "ask", words)


def _soft(work: Work, spec: Tightening | None) -> Finding | None:
    if work.into not in SOFT:
        return None
    if work.impact_tool:
        words = f"No impact tool here: the stud sits in {work.into} and shears or turns with the nut."
        return Finding("impact-tool", "stop", words)
    if not work.held_back:
        return Finding("hold-back", "ask", f"The stud sits in {work.into}: was it held back with a second spanner?")
    return None


def _lengths(work: Work, spec: Tightening | None) -> Finding | None:
    if work.swapped:
        words = "A long one sits where a short one belongs: take it out and look for damage."
        return Finding("lengths-swapped", "stop", words)
    if work.lengths > 1 and not work.long_at:
        words = f"There are {work.lengths} lengths in this group: say where the long ones went before it is closed."
        return Finding("lengths-not-confirmed", "stop", words)
    return None


def _left_hand(work: Work, spec: Tightening | None) -> Finding | None:
    if not work.left_hand:
        return None
    words = "LEFT-HAND thread: undo it clockwise, tighten it anticlockwise."
    if work.will_not_move:
        words = f"It will not move. {words} Was it turned that way before more force is used?"
        return Finding("left-hand", "ask", words)
    return Finding("left-hand", "fine", words)


def _ground(work: Work, spec: Tightening | None) -> Finding | None:
    if not (work.on_the_ground and work.raised):
        return None
    words = "This one is tightened with the car on its wheels, and the car is raised: it counts as open."
    return Finding("not-on-the-ground", "stop", words)


def _bush(work: Work, spec: Tightening | None) -> Finding | None:
    if not work.rubber_bush or work.at_rest:
        return None
    words = "It clamps a rubber bush: tighten it with the suspension at rest height, or it is wrung. It counts as open."
    return Finding("bush-not-at-rest", "stop", words)


_RULES: tuple[Callable[[Work, Tightening | None], Finding | None], ...] = (
    _evidence, _angle, _once_only, _stretched, _locking, _coating,
    _lubricated, _soft, _lengths, _left_hand, _ground, _bush,
)  # fmt: skip


def typed_in_haste(entries: Iterable[tuple[float, float, float]]) -> Finding | None:
    """Whether values were copied from the sheet instead of read from the wrench.

    Parameters
    ----------
    entries : iterable of (float, float, float)
        Of each fastener in the order typed: when [s, on any clock], the torque entered and the torque specified [N·m]

    Returns
    -------
    finding : Finding or None
        Where 4 or more in a row equal their specification within 10 seconds
    """
    run: list[float] = []
    for when, entered, spec in entries:
        run = [*run, when] if abs(entered - spec) <= 1e-6 * spec else []
        if len(run) >= HASTE_COUNT and run[-1] - run[-HASTE_COUNT] <= HASTE_SECONDS:
            words = f"{HASTE_COUNT} values equal to the sheet within {HASTE_SECONDS:g} seconds: measured, or assumed?"
            return Finding("typed-in-haste", "ask", words)
    return None
