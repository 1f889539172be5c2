"""Is a torque sound for its fastener: against the sheet, against the thread, and against slips of the unit?

Both the torque entered and the torque specified are judged. A torque above the thread's proof torque is never
fine, a slip is asked about and never corrected, and where nothing is known, that is said.
"""

from dataclasses import dataclass

from putback.torque import slips, work
from putback.torque.classes import proof_torque
from putback.torque.finding import Finding, worst
from putback.torque.heads import NEAR, Head, heads_for_tool
from putback.torque.threads import Thread
from putback.torque.work import Work
from putback.units import Tightening, show_both, show_number

# Of the proof torque. Above the first a torque without an angle is a slip or a special case (common practice, no
# source). Below the second it is hardly tight: there a sound torque lands when inch-pounds are taken for newton metres
# (0.9 / 8.85) or foot-pounds (0.9 / 12).
HIGH_SHARE, LOW_SHARE = 0.9, 0.1
# Where only the head is known many threads are tried, so more is asked of a torque to suit one (common practice).
SUITS_SHARE = 0.15
# How far a torque may be off where the sheet does not say: what the wider class of setting wrenches may be (ISO 6789).
USUAL_TOLERANCE = 0.06
# The classes that fasteners on cars mostly have; common practice, no source.
USUAL_CLASSES, USUAL_GRADES = ("8.8", "10.9"), ("5", "8")


@dataclass(frozen=True)
class Judgement:
    """What is to be thought of a torque.

    Parameters
    ----------
    verdict : str
        ``fine``, ``ask`` or ``stop``: the worst of the findings
    findings : tuple of Finding
    entered, spec, proof : float, optional
        The torque entered, the torque specified, and the thread's proof torque [N·m]
    ratio_to_proof : float, optional
        The highest torque entered over the proof torque
    unit_probably_meant : str, optional
        Where a slip of the unit is likely, the unit that was meant
    """

    verdict: str
    findings: tuple[Finding, ...]
    entered: float | None = None
    spec: float | None = None
    proof: float | None = None
    ratio_to_proof: float | None = None
    unit_probably_meant: str | None = None


@dataclass(frozen=True)
class _Case:
    """All that the rules look at."""

    entered: Tightening
    spec: Tightening | None
    tolerance: float
    thread: Thread | None
    property_class: str | None
    proof: float | None

    @property
    def bolt(self) -> str:
        kind = "grade" if self.thread.inch else "class"
        return f"{self.thread.name}, {kind} {self.property_class}"

    @property
    def ratio(self) -> float | None:
        if self.proof is None or self.entered.highest is None:
            return None
        return self.entered.highest / self.proof

    @property
    def angle(self) -> bool:
        """Whether an angle follows the torque, which is then a stage on the way."""
        return bool(self.entered.angles or (self.spec and self.spec.angles))


def judge(
    entered: Tightening | None,
    spec: Tightening | None = None,
    *,
    tolerance: float | None = None,
    thread: Thread | None = None,
    property_class: str | None = None,
    done: Work | None = None,
) -> Judgement:
    """Judge a torque.

    Parameters
    ----------
    entered : Tightening or None
        The torque that somebody typed, set or reached; None where there is none to tell
    spec : Tightening, optional
        What the maker's sheet says
    tolerance : float, optional
        How far the torque may be off as a share of it, where the sheet does not say
    thread : Thread, optional
        What is tightened
    property_class : str, optional
        Its class or grade, as `classes.read_class` gives it
    done : Work, optional
        What is known of the fastener and of the work

    Returns
    -------
    judgement : Judgement

    Examples
    --------
    >>> from putback.torque.threads import read_thread
    >>> from putback.units import read_tightening
    >>> typed, sheet = read_tightening("97 ft-lb"), read_tightening("97 in-lb")
    >>> found = judge(typed, sheet, thread=read_thread("M8"), property_class="5.8")
    >>> found.verdict, round(found.ratio_to_proof, 1), found.unit_probably_meant
    ('stop', 5.9, 'in-lb')
    """
    proof = proof_torque(thread, property_class) if thread and property_class else None
    case = _Case(
        entered or Tightening(),
        spec,
        USUAL_TOLERANCE if tolerance is None else tolerance,
        thread,
        property_class,
        proof,
    )
    meant = _meant(case)
    found = [*_figures(case, meant), *(work.findings(done, spec) if done else ())]
    return Judgement(
        worst(found), tuple(found), case.entered.final, spec.final if spec else None, proof, case.ratio,
        meant[0].meant if len(meant) == 1 else None,
    )  # fmt: skip


