"""From the rows of an area file to its items.

A row says what was written; an item says what it means, with the owner's name on each fastener, plug
and cable, and each direction called out or back.
"""

from dataclasses import dataclass, replace

from putback.area.fastener import FLAGS, Line, read_line
from putback.area.model import (
    BACK,
    BELT,
    CABLE,
    FASTENERS,
    LINE,
    MARKS,
    OUT,
    PART,
    PLUG,
    POSTURES,
    PUT_IN,
    Caution,
    Fastener,
    Fluid,
    Item,
    Manner,
    NewPart,
    Ref,
    Stand,
)
from putback.area.shape import Report, Row
from putback.errors import InputError

STATES = {
    PART: ("fitted", "off"),
    PLUG: ("plugged", "unplugged"),
    CABLE: ("on", "off"),
    LINE: ("joined", "open"),
    BELT: ("on", "off"),
    FASTENERS: ("tight", "out"),
    PUT_IN: ("out", "in"),
    MARKS: ("not marked", "marked"),
}
_LONG_FORM = {
    "class": "property_class",
    "torque": "torque",
    "pattern": "pattern",
    "price": "price",
    "where": "where",
    "source": "source",
}
SECTIONS = {"parts": PART, "plugs": PLUG, "cables": CABLE, "lines": LINE, "belts": BELT}


Openings = tuple[Manner, ...]
MOST_THINGS = 5_000  # parts, groups of fasteners, plugs, ...; a thorough area has some hundred


@dataclass
class Builder:
    """Collects items by name; a name given twice is reported with both places."""

    turns: dict[str, tuple[str, ...]]
    report: Report
    items: dict[str, Item]

    def add(self, item: Item) -> None:
        first = self.items.get(item.name)
        if first is not None:
            words = f'"{item.name}" is the name of something in line {first.place.line} already; give each its own'
            self.report(InputError(words, item.place))
            return
        if len(self.items) >= MOST_THINGS:
            raise InputError(f"the file describes more than {MOST_THINGS} things; leave out what is not near the job", item.place)
        self.items[item.name] = item

    def thing(self, name: Ref, row: Row, kind: str, owner: str | None = None, openings: Openings = ()) -> None:
        """A part, plug, cable, line or belt with all that belongs to it; `openings` are those of its owner."""
        home, away = STATES[kind]
        away = row["goes"].split(",")[0].strip() if "goes" in row else away
        item = Item(name.name, kind, (home, away), name.place, owner, **self._common(row))
        ways = self._ways(row.get("out through", ()) + row.get("by", ()))
        self.add(
            replace(
                item,
                ways=ways or (() if item.base.stand else openings),
                how=_sides(row.get("how", {}), "off", "on"),
                base=_with_filling(item.base, row.get("filled by")),
                loses=self._fluid(row),
                mass=row.get("mass"),
                wait=row.get("wait after"),
                rides_on=row.get("rides on"),
                bench=self.manner(row["at the bench"]) if "at the bench" in row else None,
                tighten_after=row.get("tighten after", ()),
            )
        )
        self._belongings(name.name, row, () if item.base.stand else _openings(ways))

    def _fluid(self, row: Row) -> Fluid | None:
        """What runs out, and the follow-up that fills it again."""
        fluid, filling = row.get("loses"), row.get("filled by")
        if filling is not None and fluid is None and "loses" not in row.spoilt:
            self.report(InputError(f'"{filling.name}" fills nothing here; say under loses what runs out', filling.place))
        return replace(fluid, filled_by=filling) if fluid else None

    def _belongings(self, owner: str, row: Row, openings: Openings) -> None:
        for name, said in row.get("held by", ()):
            self.fasteners(name, said, owner, openings)
        for key, kind in (("plugs", PLUG), ("cables", CABLE)):
            for name, said in row.get(key, ()):
                self.thing(name, _row_of_plug(name, said), kind, owner, openings)

    def fasteners(self, name: Ref, said: Ref | Row, owner: str | None, openings: Openings = ()) -> None:
        """A group of fasteners, from its line alone or from a mapping; `openings` are those of its owner."""
        row = said if isinstance(said, Row) else Row(said.place)
        read = self._line(said)
        line = read or Line()
        common = self._common(row)
        common["base"] = self._with_line(common["base"], line, row.place)
        loosen_while = row.get("loosen while", ())
        loose = line.fastener.on_the_ground or loosen_while
        item = Item(name.name, FASTENERS, ("tight", "loose", "out") if loose else ("tight", "out"), name.place, owner)
        after = tuple(Ref(text, row.place) for text in line.after)
        self.add(
            replace(
                item,
                **common | {"about": "", "incomplete": read is None or row.incomplete},
                fastener=line.fastener,
                ways=self._ways(row.get("reached", ())) or (() if common["base"].stand else openings),
                holds=row.get("also holds", ()),
                loosen_while=loosen_while,
                tighten_after=after + row.get("tighten after", ()),
            )
        )

    def _line(self, said: Ref | Row) -> Line | None:
        text = said.name if isinstance(said, Ref) else said.get("is") or f"{said.get('count', 1)} x {said.get('of')}"
        try:
            line = read_line(text)
        except InputError as error:
            self.report(InputError(error.message, said.place))
            return None
        return line if isinstance(said, Ref) else replace(line, fastener=_at_length(line.fastener, said))

    def _with_line(self, base: Manner, line: Line, place) -> Manner:
        stand = base.stand
        if stand is None and line.stand is not None:
            stand = self.stand(Ref(line.stand, place))
        return replace(base, tools=base.tools or line.tools, stand=stand)

    def put_in(self, name: Ref, row: Row) -> None:
        """A support, tie, pin, strap, cap or mark that is put in on the way."""
        kind = MARKS if "marks" in row else PUT_IN
        item = Item(name.name, kind, STATES[kind], name.place, **self._common(row, "in", "out"))
        self.add(
            replace(
                item,
                ways=self._ways(row.get("by", ()), "in", "out"),
                how=_sides(row.get("how", {}), "in", "out"),
                secures=row.get("secures", ()),
                covers=row.get("covers", ()),
                marks=row.get("marks", ()),
            )
        )

    def _common(self, row: Row, out_word: str = "off", back_word: str = "on") -> dict:
        return {
            "about": row.get("is", ""),
            "base": self.manner(row, "", out_word, back_word),
            "minutes": row.get("minutes"),
            "counted_in": row.get("part of"),
            "hazards": row.get("hazards", ()),
            "new_parts": tuple(
                NewPart(part.name, price, count) for part, (count, price) in row.get("new parts", ())
            ),
            "why": row.get("why", ""),
            "incomplete": row.incomplete,
        }

    def _ways(self, pairs: tuple, out_word: str = "off", back_word: str = "on") -> tuple[Manner, ...]:
        return tuple(self.manner(row, name.name, out_word, back_word, name.place) for name, row in pairs)

    def manner(self, row: Row, name: str = "", out_word: str = "off", back_word: str = "on", place=None) -> Manner:
        """What a row says of how the thing is moved."""
        return Manner(
            name,
            place or row.place,
            behind=row.get("behind", ()),
            still=row.get("while", ()),
            stand=self.stand(row["from"]) if "from" in row else None,
            tools=tuple(one for sets in row.get("tools", ()) for one in sets),
            equipment=row.get("with", ()),
            certificates=row.get("certificates", ()),
            minutes=row.get("minutes"),
            risks=row.get("risk", ()) + row.get("breakage", ()),
            cautions=sided(row.get("cautions", ()), out_word, back_word),
            follow_ups=row.get("follow-ups", ()),
            helper=row.get("second person"),
            only=row.get("only for", ()),
            keeps_raised="keeps the car" in row,
        )

    def stand(self, said: Ref) -> Stand:
        """`under, on a lift`, `top or under`, `wheel arch, steering full left`."""
        first, *rest = [part.strip() for part in said.name.split(",")]
        vantages = tuple(Ref(name.strip(), said.place) for name in first.split(" or "))
        stand = Stand(vantages)
        for phrase in rest:
            if phrase in POSTURES:
                stand = replace(stand, posture=phrase)
            elif (setting := self._setting(phrase)) is not None:
                stand = replace(stand, turned=(*stand.turned, setting))
            else:
                known = [*POSTURES, *(f"{name} {value}" for name, values in self.turns.items() for value in values)]
                words = f'"{phrase}" is neither a posture nor a setting; there are: {", ".join(known)}'
                self.report(InputError(words, said.place))
        return stand

    def _setting(self, phrase: str) -> tuple[str, str] | None:
        for name, values in self.turns.items():
            for value in values:
                if phrase == f"{name} {value}":
                    return name, value
        return None


