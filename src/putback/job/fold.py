"""Events to a state: a pure fold, one small function for each kind of event.

    state = fold(ledger.events(job), area)

Events count in the order of their numbers, not of their clocks: clocks jump. One rule covers devices that send late: a
report that is older, by its own clock, than what another device has said of the same thing may make matters worse,
never better. So whatever order two telephones send in, nothing counts as tight that somebody has since undone.
"""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace

from putback.area.model import CABLE, FASTENERS, PLUG, Area
from putback.area.model import Item as Described
from putback.job.events import Event
from putback.job.kinds import HAND_TIGHT
from putback.job.state import (
    CLOSED,
    HOLES,
    HOME,
    LOOSE,
    NOT_SAID,
    OUT,
    UNTOUCHED,
    Conflict,
    Difference,
    Group,
    Item,
    JobState,
    Lot,
    Moment,
    Reading,
    Report,
    rank,
)
from putback.way.from_area_described import present


def fold(logged: Iterable, area: Area | None = None) -> JobState:
    """What the events of a job add up to.

    Parameters
    ----------
    logged : iterable
        Each with its `number` and its `event`, in the order of their numbers.
    area : Area, optional
        The frozen copy that the job was opened with; None where nobody has described the car.

    Returns
    -------
    state : JobState
    """
    rows = list(logged)
    undone = taken_back(rows)
    state = JobState()
    folding = _Folding(state, area)
    for row in rows:
        event = row.event
        state.last, state.last_at = row.number, event.at
        handler = _HANDLERS.get(event.kind)
        if event.id in undone:
            continue
        if handler is None:
            if event.kind not in _SILENT:
                state.puzzles.append(f'event {row.number}: "{event.kind}" is not known to this program; it is kept')
            continue
        folding.take_up(row.number, event)
        if state.signed and event.kind not in _AFTER_SIGNING:
            state.after_signing.append(row.number)
        handler(folding, event.data)
    return state


def taken_back(rows: Iterable) -> set[str]:
    """Ids of events that do not count; an undoing that was undone itself undoes nothing, whatever came first.

    Parameters
    ----------
    rows : iterable of Logged
    """
    undoing = {row.event.id: row.event.data["event"] for row in rows if row.event.kind == "event undone"}
    against = Counter(undoing.values())
    valid, undone = [own for own in undoing if not against[own]], set()
    while valid:
        target = undoing[valid.pop()]
        if target not in undone:
            undone.add(target)
            if target in undoing:  # it does not count itself, so what it took back has one less against it
                freed = undoing[target]
                against[freed] -= 1
                if freed in undoing and not against[freed]:
                    valid.append(freed)
    return undone


