"""Reading a drive file: text in, a Drive out, or everything that is wrong with it at once. docs/belt.md teaches it."""

from collections.abc import Iterable
from dataclasses import replace
from math import degrees

from putback import drive_phrases as phrases
from putback.area.model import Ref
from putback.area.nodes import List, Node, Text, parse
from putback.area.notes import Notes, bounded
from putback.area.quantity import count
from putback.area.shape import Either, Named, Names, OneOf, Record, Report, Row, Several, Word, read_row, version
from putback.area.spelling import nearest
from putback.belt.drive import (
    BACK,
    DRIVER,
    IDLER,
    KINDS,
    RIBS,
    SAID,
    Belt,
    Drive,
    Pulley,
    Route,
    Stop,
    Tensioner,
    overlaps,
)
from putback.belt.profile import Mark, checked_ribs, profile, read_mark
from putback.belt.propose import MOST_PULLEYS
from putback.belt.route import side_on
from putback.belt.wear import A_RIB
from putback.errors import Findings, InputError, Place

MOST_GROOVES = 30
TEXT = Word(str.strip, "words", "overrunning, 33-spline hub")
ROTATION = Word(phrases.rotation, "a rotation", "clockwise")
DIAMETER = Word(phrases.diameter, "a diameter", "150 mm")
ROUTE = Several(Named("a pulley", "tensioner pulley back"), 2 * MOST_PULLEYS)
MARK = Word(read_mark, "the mark of a belt", "7PK1538")


def grooves(text: str) -> int:
    """A number of grooves; 0 for a flat pulley."""
    found = 0 if text.strip() == "0" else count(text)
    if found > MOST_GROOVES:
        raise InputError(f'"{text}": a pulley has at most {MOST_GROOVES} grooves')
    return found


def ribs(text: str) -> int:
    """A number of ribs that a belt may have."""
    return checked_ribs(count(text), text)


class OneTensioner(Record):
    """A record that may be thought to come in several."""

    def read(self, node: Node, report: Report):
        if isinstance(node, List):
            words = "a drive has one tensioner; write another one as an idler, at the place where its pulley stands"
            return report(InputError(words, node.place))
        return super().read(node, report)


PULLEY = Record(
    "a pulley",
    {
        "is": OneOf(KINDS),
        "at": Word(phrases.place, "a place", "-60, 245 mm"),
        "effective diameter": DIAMETER,
        "outside diameter": DIAMETER,
        "grooves": Word(grooves, "a number of grooves", "7", number=True),
        "side": OneOf((RIBS, BACK)),
        "rotation": ROTATION,
        "load": Word(phrases.load, "a load", "135 A at 14 V"),
        "note": TEXT,
    },
    required=("is",),
)
BELT = Record(
    "a belt",
    {
        "mark": MARK,
        "ribs": Word(ribs, "a number of ribs", "7", number=True),
        "profile": Word(profile, "a profile", "PK"),
        "effective length": Word(phrases.belt_length, "a length", "60 1/2 in"),
        "mass": Word(phrases.mass, "a mass for each metre", "0.14 kg/m"),
        "back": Word(phrases.size, "a height", "2.4 mm"),
        "tension": Word(phrases.force, "a tension", "300 N"),
    },
)
TENSIONER = OneTensioner(
    "a tensioner",
    {
        "pulley": Named("the pulley on its arm", "tensioner pulley"),
        "pivot": Word(phrases.place, "a place", "132, 165 mm"),
        "arm": Word(phrases.size, "a length", "70 mm"),
        "range": Word(phrases.angles, "two angles", "277 to 233 deg"),
        "marks": Word(phrases.angles, "two angles", "263 to 243 deg"),
        "pin": Word(phrases.pin, "a place of a pin", "237 deg, 4.5 mm"),
        "spring": Word(phrases.spring, "a torque", "30 N·m to 40 N·m"),
        "slacken": ROTATION,
        "tool": TEXT,
    },
    required=("pulley", "pivot", "arm", "range"),
)
DRIVE = Record(
    "a drive file",
    {
        "drive": version("1"),
        "name": Word(str.strip, "a name", "accessory drive"),
        "figures from": TEXT,
        "belt": Either(MARK, BELT),
        "pulleys": Names(PULLEY, "pulleys", MOST_PULLEYS, "crankshaft: {is: driver}"),
        "tensioner": TENSIONER,
        "route": ROUTE,
        "laid": ROUTE,
        "friction": Word(phrases.friction, "a coefficient of friction", "0.30", number=True),
        "loads at": Word(phrases.speed, "a speed of the driver", "2000 rpm"),
    },
    required=("drive", "name", "belt", "pulleys"),
)


