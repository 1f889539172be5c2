"""Something is seized or broken: what may free it, the gentlest means first, each weighed against another way in.

What a means costs counts with the chance that it fails: then the next one follows, or the other way, whichever is less.
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from importlib import resources

from putback.area.model import FASTENERS, Area, Item
from putback.desk.planning import Total
from putback.way.from_area_words import is_clip

SOURCE = "seized-own-estimates-2026.csv"
ANOTHER_WAY = "another way"
STUCK = ("seized", "broken")
NO_HEAT = ("fuel", "airbag", "refrigerant", "high-voltage", "under tension")  # hazards
# Common practice, no source.
NEVER_HEATED = ("bearing", "rubber", "plastic", "sensor", "magnet", "encoder", "airbag", "fuel", "refrigerant", "oil seal")
EYES = "eyes and hands covered: oil, rust and chips fly"
HEAT = (
    "no flame or hot air near fuel, oil, plastic, rubber, airbags, bearings or seals; extinguisher at hand; "
    "let it cool before the next step"
)


@dataclass(frozen=True)
class Means:
    """One means of freeing a fastener.

    Attributes
    ----------
    what, takes : str
        What to do, and with what.
    minutes : Fraction
        With the waiting that belongs to it.
    chance : Fraction
        That it helps once all gentler ones have failed, 0 to 1.
    heat : bool
        Whether it takes heat.
    fits : tuple of str
        What it does for: any, nut, screw.
    against : tuple of str
        What it helps against: seized, broken.
    """

    name: str
    what: str
    takes: str = ""
    minutes: Fraction = Fraction(0)
    chance: Fraction = Fraction(0)
    heat: bool = False
    fits: tuple[str, ...] = ("any",)
    against: tuple[str, ...] = STUCK

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to beware of."""
        return (EYES, HEAT) if self.heat else (EYES,)


@dataclass(frozen=True)
class Rung:
    """A means, or another way, with what the rest of the job is then expected to take.

    Attributes
    ----------
    name : str
    means : Means or None
        None for another way.
    expected : Total or None
        Minutes and money of all that is still to do, on average; None where nobody has described the car.
    then : str
        What follows where it fails; empty where nothing does.
    fails : Fraction
        The chance that neither it nor any means after it helps.
    """

    name: str
    means: Means | None
    expected: Total | None
    then: str
    fails: Fraction


@dataclass(frozen=True)
class Ladder:
    """What may be tried, cheapest first, what is not offered here and why, and whether the figures are the shop's."""

    rungs: tuple[Rung, ...]
    left_out: tuple[tuple[str, str], ...]
    own_figures: bool = False

    @property
    def source(self) -> str:
        """Where minutes and chances are from."""
        return "the shop's own figures" if self.own_figures else f"our own estimates, {SOURCE}"

    @property
    def sentences(self) -> tuple[str, ...]:
        """What is not offered and why, and where the figures are from."""
        figures = (f"minutes and chances: {self.source}",) if any(one.means for one in self.rungs) else ()
        return (*(f"{name}: {why}" for name, why in self.left_out), *figures)


def ladder(
    item: str,
    what: str,
    area: Area | None,
    before: Total | None = None,
    after: Total | None = None,
    labour: Fraction = Fraction(0),
    own: Mapping[str, tuple[Fraction, Fraction]] | None = None,
) -> Ladder:
    """The means against something seized or broken beside another way.

    Parameters
    ----------
    item : str
        What is stuck.
    what : "seized" or "broken"
    area : Area or None
        The description, where there is one.
    before : Total or None
        What is still to do once it is free.
    after : Total or None
        What is still to do where it stays shut; None where there is no way then.
    labour : Fraction
        Cents per hour.
    own : mapping of str to (Fraction, Fraction), optional
        The shop's own means, each with minutes and chance, the gentlest first; they stand in the place of ours.
    """
    fitting = [one for one in _at_hand(own or {}) if _does_for(one, item, what, area)]
    danger = _named_cold(item) or (_near_heat(item, area) if area else "")
    offered = tuple(one for one in fitting if not (one.heat and danger))
    left_out = tuple((one.name, f"not here: {danger}") for one in fitting if one.heat and danger)
    if is_pressed_in(item, area):
        offered = left_out = ()
    rungs = weigh(offered, before, after, labour)
    return Ladder(tuple(sorted(rungs, key=_by_worth)) if before else rungs, left_out, own_figures=bool(own))


def _at_hand(own: Mapping[str, tuple[Fraction, Fraction]]) -> tuple[Means, ...]:
    """The means that the shop has, by its own figures where it gives any; one that we do not know does for anything."""
    known = {one.name: one for one in means()}
    ours = ((known.get(name, Means(name, name)), *figures) for name, figures in own.items())
    return tuple(replace(one, minutes=minutes, chance=chance) for one, minutes, chance in ours) or means()


