"""Is a belt worn, and do its pulleys stand in line? What is seen and measured, against figures that are told."""

from math import atan2, degrees

from putback.belt.finding import Finding
from putback.belt.profile import Profile
from putback.belt.tables import table
from putback.errors import InputError

CRACK_LENGTH = 0.0762  # m, three inches: the length on which cracks are counted
A_RIB = 0.3  # of a pitch; an offset so near to whole ribs looks like ribs beside their grooves


def misalignment(offset: float, distance: float) -> float:
    """How far two pulleys stand out of line [rad].

    Parameters
    ----------
    offset : float
        Gap between a straight-edge that lies on the face of one pulley and the face of the other [m]
    distance : float
        From the edge of the first pulley to where the gap is measured [m], above 0

    Raises
    ------
    InputError
        No distance.

    Examples
    --------
    >>> round(degrees(misalignment(0.001, 0.200)), 3)
    0.286
    """
    if not distance > 0:
        raise InputError("an offset is measured over a distance above 0")
    return atan2(abs(offset), distance)


def judge_alignment(offset: float, distance: float, of: Profile) -> Finding:
    """What is to be thought of an offset at the straight-edge.

    Parameters
    ----------
    offset : float
        [m]
    distance : float
        [m], above 0
    of : Profile
        Of the belt

    References
    ----------
    .. [1] Figures and their sources: data file ``wear-common-practice``.
    """
    angle = degrees(misalignment(offset, distance))
    words = f"{1000 * abs(offset):g} mm over {1000 * distance:g} mm is {angle:.2f}° out of line"
    ribs = abs(offset) / of.pitch
    looks_like_ribs = round(ribs) and abs(ribs - round(ribs)) < A_RIB
    advice = f", and {ribs:.1f} ribs wide: first look whether the belt sits a rib off" if looks_like_ribs else (
        _advice("misalignment", angle)
    )
    return Finding("misalignment", _verdict("misalignment", angle), words + advice)


def judge_cracks(count: int, length: float) -> Finding:
    """What is to be thought of cracks across one rib.

    Parameters
    ----------
    count : int
        Of cracks in the rib that has most, from 0
    length : float
        Along which they are counted [m], above 0

    Raises
    ------
    InputError
        A count below 0, or no length.

    References
    ----------
    .. [1] Figures and their sources: data file ``wear-common-practice``.
    """
    if count < 0 or not length > 0:
        raise InputError("cracks are counted from 0 on, along a length above 0")
    of_three_inches = count * CRACK_LENGTH / length
    words = f"{count} cracks in {1000 * length:g} mm of a rib, {of_three_inches:.1f} to three inches"
    return Finding("cracks", _verdict("cracks", of_three_inches), words + _advice("cracks", of_three_inches))


def judge_missing(length: float) -> Finding:
    """What is to be thought of a piece torn out of the ribs.

    Parameters
    ----------
    length : float
        Of the longest piece that is missing [m], from 0
    """
    millimetres = 1000 * length
    words = f"{millimetres:g} mm of rib are torn out"
    return Finding("missing", _verdict("missing", millimetres), words + _advice("missing", millimetres))


def judge_gauge(proud: float) -> Finding:
    """What a wear gauge says: a bar with the form of a groove, pressed in between two ribs.

    Ribs wear on their flanks, so that the grooves widen and the bar sinks in.

    Parameters
    ----------
    proud : float
        How far the bar stands above the tops of the ribs [m]; below 0 where it has sunk in between them

    References
    ----------
    .. [1] Above the tops on a new belt, below them on a worn one: a belt maker's page (opened 2026-11-25). That level
       with them is worn as well: common practice, no source.
    """
    if proud > 0:
        words = f"the gauge stands {1000 * proud:g} mm above the ribs: they have depth left"
        return Finding("rib depth", "fine", words)
    place = "level with the ribs" if proud == 0 else f"{-1000 * proud:g} mm below the tops of the ribs"
    return Finding("rib depth", "stop", f"the gauge lies {place}: the ribs are worn, fit a new belt")


def _verdict(what: str, value: float) -> str:
    limits = table("wear-common-practice")[what]
    return "stop" if value >= limits["stop"] else "ask" if value >= limits["ask"] else "fine"


_ADVICE = {
    ("misalignment", "ask"): ": it makes noise and wears the belt; look at brackets, spacers and bearings",
    ("misalignment", "stop"): ": put the pulleys in line before the engine runs",
    ("cracks", "ask"): ": the belt is near its end; fit a new one while the way is open",
    ("cracks", "stop"): ": fit a new belt",
    ("missing", "ask"): ": fit a new belt, and look for what tore it",
    ("missing", "stop"): ": fit a new belt, and look for what tore it",
}


def _advice(what: str, value: float) -> str:
    return _ADVICE.get((what, _verdict(what, value)), "")
