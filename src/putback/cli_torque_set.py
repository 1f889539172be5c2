"""`putback torque set`: what to set a torque wrench to, and which wrench of a shop to take."""

from putback.errors import InputError, NoWay
from putback.terminal import print_json

OPTIONS = (
    ("--lever", "LENGTH", "middle of the wrench's grip to its square drive: 240mm, 9.5in"),
    ("--extension", "LENGTH", "square drive to the fastener's axis, for an adapter such as a crow-foot; a straight "
     "socket extension has none"),
    ("--angle", "DEGREES", "of the adapter to the wrench: 0deg straight on from the grip, 90deg square to it, 180deg "
     "back towards it"),
    ("--shop", "FILE", "picks among the torque wrenches of this shop; their levers stand in its file"),
    ("--wrench", "NAME", "the one of the shop's wrenches to take"),
    ("--drive", "SIZE", 'the square drive that is wanted, as in "1/2 in"'),
    ("--on", "DAY", "the day of the work, as in 2026-11-25, for calibrations; today when left out"),
)  # fmt: skip


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument(
        "torque", metavar="TORQUE", help='at the fastener, as in "12.5 N·m", "97 in-lb", "92 N·m + 90°"'
    )
    for option, metavar, text in OPTIONS:
        parser.add_argument(option, metavar=metavar, help=text)
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args) -> int:
    """Work out the setting and print it; 1 where the shop cannot do it."""
    from putback import units

    wanted = units.read_tightening(args.torque)
    if not wanted.stages:
        raise InputError(f'"{args.torque}" has no torque to set a wrench to: contact, and then the angle')
    adapter = _adapter(args)
    return _with_shop(args, wanted, adapter) if args.shop else _without_shop(args, wanted, adapter)


def _adapter(args):
    """The adapter of a command line, or None; an angle without an extension has no sense."""
    from putback.torque.adapter import ASK_ANGLE, Adapter, counts
    from putback.units.lengths import read_angle, read_length

    if args.extension is None:
        if args.angle is not None:
            raise InputError("--angle is that of an adapter; say its length as well, as in --extension 38mm")
        return None
    adapter = Adapter(read_length(args.extension), None if args.angle is None else read_angle(args.angle))
    if counts(adapter) and adapter.angle is None:
        raise InputError(f"{ASK_ANGLE}; say it with --angle, as in --angle 0deg")
    return adapter


def _without_shop(args, wanted, adapter) -> int:
    from putback import torque_text
    from putback.torque.adapter import counts
    from putback.units.lengths import read_length

    for option in ("wrench", "drive", "on"):
        if getattr(args, option):
            raise InputError(f"--{option} chooses among the wrenches of a shop; name its file with --shop")
    if counts(adapter) and args.lever is None:
        raise InputError("with an adapter the wrench's own lever counts; say it with --lever, as in --lever 240mm")
    lever = None if args.lever is None else read_length(args.lever)
    _print(args, torque_text.setting_json(wanted, lever, adapter), torque_text.setting_lines(wanted, lever, adapter))
    return 0


def _with_shop(args, wanted, adapter) -> int:
    from putback import torque_text
    from putback.torque.settings import settings_for
    from putback.torque.wrench import Band

    if args.lever is not None:
        raise InputError(
            'with --shop each wrench has its own lever, as in "lever 240 mm" in the shop file; leave --lever out'
        )
    shop = _shop(args.shop)
    given = {
        "angles": wanted.angles,
        "owned": (*shop.tools, *(stock.name for stock in shop.stock)),
        "day": _day(args.on),
        "tolerance": None if wanted.low is None else Band(wanted.low, wanted.high),
        "drive": _drive(args.drive),
        "adapter": adapter,
    }
    found = settings_for(wanted.stages, _wrenches(shop, args.wrench), **given)
    if not args.json and None in found.stages:
        raise NoWay(". ".join(torque_text.sentences(found.missing)).removesuffix("."))
    _print(args, torque_text.choice_json(wanted, found, adapter), torque_text.choice_lines(wanted, found, adapter))
    return 1 if found.missing else 0


def _shop(name: str):
    from putback.area.nodes import LARGEST
    from putback.area.shop_file import read_shop
    from putback.reading import read_file

    return read_shop(read_file(name, LARGEST), name)


def _wrenches(shop, name: str | None):
    """The shop's wrenches, or the one that is asked for."""
    from difflib import get_close_matches

    if name is None:
        return shop.wrenches
    named = [one for one in shop.wrenches if one.name == name]
    if not named:
        names = [one.name for one in shop.wrenches]
        near = get_close_matches(name, names, 1)
        offer = f'did you mean "{near[0]}"?' if near else f"it lists: {', '.join(names) or 'none'}"
        raise InputError(f'{shop.file} lists no torque wrench called "{name}"; {offer}')
    return named


def _drive(text: str | None) -> str | None:
    from putback.area.wrench import read_drive

    return None if text is None else read_drive(text)


def _day(text: str | None):
    from datetime import date

    if text is None:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(f'"{text}" is no day; write it as 2026-11-25') from None


def _print(args, found: dict, lines) -> None:
    if args.json:
        print_json(found)
    else:
        print("\n".join(lines))
