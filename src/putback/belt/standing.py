"""What an arm that was looked at says: where the tensioner stands, and how long its belt must be for that."""

from math import degrees

from putback.belt.finding import Finding
from putback.belt.route import Laid, length_at
from putback.errors import InputError

# How far the length that the arm tells may differ from the belt's mark [m]: tolerances of belts and of eyes; common
# practice, no source.
USUAL = 0.010


def judge_arm(laid: Laid, angle: float) -> tuple[Finding, ...]:
    """What the place of the tensioner's arm says of the belt that is on.

    Parameters
    ----------
    laid : Laid
        The drive with its own belt on the right route
    angle : float
        Where the arm stands, as it was read [rad]

    Returns
    -------
    findings : tuple of Finding
        One or two; "stop" where the arm stands outside its marks.

    Raises
    ------
    InputError
        The drive has no tensioner, or its arm cannot stand there.
    """
    arm = laid.drive.tensioner
    if laid.angle is None:
        raise InputError("this drive has no tensioner whose arm could be looked at")
    if not arm.holds(angle, (arm.free, arm.loaded)):
        words = f"the arm cannot stand at {degrees(angle):g}°, beyond its stops"
        raise InputError(f"{words}; angles are seen as in the drive file")
    length = length_at(laid.drive, laid.route, angle)
    more = length - laid.drive.belt.length
    words = f"at {degrees(angle):g}° the route takes up {1000 * length:.0f} mm, {_than_its_mark(more)}"
    is_usual = abs(more) <= USUAL
    place = Finding("place", "fine" if is_usual else "ask", words if is_usual else words + _why(more))
    if arm.holds(angle, arm.window):
        return (place,)
    return Finding("length", "stop", f"the arm stands outside of {_bounds(laid)}"), place


def _bounds(laid: Laid) -> str:
    arm = laid.drive.tensioner
    first, last = (f"{degrees(one):g}°" for one in arm.window)
    return f"its {'marks' if arm.marks else 'stops'}, {first} and {last}"


def _than_its_mark(more: float) -> str:
    if abs(more) < 0.0005:
        return "as the mark of the belt says"
    return f"{abs(1000 * more):.0f} mm {'more' if more > 0 else 'less'} than the mark of the belt says"


def _why(more: float) -> str:
    if more > 0:
        return ": is the belt worn or stretched, a longer one than the mark says, or off its route?"
    return ": is the belt off its route, a shorter one than the mark says, or the arm stuck or pinned?"
