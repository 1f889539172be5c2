"""Where a job stands: what is off now, what cannot be opened, what broke. docs/area-files.md explains the file."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice

from putback.area import needs, quantity
from putback.area.model import ON_A_LIFT, ON_STANDS, ON_THE_GROUND, PUT_IN, Area, Item, Ref, Spread
from putback.area.notes import Notes, bounded
from putback.area.shape import Named, Names, NamesOrList, OneOf, Record, Row, Several, Word, read_row, version
from putback.area.spelling import nearest
from putback.errors import Findings, InputError, Place


@dataclass(frozen=True)
class At:
    """Where an item stands: it has fully reached `level`, and `done` of its pieces have gone one further."""

    level: int
    done: int = 0
    way: str | None = None  # how a thing was put in, where there are several ways


@dataclass(frozen=True)
class State:
    """A job under way. What is not named stands where it belongs."""

    file: str
    at: dict[str, At]
    shut: dict[str, str]  # cannot be opened: item and reason
    absent: tuple[str, ...] = ()
    broken: dict[str, Fraction] | None = None  # price of a new one, in cents
    posture: str | None = None
    vantage: str | None = None
    tool: str | None = None
    turned: tuple[tuple[str, str], ...] = ()
    swapped: bool = False
    done: tuple[str, ...] = ()  # job work that is done
    variants: tuple[str, ...] = ()
    waiting: dict[str, Fraction] | None = None  # minutes still to wait after an item's move
    added: tuple[tuple[str, Spread], ...] = ()  # job work that was not foreseen


STATE = Record(
    "a state file",
    {
        "state": version("1"),
        "area": Word(str.strip, "the area's name", "alternator, demo car A"),
        "variants": Several(Named("a variant", "all-wheel drive")),
        "posture": OneOf((ON_THE_GROUND, ON_A_LIFT, ON_STANDS)),
        "working from": Named("a place to work from", "top"),
        "turned": Names(Word(str.strip, "a setting", "full left")),
        "tool in hand": Word(str.strip, "a tool", "18 mm socket"),
        "now": Names(Named("a state", "3 of 7 out"), "items"),
        "cannot be opened": NamesOrList(Word(str.strip, "a reason", "turns with its stud"), "items"),
        "not fitted": Several(Named("an item", "undertray")),
        "broken": Names(Word(quantity.money, "the price of a new one", "24.00", number=True), "items"),
        "swapped": OneOf(("yes", "no")),
        "done": Several(Named("job work", "readings before")),
        "still to wait": Names(Word(quantity.minutes, "a time", "4 min"), "items"),
        "added work": Names(Word(quantity.minutes_spread, "a time", "25 min"), "work"),
    },
    required=("state",),
)


def read_state(data: bytes | str, file: str, area: Area) -> State:
    """Read a state file against the area it belongs to; Findings with everything that is wrong with it."""
    state, findings = scan_state(data, file, area)
    if findings:
        raise Findings(findings)
    return state


def with_variants(area: Area, state: State | None, names: Iterable[str]) -> State:
    """A state with what the car is besides, said by name.

    Parameters
    ----------
    area : Area
    state : State or None
        None for a car that nobody has touched yet.
    names : names of variants

    Raises
    ------
    InputError
        A variant is not known, or two of them exclude each other.
    """
    state, known = state or State("", {}, {}), _variants(area)
    for name in names:
        if name not in known:
            near = nearest(name, known, 0.5)
            advice = f'did you mean "{near}"?' if near else f"there are: {', '.join(known) or 'none'}"
            raise InputError(f'"{name}" is no variant of {area.name}; {advice}')
    chosen = tuple(dict.fromkeys((*state.variants, *names)))
    for words in _excluding(area, chosen):
        raise InputError(words)
    return replace(state, variants=chosen)


def _variants(area: Area) -> list[str]:
    return [value for values in area.variants.values() for value in values]


def _excluding(area: Area, names: tuple[str, ...]) -> Iterator[str]:
    """What is wrong with variants of which a car can have one only."""
    for values in area.variants.values():
        chosen = [value for value in values if value in names]
        if len(chosen) > 1:
            yield f'a car is "{chosen[0]}" or "{chosen[1]}", not both; name the one that it is'


def scan_state(data: bytes | str, file: str, area: Area) -> tuple[State | None, list[InputError]]:
    """Like `read_state`, but gives the findings back."""
    return bounded(lambda notes: _scanned(data, file, area, notes), file)


def _scanned(data: bytes | str, file: str, area: Area, notes: Notes) -> State | None:
    row = read_row(STATE, data, file, notes)
    return None if row is None else _Reading(area, notes).state(row, file)


@dataclass
class _Reading:
    """Reads one file against one area and notes what does not fit."""

    area: Area
    findings: Notes

    def state(self, row: Row, file: str) -> State:
        """The state that a row tells, as far as it fits the area."""
        if "area" in row and row["area"] != self.area.name:
            words = f'this state belongs to "{row["area"]}", not to "{self.area.name}"'
            self.findings.append(InputError(words, row.places["area"]))
        absent = ((ref, None) for ref in row.get("not fitted", ()))
        return State(
            file=file,
            at=self._now(row),
            shut={item.name: reason or "" for item, reason in self._items(row.get("cannot be opened", ()))},
            absent=tuple(item.name for item, _ in self._items(absent)),
            broken={item.name: price for item, price in self._items(row.get("broken", ()))},
            posture=row.get("posture"),
            vantage=self._known(row.get("working from"), self.area.vantages, "a place to work from"),
            tool=row.get("tool in hand"),
            turned=tuple(self._setting(ref, value) for ref, value in row.get("turned", ())),
            swapped=row.get("swapped") == "yes",
            done=tuple(self._known(ref, self._work(), "job work of this area") for ref in row.get("done", ())),
            variants=self._chosen(row.get("variants", ())),
            waiting={item.name: minutes for item, minutes in self._items(row.get("still to wait", ()))},
            added=tuple((ref.name, spread) for ref, spread in row.get("added work", ())),
        )

    def _items(self, pairs):
        for ref, value in pairs:
            try:
                yield needs.find_item(self.area, ref), value
            except InputError as error:
                self.findings.append(error)

    def _known(self, ref: Ref | None, known, what: str) -> str | None:
        if ref is not None and ref.name not in known:
            words = f'"{ref.name}" is not {what}; there are: {", ".join(known) or "none"}'
            self.findings.append(InputError(words, ref.place))
        return ref.name if ref is not None else None

    def _work(self) -> list[str]:
        return [work.name for work in self.area.job_work]

    def _chosen(self, refs: tuple[Ref, ...]) -> tuple[str, ...]:
        names = tuple(self._known(ref, _variants(self.area), "a variant of this area") for ref in refs)
        self.findings += [InputError(words, refs[-1].place) for words in _excluding(self.area, names)]
        return names

    def _setting(self, ref: Ref, value: str) -> tuple[str, str]:
        if value not in self.area.turns.get(ref.name, ()):
            self.findings.append(InputError(f'"{ref.name} {value}" is no setting of this area', ref.place))
        return ref.name, value

    def _now(self, row: Row) -> dict[str, At]:
        """What is named, and with a part that is out all that belongs to it unless it is named itself."""
        said = {}
        for item, ref in self._items(row.get("now", ())):
            try:
                said[item.name] = at(item, ref)
            except InputError as error:
                self.findings.append(error)
        implied = {}
        for name, where in said.items():
            if where.level == self.area.items[name].levels:
                implied |= {one.name: At(one.levels) for one in self.area.belonging_to(name)}
        if row.get("posture", ON_THE_GROUND) == ON_THE_GROUND:
            self.findings += islice(self._cannot_stand(implied | said, row), 1)
        return implied | said

    def _cannot_stand(self, now: dict[str, At], row: Row) -> Iterator[InputError]:
        """What is off, or in, although the car is said to stand on its wheels."""
        place = row.places.get("now", row.place)
        for ref in self.area.stands_on:
            for item in (self.area.items[ref.name], *self.area.belonging_to(ref.name)):
                if now.get(item.name, At(0)).level > (item.levels - 1 if item.fastener else 0):
                    yield _not_there(item.name, item.states[-1], place)
        for name, where in now.items():
            item = self.area.items[name]
            ways = [way for way in item.ways if way.name == where.way]
            if where.level and any(manner.keeps_raised for manner in (item.base, *ways)):
                yield _not_there(name, item.states[-1], place)


def _not_there(name: str, state: str, place: Place) -> InputError:
    words = f'the car is on the ground, but "{name}" is {state}; write where it stands as "posture: on a lift"'
    return InputError(words, place)


def at(item: Item, ref: Ref) -> At:
    """Where an item stands, from `off`, `3 of 7 out` or `by support bar`."""
    text = ref.name
    if item.kind == PUT_IN and item.ways and (found := re.fullmatch(r"(?:in )?by (.+)", text)):
        return At(item.levels, way=needs.find_way(item, found[1], ref))
    if found := re.fullmatch(r"(\d+) of (\d+) (.+)", text):
        return _partly(item, int(found[1]), int(found[2]), needs.find_level(item, found[3], ref), ref)
    level = needs.find_level(item, text, ref)
    if level and item.kind == PUT_IN and item.ways:
        ways = " or ".join(f"by {way.name}" for way in item.ways)
        raise InputError(f'"{item.name}" may be put in in several ways; say which: {ways}', ref.place)
    return At(level)


def _partly(item: Item, done: int, of: int, level: int, ref: Ref) -> At:
    count = item.fastener.count if item.fastener else 1
    if of != count or done > count:
        raise InputError(f'"{ref.name}": there are {count} of "{item.name}"', ref.place)
    if level == 0:
        raise InputError(f'"{ref.name}": say how many are {" or ".join(item.states[1:])}', ref.place)
    if done == count:
        return At(level)
    return At(level - 1, done)
