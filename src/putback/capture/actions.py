"""From what was said of a thing to one of the actions of docs/notes.md."""

from collections.abc import Sequence

from putback.capture import lexicon
from putback.capture.phrases import Phrase

# What hangs low and goes down as a whole, on a jack or on what still holds it.
CARRIED = frozenset(
    "cab frame engine gearbox transmission subframe sub-frame cradle transaxle trans tranny axle box crossmember "
    "cross-member diff differential beam tank".split()
)
# What is switched on and off, and does not leave the car.
SWITCHED = frozenset(
    "handbrake parkbrake mode gear neutral park ignition key keys light lights power current hazards hazard "
    "heater".split()
)
# What is threaded in, so that by hand it is only started.
THREADED = frozenset(
    "cap nut bolt screw stud plug union pipe line sensor fitting banjo adapter adaptor injector "
    "nipple bolts filter tube hose".split()
)
_SWUNG = ("back", "over", "swing", "turn", "rotate", "pull", "push", "wind", "lever")
_STOPPERS = frozenset("plug cap bung rag cloth bag tape wedge blank towel sock".split())
_OPENINGS = frozenset(
    "hose pipe line port hole end opening outlet inlet bore union tube filler neck stub ports lines "
    "pipes hoses ends holes turbo manifold intake connection pump drilling throat".split()
)
_LOOSE_WIRES = frozenset("wire wiring loom harness wires".split())
_FOLDED = frozenset("carpet liner lining boot gaiter loom harness seal mat trim flap headlining felt sleeve".split())
_WHOLE_LINE = frozenset("remove extract withdraw lift".split())


def action_of(sense: str, kind: str, head: str, lemma: str, particle: str, state: str, direction: str = "") -> str:
    """The action, or "" where nothing is done.

    Parameters
    ----------
    sense : str
        As in verbs.txt
    kind : str
        The class of the thing
    head : str
        Its last noun, singular
    lemma, particle : str
        The verb and its particle; where a particle stands alone, both are the particle
    state : str
        What was last done to the thing; "" if nothing
    direction : str
        off or on: which way the work goes
    """
    if (
        sense == "down"
        and lemma == "down"
        and direction == "on"
        and kind in ("part", "unknown")
        and head not in CARRIED
    ):
        return "fit"
    special = _special(sense, kind, head, lemma, particle, state, direction)
    if special is not None:
        return special
    told = lexicon.senses().get(sense, {})
    action = told.get(kind, told.get("other", ""))
    return "" if action == "none" else action


def _special(sense: str, kind: str, head: str, lemma: str, particle: str, state: str, direction: str) -> str | None:
    match sense:
        case "on" | "in" if kind == "car":
            return ""
        case "split":
            return "remove" if head in ("joint", "end", "link", "propshaft", "shaft") else ""
        case "push" if kind == "part" and state in ("remove", "set aside"):
            return "fit"
        case "upin":
            return "fit" if state in ("remove", "set aside", "lower") else ""
        case "in" if lemma == "through":
            return "fit" if state in ("remove", "set aside", "unplug", "open") else ""
        case "open" if lemma == "open" and particle == "open" and kind not in ("lid", "line", "fluid"):
            return ""
        case "on" | "in" if kind == "electric" and lemma == "hook":
            return "fit"
        case "aside" if kind == "electric" and state == "unplug":
            return ""
        case "aside" if direction == "on" and state in ("remove", "set aside"):
            return "fit"  # swing the filter up, bumper: hang
        case "pullback":
            return "set aside" if head in _FOLDED else "remove"
        case "off" | "out" | "unclip" | "disconnect" if (
            kind == "electric"
            and head in _LOOSE_WIRES
            and particle != "off"
            and lemma in ("pop", "unclip", "free", "pull", "ease")
        ):
            return "loosen"
        case "on" | "in" if (
            kind == "electric" and state != "unplug" and lemma not in ("plug", "connect") and head in _LOOSE_WIRES
            and (lemma in ("clip", "tie", "feed", "route") or head in ("loom", "harness", "wiring"))
        ):
            return "fit"
        case "on" if head in ("clip", "clamp", "band") and particle == "back":
            slid = lemma in ("slide", "push", "pull", "squeeze", "move", "ease", "walk")
            return "loosen" if direction != "on" and (slid or (lemma == "back" and state != "remove")) else None
        case "on" | "in" if (
            particle == "back"
            and lemma in ("slide", "push", "pull", "move", "roll", "wind", "turn", "slip", "ease")
            and state not in ("remove", "set aside", "open", "unplug", "lower")
        ):
            return ""
        case "drop" if kind == "lid":
            return ""
        case "on" | "off" if head == "lid":
            return None
        case "down" | "lower" | "drop":
            return _downwards(sense, kind, head, lemma, particle, state)
        case "raise":
            return _upwards(kind, head, lemma, particle, state, direction)
        case "aside" | "on" if head == "tensioner" and (sense == "aside" or lemma in _SWUNG or particle in _SWUNG):
            return "loosen"
        case "out" if kind == "battery":
            return "remove"
        case "out" | "off" if kind == "line" and head not in ("union", "fitting"):
            return "remove" if lemma in _WHOLE_LINE or (sense == "out" and lemma != "pop") else None
        case "undo" | "off" | "out" | "release" if kind == "belt" and lemma in ("release", "ease"):
            return "loosen"
        case "in" if kind == "line":
            return "close" if lemma in ("push", "clip", "slide", "slip", "shove", "click", "plug") else "fit"
        case "in" | "on" if kind == "lid" and lemma in (
            "fit",
            "refit",
            "install",
            "reinstall",
            "in",
            "put",
            "bolt",
            "hang",
        ):
            return "fit"
        case "replace" if state in ("remove", "unplug", "open", "set aside"):
            return "fit"
        case "on" | "in" if kind == "prop":
            return "support" if particle != "on" else "fit"
        case "none" if kind == "clamp":
            return None
    return None


