"""Everything that is wrong with a file, found in one go.

Put together above the rooms: area judges names and needs, torque the figures, way what can be reached.
"""

from collections.abc import Iterator

from putback.area.area_file import scan_area
from putback.area.model import Area, Fastener, Item, Ref
from putback.area.nodes import Map, parse
from putback.area.notes import Notes, bounded
from putback.area.shop_file import Shop, scan_shop
from putback.area.spelling import nearest
from putback.area.state_file import State, scan_state
from putback.belt.finding import Finding
from putback.belt.judge import judge_route
from putback.drive_file import route_places, scan_drive
from putback.errors import Advice, InputError, Place
from putback.torque import threads
from putback.torque.classes import proof_torque
from putback.torque.judge import HIGH_SHARE, LOW_SHARE
from putback.units import read_tightening


KINDS = ("drive", "area", "shop", "state")


def check_files(files: dict[str, bytes], shop: str | None = None) -> list[InputError]:
    """Check several files together: areas for the shop, states against the area that they belong to.

    Parameters
    ----------
    files : dict of bytes
        What each file holds, by name.
    shop : str, optional
        The name of the file whose shop the areas are checked for.

    Returns
    -------
    findings : list of InputError
        Sorted by file as given, then by place; advice among them, which is nothing wrong.
    """
    found: dict[str, list[InputError]] = {name: [] for name in files}
    kinds = {name: kind_of(data, name) for name, data in files.items()}
    areas, shops = [], {}
    for name in _of_kind(kinds, "shop"):
        shops[name], found[name] = check_shop(files[name], name)
    if shop is not None and kinds[shop] != "shop":
        found[shop].append(InputError('this is no shop file; a shop file begins with "shop: 1"', (shop,)))
    for name in _of_kind(kinds, "area"):
        area, findings = check_area(files[name], name, shops.get(shop))
        found[name] += findings
        areas += [area] if area is not None and not wrong(findings) else []
    for name in _of_kind(kinds, "state"):
        found[name] = _state_among(files[name], name, areas)
    for name in _of_kind(kinds, "drive"):
        found[name] = check_drive(files[name], name)
    for name in _of_kind(kinds, None):
        found[name] += _unknown_kind(files[name], name)
    return [finding for one in found.values() for finding in one]


def wrong(findings: list[InputError]) -> list[InputError]:
    """Findings without what is advice alone.

    Parameters
    ----------
    findings : list of InputError
    """
    return [finding for finding in findings if not isinstance(finding, Advice)]


def _of_kind(kinds: dict[str, str | None], kind: str | None) -> list[str]:
    return [name for name, one in kinds.items() if one == kind]


def kind_of(data: bytes | str, file: str) -> str | None:
    """Which kind of file this is, by the key that names its form; None if it cannot be told."""
    root, _ = parse(data, file)
    keys = [key.value for key, _ in root.entries] if isinstance(root, Map) else []
    return next((kind for kind in reversed(KINDS) if kind in keys), None)  # a state file names its area as well


def _unknown_kind(data: bytes, file: str) -> list[InputError]:
    root, findings = parse(data, file)
    if root is None and findings:
        return findings
    begins = '"area: 1", "shop: 1", "state: 1" or "drive: 1"'
    return [InputError(f"it cannot be told what this is; begin with {begins}", (file, 1, 1))]


def _state_among(data: bytes, file: str, areas: list[Area]) -> list[InputError]:
    """Check a state file against that one of some areas which it names, or the only one there is."""
    named = [area for area in areas if area.name == area_of(data, file)] or areas
    if len(named) != 1:
        return [InputError("a job's state is checked with its area; name the area file as well", (file, 1, 1))]
    return check_state(data, file, named[0])[1]


def area_of(data: bytes | str, file: str) -> str | None:
    """The name of the area that a state file belongs to, as far as it says so."""
    root, _ = parse(data, file)
    entries = root.entries if isinstance(root, Map) else ()
    return next((value.value for key, value in entries if key.value == "area" and hasattr(value, "value")), None)


def check_drive(data: bytes | str, file: str) -> list[InputError]:
    """A drive file by itself: what is wrong with it, and what speaks against the route that it says is right.

    Parameters
    ----------
    data : bytes or str
    file : str
    """
    drive, found = scan_drive(data, file)
    if drive is None or found or not drive.route:
        return found
    places = route_places(drive, data, file)
    judged = judge_route(drive, drive.route)
    return sorted((_of_route(one, places) for one in judged), key=lambda one: one.place)


def _of_route(one: Finding, places: dict[str | None, Place]) -> InputError:
    kind = InputError if one.verdict == "stop" else Advice
    return kind(one.words, places.get(one.pulley, places[None]))


def check_area(data: bytes | str, file: str, shop: Shop | None = None) -> tuple[Area | None, list[InputError]]:
    """An area file, by itself or for a shop.

    Returns
    -------
    area : Area or None
        None where it could not be read.
    findings : list of InputError
        Sorted by place.
    """
    area, found = scan_area(data, file)
    if area is None:
        return area, found
    return area, bounded(lambda notes: _judge(area, shop, notes, found), file)[1]


