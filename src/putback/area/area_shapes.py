"""The form of an area file: which keys stand where and what each takes. docs/area-files.md teaches it."""

from putback.area import quantity
from putback.area.fastener import CLASSES, FLAGS, PATTERNS, read_torque
from putback.area.model import POSTURES
from putback.area.shape import MOST_LISTED, Either, Named, Names, NamesOrList, OneOf, Record, Several, Word, version
from putback.area.tools import tool_list

NEED = Named("the name of something that must be out of the way", "engine cover")
NEEDS = Several(NEED)
NAME = Named("a name from this file", "engine cover")
TEXT = Word(str.strip, "words", "left link, its lower end")
FROM = Named("where it is done from", "under, on a lift")
TOOLS = Several(Word(tool_list, "a set of tools", "13 mm + swivel or 13 mm spanner"))
DEMANDS = Several(Word(quantity.demand, "equipment", "support table >= 150 kg"))
OFF_ON = Word(quantity.both_ways("off", "on"), "minutes off and on", "5 off, 7 on")
IN_OUT = Word(quantity.both_ways("in", "out"), "minutes in and out", "12 in, 6 out")
MINUTES = Word(quantity.minutes, "a time", "12 min")
SPREAD = Word(quantity.minutes_spread, "a time", "12 min")
MONEY = Word(quantity.money, "an amount of money", "268.00", number=True)
COUNTED_MONEY = Word(quantity.counted_money, "an amount of money", "4 x 0.35", number=True)
RISKS = Several(Word(quantity.risk, "a risk that grows with rust", "30 % x 12 min, link nut seized"))
BREAKAGES = Several(Word(quantity.breakage, "a risk that rust leaves as it is", "50 % x 6 min, clip breaks"))
VARIANTS = Several(Named("a variant", "rear-wheel drive"))


def cautions(out_word: str, back_word: str) -> Several:
    """Cautions, for both directions or for one that is named ahead."""
    sided = Record(f"a caution {out_word} or {back_word}", {out_word: TEXT, back_word: TEXT})
    return Several(Either(Word(str.strip, "a caution", "do not bend the pipe"), sided))


def how(out_word: str, back_word: str) -> Record:
    """Own words for the two moves."""
    return Record(f"how {out_word} and {back_word}", {out_word: TEXT, back_word: TEXT})


def manner(out_word: str, back_word: str) -> dict:
    """Keys that bind how a thing is moved, on the thing itself as on each of its ways."""
    return {
        "behind": NEEDS,
        "while": NEEDS,
        "from": FROM,
        "tools": TOOLS,
        "with": DEMANDS,
        "certificates": Several(TEXT),
        "minutes": OFF_ON if out_word == "off" else IN_OUT,
        "risk": RISKS,
        "breakage": BREAKAGES,
        "cautions": cautions(out_word, back_word),
        "follow-ups": Several(NAME),
        "second person": MINUTES,
        "only for": VARIANTS,
    }


WAY = Record("a way", manner("off", "on"))
MOST_WAYS = 40  # of one thing
WAYS = Names(WAY, "ways with names of your own", MOST_WAYS, "from above: {behind: [cover]}")

FASTENER_KEYS = {
    "is": Word(str.strip, "a fastener line", "7 x M6x16, class 8.8, 10 mm, 7 N·m"),
    "count": Word(quantity.count, "a number of pieces", "7", number=True),
    "of": Word(str.strip, "a thread and length, or another kind of fastener", "M6x16"),
    "class": OneOf(CLASSES),
    "torque": Word(read_torque, "a torque", "92 N·m + 90°"),
    "pattern": OneOf(PATTERNS),
    "price": MONEY,
    "flags": Several(OneOf(tuple(FLAGS))),
    "where": TEXT,
    "source": TEXT,
    "also holds": Several(NAME),
    "loosen while": NEEDS,
    "tighten after": NEEDS,
    "reached": WAYS,
    "new parts": Names(COUNTED_MONEY, "parts used up", MOST_LISTED, "seal: 2.40"),
    "hazards": Several(Named("a hazard", "live")),
    "why": TEXT,
}
FASTENER = Record("a group of fasteners", FASTENER_KEYS | manner("off", "on"))
FASTENERS = Names(Either(Named("a fastener line", "4 x M8x20, class 8.8, 13 mm, 22 N·m"), FASTENER), "fasteners", example="upper bolts: 4 x M8x20, 13 mm")