def _downwards(sense: str, kind: str, head: str, lemma: str, particle: str, state: str) -> str:
    if kind == "fluid":
        return "drain"
    if kind == "lid":
        return "close"
    if kind == "fastener" and lemma in ("wind", "run", "screw", "spin"):
        return "tighten"
    if state in ("set aside",):
        return "fit"
    let_down = sense == "lower" and lemma in ("lower", "let", "jack", "wind", "bring")
    pushed_down = sense == "down" and lemma in ("pry", "prise", "lever", "push")
    if kind == "car" or head in CARRIED or let_down or pushed_down:
        return "lower"
    if state == "raise":
        return "lower"
    if state == "remove":
        return "fit" if sense == "down" and lemma == "down" else "remove"
    return "remove"


_RAISED = CARRIED | frozenset(
    "seat car front rear side corner end nose back tail bonnet wheel bike tank arm wishbone hub knuckle axle body cab "
    "ramp lift bed deck rack strut suspension carriage block window glass".split()
)


def _upwards(kind: str, head: str, lemma: str, particle: str, state: str, direction: str) -> str:
    if kind == "lid":
        return "open"
    if kind in ("car", "prop"):
        return "raise" if kind == "car" else "support"
    if state in ("remove", "set aside", "unplug", "open"):
        return "fit"
    if lemma == "up" and kind not in ("car", "part", "unknown"):
        return ""
    if head not in _RAISED and kind in ("part", "unknown", "electric", "line"):
        if lemma in ("come", "go", "pull"):
            return "fit" if direction == "on" else "remove"
        if lemma == "up":
            return "fit" if direction == "on" else ""
    if (
        lemma == "lift"
        and particle == ""
        and head
        not in CARRIED | {"seat", "car", "front", "rear", "side", "corner", "end", "bonnet", "wheel", "bike", "tank"}
    ):
        return "remove"
    return "raise"


def put_in_for_the_work(phrase: Phrase, places: Sequence[Phrase], direction: str, state: str) -> bool:
    """Whether a thing is put in for the work only: a plug in a hose, a rag in a port.

    Parameters
    ----------
    phrase : Phrase
    places : sequence of Phrase
        Where it is put
    direction : str
        off or on: which way the work goes
    state : str
        What was last done to it
    """
    if phrase.kind == "put in":
        return True
    if not phrase.words:
        return False
    head = lexicon.singular(phrase.words[-1].lower())
    if head not in _STOPPERS or direction == "on" or state in ("remove", "unplug"):
        return False
    return "indefinite" in phrase.flags or any(place.words and place.words[-1].lower() in _OPENINGS for place in places)


HANGERS = frozenset(
    "hook wire string bungee strap hanger s-hook spring rope cord tie".split()
)  # what a part is hung up on
