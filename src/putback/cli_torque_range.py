"""`putback torque range`: a generic torque, for want of the maker's figure."""

from putback.errors import InputError
from putback.terminal import print_json


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("thread", metavar="THREAD", help="M10x1.5, 3/8-16 UNC")
    parser.add_argument("--class", dest="grade", metavar="CLASS", help="property class or grade: 8.8, A2-70, grade 5")
    parser.add_argument(
        "--friction", metavar="LOW-HIGH", help="coefficient of friction, in thread and under head (0.08-0.16)"
    )
    parser.add_argument("--unit", default="ft-lb", metavar="UNIT", help="the second unit to show (ft-lb)")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args) -> int:
    """Print the range."""
    from putback import units
    from putback.torque.classes import read_class
    from putback.torque.generic import generic_range
    from putback.torque.threads import read_thread

    thread = read_thread(args.thread)
    unit = units.torque_unit(args.unit)
    if unit is None:
        raise InputError(f'"{args.unit}" is no unit of torque; write N·m, ft-lb or in-lb')
    if not args.grade:
        raise InputError(f"a torque for {thread.name} depends on its class; read it off the head and write --class 8.8")
    grade = read_class(args.grade, thread)
    found = generic_range(thread, grade, _friction(args.friction))
    if args.json:
        print_json(_object(thread, grade, found))
    else:
        print("\n".join(_lines(thread, grade, found, unit.name)))
    return 0


def _friction(text: str | None):
    from putback.torque.interval import Range
    from putback.units import number

    if text is None:
        return None
    ends = [number(part.strip()) for part in text.replace("–", "-").split("-")]
    if len(ends) > 2:
        raise InputError(f'"{text}" is no range of friction; write it as in 0.08-0.16')
    return Range(ends[0], ends[-1])


def _object(thread, grade: str, found) -> dict:
    from putback.torque.generic import CAUTION, STAINLESS

    return {
        "thread": thread.name,
        "class": grade,
        "generic": True,
        "torque_nm": [round(found.torque.low, 1), round(found.torque.high, 1)],
        "preload_n": [round(found.preload.low), round(found.preload.high)],
        "friction": [found.friction.low, found.friction.high],
        "proof_torque_nm": round(found.proof_torque, 1),
        "cautions": [CAUTION, *([STAINLESS] if grade.startswith("A") else [])],
    }


def _lines(thread, grade: str, found, unit: str) -> list[str]:
    from putback.torque.generic import CAUTION, STAINLESS
    from putback.torque_values_text import indented

    kind = "grade" if thread.inch else "class"
    other = "" if unit == "N·m" else f" ({_ends(found.torque, unit)})"
    rest = [
        f"Friction {found.friction.low:g} to {found.friction.high:g}: the low end where thread and head are slippery, "
        "the high end where they are rough. Where that is not known, only the low end is sure not to overload it.",
        f"Preload {found.preload.low / 1000:.1f} to {found.preload.high / 1000:.1f} kN, 90 % of the yield strength.",
        CAUTION,
        *([STAINLESS] if grade.startswith("A") else []),
    ]
    first = f"{thread.name}, {kind} {grade}: {_ends(found.torque, 'N·m')}{other}"
    return [first, *(line for one in rest for line in indented(one, "  "))]


def _ends(torque, unit: str) -> str:
    """Both ends in a unit, to two figures, or three from 100 on: nothing here is known better."""
    from putback.units import TORQUE_UNITS, show_number

    ends = [value / TORQUE_UNITS[unit].size for value in (torque.low, torque.high)]
    low, high = (show_number(end, 3 if end >= 100 else 2) for end in ends)
    return f"{low} to {high} {unit}"