class _Folding:
    """The state so far and the event at hand."""

    def __init__(self, state: JobState, area: Area | None):
        self.state, self.area = state, area
        self.described: dict[str, Described] = dict(area.items) if area else {}
        self.said: dict[tuple, Report] = {}
        self.clocks: dict[str, str] = {}  # the latest time of each device; where one is set back, its order stays
        self.postures: list[tuple[Report, str]] = []
        self.found_wrong: dict[str, int] = {}  # part and number of the event that said so
        self.heard: set[str] = set()  # ids of notes; what another device sends may come before them
        self.other_one: dict[str, int] = {}  # part and number of the event since when it is another unit

    def wrong(self, part: str, note: str) -> None:
        """A part was found to be the wrong one."""
        self.state.wrong[part], self.found_wrong[part] = note, self.number
        self.other_one[part] = self.number

    def take_up(self, number: int, event: Event) -> None:
        """Turn to the next event."""
        self.number, self.event = number, event
        self.report = Report(number, event.at, event.device, event.person, event.id)
        self.clocks[event.device] = max(self.clocks.get(event.device, ""), event.at)

    @property
    def moment(self) -> Moment:
        """When the event happened."""
        return Moment(self.number, self.clocks[self.event.device])

    def newest(self, last: Report | None) -> Report:
        """The report that counts as the last one of a thing: a late one never hides what it came too late for."""
        return last if last is not None and self.late(last) else self.report

    def posture(self) -> str | None:
        """How the car stood when the event happened, which for one that came late may not be how it stands now."""
        known = (posture for report, posture in reversed(self.postures) if not self.late(report))
        return next(known, None)

    def step(self) -> None:
        """Count the event among the steps of work."""
        self.state.steps.append(self.report)

    def late(self, last: Report | None) -> bool:
        """Whether another device has already said something newer of the same thing."""
        return last is not None and last.device != self.event.device and self.event.at < last.at

    def late_on(self, key: tuple) -> bool:
        """The same for a thing that keeps no report of its own; remembers this one unless it is late."""
        last = self.said.get(key)
        if self.late(last):
            return True
        self.said[key] = self.report
        self.state.said[key[-1]] = self.number
        return False

    def conflict(self, item: str, text: str, *others: Report | None) -> None:
        before = [one for one in others if one is not None]
        numbers = (*(one.number for one in before), self.number)
        ids = (*(one.id for one in before), self.event.id)
        self.state.conflicts.append(Conflict(item, text, numbers, ids))

    def belonging(self, part: str) -> tuple[Described, ...]:
        """The fasteners, plugs and cables of a part, and fasteners that hold it besides another; what this car has."""
        owned = (*self.area.belonging_to(part), *self.area.holding(part)) if self.area else ()
        return tuple(item for item in owned if item.name in self.described)

    # Items

    def item(self, name: str) -> Item:
        found = self.state.items.get(name)
        if found is None:
            own = self.described.get(name)
            found = Item(name, own.states[0], levels=own.levels, described=True) if own else Item(name, "fitted")
            self.state.items[name] = found
        return found

    def level(self, item: Item, state: str) -> int:
        """How far from home a state is; what an area does not know counts as all the way."""
        own = self.described.get(item.name)
        if own is None:
            return 0 if state.strip().casefold() in HOME else 1
        if state in own.states:
            return own.states.index(state)
        self.state.puzzles.append(
            f'event {self.number}: "{item.name}" has no state "{state}"; it knows: {", ".join(own.states)}'
        )
        return own.levels

    # Groups

    def group(self, name: str, count: int) -> Group:
        found = self.state.groups.get(name)
        if found is None:
            own = self.described.get(name)
            total = own.fastener.count if own and own.fastener else count
            owner = (own.owner or "") if own else ""
            found = Group(name, total, own is not None, [Lot(total, UNTOUCHED)], belongs_to=owner)
            self.state.groups[name] = found
        return found


def _opened(folding: _Folding, data: dict) -> None:
    state, event = folding.state, folding.event
    if state.job:
        state.puzzles.append(f"event {folding.number}: the job was opened already; the first opening counts")
        return
    state.job, state.name, state.opened_at = event.job, data["name"], event.at
    state.vehicle, state.cap = data.get("vehicle", ""), data.get("cap")
    state.area_file, state.shop_file = data.get("area"), data.get("shop")
    state.files = {kind: data[f"{kind} file"] for kind in ("area", "shop") if f"{kind} file" in data}
    state.targets, state.variants = tuple(data.get("targets", ())), tuple(data.get("variants", ()))
    if folding.area:
        folding.described = present(folding.area, state.variants)


def _moved(folding: _Folding, data: dict) -> None:
    folding.step()
    item = folding.item(data["item"])
    level = folding.level(item, data["state"])
    if "way" in data:
        item.ways = (*item.ways, data["way"])
    _note(folding, data)
    if _too_late(folding, item, level, data["state"]):
        return
    if level > 0:
        _is_away(folding, item, level, data["state"])
    else:
        _is_home(folding, item, data)
    item.state, item.level, item.last, item.by = data["state"], level, folding.newest(item.last), folding.event.person
    folding.state.absent.pop(item.name, None)
    if level == item.levels and item.left == folding.number:
        _belongings(folding, item.name)


