"""`putback torque set`: what to set a torque wrench to."""

import json

from putback.errors import InputError

CAUTION = "The vehicle maker's figures and instructions come before these."

OPTIONS = (
    ("--lever", "LENGTH", "middle of the wrench's grip to its square drive: 240mm, 9.5in"),
    ("--extension", "LENGTH", "square drive to the fastener's axis, for an adapter such as a crow-foot; a straight "
     "socket extension has none"),
    ("--angle", "DEGREES", "of the adapter to the wrench: 0deg straight on from the grip, 90deg square to it, 180deg "
     "back towards it"),
)  # fmt: skip


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("torque", metavar="TORQUE", help='at the fastener, as in "12.5 N·m" or "97 in-lb"')
    for option, metavar, text in OPTIONS:
        parser.add_argument(option, metavar=metavar, help=text)
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args) -> int:
    """Work out the setting and print it."""
    from putback import units

    wanted = units.read_torque(args.torque)
    adapter = read_adapter(args)
    if adapter and args.lever is None:
        raise InputError("with an adapter the wrench's own lever counts; say it with --lever, as in --lever 240mm")
    found = _found(wanted, _lever(args), adapter)
    print(json.dumps(found, indent=1, ensure_ascii=False) if args.json else "\n".join(wrapped(_lines(found))))
    return 0


def read_adapter(args):
    """The adapter of a command line, or None; an angle without an extension has no sense."""
    from putback.torque.adapter import Adapter
    from putback.units.lengths import read_angle, read_length

    if args.extension is None:
        if args.angle is not None:
            raise InputError("--angle is that of an adapter; say its length as well, as in --extension 38mm")
        return None
    return Adapter(read_length(args.extension), None if args.angle is None else read_angle(args.angle))


def _lever(args) -> float:
    from putback.units.lengths import read_length

    return 1.0 if args.lever is None else read_length(args.lever)


def _found(wanted, lever: float, adapter) -> dict:
    """The setting, and what an adapter that was forgotten would do."""
    from putback.torque.adapter import applied, setting

    exact, forgotten = setting(wanted.value, lever, adapter), applied(wanted.value, lever, adapter)
    found = {"target_nm": wanted.value, "setting_nm": rounded(exact), "exact_nm": exact}
    if wanted.unit.name != "N·m":
        found |= {"unit": wanted.unit.name, "setting": rounded(exact / wanted.unit.size)}
    if adapter:
        found |= {"lever_mm": lever * 1000, "extension_mm": adapter.extension * 1000, "angle_deg": adapter.angle}
    return found | {"uncorrected_nm": forgotten, "uncorrected_percent": 100 * (forgotten / wanted.value - 1)}


def rounded(value: float) -> float:
    """A figure to set by eye: to a tenth, below 10 to three figures that count."""
    return round(value, 1) if value >= 10 else float(f"{value:.3g}")


def wrapped(lines):
    """Sentences as lines of 80 columns, each from the second line on a little further in."""
    import textwrap

    for line in lines:
        yield from textwrap.wrap(line, 80, subsequent_indent="  ")


def _lines(found: dict):
    own = f" ({found['setting']:g} {found['unit']})" if "unit" in found else ""
    yield f"Set {found['setting_nm']:g} N·m{own} for {rounded(found['target_nm']):g} N·m at the fastener."
    if "lever_mm" in found:
        yield f"Lever {found['lever_mm']:g} mm, adapter {found['extension_mm']:g} mm at {found['angle_deg']:g}°."
        yield from _forgotten(found)
        yield "Hold the wrench at the middle of its grip. That the adapter bends is not counted."
    yield CAUTION


def _forgotten(found: dict):
    off = found["uncorrected_percent"]
    if abs(off) < 0.05:
        yield "At right angles to the wrench the adapter changes nothing."
    else:
        word = "much" if off > 0 else "little"
        got = rounded(found["uncorrected_nm"])
        yield f"Without the correction the fastener would get {got:g} N·m, {abs(off):.0f} % too {word}."