def read_drive(data: bytes | str, file: str) -> Drive:
    """Read a drive file.

    Parameters
    ----------
    data : bytes or str
        What the file holds; bytes must be UTF-8.
    file : str
        Its name, for the places in messages.

    Returns
    -------
    drive : Drive

    Raises
    ------
    Findings
        Everything found wrong, sorted by place.
    """
    drive, findings = scan_drive(data, file)
    if findings:
        raise Findings(findings)
    return drive


def scan_drive(data: bytes | str, file: str) -> tuple[Drive | None, list[InputError]]:
    """Like `read_drive`, but gives the findings back; with them there may be no drive.

    Parameters
    ----------
    data : bytes or str
    file : str
    """
    return bounded(lambda notes: _scanned(data, file, notes), file)


def _scanned(data: bytes | str, file: str, notes: Notes) -> Drive | None:
    row = read_row(DRIVE, data, file, notes)
    if row is None or notes:
        return None
    pulleys = [(name, said) for name, said in row["pulleys"]]
    notes += _of_belt(row["belt"])
    notes += _of_pulleys(row, pulleys)
    notes += _of_tensioner(row, pulleys)
    if notes:
        return None
    drive = _drive(row, pulleys)
    notes += _of_sides(drive, pulleys)
    notes += _too_close(drive, pulleys)
    routes = {key: _route(drive, row.get(key, ()), notes) for key in ("route", "laid")}
    notes += _of_route(drive, row, routes["route"])
    return replace(drive, **routes)


# --- putting it together --------------------------------------------------------------------------


def _drive(row: Row, pulleys: list[tuple[Ref, Row]]) -> Drive:
    return Drive(
        name=row["name"],
        pulleys=tuple(_pulley(name.name, said) for name, said in pulleys),
        belt=_belt(row["belt"]),
        tensioner=_tensioner(row["tensioner"]) if "tensioner" in row else None,
        speed=row.get("loads at"),
        friction=row.get("friction"),
        source=row.get("figures from", ""),
    )


def _pulley(name: str, said: Row) -> Pulley:
    load = said.get("load", phrases.Load())
    return Pulley(
        name=name,
        kind=said["is"],
        diameter=said.get("effective diameter") or said["outside diameter"],
        is_outside="outside diameter" in said,
        grooves=said.get("grooves", 0),
        centre=said.get("at"),
        rotation=said.get("rotation", 0),
        side=said.get("side"),
        power=load.power,
        torque=load.torque,
        what=said.get("note", ""),
    )


def _belt(said: Mark | Row) -> Belt:
    mark, more = (said, {}) if isinstance(said, Mark) else (said.get("mark") or _measured(said), said)
    extra = (more.get(key) for key in ("mass", "back", "tension"))
    return Belt(mark.ribs, mark.profile, mark.length, *extra, is_double=mark.is_double)


def _measured(said: Row) -> Mark:
    """What the mark would say of a belt that has none to be read."""
    return Mark(said["ribs"], said["profile"], said["effective length"])


def _tensioner(said: Row) -> Tensioner:
    pin = said.get("pin", phrases.Pin(None, None))
    return Tensioner(
        pulley=said["pulley"].name,
        pivot=said["pivot"],
        arm=said["arm"],
        free=said["range"][0],
        loaded=said["range"][1],
        marks=said.get("marks"),
        pin=pin.angle,
        pin_diameter=pin.diameter,
        spring=said.get("spring"),
        tool=said.get("tool", ""),
    )


# --- what is wrong --------------------------------------------------------------------------------


def _of_belt(said: Mark | Row) -> Iterable[InputError]:
    """A belt is told by its mark, or by what its mark would say."""
    if isinstance(said, Mark):
        return
    told = [key for key in ("ribs", "profile", "effective length") if key in said]
    if "mark" in said and told:
        yield InputError(f'the mark says ribs, profile and length; leave "{told[0]}" out', said.places[told[0]])
    if "mark" not in said and len(told) < 3:
        yield InputError('a belt needs "mark", or else "ribs", "profile" and "effective length"', said.place)