def _too_late(folding: _Folding, item: Item, level: int, state: str) -> bool:
    """Whether a report came too late to count: it may make matters worse, never better."""
    last = item.last
    if not folding.late(last):
        return False
    by = folding.event.person
    if level < item.level:
        words = f'"{state}" came late from {by}; it counts as {item.state}, as {last.person} said later'
        folding.conflict(item.name, words, last)
    elif level > item.level:
        words = f"{last.person} said {item.state}, {by} said {state} and it came late; the worse one counts"
        folding.conflict(item.name, words, last)
    return level <= item.level


def _is_away(folding: _Folding, item: Item, level: int, state: str) -> None:
    item.went = Moment.last(item.went, folding.moment)
    if item.home or level > item.level:
        item.left, item.left_at = folding.number, folding.event.at
        item.confirmed, item.new_parts, item.away = "", (), state
        folding.state.order[item.name] = folding.number


def _is_home(folding: _Folding, item: Item, data: dict) -> None:
    if not item.home:
        item.returned, item.came_home = folding.number, folding.moment
    item.confirmed = data.get("confirmed", item.confirmed)
    item.new_parts = (*item.new_parts, *data.get("new parts", ()))


def _belongings(folding: _Folding, part: str) -> None:
    """With a part that is off all that belongs to it is off as well, whether or not anybody has said so.

    What is loose stays so: a clamp that was loosened comes off with its hose, and is tightened there again.
    """
    for own in folding.belonging(part):
        if own.kind == FASTENERS:
            group = folding.group(own.name, 1)
            still_in = sum(lot.count for lot in _take(group, group.count(UNTOUCHED, CLOSED), UNTOUCHED, CLOSED))
            if still_in:
                _take_out(folding, group, still_in, NOT_SAID)
        elif own.kind in (PLUG, CABLE) and folding.item(own.name).home:
            one = folding.item(own.name)
            one.state = one.away = own.states[-1]
            one.level, one.left, one.left_at, one.confirmed = own.levels, folding.number, folding.event.at, ""
            folding.state.order[own.name] = folding.number
            _belongings(folding, own.name)


def _note(folding: _Folding, data: dict) -> None:
    if "note" in data:
        _keep_note(folding, data.get("item", data.get("part", "")), {"note": data["note"]})


def _noted(folding: _Folding, data: dict) -> None:
    """Words; those that are to be heard wait until it is known what they mean."""
    _note(folding, data)
    if data.get("to hear") and folding.event.id not in folding.heard:
        folding.state.unheard[folding.event.id] = data["note"]


def _heard(folding: _Folding, data: dict) -> None:
    folding.heard.add(data["note"])
    folding.state.unheard.pop(data["note"], None)


def _keep_note(folding: _Folding, item: str, what: dict) -> None:
    kept = what | {"number": folding.number, "at": folding.event.at, "person": folding.event.person}
    folding.state.notes.setdefault(item, []).append(kept)


def _take(group: Group, count: int, *standings: str) -> list[Lot]:
    """Take so many out of the lots, the first standing first and of one standing the worst; there may be fewer."""
    taken: list[Lot] = []
    for standing in standings:
        if not count:
            break
        alike = [lot for lot in group.lots if lot.standing == standing]
        for lot in sorted(alike, key=rank) if len(alike) > 1 else alike:
            if not count:
                break
            group.lots.remove(lot)
            if lot.count > count:
                group.lots.append(replace(lot, count=lot.count - count))
                lot.count = count
            count -= lot.count
            taken.append(lot)
    return taken


def _loosened(folding: _Folding, data: dict) -> None:
    folding.step()
    group = folding.group(data["item"], data["count"])
    last = group.last
    _is_there(folding, group)
    if folding.late(last):
        folding.conflict(group.name, f"{last.person} has said more of it since; loosened counts, the worse one", last)
    count = sum(lot.count for lot in _take(group, data["count"], UNTOUCHED, CLOSED))
    if not group.described and data["count"] > count:  # a group bigger than anybody knew
        group.total += data["count"] - count
        count = data["count"]
    if count:
        group.lots.append(Lot(count, LOOSE))
    _left(folding, group)
    _note(folding, data)


def _is_there(folding: _Folding, group: Group) -> None:
    """Whoever has had a tool on it knows better than who said that it is not fitted."""
    folding.state.absent.pop(group.name, None)


