"""Which thing a phrase means, and what is only said of it."""

from putback.capture import lexicon
from putback.capture.actions import CARRIED
from putback.capture.memory import OFF_NOW, Thing
from putback.capture.phrases import Phrase, kind_of
from putback.capture.said import Clause, Item
from putback.capture.scene import Scene

FASTENERS = ("fastener", "clamp")
_NO_THING = ("tool", "shop", "unknown")
_NEVER_TOLD = (*FASTENERS, "tool", "shop", "car")
_APART = {"fastener", "electric", "line", "fluid"}  # a word of one of these classes is no other kind of thing
_OFF_STATES = ("remove", "set aside", "unplug", "open", "lower", "loosen", "raise")
_TURNED_OUT = frozenset("wind screw run spin zip buzz turn".split())
# What a pronoun most likely is, by what is done to it.
_PREFERRED = {
    "unplug": ("electric", "battery"),
    "plug in": ("electric", "battery"),
    "drain": ("fluid",),
    "fill": ("fluid",),
    "bleed": ("fluid",),
    "tighten": FASTENERS,
    "start": ("fastener",),
    "undo": FASTENERS,
    "crack": ("fastener", "line"),
    "in": OFF_NOW,
    "on": OFF_NOW,
}


class Things:
    """Finds and describes the things of a note.

    Parameters
    ----------
    scene : Scene
    """

    def __init__(self, scene: Scene):
        self.scene, self.memory = scene, scene.memory

    def meant(self, phrase: Phrase, sense: str = "", lemma: str = "", on_car: bool = False) -> Thing | None:
        """The thing that a phrase means; a name that is new makes one.

        Parameters
        ----------
        phrase : Phrase
        sense, lemma : str
            What is done to it
        on_car : bool
            Whether that can only be done to the whole car
        """
        if is_named(phrase):
            return self.named(phrase)
        if on_car and self.scene.car is not None and not phrase.words:
            return self.scene.car
        if (up := self._let_down(phrase, sense)) is not None:
            return up
        lifted = sense == "raise" and lemma in ("jack", "hoist")
        moved = lifted or (sense in ("raise", "down") and lemma in ("go", "come"))
        if moved and phrase.pronoun in ("it", "she", "he"):
            if (lifted or self.scene.car is not None) and not self._is_hanging(phrase, lifted):
                return self.scene.the_car()  # up it went
        if sense in ("raise", "lower", "down") and {*phrase.words} & {"front", "rear", "back"}:
            return self.memory.new(phrase.words, "car", False)
        turned = lemma in _TURNED_OUT and sense == "out"
        thing = self.memory.meant(phrase, FASTENERS if turned else _PREFERRED.get(sense, ()))
        if thing is not None:
            self.memory.touch(thing)
        return thing

    def _let_down(self, phrase: Phrase, sense: str) -> Thing | None:
        """Let it down: the car, while that is up and nothing else hangs."""
        if sense not in ("lower", "down") or phrase.pronoun != "it" or (up := self.scene.book.car_is_up()) is None:
            return None
        last = self.memory.meant(phrase)
        return up.thing if last is None or last.head not in CARRIED else None

    def _is_hanging(self, phrase: Phrase, lifted: bool) -> bool:
        last = self.memory.meant(phrase)
        return last is not None and (last.head in CARRIED or (not lifted and last.state in _OFF_STATES))

    def named(self, phrase: Phrase) -> Thing:
        """The thing that a name means."""
        kind = phrase.kind if phrase.kind not in ("", "unknown") else "part"
        found = None if "other" in phrase.flags else self._known(phrase, kind)
        if found is None:
            found = self.memory.new(phrase.words, kind, "plural" in phrase.flags)
        if phrase.kind == "clamp" and len(phrase.words) > 1:
            self._its_hose(phrase)
        self.memory.touch(found)
        if found.kind == "car":
            self.scene.car = found
        found.count = found.count or phrase.count
        found.new = found.new or "new" in phrase.flags
        return found

    def _its_hose(self, phrase: Phrase) -> None:
        """Top hose clip back, hose off: with its clip a hose is spoken of as well."""
        words = phrase.words[:-1]
        if kind_of(words) == "line":
            self.memory.touch(self.memory.known(words, "line", None) or self.memory.new(words, "line", False))

    def _known(self, phrase: Phrase, kind: str) -> Thing | None:
        found = self.memory.known(phrase.words, kind, phrase.count, "plural" in phrase.flags)
        if found is None or found.kind == kind or not {found.kind, kind} & _APART:
            return found
        same_word = len(phrase.words) == 1 and found.head == lexicon.singular(phrase.words[-1].lower())
        return found if same_word else None

    def is_off(self, phrase: Phrase) -> bool:
        """Whether a thing that is named on the way back is one that came off."""
        if self.scene.direction != "on" or not phrase.words:
            return False
        thing = self.memory.known(phrase.words, phrase.kind, phrase.count, "plural" in phrase.flags)
        return thing is not None and thing.state in ("remove", "set aside", "unplug", "open", "lower")

    def is_known(self, phrase: Phrase) -> bool:
        """Whether something was done to a thing of this name."""
        thing = self.memory.known(phrase.words, phrase.kind, phrase.count, "plural" in phrase.flags)
        return thing is not None and thing.last_event >= 0

    def came_off(self, thing: Thing) -> bool:
        """Whether a thing, or one that may be the same, was taken off, put aside or loosened."""
        alike = self.memory.by_head.get(thing.head, ()) if thing.head else ()
        return any(one.state in _OFF_STATES for one in (thing, *([thing.base] if thing.base else []), *alike))

    # -- what is only said -----------------------------------------------------------------------

    def mention(self, clause: Clause, describe: bool = True) -> None:
        """Things that were talked about and nothing done to."""
        told = [*(Item(phrase, phrase.first, phrase.after) for phrase in clause.places), *clause.described]
        for item in (*told, *clause.along, *clause.items):
            phrase = item.phrase
            if phrase.kind in _NO_THING or not (phrase.words or phrase.pronoun):
                continue
            thing = self.meant(phrase)
            if thing is not None and describe and is_named(phrase):
                self.describe(thing, item)

    def describe(self, thing: Thing, item: Item) -> None:
        """Keep the figures told of a thing for the first event about it."""
        if thing.kind not in _NEVER_TOLD:
            self.scene.parts_told.append(thing)
        tool, count = item.tool or item.phrase.tool, item.count or item.phrase.count
        thing.count, thing.plural = count or thing.count, thing.plural or "plural" in item.phrase.flags
        if tool or count:
            thing.tool = tool or thing.tool
            thing.start, thing.after = self.scene.begin(item.first), self.scene.end(item.after)

    def name_places(self, clause: Clause) -> None:
        """Places that were named are things as well."""
        for phrase in clause.places:
            if is_named(phrase) and phrase.kind not in _NO_THING:
                self.describe(self.named(phrase), Item(phrase, phrase.first, phrase.after))


def is_named(phrase: Phrase) -> bool:
    """Whether a phrase has a name of its own, and not only a word of place: "the lower one".

    Parameters
    ----------
    phrase : Phrase
    """
    return bool(phrase.words) and "side only" not in phrase.flags