def _of_pulleys(row: Row, pulleys: list[tuple[Ref, Row]]) -> Iterable[InputError]:
    place = row.places["pulleys"]
    if len(pulleys) < 2:
        yield InputError("a belt runs over two pulleys at least", place)
    drivers = [name for name, said in pulleys if said["is"] == DRIVER]
    if len(drivers) != 1:
        told = f"here are {len(drivers)}: {_listed(drivers)}" if drivers else "none here is"
        yield InputError(f'one pulley drives the others, "is: driver"; {told}', drivers[1].place if drivers else place)
    on_arm = row["tensioner"]["pulley"].name if "tensioner" in row else None
    for name, said in pulleys:
        yield from _of_pulley(name, said, name.name == on_arm)


def _of_pulley(name: Ref, said: Row, is_on_arm: bool) -> Iterable[InputError]:
    if ("effective diameter" in said) == ("outside diameter" in said):
        yield InputError(f'{name.name} needs "effective diameter" or "outside diameter", one of the two', name.place)
    if is_on_arm and "at" in said:
        words = f'{name.name} sits on the tensioner, whose pivot, arm and angles say where; leave "at" out'
        yield InputError(words, said.places["at"])
    if not is_on_arm and "at" not in said:
        yield InputError(f'{name.name} needs "at", its place as in "at: -60, 245 mm"', name.place)
    if said["is"] == DRIVER and "rotation" not in said:
        yield InputError(f'{name.name} drives, so it needs "rotation: clockwise" or "anticlockwise"', name.place)
    if said["is"] != "driven" and "load" in said:
        yield InputError(f'{name.name} takes no load off the belt; that is for what "is: driven"', said.places["load"])


def _of_tensioner(row: Row, pulleys: list[tuple[Ref, Row]]) -> Iterable[InputError]:
    if "tensioner" not in row:
        return
    said, kinds = row["tensioner"], {name.name: one["is"] for name, one in pulleys}
    name = said["pulley"]
    if name.name not in kinds:
        yield _unknown(name.name, kinds, name.place)
    elif kinds[name.name] != IDLER:
        yield InputError(f'{name.name} sits on the tensioner, so it "is: idler"', name.place)
    yield from _of_angles(said)


def _of_angles(said: Row) -> Iterable[InputError]:
    free, loaded = said["range"]
    if not 0 < abs(loaded - free) < 3.15:
        words = "the arm goes from its free stop to its loaded stop by less than half a turn, and by more than nothing"
        if abs(loaded - free) > 3.15:
            words += '; across 0° count on, as in "350 to 380 deg", or below it, as in "20 to -10 deg"'
        yield InputError(words, said.places["range"])
        return
    slackens = phrases.CLOCKWISE if loaded < free else phrases.ANTICLOCKWISE
    if said.get("slacken", slackens) != slackens:
        words = f"from {degrees(free):g} to {degrees(loaded):g} deg the arm turns {SAID[slackens]}"
        advice = 'write "range" from the free stop to the loaded one, or mend "slacken"'
        yield InputError(f"{words}; {advice}", said.places["slacken"])
    marks = said.get("marks", ())
    yield from _beyond(said, "marks", marks)
    yield from _beyond(said, "pin", (said["pin"].angle,) if "pin" in said else ())
    if marks and (marks[1] - marks[0]) * (loaded - free) <= 0:
        words = 'write "marks" as "range" goes: first the mark for the longest belt, then that for the shortest'
        yield InputError(words, said.places["marks"])


def _beyond(said: Row, key: str, angles: Iterable[float]) -> Iterable[InputError]:
    least, most = sorted(said["range"])
    for angle in angles:
        if not least - 1e-9 <= angle <= most + 1e-9:
            words = f"{degrees(angle):g}° lies beyond the stops of the arm, {degrees(least):g}° and {degrees(most):g}°"
            yield InputError(words, said.places[key])


def _of_sides(drive: Drive, pulleys: list[tuple[Ref, Row]]) -> Iterable[InputError]:
    """A rotation and a side that contradict each other."""
    driver = drive.driver
    inner = driver.rotation * (-1 if driver.side == BACK else 1)
    for name, said in pulleys:
        one = drive.pulley(name.name)
        if one.rotation and one.side and one.rotation != (inner if one.side == RIBS else -inner):
            words = f"{name.name} cannot turn {SAID[one.rotation]} with the {one.side} of the belt on it"
            yield InputError(f"{words} while {driver.name} turns {SAID[driver.rotation]}", said.places["side"])


