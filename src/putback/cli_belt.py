"""`putback belt`: how the belt runs over its pulleys, whether it is laid right, and whether another will do."""

import re
from dataclasses import replace

from putback.errors import InputError
from putback.terminal import print_json, visible

DRIVE_OPTIONS = (
    ("--laid", "ROUTE", 'how the belt lies now: "crankshaft, tensioner pulley back, alternator, 1 rib off", in either '
     "direction"),
    ("--fit", "MARK", "another belt, by its mark: 7PK1545"),
    ("--arm", "ANGLE", 'where the tensioner\'s arm stands, seen as in the file: "255 deg"'),
    ("--speed", "RPM", 'the speed at which the loads are, as in "2000 rpm"'),
    ("--load", "LOAD", 'what a pulley takes in place of what the file says, as in "alternator: 90 A at 14 V"'),
    ("--tone", "HERTZ", 'what a run sounds like when it is plucked, as in "95 Hz"; tells the tension. Say which with '
     "--run"),
    ("--run", "FROM-TO", 'the run that was plucked, as in "crankshaft to idler pulley"'),
)  # fmt: skip
WEAR_OPTIONS = (
    ("--cracks", "COUNT", 'cracks across one rib, as in "4 in 76 mm"'),
    ("--gauge", "PLACE", 'where a wear gauge lies between two ribs: "0.3 mm above", "level" or "0.2 mm below"'),
    ("--torn", "LENGTH", 'the longest piece torn out of the ribs, as in "8 mm"'),
    ("--offset", "GAP", 'gap at a straight-edge laid on a pulley, as in "1.2 mm over 200 mm"'),
)
SEEN = "WHAT WAS SEEN"


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("file", nargs="?", metavar="FILE", help="a drive file, or an area file that names one")
    for option, metavar, text in (*DRIVE_OPTIONS, *WEAR_OPTIONS):
        parser.add_argument(option, metavar=metavar, help=text)
    parser.add_argument("--svg", metavar="FILE", help="also draw the route into this file")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args) -> int:
    """Tell of the drive and of what was seen; 1 where something says stop."""
    if args.file is not None:
        drive = _drive(args)
        return _whole(args, drive, _wear(args, drive.belt.profile.name))
    seen = _wear(args, "PK")  # what belts of cars have, as a rule
    _without_file(args, seen)
    return _tell(args, {}, (), [("seen", SEEN, seen)])


def _whole(args, drive, seen) -> int:
    """The drive, then what was asked about it."""
    from putback import belt_text
    from putback.belt.advise import advise

    advice = advise(drive)
    working = _working(args, drive, advice)
    asked = [
        ("fit", f"ANOTHER BELT: {args.fit}", _fit(args, advice)),
        ("arm", "THE ARM AS IT STANDS", _arm(args, advice)),
        ("tone", "THE TENSION BY ITS TONE", _tone(args, advice)),
        ("seen", SEEN, seen),
    ]
    if args.svg:
        _draw(args.svg, drive, advice)
    told = belt_text.drive_json(drive, advice, working), belt_text.drive_lines(drive, advice, working)
    status = _tell(args, *told, asked)
    return 1 if advice.verdict == "stop" else status


def _tell(args, found: dict, lines, asked: list) -> int:
    """Print what is told of the drive and then what was asked; 1 where something of that says stop."""
    from putback import belt_text
    from putback.belt.finding import worst

    asked = [one for one in asked if one[2]]
    if args.json:
        print_json(found | {key: [belt_text.finding_json(one) for one in part] for key, _, part in asked})
    else:
        blocks = (line for _, head, part in asked for line in ("", head, *belt_text.finding_lines(part)))
        print(visible("\n".join([*lines, *blocks]).lstrip("\n")))
    return 1 if worst(one for *_, part in asked for one in part) == "stop" else 0


def _without_file(args, seen) -> None:
    for option, *_ in (*DRIVE_OPTIONS, ("--svg",)):
        if getattr(args, option.removeprefix("--")) is not None:
            raise InputError(f"{option} is about a drive; name its file as well, as in: putback belt FILE {option} ...")
    if not seen:
        raise InputError("name a drive file, or say what was seen: --cracks, --gauge, --torn, --offset")


# --- the drive ------------------------------------------------------------------------------------


def _drive(args):
    from putback import drive_phrases

    drive = _read(args.file)
    if args.speed is not None:
        drive = replace(drive, speed=drive_phrases.speed(args.speed))
    if args.load is not None:
        drive = _loaded(drive, args.load)
    return replace(drive, laid=_laid(drive, args.laid)) if args.laid is not None else drive