def _left(folding: _Folding, group: Group) -> None:
    group.left, group.left_at = folding.number, folding.event.at
    group.last, group.by = folding.newest(group.last), folding.event.person
    folding.state.order[group.name] = folding.number


def _off(folding: _Folding, data: dict) -> None:
    folding.step()
    group, count = folding.group(data["item"], data["count"]), data["count"]
    group.size, group.belongs_to = data.get("size", group.size), data.get("belongs to", group.belongs_to)
    last = group.last
    _is_there(folding, group)
    if folding.late(last) and group.out < group.total:
        words = f"{folding.event.person} said {count} off and it came late"
        folding.conflict(group.name, f"{last.person} has said more of it since, {words}; off counts", last)
    taken = sum(lot.count for lot in _take(group, count, *_taken_first(folding, group)))
    if count > taken:
        taken += _more_than_there_were(folding, group, count - taken)
    group.position = data.get("tray position", group.position)
    _take_out(folding, group, taken, data.get("tray position", HOLES))
    _note(folding, data)


def _taken_first(folding: _Folding, group: Group) -> tuple[str, ...]:
    """Which come out: those that were loosened, but for a late report, which cannot mean what was loosened after it."""
    if not folding.late(group.last):
        return LOOSE, UNTOUCHED, CLOSED
    return (UNTOUCHED, CLOSED, LOOSE) if group.described else (UNTOUCHED, CLOSED)


def _take_out(folding: _Folding, group: Group, count: int, position: str) -> None:
    if count:
        group.lots.append(Lot(count, OUT))
        group.trays[position] = group.trays.get(position, 0) + count
    _left(folding, group)


def _more_than_there_were(folding: _Folding, group: Group, more: int) -> int:
    """More off than there were: a group bigger than anybody knew, or a second report; how many more count as out."""
    last = group.last
    if not group.described:
        group.total += more
        return more
    if last is not None and last.person != folding.event.person and group.out:
        words = f"{last.person} and {folding.event.person} both reported them off; they count once"
        folding.conflict(group.name, words, last)
        return 0
    folding.conflict(group.name, f"{more} more off than the {group.total} there are; they count", last)
    group.extra += more
    group.total += more
    return more


def _lot(folding: _Folding, data: dict, count: int, new: bool, cleaned: bool) -> Lot:
    event = folding.event
    return Lot(
        count=count,
        standing=LOOSE if data["evidence"] == HAND_TIGHT else CLOSED,
        new=new,
        cleaned=cleaned,
        torque=data.get("torque"),
        angle=data.get("angle"),
        evidence=data["evidence"],
        reason=data.get("reason", ""),
        wrench=data.get("wrench", ""),
        passes=data.get("passes", 1),
        in_order=data.get("in order", False),
        where=data.get("at", ""),
        posture=folding.posture(),
        person=event.person,
        apprentice=folding.state.roles.get(event.person) == "apprentice",
        number=folding.number,
        moment=folding.moment,
        at=event.at,
    )


def _on(folding: _Folding, data: dict) -> None:
    folding.step()
    group, count = folding.group(data["item"], data["count"]), data["count"]
    last = group.last
    if folding.late(last) and not group.home:
        words = f"{last.person} has said since that it is open, and that counts"
        folding.conflict(group.name, f"on, as {folding.event.person} said, came late; {words}", last)
        return
    put = sum(lot.count for lot in _take(group, count, OUT))
    _out_of_trays(group, put)
    put += sum(lot.count for lot in _take(group, count - put, LOOSE))
    if put:
        group.lots.append(_lot(folding, data, put, data["new"], data.get("cleaned", False)))
    if put < count:
        _on_again(folding, group, data, count - put)
    _closed(folding, group, data)


def _out_of_trays(group: Group, count: int) -> None:
    for position in list(group.trays):
        taken = min(count, group.trays[position])
        group.trays[position] -= taken
        count -= taken
        if not group.trays[position]:
            del group.trays[position]


def _closed(folding: _Folding, group: Group, data: dict) -> None:
    _is_there(folding, group)
    group.last, group.by = folding.newest(group.last), folding.event.person
    if data["evidence"] != HAND_TIGHT:
        group.closings += 1
    _note(folding, data)