def _too_close(drive: Drive, pulleys: list[tuple[Ref, Row]]) -> Iterable[InputError]:
    places = {name.name: said.places["at"] for name, said in pulleys if "at" in said}
    for one, other, over in overlaps(drive):
        yield InputError(f"{other} lies {1000 * over:.1f} mm into {one}; look at places and diameters", places[other])


def _route(drive: Drive, refs: Iterable[Ref], notes: Notes) -> Route:
    route: list[Stop] = []
    for ref in refs:
        try:
            route.append(read_stop(drive, ref.name))
        except InputError as error:
            notes.append(InputError(error.message, ref.place))
    if trouble := must_hold(drive, tuple(route)):
        notes.append(InputError(trouble, next(iter(refs)).place))
    return tuple(route)


def must_hold(drive: Drive, route: Route) -> str | None:
    """What makes a list of pulleys no route at all, in a sentence; None where it is one, or empty.

    Parameters
    ----------
    drive : Drive
    route : tuple of Stop
    """
    names = [stop.pulley for stop in route]
    if route and drive.driver.name not in names:
        return f"{drive.driver.name} drives the belt, and is not in this route"
    if len(route) == 1:
        return "a belt runs over two pulleys at least"
    twice = next((name for n, name in enumerate(names) if name in names[:n]), None)
    return f"{twice} stands in this route twice; a belt passes it once" if twice else None


def read_stop(drive: Drive, text: str) -> Stop:
    """One pulley of a route, as in ``alternator``, ``tensioner pulley back``, ``alternator, 1 rib off``.

    Ribs off are also told by ``1 groove bare``, or by ``3.5 mm out``.

    Parameters
    ----------
    drive : Drive
    text : str

    Returns
    -------
    stop : Stop
        On the side that belongs there where none is said.

    Raises
    ------
    InputError
        There is no such pulley, or the belt is out by no whole number of ribs, or by more than it has.
    """
    names = [one.name for one in drive.pulleys]
    if text.strip() in names:
        return Stop(text.strip(), side_on(drive, text.strip()))
    said = phrases.stop(text)
    if said.name not in names:
        raise _unknown(said.name, names, None)
    off = _ribs_off(drive, said)
    if off > drive.belt.ribs:
        raise InputError(f"{said.name}: {off} ribs off, where the belt has only {drive.belt.ribs}; look at the figure")
    return Stop(said.name, said.side or side_on(drive, said.name), off)


def _ribs_off(drive: Drive, said: phrases.Said) -> int:
    """How many ribs hang beside a pulley: counted, by the grooves that are bare, or by how far the belt stands out."""
    if said.bare:
        return max(0, said.bare - max(0, drive.pulley(said.name).grooves - drive.belt.ribs))
    if not said.out:
        return said.ribs_off
    found = said.out / drive.belt.profile.pitch
    if abs(found - round(found)) > A_RIB:
        raise InputError(
            f"{1000 * said.out:g} mm are {found:.1f} ribs, no whole number of them: count the ribs beside "
            f"{said.name}, or judge the pulleys' line with --offset"
        )
    return round(found)


def route_places(drive: Drive, data: bytes | str, file: str) -> dict[str | None, Place]:
    """Where each pulley of the right route stands in its file; None stands for the route itself.

    Parameters
    ----------
    drive : Drive
        As it was read from there, with a route
    data : bytes or str
    file : str
    """
    root, _ = parse(data, file)
    route = next(value for key, value in root.entries if key.value == "route")
    stops = [route] if isinstance(route, Text) else route.items
    return {None: route.place} | {read_stop(drive, one.value).pulley: one.place for one in stops}


def _of_route(drive: Drive, row: Row, route: Route) -> Iterable[InputError]:
    missing = [one.name for one in drive.pulleys if one.name not in {stop.pulley for stop in route}]
    if route and missing:
        yield InputError(f"the route leaves out {', '.join(missing)}; it names every pulley", row.places["route"])


def _unknown(name: str, known: Iterable[str], place: Place | None) -> InputError:
    near = nearest(name, known)
    advice = f'did you mean "{near}"?' if near else f"there are: {', '.join(known)}"
    return InputError(f'"{name}" is no pulley of this drive; {advice}', place)


def _listed(refs: Iterable[Ref]) -> str:
    return ", ".join(ref.name for ref in refs)