def _figures(case: _Case, meant: tuple[slips.Slip, ...]) -> list[Finding]:
    """What the figures say: each rule brings up one finding or none."""
    found = [
        _above_proof(case),
        _spec_too_high(case),
        _slip(case, meant),
        _off_spec(case) if not meant else None,
        _hardly_tight(case),
        _nothing_known(case),
        _pitch(case),
        _no_torque(case),
    ]
    return [one for one in found if one]


def _within_spec(case: _Case) -> bool:
    low, high = _bounds(case)
    return low <= case.entered.final <= high


def _bounds(case: _Case) -> tuple[float, float]:
    """Between which torques the sheet is kept [N·m]; a hair's breadth is left for the change of units."""
    spec = case.spec
    low = spec.low if spec.low is not None else spec.final * (1 - case.tolerance)
    high = spec.high if spec.high is not None else spec.final * (1 + case.tolerance)
    return low * (1 - 1e-9), high * (1 + 1e-9)


def _meant(case: _Case) -> tuple[slips.Slip, ...]:
    """The units that may have been meant: by the sheet, or else by what the thread bears."""
    typed = slips.last_reading(case.entered)
    if typed is None:
        return ()
    if _misses_spec(case):
        found = slips.slip(typed, slips.last_reading(case.spec))
        return (found,) if found else ()
    if case.ratio is None or case.angle or _sound_share(case):
        return ()
    return slips.plausible_units(typed, LOW_SHARE * case.proof, HIGH_SHARE * case.proof)


def _sound_share(case: _Case) -> bool:
    """Neither too much for the thread nor, unless the sheet says so, too little."""
    return case.ratio <= HIGH_SHARE and (case.ratio >= LOW_SHARE or _has_spec(case))


def _has_spec(case: _Case) -> bool:
    return case.spec is not None and case.spec.final is not None


def _misses_spec(case: _Case) -> bool:
    return _has_spec(case) and case.entered.final is not None and not _within_spec(case)


def _show(tightening: Tightening) -> str:
    return show_both(tightening.final, tightening.unit)


def _above_proof(case: _Case) -> Finding | None:
    if case.ratio is None or case.ratio <= HIGH_SHARE:
        return None
    share = f"{show_number(case.ratio, 2)} x the proof torque ({show_number(case.proof, 3)} N·m)"
    words = f"{_show(case.entered)} is {share} of {case.bolt}."
    if case.ratio > 1:
        return Finding("above-proof", "stop", words)
    if case.angle:
        return None
    return Finding("near-proof", "ask", f"{words} Without an angle after it that is more than is usual.")


def _spec_too_high(case: _Case) -> Finding | None:
    """The sheet itself may be mistyped."""
    if case.proof is None or not case.spec or case.spec.highest is None or case.spec.angles:
        return None
    share = case.spec.highest / case.proof
    if share <= HIGH_SHARE:
        return None
    words = (
        f"The sheet's {_show(case.spec)} is {show_number(share, 2)} x the proof torque of {case.bolt}, and no angle "
        "follows: look at the sheet's unit, the size and the class. Where all three are right, the maker's figure goes "
        "first."
    )
    return Finding("spec-too-high", "ask", words)


def _slip(case: _Case, meant: tuple[slips.Slip, ...]) -> Finding | None:
    if not meant:
        return None
    units = " or ".join(one.meant for one in meant)
    told = " or ".join(show_both(one.value, one.meant) for one in meant)
    if not _misses_spec(case):
        words = f"Was {units} meant? {told} would suit {case.bolt}; {_show(case.entered)} does not."
    elif told == _show(case.spec):
        words = f"Was {units} meant? The sheet says {told}, not {_show(case.entered)}."
    else:
        fits = f"{told} would fit it, {_show(case.entered)} does not"
        words = f"Was {units} meant? The sheet says {_show(case.spec)}; {fits}."
    return Finding("unit-slip", "ask", words)


def _off_spec(case: _Case) -> Finding | None:
    if not _misses_spec(case):
        return None
    low, high = _bounds(case)
    side = "below" if case.entered.final < low else "above"
    words = (
        f"{_show(case.entered)} is {side} what the sheet says, {_show(case.spec)} "
        f"(from {show_number(low)} to {show_number(high)} N·m): read it again, or tighten it anew."
    )
    return Finding(f"{side}-spec", "ask", words)