def _does_for(one: Means, item: str, what: str, area: Area | None) -> bool:
    return what in one.against and bool({"any", _kind(item, area)} & {*one.fits})


@cache
def means() -> tuple[Means, ...]:
    """The table of our own estimates, the gentlest first."""
    text = resources.files(__package__).joinpath("data").joinpath(SOURCE).read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return tuple(map(_means, rows))


def _means(row: dict) -> Means:
    return Means(
        row["name"],
        row["what"],
        row["takes"],
        Fraction(row["minutes"]),
        Fraction(row["chance"]),
        row["heat"] == "yes",
        tuple(row["for"].split("|")),
        STUCK if row["when"] == "both" else (row["when"],),
    )


def weigh(offered: tuple[Means, ...], before: Total | None, after: Total | None, labour: Fraction) -> tuple[Rung, ...]:
    """Each means with what is expected from it on, and another way where there is one; the gentlest first.

    Parameters
    ----------
    offered : tuple of Means
        In the order in which they follow each other.
    before, after : Total or None
        What is still to do where it helps, and where nothing does.
    labour : Fraction
        Cents per hour.
    """
    rungs = [Rung(ANOTHER_WAY, None, after, "", Fraction(0))] if after else []
    fails = Fraction(1)
    for one in reversed(offered):
        fails *= 1 - one.chance
        # With another way to fall back on, one may go on to whatever is cheapest; without, nothing is left out.
        following = min(rungs, key=_by_worth, default=None) if after else next(iter(rungs), None)
        expected = before and _expected(one, before, following, labour)
        rungs.insert(0, Rung(one.name, one, expected, following.name if following else "", fails))
    return tuple(rungs)


def _expected(one: Means, before: Total, following: Rung | None, labour: Fraction) -> Total:
    """Its own minutes, then what is left where it helps, or what follows where it does not."""
    own = Total(one.minutes, None if before.money is None else one.minutes * labour / 60)
    failed = following.expected if following and following.expected else before
    return own + _share(before, one.chance) + _share(failed, 1 - one.chance)


def _share(total: Total, chance: Fraction) -> Total:
    return Total(total.minutes * chance, None if total.money is None else total.money * chance)


def _by_worth(rung: Rung) -> Fraction:
    expected = rung.expected
    if expected is None:
        return Fraction(0)
    return expected.minutes if expected.money is None else expected.money


def _kind(name: str, area: Area | None) -> str:
    """Whether it is a nut or a screw, as the description or its name tells; empty where neither does."""
    described = area.items.get(name) if area else None
    words = f"{described.fastener.noun if described and described.fastener else ''} {name}".casefold()
    if any(word in words for word in ("nut", "stud")):
        return "nut"
    return "screw" if any(word in words for word in ("bolt", "screw")) else ""


def is_pressed_in(name: str, area: Area | None) -> bool:
    """Whether it is a clip, a pin or the like, for which none of this is any good.

    Parameters
    ----------
    name : str
    area : Area or None
    """
    described = area.items.get(name) if area else None
    return described is not None and described.kind == FASTENERS and is_clip(described)


def _near_heat(name: str, area: Area) -> str:
    """What lies too near for heat, as far as the description tells: itself, its part, and what is behind it."""
    near = [one for one in _around(name, area) if _hazard(one)]
    if near:
        return f"{near[0].name} ({_hazard(near[0])})"
    gone = {ref.name for one in _around(name, area)[:2] for ref in one.base.behind}  # out of the way by then
    told = ((one.name, word) for one in _around(name, area) for word in _words_of(one.name in gone) if word in _told(one))
    return next((f"{owner} ({word})" for owner, word in told), "")


def _words_of(is_gone: bool) -> tuple[str, ...]:
    return ("plastic",) if is_gone else NEVER_HEATED


def _named_cold(name: str) -> str:
    """The word in a name that forbids heat, where nobody has described it as well."""
    return next((f"{name} ({word})" for word in NEVER_HEATED if word in name.casefold()), "")


def _around(name: str, area: Area) -> list[Item]:
    described = area.items.get(name)
    if described is None:
        return []
    part = area.items.get(described.owner or "", described)
    named = [ref.name for one in (described, part) for ref in (*one.base.behind, *one.holds)]
    found = [described, part, *area.belonging_to(part.name), *(area.items[one] for one in named if one in area.items)]
    return list({one.name: one for one in found}.values())


def _hazard(item: Item) -> str:
    return next((ref.name for ref in item.hazards if ref.name in NO_HEAT), "")


def _told(item: Item) -> str:
    where = item.fastener.where if item.fastener else ""
    cautions = " ".join(caution.text for caution in item.base.cautions)
    return f"{item.name} {item.about} {where} {cautions}".casefold()