def _on_again(folding: _Folding, group: Group, data: dict, count: int) -> None:
    """On, though fewer were out: those never touched were never logged off; the others are reported a second time."""
    mine = _lot(folding, data, count, data["new"], data.get("cleaned", False))
    never_off = sum(lot.count for lot in _take(group, count, UNTOUCHED))
    if never_off:
        group.lots.append(replace(mine, count=never_off))
    for lot in _take(group, count - never_off, CLOSED):
        group.lots.append(_worse(folding, group, lot, replace(mine, count=lot.count)))


def _worse(folding: _Folding, group: Group, before: Lot, after: Lot) -> Lot:
    """Of two reports of one closing the worse one; where they differ it is shown."""
    if rank(before) == rank(after):
        return before
    other = Report(before.number, before.at, "", before.person, "")
    words = f"{before.person} said {_told(before)}, {after.person} said {_told(after)}; the worse one counts"
    folding.conflict(group.name, words, other)
    return before if rank(before) < rank(after) else after


def _told(lot: Lot) -> str:
    figure = f"{lot.torque:g} N·m, " if lot.torque is not None else ""
    return f"{figure}{'new, ' if lot.new else ''}{lot.evidence}"


def _tightened(folding: _Folding, data: dict) -> None:
    folding.step()
    group, count = folding.group(data["item"], data["count"]), data["count"]
    last, late = group.last, folding.late(group.last)
    if late and not group.home:
        words = f"tightened, as {folding.event.person} said, came late; {last.person} has opened it since"
        folding.conflict(group.name, words, last)
        return
    taken = [*_take(group, count, LOOSE), *_only_thought_out(group, count)]
    taken += _take(group, count - sum(lot.count for lot in taken), CLOSED, UNTOUCHED)
    for lot in taken:
        mine = _one_more_stage(lot, _lot(folding, data, lot.count, lot.new, lot.cleaned))
        group.lots.append(_worse(folding, group, lot, mine) if late and lot.standing == CLOSED else mine)
    missing = count - sum(lot.count for lot in taken)
    if missing:
        words = f"{missing} reported tight that {'is' if missing == 1 else 'are'} out; out counts"
        folding.conflict(group.name, words, last)
    _closed(folding, group, data)


def _only_thought_out(group: Group, count: int) -> list[Lot]:
    """Those that nobody said were out: they came off with their part, as clamps do, and are tightened with it again."""
    wanted = count - group.hand_tight
    thought = min(wanted, group.trays.get(NOT_SAID, 0))
    if thought <= 0:
        return []
    group.trays[NOT_SAID] -= thought
    if not group.trays[NOT_SAID]:
        del group.trays[NOT_SAID]
    return _take(group, thought, OUT)


def _one_more_stage(before: Lot, now: Lot) -> Lot:
    """An angle follows the torque of the stage before it, a higher torque is one more pass; the rest counts anew."""
    now.where, now.in_order = now.where or before.where, now.in_order or before.in_order
    if before.standing != CLOSED:
        return now
    if now.angle is not None and now.torque is None:
        now.torque = before.torque
    elif now.angle is not None and before.angle is not None and now.person == before.person:
        now.new = False  # its whole torque once more, which cannot be without loosening it
    if now.angle is None and before.torque == now.torque:
        now.angle = before.angle
    now.passes = _passes(before, now)
    if (now.torque, now.angle) == (before.torque, before.angle):
        now.moment = before.moment  # looked after, not tightened
    return now


def _passes(before: Lot, now: Lot) -> int:
    """How many passes it has had: those of a lower torque and the one at hand."""
    if before.torque is not None and now.torque is not None and now.torque > before.torque:
        return before.passes + now.passes
    return max(before.passes, now.passes)


def _compared(folding: _Folding, data: dict) -> None:
    """Features that were compared one after another add up, as long as it is the same new part that lies on the bench."""
    compared, part = folding.state.compared, data["part"]
    before = compared.get(part, {})
    if before.get("number", 0) <= folding.other_one.get(part, 0):
        before = {}
    said = {name: before.get(name, {}) | data.get(name, {}) for name in ("old", "new", "accepted")}
    compared[part] = {**data, **said, "number": folding.number, "person": folding.event.person}


