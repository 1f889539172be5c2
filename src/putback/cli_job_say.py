"""Words of `putback job` that say one thing: each is one event, and this table tells how it is typed.

    putback job off "tray screws" 7 --tray 2a
    putback job on "tray screws" 7 --torque "7 N·m"
"""

from collections.abc import Callable
from dataclasses import dataclass

from putback.cli_job_common import add_common, bench
from putback.errors import InputError


def _text(said: str) -> str:
    return said


def read_count(said: str) -> int:
    """How many.

    Parameters
    ----------
    said : str
        As it was typed.

    Raises
    ------
    InputError
        It is no whole number from 1 to 10000.
    """
    if not said.isdigit() or not 0 < int(said) <= 10_000:
        raise InputError(f'"{said}" is no count; write a whole number from 1 to 10000')
    return int(said)


def _figure(said: str) -> float:
    from putback.units import number

    return number(said)


def read_torque(said: str) -> float:
    """A torque in N·m; a unit that is unclear is asked for.

    Parameters
    ----------
    said : str
        As in "24 N·m" or "18 ft-lb".
    """
    from putback import units

    return round(units.read_torque(said).value, 6)


def _litres(said: str) -> float:
    """Litres, with or without the unit; anything else is asked for."""
    figure, _, unit = said.strip().partition(" ")
    if unit and unit not in ("l", "L", "litre", "litres", "liter", "liters"):
        raise InputError(f'"{said}" is not in litres; write it as in "0.7 l"')
    return _figure(figure.removesuffix("l").removesuffix("L"))


def read_degrees(said: str) -> float:
    """An angle in degrees.

    Parameters
    ----------
    said : str
        As in 90 or "90°".
    """
    return _figure(said.strip().removesuffix("deg").removesuffix("°").strip())


def read_cents(said: str) -> float:
    """An amount of money in cents.

    Parameters
    ----------
    said : str
        As in 24.00.
    """
    return round(100 * _figure(said), 2)


@dataclass(frozen=True)
class Arg:
    """One argument of a word: how it is typed, which field of the event it fills, and how it is read.

    Attributes
    ----------
    name : str
        `item` for a place on the line, `--tray` for an option.
    field : str
        Of the event; the name itself where it is empty.
    read : function
    many : bool
        May be given several times; pairs `NAME=VALUE` where `pairs` says so.
    fixed : value that the event gets where the option, which then takes no value, is given
    """

    name: str
    help: str
    field: str = ""
    read: Callable = _text
    many: bool = False
    pairs: bool = False
    fixed: object = None
    optional: bool = False
    choices: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """Under which name the command line keeps it."""
        return self.name.removeprefix("--").replace("-", "_")


@dataclass(frozen=True)
class Word:
    """One word: the kind of event it says, its arguments, and what it fills in besides."""

    kind: str
    args: tuple[Arg, ...]
    settle: Callable[[dict], dict] = lambda data: data


ITEM = Arg("item", "what, in the words of the area file or your own")
COUNT = Arg("count", "how many", read=read_count)
NOTE = Arg("--note", "what is worth knowing later")
MINUTES = Arg("--minutes", "how long it took", read=_figure)
TIGHTENED = (
    Arg("--torque", 'as in "24 N·m" or "18 ft-lb"', read=read_torque),
    Arg("--angle", "after the torque, in degrees", read=read_degrees),
    Arg("--read", "the torque was read off the wrench; it clicked where this is left out", field="evidence", fixed="value read"),
    Arg("--by-hand", "run in by hand only, not tight", field="evidence", fixed="hand-tight"),
    Arg("--seated", "a clip or clamp that is home", field="evidence", fixed="seated"),
    Arg("--by-feel", "tightened without a wrench, and why", field="by feel"),
    Arg("--assumed", "nobody measured, and why", field="assumed"),
    Arg("--wrench", "which torque wrench"),
    Arg("--passes", "in how many passes", read=read_count),
    Arg("--in-order", "in the order of their pattern", field="in order", fixed=True),
    Arg("--at", "where these went, where two lengths fit"),
)


def _evidence(data: dict) -> dict:
    """How it is known that they are tight, from what was given."""
    for words in ("by feel", "assumed"):
        if words in data:
            data |= {"evidence": words, "reason": data.pop(words)}
    if "evidence" not in data and "torque" not in data and "angle" not in data:
        raise InputError(
            'say how tight: --torque "24 N·m", --by-hand, --seated for a clip, or --by-feel "and why"'
        )
    if data.get("evidence") == "seated" and "torque" in data:
        raise InputError("what is seated has no torque; leave out --seated or --torque")
    return {"evidence": "clicked at the setting" if "torque" in data else "value read"} | data