def _with_filling(base: Manner, filling: Ref | None) -> Manner:
    """The follow-up that fills what runs out is owed like any other."""
    known = [ref.name for ref in base.follow_ups]
    owed = () if filling is None or filling.name in known else (filling,)
    return replace(base, follow_ups=base.follow_ups + owed)


def _openings(ways: tuple[Manner, ...]) -> Openings:
    """How what belongs to a part is reached where the part itself is worked on only through its openings."""
    if not all(way.stand for way in ways):
        return ()
    return tuple(
        Manner(way.name, way.place, behind=way.behind, stand=way.stand, certificates=way.certificates, only=way.only)
        for way in ways
    )


def _row_of_plug(name: Ref, said: Row | str | None) -> Row:
    if isinstance(said, Row):
        return said
    row = Row(name.place)
    if said:
        row["is"] = said
    return row


def _sides(row: dict, out_word: str, back_word: str) -> tuple[tuple[str, str], ...]:
    sides = ((OUT, out_word), (BACK, back_word))
    return tuple((direction, row[word]) for direction, word in sides if word in row)


def sided(said: tuple, out_word: str, back_word: str) -> tuple[Caution, ...]:
    """Cautions, each with the direction that it is for.

    Parameters
    ----------
    said : tuple
        A text for both directions, or a mapping from the word of a direction to a text.
    out_word, back_word : str
        What the directions are called there: off and on, in and out.
    """
    found = []
    for one in said:
        if isinstance(one, str):
            found.append(Caution(one))
        else:
            found += [Caution(text, direction) for direction, text in _sides(one, out_word, back_word)]
    return tuple(found)


def _at_length(fastener: Fastener, row: Row) -> Fastener:
    """The fastener with what a mapping adds to its line, key by key."""
    said = {name: row[key] for key, name in _LONG_FORM.items() if key in row}
    flags = {name: value for flag in row.get("flags", ()) for name, value in FLAGS[flag].items()}
    return replace(fastener, **said, **flags)