def _judge(area: Area, shop: Shop | None, notes: Notes, found: list[InputError]) -> None:
    notes += found
    notes += _torques(area)
    if not notes:
        notes += _minutes(area)
        notes += _circles(area)
    if not notes:
        notes += _advice(area)
    if shop is not None and not wrong(notes):
        notes += _for_shop(area, shop)


def check_shop(data: bytes | str, file: str) -> tuple[Shop | None, list[InputError]]:
    """A shop file."""
    return scan_shop(data, file)


def check_state(data: bytes | str, file: str, area: Area) -> tuple[State | None, list[InputError]]:
    """A state file, against the area that it belongs to."""
    return scan_state(data, file, area)


# Torques


def _torques(area: Area) -> Iterator[InputError]:
    for item in area.items.values():
        if item.fastener is not None:
            words = torque_finding(item.fastener)
            if words:
                yield InputError(f"{item.name}: {words}", item.place)


def torque_finding(fastener: Fastener) -> str | None:
    """What is wrong with a group's thread or torque, in one sentence; None if nothing is.

    Notes
    -----
    A torque above 0.9 of the thread's proof torque with no angle after it is taken for a slip of unit or
    size; of an angle-tightened fastener the stages before the angle are judged.
    """
    thread, torque = fastener.thread, fastener.torque
    if thread is None or thread.kind != "M":
        return None
    known = threads.pitches(thread.diameter)
    pitch = thread.pitch or threads.coarse_pitch(thread.diameter)
    if pitch is None:
        return f"M{thread.diameter:g} has no coarse pitch in the table; write the pitch, as in M{thread.diameter:g}x1.5"
    if known and pitch not in known:
        sizes = ", ".join(f"{one:g}" for one in known)
        return f"M{thread.diameter:g}x{pitch:g} is no metric thread of the table; its pitches are {sizes}"
    if torque is None or fastener.property_class is None:
        return None
    proof = proof_torque(threads.metric(thread.diameter, pitch), fastener.property_class)
    return _too_tight(fastener, proof) or _hardly_tight(fastener, proof)


def _too_tight(fastener: Fastener, proof: float | None) -> str | None:
    stage = fastener.torque.highest
    if proof is None or stage <= HIGH_SHARE * proof:
        return None
    words = (
        f'torque "{fastener.torque.text}" is {stage / proof:.2g} x the proof torque ({proof:.3g} N·m) of '
        f"{fastener.thread.text}, class {fastener.property_class}"
    )
    if stage / 12 <= HIGH_SHARE * proof and stage > 3 * proof:
        return f"{words}; were inch-pounds meant?"
    return f"{words}; look at the unit, the size and the class, or write the angle stage"


def _hardly_tight(fastener: Fastener, proof: float | None) -> str | None:
    """Inch-pounds that would be a sound torque in foot-pounds, and are hardly any as they stand."""
    torque = fastener.torque
    if proof is None or torque.angle is not None or read_tightening(torque.text).unit != "in-lb":
        return None
    if torque.highest >= LOW_SHARE * proof or not LOW_SHARE <= 12 * torque.highest / proof <= HIGH_SHARE:
        return None
    return (
        f'torque "{torque.text}" is only {torque.highest / proof:.2g} x the proof torque ({proof:.3g} N·m) of '
        f"{fastener.thread.text}, class {fastener.property_class}; were foot-pounds meant?"
    )


# Minutes and reach


def _minutes(area: Area) -> list[InputError]:
    from putback.way.from_area_minutes import judge_minutes

    return judge_minutes(area)


def _circles(area: Area) -> list[InputError]:
    from putback.way.from_area_circles import findings

    return findings(area)


def _advice(area: Area) -> list[Advice]:
    from putback.way.from_area_hangs import advice

    return advice(area)


def _for_shop(area: Area, shop: Shop) -> list[InputError]:
    """What keeps this shop from a target, and names that differ from the shop's by a slip of the pen."""
    found = list(_near_misses(area, shop))
    for target in area.targets:
        found += _unreached(area, shop, target.name)
    return found


def _near_misses(area: Area, shop: Shop):
    known = dict.fromkeys([*(stock.name for stock in shop.stock), "second person"])
    for item in area.items.values():
        for demand in _demands(item):
            for offer in demand.offers:
                near = None if offer.name in known else nearest(offer.name, known, 0.85)
                if near:
                    words = f'the shop has no "{offer.name}", but a "{near}"; write both names the same'
                    yield InputError(words, demand.place or item.place)


def _demands(item: Item):
    for manner in (item.base, *item.ways, *([item.bench] if item.bench else [])):
        yield from manner.equipment


def _unreached(area: Area, shop: Shop, target: Ref) -> list[InputError]:
    from putback.way.from_area_missing import smallest_missing

    sets = smallest_missing(area, shop, [target.name])
    if sets == [()]:
        return []
    wants = " or ".join(" and ".join(map(str, one)) for one in sets)
    words = f'this shop has no way to "{target.name}"' + (f"; it would take: {wants}" if wants else "")
    return [InputError(words, target.place)]