def _on(data: dict) -> dict:
    return {"new": False} | _evidence(data)


def _off(data: dict) -> dict:
    if "to" not in data and "tray position" not in data:
        raise InputError("say where they lie: --tray 2a, or --in-holes where they are back in their holes")
    return {"to": "tray"} | data


def _no_evidence_angle(data: dict) -> dict:
    """An angle alone was turned and read; its torque came a stage before."""
    data = _evidence(data)
    if data["evidence"] == "value read" and "torque" not in data:
        raise InputError('say the torque of the stage before as well: --torque "92 N·m" --angle 90')
    return data


SAYINGS = {
    "off": Word(
        "fasteners off",
        (
            ITEM, COUNT, Arg("--tray", "the tray and the place in it", field="tray position"),
            Arg("--in-holes", "they are back in their holes", field="to", fixed="back in their holes"),
            Arg("--size", "such as 13 mm, where no area file tells"),
            Arg("--of", "the part they belong to, where no area file tells", field="belongs to"), NOTE, MINUTES,
        ),
        _off,
    ),
    "loosened": Word("fasteners loosened", (ITEM, COUNT, NOTE, MINUTES)),
    "on": Word(
        "fasteners on",
        (
            ITEM, COUNT, *TIGHTENED, Arg("--new", "new ones", field="new", fixed=True),
            Arg("--cleaned", "the old ones, cleaned and coated again", field="cleaned", fixed=True), NOTE, MINUTES,
        ),
        _on,
    ),
    "tightened": Word("fasteners tightened", (ITEM, COUNT, *TIGHTENED, NOTE, MINUTES), _no_evidence_angle),
    "moved": Word(
        "item moved",
        (
            ITEM, Arg("state", "where it stands now: off, aside, unplugged, fitted, plugged"),
            Arg("--way", "by which way, where there are several"),
            Arg("--confirmed", 'how a plug was tried: "clicked", "pulled"'),
            Arg("--new-part", "what was used up on it", field="new parts", many=True), NOTE, MINUTES,
        ),
    ),
    "put": Word(
        "thing put in",
        (
            Arg("what", "cap, rag or tool", choices=("cap", "rag", "tool")), Arg("name", "which"),
            Arg("where", "where it is now"), Arg("--count", "how many; one when left out", read=read_count),
        ),
    ),
    "taken": Word(
        "thing taken out",
        (
            Arg("what", "cap, rag or tool", choices=("cap", "rag", "tool")), Arg("name", "which"),
            Arg("where", "where it was"), Arg("--count", "how many; one when left out", read=read_count),
        ),
    ),
    "fluid": Word(
        "fluid drained",
        (
            Arg("way", "out or in", choices=("out", "in")), Arg("fluid", "which"), Arg("litres", "how much", read=_litres),
        ),
    ),
    "compare": Word(
        "part compared",
        (
            Arg("part", "the part that is replaced"),
            Arg("new", 'of the new part, as in "pulley ribs=7"', many=True, pairs=True),
            Arg("--old", "the same of the old part", many=True, pairs=True),
            Arg("--accept", 'a difference that is taken all the same, as in "colour=no matter"', field="accepted", many=True, pairs=True),
        ),
        lambda data: {"old": {}} | data,
    ),
    "swap": Word("part swapped", (Arg("part", "the part that is replaced"), Arg("--number", "on the new part"), NOTE, MINUTES)),
    "part": Word(
        "part ordered",
        (
            Arg("what", "ordered, arrived, wrong or returned", choices=("ordered", "arrived", "wrong", "returned")),
            Arg("part", "which"), Arg("count", "how many; one when left out", read=read_count, optional=True), NOTE,
        ),
    ),
    "intake": Word(
        "intake noted",
        (
            Arg("--complaint", "in the customer's words"), Arg("--kilometres", "on the clock", read=_figure),
            Arg("--lamp", "a lamp that is on", field="lamps on", many=True),
            Arg("--code", "a stored code", field="stored codes", many=True),
            Arg("--audio-code", "if it is known", field="audio code"),
            Arg("--damage", "that is there already", field="damage already there", many=True),
        ),
    ),
    "reading": Word(
        "reading taken",
        (
            Arg("what", "as in stud voltage"), Arg("value", "the figure, or a word such as glazed"),
            Arg("unit", "as in V; may be left out where the model of the suspects knows it", optional=True),
            Arg("--before", "before the repair", field="when", fixed="before"),
            Arg("--after", "after the repair", field="when", fixed="after"),
            Arg("--good", "it is as it should be", field="good", fixed=True),
            Arg("--bad", "it is not as it should be", field="good", fixed=False),
        ),
    ),
    "work": Word("work done", (Arg("work", "which, in the words of the plan"), Arg("--result", "what came of it"), NOTE, MINUTES)),
    "more-work": Word("work added", (Arg("work", "what"), MINUTES)),
    "left-over": Word("fastener found", (Arg("what", 'as in "M8x30, 13 mm"'), COUNT)),
    "under": Word("person went under", (Arg("who", "you when left out", optional=True),)),
    "clear": Word("person came clear", (Arg("who", "you when left out", optional=True),)),
    "car": Word("car moved", (Arg("posture", '"on the ground", "on a lift" or "on stands"'),)),
    "engine": Word("engine ran", (Arg("what", "started or stopped", choices=("started", "stopped")), Arg("--why", "what for"))),
    "consent": Word(
        "consent given",
        (
            Arg("to_what", "to what", field="to what"), Arg("--from", "who agreed", field="by"),
            Arg("--total", "up to which total, before tax", read=read_cents), Arg("--how", "by telephone, in writing"),
        ),
    ),
    "role": Word(
        "role given",
        (Arg("who", "whom"), Arg("role", "what he is here", choices=("technician", "apprentice", "supervisor"))),
    ),
    "release": Word("hold point released", (ITEM,)),
    "accept": Word(
        "point accepted",
        (
            Arg("point", "as the audit calls it"), Arg("reason", "why it may stay so"),
            Arg("--from", "who takes it on himself; you when left out", field="by"),
        ),
    ),
}  # fmt: skip