def _swapped(folding: _Folding, data: dict) -> None:
    folding.step()
    state, part = folding.state, data["part"]
    before, compared = folding.said.get(("swapped", part)), state.compared.get(part, {}).get("number", 0)
    if before is None or before.person == folding.event.person:  # who says it twice has put in a second one
        folding.said[("swapped", part)] = folding.report
        state.swapped[part], state.swaps[part] = folding.number, folding.moment
        if before is not None and compared < before.number:
            state.compared.pop(part, None)
    if compared > folding.found_wrong.get(part, 0):
        state.wrong.pop(part, None)
    _note(folding, data)


def _difference(folding: _Folding, data: dict) -> None:
    state, name = folding.state, data["item"]
    found = Difference(name, data["what"], data.get("note", ""), folding.number, data.get("count", 0))
    found.tool, found.price = data.get("tool", ""), data.get("price")
    state.differences.append(found)
    if found.what == "not fitted":
        _not_fitted(folding, name, found.count)
    if found.what == "extra found" and found.count and name in folding.described:
        _one_more_there(folding, name, found.count)
    if found.what == "wrong part":
        folding.wrong(name, found.note)
    _note(folding, data)


def _not_fitted(folding: _Folding, name: str, count: int) -> None:
    """All of it, or so many of a group; but what somebody has in a tray was fitted."""
    own = folding.described.get(name)
    if own is None or own.kind != FASTENERS:
        thing = folding.state.groups.get(name) or folding.state.items.get(name)
        if thing is None or not thing.left or thing.last is None:
            folding.state.absent[name] = folding.number
        else:
            words = f"{folding.event.person} said not fitted, and {thing.last.person} had it off, so it was; that counts"
            folding.conflict(name, words, thing.last)
        return
    group = folding.group(name, 1)
    wanted = min(count or group.total, group.total)
    taken = _only_thought_out(group, wanted + group.hand_tight)
    taken += _take(group, wanted - sum(lot.count for lot in taken), UNTOUCHED)
    gone = sum(lot.count for lot in taken)
    group.total -= gone
    if gone < wanted:
        words = f"{wanted} not fitted, as {folding.event.person} said, and {wanted - gone} of them reported off or on"
        folding.conflict(name, words, group.last)
    elif not group.total:
        folding.state.absent[name] = folding.number


def _one_more_there(folding: _Folding, name: str, count: int) -> None:
    if folding.described[name].kind == FASTENERS:
        group = folding.group(name, 1)
        group.total += count
        group.lots.append(Lot(count, UNTOUCHED))


def _settled(folding: _Folding, data: dict) -> None:
    for found in folding.state.differences:
        if found.item == data["item"]:
            found.settled = data["how"]
    folding.state.wrong.pop(data["item"], None)
    _note(folding, data)


def _variant(folding: _Folding, data: dict) -> None:
    """The car is another variant: what was stuck and is reached otherwise there is accounted for by that."""
    state, area, name = folding.state, folding.area, data["variant"]
    group = next((values for values in area.variants.values() if name in values), ()) if area else ()
    if not group:
        state.puzzles.append(f'event {folding.number}: no variant of this car is called "{name}"; it is kept')
        return
    state.variants = (*(one for one in state.variants if one not in group), name)
    folding.described = present(area, state.variants)
    for found in state.differences:
        if not found.settled and _hangs_on(area.items.get(found.item), group):
            found.settled = f"{name}: reached as on such a car"
    _note(folding, data)


def _hangs_on(described: Described | None, variants: tuple[str, ...]) -> bool:
    """Whether a thing is reached another way on one of these variants."""
    ways = described.ways if described else ()
    return any(ref.name in variants for way in ways for ref in way.only)


def _paused(folding: _Folding, data: dict) -> None:
    if folding.state.paused is None:
        folding.state.paused = (folding.event.at, data.get("reason", ""))


PAUSE_MINUTES = 10  # a longer one asks for the last two steps again (common practice, no source)
_LAST = 2


