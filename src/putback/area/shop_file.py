"""The shop: what it has, what it may do, and what its time costs. docs/shop-files.md explains the file."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from putback.area import quantity
from putback.area.charges import NO_CHARGES, QUOTES, Charges, charges, per_hour
from putback.area.model import ON_A_LIFT, ON_STANDS, SECOND_PERSON, Demand, Equipment
from putback.area.notes import Notes, bounded
from putback.area.shape import Either, Names, OneOf, Record, Row, Several, Word, read_row, version
from putback.area.tools import sizes, tool
from putback.area.wrench import Wrench, read_wrench
from putback.errors import Findings, InputError
from putback.units import TORQUE_UNITS
from putback.units.lengths import read_length

_NUMBER = r"\d+(?:\.\d+)?"
RUST = {"clean": 0, "usual": 1, "heavy": 2}


@dataclass(frozen=True)
class Stock:
    """So many pieces of equipment of one kind, all with the same rating [kg] where there is one."""

    name: str
    count: int
    rating: int | None = None


@dataclass(frozen=True)
class Raising:
    """A way to get the car off the ground: minutes up and down, what it holds and what it needs to move."""

    posture: str
    up: Fraction
    down: Fraction
    holds: tuple[Equipment, ...]
    moving: tuple[Equipment, ...] = ()


# What holds the car is common practice, no source; the minutes are our own estimate, for a shop that gives none.
RAISING = (
    Raising(ON_A_LIFT, Fraction(3), Fraction(2), (Equipment("two-post lift"),)),
    Raising(ON_STANDS, Fraction(9), Fraction(7), (Equipment("axle stand", 4),), (Equipment("floor jack"),)),
)


@dataclass(frozen=True)
class Shop:
    """A shop. Money in cents, the labour rate in cents per hour, times in minutes, chances from 0 to 1.

    `seized` has the means by which it frees fasteners, the gentlest first.
    """

    name: str
    file: str
    labour: Fraction
    tax: Fraction = Fraction(0)
    rust: str | None = None
    people: int = 1
    currency: str = ""
    certificates: tuple[str, ...] = ()
    raising: tuple[Raising, ...] = RAISING
    stock: tuple[Stock, ...] = ()
    tools: tuple[str, ...] = ()
    wrenches: tuple[Wrench, ...] = ()
    set_up: dict[str, Fraction] = field(default_factory=dict)
    sublets: dict[str, Fraction] = field(default_factory=dict)
    charges: Charges = NO_CHARGES
    torque_unit: str = "N·m"  # in which torques are told besides N·m
    adapters: dict[str, float] = field(default_factory=dict)  # length of a tool that stands off a wrench's drive [m]
    seized: dict[str, tuple[Fraction, Fraction]] = field(default_factory=dict)  # minutes, and chance

    def count(self, wanted: Equipment) -> int:
        """How many pieces there are that will do; a piece without a rating does for no rating asked."""
        if wanted.name == SECOND_PERSON.name:
            return self.people - 1
        return sum(
            stock.count
            for stock in self.stock
            if stock.name == wanted.name and (wanted.rating is None or (stock.rating or 0) >= wanted.rating)
        )

    def has(self, wanted: Equipment) -> bool:
        return self.count(wanted) >= wanted.count

    def choose(self, demand: Demand) -> Equipment | None:
        """The first offer of a demand that the shop can meet."""
        return next((offer for offer in demand.offers if self.has(offer)), None)

    def without(self, names: Iterable[str]) -> "Shop":
        """The shop on a day when these things (equipment, tools, certificates, second person) are not to be had."""
        gone = set(names)
        return replace(
            self,
            people=1 if SECOND_PERSON.name in gone else self.people,
            certificates=tuple(name for name in self.certificates if name not in gone),
            stock=tuple(stock for stock in self.stock if stock.name not in gone),
            tools=tuple(name for name in self.tools if name not in gone),
        )

    def with_more(
        self,
        equipment: Iterable[Equipment] = (),
        tools: Iterable[str] = (),
        certificates: Iterable[str] = (),
        sublets: Iterable[str] = (),
    ) -> "Shop":
        """The shop if it also had these; a sublet then counts nothing, as its price is not known."""
        more = tuple(equipment)
        helpers = sum(one.count for one in more if one.name == SECOND_PERSON.name)
        things = tuple(Stock(one.name, one.count, one.rating) for one in more if one.name != SECOND_PERSON.name)
        return replace(
            self,
            people=self.people + helpers,
            certificates=(*self.certificates, *certificates),
            stock=self.stock + things,
            tools=(*self.tools, *tools),
            sublets=self.sublets | {name: Fraction(0) for name in sublets},
        )


def read_shop(data: bytes | str, file: str) -> Shop:
    """Read a shop file; Findings with everything that is wrong with it."""
    shop, findings = scan_shop(data, file)
    if findings:
        raise Findings(findings)
    return shop


def scan_shop(data: bytes | str, file: str) -> tuple[Shop | None, list[InputError]]:
    """Like `read_shop`, but gives the findings back."""
    return bounded(lambda notes: _scanned(data, file, notes), file)


def _scanned(data: bytes | str, file: str, notes: Notes) -> Shop | None:
    row = read_row(SHOP, data, file, notes)
    return None if row is None or notes else _shop(row, file)


def _stock(text: str) -> tuple[int, int | None]:
    found = re.fullmatch(r"(\d+)(?:\s*,\s*(\d+)\s*kg)?", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write how many, and the rating where there is one: "1, 300 kg"')
    return quantity.pieces(found[1]), quantity.rating(found[2])


def _tax(text: str) -> Fraction:
    found = re.fullmatch(rf"({_NUMBER})\s*%", text.strip())
    if not found or Fraction(found[1]) > 100:
        raise InputError(f'"{text}" is no tax rate; write it as "20 %"')
    return Fraction(found[1]) / 100


def _up_down(text: str) -> tuple[Fraction, Fraction]:
    found = re.fullmatch(rf"({_NUMBER})\s*(?:min\s*)?up\s*,\s*({_NUMBER})\s*(?:min\s*)?down", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write minutes as "3 min up, 2 min down"')
    return quantity.time(found[1]), quantity.time(found[2])


def _set_up_minutes(text: str) -> Fraction:
    found = re.fullmatch(rf"({_NUMBER})(?:\s*min)?", text.strip())
    if not found:
        raise InputError(f'"{text}" is no time; write minutes as "0.3"')
    return quantity.time(found[1])


def _minutes_and_chance(text: str) -> tuple[Fraction, Fraction]:
    found = re.fullmatch(rf"({_NUMBER})\s*min\s*,\s*({_NUMBER})\s*%", text.strip())
    if not found or Fraction(found[2]) > 100:
        raise InputError(f'"{text}" is not understood; write minutes and a chance as "10 min, 40 %"')
    return quantity.time(found[1]), Fraction(found[2]) / 100


def _crow_feet(text: str) -> tuple[tuple[str, float | None], ...]:
    """`10, 13 mm` or `13 mm, 38 mm long`: full names, and how far the axis stands off the wrench's drive [m]."""
    if not text.rstrip().endswith("long"):
        return tuple((f"{size} mm crow-foot", None) for size in sizes(text, "mm"))
    found = re.fullmatch(rf"({_NUMBER})\s*mm\s*,\s*(.+?)\s+long", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write a crow-foot and its length as "13 mm, 38 mm long"')
    return ((f"{found[1]} mm crow-foot", read_length(found[2])),)


def _sized(unit: str, name: str):
    def read(text: str) -> tuple[str, ...]:
        return tuple(name.format(size) for size in sizes(text, unit))

    return read


TOOLS = {
    "sockets": Word(_sized("mm", "{} mm socket"), "sizes", "8-19, 21, 32 mm"),
    "deep sockets": Word(_sized("mm", "{} mm deep socket"), "sizes", "10-19 mm"),
    "spanners": Word(_sized("mm", "{} mm spanner"), "sizes", "8-19 mm"),
    "crow-feet": Several(Word(_crow_feet, "sizes, or a size with its length", "13 mm, 38 mm long"), most=None),
    "hex keys": Word(_sized("mm", "{} mm hex key"), "sizes", "3-10 mm"),
    "T bits": Word(_sized("", "T{} bit"), "sizes", "15-55", number=True),
    "E sockets": Word(_sized("", "E{} socket"), "sizes", "8-16", number=True),
    "others": Several(Word(lambda text: (tool(text) or text.strip(),), "a tool", "trim fork"), most=None),
}
WRENCH_EXAMPLE = "5-25 N·m in steps of 0.25 N·m, 1/4 in, lever 240 mm, calibrated 2026-04-14"
MINUTES = Word(_up_down, "minutes up and down", "3 min up, 2 min down")
DEMANDS = Several(Word(quantity.equipment, "equipment", "4 axle stands"))
RAISING_RECORD = Record(
    "a way to raise cars", {"minutes": MINUTES, "with": DEMANDS, "moved with": DEMANDS}, required=("minutes",)
)
SHOP = Record(
    "a shop file",
    {
        "shop": version("1"),
        "name": Word(str.strip, "the shop's name", "demo shop"),
        "labour": Word(per_hour, "a labour rate", "92.00 per hour"),
        "currency": Word(str.strip, "a currency", "EUR"),
        "tax": Word(_tax, "a tax rate", "20 %"),
        "rust": OneOf(tuple(RUST)),
        "people": Word(quantity.count, "how many people", "2", number=True),
        "certificates": Several(Word(str.strip, "a certificate", "airbags")),
        "raises cars": Record(
            "raises cars", {posture: Either(MINUTES, RAISING_RECORD) for posture in (ON_A_LIFT, ON_STANDS)}
        ),
        "set-up minutes": Names(Word(_set_up_minutes, "minutes", "0.3", number=True), "set-up changes"),
        "equipment": Names(Several(Word(_stock, "how many", "1, 300 kg", number=True)), "equipment"),
        "tools": Record("tools", TOOLS),
        "torques in": OneOf(tuple(TORQUE_UNITS)),
        "torque wrenches": Names(Word(read_wrench, "a torque wrench", WRENCH_EXAMPLE)),
        "sublets": Names(Word(quantity.money, "a price", "79.00", number=True), "sublets"),
        "when seized": Names(Word(_minutes_and_chance, "minutes and a chance", "10 min, 40 %"), "means"),
        "quotes": QUOTES,
    },
    required=("shop", "name", "labour"),
)


def _shop(row: Row, file: str) -> Shop:
    return Shop(
        name=row["name"],
        file=file,
        labour=row["labour"],
        tax=row.get("tax", Fraction(0)),
        rust=row.get("rust"),
        people=row.get("people", 1),
        currency=row.get("currency", ""),
        certificates=row.get("certificates", ()),
        raising=tuple(_raising(built_in, row.get("raises cars", {})) for built_in in RAISING),
        stock=tuple(Stock(name.name, *one) for name, said in row.get("equipment", ()) for one in said),
        tools=_tools(row.get("tools", {})),
        wrenches=tuple(Wrench(name.name, **values) for name, values in row.get("torque wrenches", ())),
        set_up={name.name: minutes for name, minutes in row.get("set-up minutes", ())},
        sublets={name.name: cents for name, cents in row.get("sublets", ())},
        charges=charges(row["quotes"]) if "quotes" in row else NO_CHARGES,
        torque_unit=row.get("torques in", "N·m"),
        adapters=_adapters(row.get("tools", {})),
        seized={name.name: said for name, said in row.get("when seized", ())},
    )


def _raising(built_in: Raising, row: dict) -> Raising:
    said = row.get(built_in.posture)
    if said is None:
        return built_in
    if isinstance(said, tuple):
        return replace(built_in, up=said[0], down=said[1])
    up, down = said.get("minutes", (built_in.up, built_in.down))
    holds, moving = said.get("with", built_in.holds), said.get("moved with", built_in.moving)
    return Raising(built_in.posture, up, down, holds, moving)


def _tools(row: dict) -> tuple[str, ...]:
    names = []
    for key, values in row.items():
        if key == "crow-feet":
            names += [name for value in values for name, _ in value]
        else:
            names += [name for value in values for name in value] if key == "others" else values
    return tuple(dict.fromkeys(names))


def _adapters(row: dict) -> dict[str, float]:
    """The tools whose length is told, with that length [m]."""
    crow_feet = [one for value in row.get("crow-feet", ()) for one in value]
    return {name: length for name, length in crow_feet if length is not None}