THING_KEYS = {
    "is": TEXT,
    "goes": Word(str.strip, "where it goes", "lowered 65 mm"),
    "how": how("off", "on"),
    "hazards": Several(Named("a hazard", "live")),
    "mass": Word(quantity.mass, "a mass", "6.4 kg"),
    "held by": FASTENERS,
    "loses": Word(quantity.fluid, "a fluid", "0.7 l gearbox oil, 11.20"),
    "filled by": Named("the follow-up that fills it again", "fill the gearbox to its level"),
    "new parts": Names(COUNTED_MONEY, "parts used up", MOST_LISTED, "seal: 2.40"),
    "out through": WAYS,
    "by": WAYS,
    "wait after": MINUTES,
    "rides on": NAME,
    "at the bench": WAY,
    "part of": NAME,
    "tighten after": NEEDS,
    "why": TEXT,
}
PLUG = Record("a plug", THING_KEYS | manner("off", "on"))
PLUGS = NamesOrList(Either(TEXT, PLUG), "plugs")
CABLES = NamesOrList(Either(TEXT, PLUG), "cables")
THING = Record("a part", THING_KEYS | {"plugs": PLUGS, "cables": CABLES} | manner("off", "on"))
THINGS = Names(THING, "the names of things", example="cover: {from: top, minutes: '1 off, 1 on'}")

PUT_IN_WAY = Record("a way to put it in", manner("in", "out") | {"keeps the car": OneOf(("raised",))})
PUT_IN = Record(
    "a thing put in",
    {
        "is": TEXT,
        "secures": Several(NAME),
        "covers": Several(NAME),
        "marks": Several(NAME),
        "how": how("in", "out"),
        "hazards": Several(Named("a hazard", "under tension")),
        "part of": NAME,
        "by": Names(PUT_IN_WAY, "ways with names of your own", MOST_WAYS, "support bar: {from: top}"),
        "keeps the car": OneOf(("raised",)),
        "why": TEXT,
    }
    | manner("in", "out"),
)

PRICE = Word(lambda text: {"new": quantity.money(text)}, "the price of the new part", "268.00", number=True)
TARGET = Either(PRICE, Record("a target", {"new": MONEY, "core deposit": MONEY}, required=("new",)))
GROUND = Record("on the ground", {"stands on": Several(NAME)})
LATER = {"after": Several(Named("a follow-up, or job work that comes after", "check the wheel alignment"))}
WORK = Names(SPREAD, "job work", MOST_LISTED, "road test: 10 min")
LAST_WORK = Either(SPREAD, Record("work after", {"takes": SPREAD} | LATER, required=("takes",)))
LAST = Names(LAST_WORK, "job work", MOST_LISTED, "road test: 10 min")
JOB_WORK = Record("job work", {"before": WORK, "at the swap": WORK, "after": LAST})
FOLLOW_UP = Word(quantity.follow_up, "a follow-up", "45 min with alignment rack, or sublet")
LONG_FOLLOW_UP = Record("a follow-up", {"takes": FOLLOW_UP} | LATER, required=("takes",))
FOLLOW_UPS = Names(Either(FOLLOW_UP, LONG_FOLLOW_UP), "follow-ups", example="bleed: 6 min")

AREA = Record(
    "an area file",
    {
        "area": version("1"),
        "name": TEXT,
        "vehicle": TEXT,
        "figures from": TEXT,
        "battery": NAME,
        "drive": Several(Named("the file of a belt drive", "accessory-drive.yaml")),
        "variants": Names(Several(TEXT), "variants"),
        "work from": Names(OneOf(tuple(POSTURES)), "places to work from", MOST_LISTED, "top: any posture"),
        "on the ground": GROUND,
        "turns": Names(Several(TEXT), "settings"),
        "targets": Names(TARGET, "parts to be replaced", MOST_LISTED, "pump: {new: 100.00}"),
        "always new": Names(COUNTED_MONEY, "parts that are new in every job", MOST_LISTED, "seal: 2.40"),
        "job work": JOB_WORK,
        "follow-ups": FOLLOW_UPS,
        "parts": THINGS,
        "plugs": Names(PLUG, "plugs"),
        "cables": THINGS,
        "lines": THINGS,
        "belts": THINGS,
        "put in": Names(PUT_IN, "things put in on the way", example="strap: {secures: [pump], from: top, minutes: '2 in, 1 out'}"),
        "match": Names(Word(str.strip, "a feature to compare", "41.5 ± 0.5 mm", number=True), "features", MOST_LISTED),
    },
    required=("area", "name", "work from", "targets", "parts"),
)