def _resumed(folding: _Folding, data: dict) -> None:
    state = folding.state
    if state.paused is None:
        return
    since, _ = state.paused
    state.pauses.append((since, folding.event.at))
    state.paused = None
    if minutes_between(since, folding.event.at) > PAUSE_MINUTES:
        _ask_again(state)


def _ask_again(state: JobState) -> None:
    state.unconfirmed = tuple(dict.fromkeys((*state.unconfirmed, *(report.id for report in state.steps[-_LAST:]))))


def _handed(folding: _Folding, data: dict) -> None:
    folding.state.handed_to = data["to"]
    _ask_again(folding.state)


def _taken_over(folding: _Folding, data: dict) -> None:
    folding.state.handed_to = None
    _resumed(folding, data)


def _confirmed(folding: _Folding, data: dict) -> None:
    folding.state.unconfirmed = tuple(id for id in folding.state.unconfirmed if id not in data["events"])


def _under(folding: _Folding, data: dict) -> None:
    folding.late_on(("under", data["who"]))
    folding.state.under.setdefault(data["who"], folding.event.at)
    folding.state.went_under[folding.event.id] = data["who"]
    folding.state.clear_at[data["who"]] = ""


def _clear(folding: _Folding, data: dict) -> None:
    if folding.late_on(("under", data["who"])):
        words = f"{data['who']} was reported clear, late; under the car counts until it is said again"
        folding.conflict(data["who"], words)
        return
    folding.state.under.pop(data["who"], None)
    folding.state.clear_at[data["who"]] = folding.event.at


def _car(folding: _Folding, data: dict) -> None:
    if folding.late_on(("car",)):
        folding.conflict("the car", f'"{data["posture"]}" came late and does not count; look how the car stands')
        return
    folding.state.posture = data["posture"]
    folding.postures.append((folding.report, data["posture"]))


def _engine(folding: _Folding, data: dict) -> None:
    state = folding.state
    if data["what"] == "started":
        state.engine_since = folding.event.at
    else:
        state.engine_since, state.engine_stopped_at = "", folding.event.at


def _consent(folding: _Folding, data: dict) -> None:
    event = folding.event
    folding.state.consents.append(data | {"at": event.at, "number": folding.number, "person": event.person})


def _stock(column: str) -> Callable:
    def counted(folding: _Folding, data: dict) -> None:
        row = folding.state.parts.setdefault(data["part"], {})
        row[column] = row.get(column, 0) + data.get("count", 1)
        if column == "returned":
            folding.other_one[data["part"]] = folding.number
        if column == "wrong":
            folding.wrong(data["part"], data.get("note", ""))

    return counted


def _arrived(folding: _Folding, data: dict) -> None:
    _stock("arrived")(folding, data)
    folding.state.wrong.pop(data["part"], None)


def _fluid(name: str) -> Callable:
    def poured(folding: _Folding, data: dict) -> None:
        amounts = getattr(folding.state, name)
        amounts[data["fluid"]] = amounts.get(data["fluid"], 0.0) + data["litres"]
        folding.state.poured[data["fluid"]] = folding.number

    return poured


def _thing(sign: int) -> Callable:
    def counted(folding: _Folding, data: dict) -> None:
        things, key = folding.state.things, (data["what"], data["name"], data["where"])
        things[key] = things.get(key, 0) + sign * data.get("count", 1)
        if sign > 0:
            folding.state.put_in[key] = folding.number

    return counted


def _reading(folding: _Folding, data: dict) -> None:
    event = folding.event
    when = data.get("when") or ("after" if folding.state.swapped else "before")
    good = data.get("good")
    said = (data["what"], data.get("value"), data.get("unit", ""), when, good)
    reading = Reading(*said, folding.number, event.person, event.at, data.get("word", ""), good)
    folding.state.readings.append(reading)


def _weighed(folding: _Folding, data: dict) -> None:
    if not folding.state.swapped:  # what the old part was condemned by stays as it was
        when = {"number": folding.number, "at": folding.event.at, "person": folding.event.person}
        folding.state.weighed = data | when