def _read(name: str):
    """The drive of a drive file, or the one that an area file names."""
    from putback.area.nodes import LARGEST
    from putback.check import kind_of
    from putback.drive_file import read_drive
    from putback.reading import read_file

    data = read_file(name, LARGEST)
    if kind_of(data, name) != "area":
        return read_drive(data, name)
    beside = _named_by_area(data, name)
    return read_drive(read_file(beside, LARGEST), beside)


def _named_by_area(data: bytes, name: str) -> str:
    """The one drive file that an area names, in the area's folder."""
    from pathlib import Path

    from putback.area.area_file import read_area

    drives = read_area(data, name).drives
    if not drives:
        raise InputError(f'{name} names no belt drive; write "drive: FILE" in it, or name the drive file itself')
    if len(drives) > 1:
        raise InputError(f"{name} names several belt drives: {', '.join(one.name for one in drives)}; name one of them")
    if Path(drives[0].name).name != drives[0].name:
        raise InputError("a belt drive lies in the folder of its area file; write its name alone", drives[0].place)
    return str(Path(name).parent / drives[0].name)


def _loaded(drive, text: str):
    """The drive with another load on one of its driven pulleys."""
    from putback.belt.drive import DRIVEN
    from putback.drive_file import read_stop
    from putback.drive_phrases import load

    name, colon, amount = text.partition(":")
    if not colon:
        raise InputError(f'"{text}" does not say what load on which pulley; write it as in "alternator: 90 A at 14 V"')
    pulley = drive.pulley(read_stop(drive, name).pulley)
    if pulley.kind != DRIVEN:
        raise InputError(f'"{pulley.name}" is no driven pulley and takes no load off the belt')
    power, torque = load(amount.strip())
    changed = replace(pulley, power=power, torque=torque)
    return replace(drive, pulleys=tuple(changed if one is pulley else one for one in drive.pulleys))


def _laid(drive, text: str):
    """A route from the command line: pulleys between commas, where "2 ribs off" and the like belong to the one ahead."""
    from putback.drive_file import must_hold, read_stop
    from putback.drive_phrases import BESIDE

    parts = re.split(rf"\s*,(?!\s*(?:{BESIDE})\s*(?:,|$))\s*", text.strip().strip(","))
    route = tuple(read_stop(drive, part) for part in parts if part.strip())
    trouble = must_hold(drive, route) or (None if route else "there is no pulley in it")
    if trouble:
        raise InputError(f'--laid "{text}": {trouble}')
    return route


def _working(args, drive, advice):
    """The right route at work, where enough is known and the belt is taut; what is asked for and not known is told."""
    from putback.belt.load import at_work, is_taut, rest_tension

    if advice.right is None or drive.speed is None:
        return None
    if rest_tension(advice.right) is None and not (args.speed and is_taut(advice.right)):
        return None
    return at_work(advice.right, drive.speed)


def _right(advice, option: str):
    if advice.right is None:
        raise InputError(f"{option} needs a route that is possible, and this drive has none")
    return advice.right


def _fit(args, advice):
    from putback.belt.profile import read_mark
    from putback.belt.replacement import judge_belt

    return judge_belt(_right(advice, "--fit"), read_mark(args.fit)) if args.fit is not None else ()


def _arm(args, advice):
    from putback.belt.standing import judge_arm
    from putback.drive_phrases import angle

    return judge_arm(_right(advice, "--arm"), angle(args.arm)) if args.arm is not None else ()


def _tone(args, advice):
    from putback.belt.tone import judge_tone
    from putback.belt_seen import hertz

    if args.tone is None and args.run is None:
        return ()
    if args.tone is None or args.run is None:
        raise InputError('say the tone and the run together, as in --tone "95 Hz" --run "crankshaft to idler pulley"')
    return judge_tone(_right(advice, "--tone"), hertz(args.tone), args.run)


def _draw(name: str, drive, advice) -> None:
    from putback.drive_svg import drive_svg
    from putback.writing import write_whole

    write_whole(name, drive_svg(drive, _right(advice, "--svg"), advice.origin))


def _wear(args, profile: str) -> tuple:
    """Findings on what was seen of the belt and its pulleys."""
    from putback.belt_seen import seen

    return tuple(seen({name: getattr(args, name) for name in ("cracks", "gauge", "torn", "offset")}, profile))