def _hardly_tight(case: _Case) -> Finding | None:
    if case.ratio is None or case.ratio >= LOW_SHARE or (_has_spec(case) and not _misses_spec(case)):
        return None
    if case.angle:
        return None
    share = f"only {show_number(case.ratio, 2)} x the proof torque of {case.bolt}"
    return Finding("hardly-tight", "ask", f"{_show(case.entered)} is {share}: hardly tight, if that is all.")


def _nothing_known(case: _Case) -> Finding | None:
    if case.entered.final is None:
        return None
    if case.proof is None and not _has_spec(case):
        words = f"Nothing to judge {_show(case.entered)} by: name the maker's figure, or the thread and its class."
        return Finding("nothing-known", "ask", words)
    if case.proof is None:
        words = "Held against the sheet only: without thread and class it is not known what the fastener bears."
        return Finding("class-not-known", "fine", words)
    if not case.spec:
        return Finding("no-spec", "fine", "Held against the thread only; the maker's figure goes first.")
    return None


def _pitch(case: _Case) -> Finding | None:
    if case.thread is None or case.thread.listed:
        return None
    words = f"{case.thread.name} stands in no table of threads: measure the pitch again."
    return Finding("pitch-not-listed", "ask", words)


def _no_torque(case: _Case) -> Finding | None:
    """An angle after contact, as on a spin-on filter, has no torque to hold against anything."""
    if case.entered.final is not None:
        return None
    if _has_spec(case):
        return Finding("no-torque", "ask", f"No torque is told; the sheet says {_show(case.spec)}.")
    angles = case.entered.angles or (case.spec.angles if case.spec else ())
    if not angles:
        return Finding("no-torque", "ask", "No torque is told: there is nothing to judge.")
    turned = " and ".join(f"{show_number(angle)}°" for angle in angles)
    return Finding("no-torque", "fine", f"Turned {turned} after contact: no torque to judge.")


def threads_that_bear(torque: float, across: float) -> tuple[tuple[Head, Thread, str], ...]:
    """The threads under a head's size for which a torque is of a sound size, with a usual class.

    Parameters
    ----------
    torque : float
        [N·m]
    across : float
        Width across flats, or size of the key [mm]

    Returns
    -------
    fits : tuple of (Head, Thread, str)
        Each head and thread once, with the lowest usual class that bears it; empty where the torque suits none
    """
    fits = []
    for head in heads_for_tool(across, NEAR):
        for thread in head.threads():
            grade = next((one for one in _usual(thread) if _sound(torque, thread, one)), None)
            fits += [(head, thread, grade)] if grade else []
    return tuple(fits)


def head_finding(entered: Tightening, across: float, size: str) -> tuple[Finding, str | None]:
    """What the size of a head says of a torque, where the thread is not known.

    Parameters
    ----------
    entered : Tightening
    across : float
        Width across flats, or size of the key [mm]
    size : str
        The same in words

    Returns
    -------
    finding : Finding
    meant : str or None
        The one unit with which the number would suit a thread under such a head
    """
    typed = slips.last_reading(entered)
    if typed is None:
        return Finding("head", "fine", f"No torque to hold against a head of {size}."), None
    if fits := threads_that_bear(typed.value, across):
        names = ", ".join(dict.fromkeys(head.size for head, _, _ in fits))
        words = f"{_show(entered)} suits {names} under a head of {size}; measure the thread to be sure."
        return Finding("head", "fine", words), None
    if not heads_for_tool(across, NEAR):
        return Finding("head", "ask", f"No standard here has a head of {size}: name the thread and its class."), None
    meant = [one.meant for one in slips.plausible_units(typed, 0, 1e9) if threads_that_bear(one.value, across)]
    question = f" Was {' or '.join(meant)} meant?" if meant else ""
    words = f"{_show(entered)} suits no thread under a head of {size}.{question}"
    return Finding("head", "ask", words), meant[0] if len(meant) == 1 else None


def _usual(thread: Thread) -> tuple[str, ...]:
    return USUAL_GRADES if thread.inch else USUAL_CLASSES


def _sound(torque: float, thread: Thread, grade: str) -> bool:
    proof = proof_torque(thread, grade)
    return proof is not None and SUITS_SHARE * proof <= torque <= HIGH_SHARE * proof