def _judged(folding: _Folding, data: dict) -> None:
    """The last reading of each name after the repair is good or bad; bad counts over what was said of it."""
    readings = folding.state.readings
    last = {one.what: place for place, one in enumerate(readings) if one.when == "after"}
    for what, place in last.items():
        if what in data["good"] or what in data["bad"]:
            passes = what not in data["bad"] and readings[place].told is not False
            readings[place] = replace(readings[place], good=passes)


def _file(folding: _Folding, data: dict) -> None:
    _keep_note(folding, data.get("item", ""), {"file": data["hash"], "name": data["name"], "type": data["type"]})


def _work_added(folding: _Folding, data: dict) -> None:
    folding.state.added[data["work"]] = data.get("minutes")


def _work_done(folding: _Folding, data: dict) -> None:
    folding.step()
    event = folding.event
    when = {"number": folding.number, "moment": folding.moment, "at": event.at}
    folding.state.work[data["work"]] = data | when | {"person": event.person}
    _note(folding, data | {"item": data["work"]})


def _found(folding: _Folding, data: dict) -> None:
    folding.state.found.append(data | {"number": folding.number})


def _released(folding: _Folding, data: dict) -> None:
    group = folding.state.groups.get(data["item"])
    if group is None or not folding.late(group.last):  # who looked before it was closed has not seen it closed
        folding.state.released[data["item"]] = (folding.event.person, folding.number)


def _accepted(folding: _Folding, data: dict) -> None:
    folding.state.accepted[data["point"]] = data | {"number": folding.number, "person": folding.event.person}


def _refused(folding: _Folding, data: dict) -> None:
    folding.state.refusals.append(data | {"number": folding.number, "at": folding.event.at})


def _signed(folding: _Folding, data: dict) -> None:
    folding.state.signed = data | {"number": folding.number, "at": folding.event.at, "person": folding.event.person}


def minutes_between(earlier: str, later: str) -> float:
    """Minutes from one time of an event to another; 0 where the clock ran backwards.

    Parameters
    ----------
    earlier, later : str
        As events have them: UTC with milliseconds.
    """
    from datetime import datetime

    gone = datetime.fromisoformat(later) - datetime.fromisoformat(earlier)
    return max(0.0, gone.total_seconds() / 60)


_HANDLERS: dict[str, Callable[[_Folding, dict], None]] = {
    "job opened": _opened,
    "intake noted": lambda folding, data: folding.state.intake.append(data),
    "role given": lambda folding, data: folding.state.roles.update({data["who"]: data["role"]}),
    "plan made": lambda folding, data: folding.state.plans.append(data | {"number": folding.number}),
    "item moved": _moved,
    "fasteners loosened": _loosened,
    "fasteners off": _off,
    "fasteners on": _on,
    "fasteners tightened": _tightened,
    "part compared": _compared,
    "part swapped": _swapped,
    "difference found": _difference,
    "difference settled": _settled,
    "variant found": _variant,
    "job paused": _paused,
    "job resumed": _resumed,
    "job handed on": _handed,
    "job taken over": _taken_over,
    "steps confirmed": _confirmed,
    "person went under": _under,
    "person came clear": _clear,
    "car moved": _car,
    "engine ran": _engine,
    "consent given": _consent,
    "part ordered": _stock("ordered"),
    "part arrived": _arrived,
    "part found wrong": _stock("wrong"),
    "part returned": _stock("returned"),
    "fluid drained": _fluid("drained"),
    "fluid filled": _fluid("filled"),
    "thing put in": _thing(1),
    "thing taken out": _thing(-1),
    "reading taken": _reading,
    "suspects weighed": _weighed,
    "readings judged": _judged,
    "note added": _noted,
    "note heard": _heard,
    "file added": _file,
    "work added": _work_added,
    "work done": _work_done,
    "fastener found": _found,
    "hold point released": _released,
    "point accepted": _accepted,
    "hand-over refused": _refused,
    "hand-over signed": _signed,
}
_SILENT = ("event undone",)
_AFTER_SIGNING = ("note added", "file added", "hand-over signed", "part returned", "work done")