PART_KINDS = {"ordered": "part ordered", "arrived": "part arrived", "wrong": "part found wrong", "returned": "part returned"}


def add(parser) -> None:
    """Declare the arguments of the word that the parser is for."""
    add_common(parser)
    for arg in _word(parser.prog).args:
        _add(parser, arg)
    if any(arg in (ITEM,) for arg in _word(parser.prog).args):
        parser.add_argument("--extra", action="store_true", help="the area file does not know it, and it is there all the same")
    parser.add_argument("--anyway", metavar="REASON", help="say it though the program holds you back, and why")
    parser.set_defaults(word=parser.prog.split()[-1])


def _word(prog: str) -> Word:
    return SAYINGS[prog.split()[-1]]


def _add(parser, arg: Arg) -> None:
    more = {"help": arg.help}
    if arg.fixed is not None:
        more |= {"action": "append_const", "const": arg.fixed}
    elif arg.many:
        more |= {"action": "append" if arg.name.startswith("--") else "store"}
        more |= {"metavar": "NAME=VALUE"} if arg.pairs else {"metavar": "TEXT"}
        more |= {} if arg.name.startswith("--") else {"nargs": "+"}
    else:
        more |= {"metavar": arg.key.upper() if not arg.choices else "|".join(arg.choices)}
        more |= {"choices": arg.choices} if arg.choices else {}
        more |= {"nargs": "?"} if arg.optional else {}
    parser.add_argument(arg.name, dest=f"said_{arg.key}", **more) if arg.name.startswith("--") else parser.add_argument(
        f"said_{arg.key}", **more
    )


def run(args) -> int:
    """Log what was said, unless something holds it back; 1 where it does."""
    from putback.cli_job_saying import say

    kind, data = event_of(args)
    with bench(args) as at:
        return say(at, kind, data | _speaker(kind, data, at.stamp.person), args)


def _speaker(kind: str, data: dict, person: str) -> dict:
    """Whoever speaks, where nobody else is named."""
    name = {"person went under": "who", "person came clear": "who", "point accepted": "by"}.get(kind)
    return {name: person} if name and name not in data else {}


def event_of(args) -> tuple[str, dict]:
    """The event that a command line says."""
    word, data = SAYINGS[args.word], {}
    for arg in word.args:
        value = getattr(args, f"said_{arg.key}", None)
        if value is not None:
            data[arg.field or arg.key.replace("_", " ")] = _read(arg, value)
    data = word.settle(data)
    return _kind(args.word, word.kind, data), data


def _read(arg: Arg, value):
    if arg.fixed is not None:
        return arg.fixed
    if arg.pairs:
        return dict(_pair(arg, one) for one in value)
    return [arg.read(one) for one in value] if arg.many else arg.read(value)


def _pair(arg: Arg, text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not sign or not name.strip() or not value.strip():
        raise InputError(f'{arg.name}: "{text}" must be NAME=VALUE, as in "pulley ribs=7"')
    return name.strip(), value.strip()


def _kind(word: str, kind: str, data: dict) -> str:
    """Some words say several kinds."""
    if word == "fluid" and data.pop("way") == "in":
        return "fluid filled"
    if word == "part":
        what = data.pop("what")
        data.setdefault("count", 1)
        if what != "wrong":
            data.pop("note", None)
        return PART_KINDS[what]
    return kind
