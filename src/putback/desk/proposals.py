"""What a job found that its area file does not know: lines for a person to put into it, never written by itself."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from putback.area.fastener import read_line
from putback.area.model import FASTENERS, PART, Fastener
from putback.area.model import Item as Described
from putback.area.tools import tool_list
from putback.desk.view import View
from putback.errors import InputError
from putback.job.fold import minutes_between
from putback.job.kinds import MEASURED
from putback.job.state import CLOSED, Difference, Group, Item

_SPECIAL = ("yes", "no", "on", "off", "null", "true", "false", "y", "n")  # words that YAML takes for a value
_PLAIN = re.compile(r"[^\W\d_][\w .()/'+-]*(?<! )")


@dataclass(frozen=True)
class Proposal:
    """Something for the area file.

    Attributes
    ----------
    item : str
    sentence : str
        What was found.
    yaml : str
        Lines to be merged into the file; what nobody has said stands in them as a guess with a remark.
    """

    item: str
    sentence: str
    yaml: str


def proposals(view: View) -> list[Proposal]:
    """What the file should know after this job.

    Parameters
    ----------
    view : View

    Returns
    -------
    found : list of Proposal
        None for a car that nobody has described.
    """
    if view.area is None:
        return []
    parts = [one for one in view.state.items.values() if not one.described]
    named = {one.name for one in parts}
    groups = [one for one in view.state.groups.values() if not one.described]
    loose = [group for group in groups if group.belongs_to not in named]
    return [
        *(_part(item, [group for group in groups if group.belongs_to == item.name], view) for item in parts),
        *(_group(group, view) for group in loose),
        *_counts(view),
        *_differences(view),
    ]


# What the file does not know


def _part(item: Item, groups: list[Group], view: View) -> Proposal:
    lines = [
        f"{_key(item.name)}:",
        f"  from: {next(iter(view.area.vantages))}  # say from where it is reached",
        f"  minutes: {_minutes(item.name, view)}",
        *_behind(item, view),
    ]
    if groups:
        lines += ["  held by:", *(f"    {_key(group.name)}: {_line(group)}" for group in groups)]
    words = f"{item.name}: not in the file; found and taken off in this job"
    return Proposal(item.name, words, _under_parts(lines))


def _minutes(name: str, view: View) -> str:
    """As they were logged; a guess of one minute each way where nobody said."""
    said = {"off": 0.0, "on": 0.0}
    for row in view.logged:
        if row.event.data.get("item") == name and "minutes" in row.event.data:
            left = view.state.items[name].left
            said["off" if row.number <= left else "on"] += row.event.data["minutes"]
    remark = "" if all(said.values()) else "  # say how long it takes"
    return f"{said['off'] or 1:g} off, {said['on'] or 1:g} on{remark}"


def _behind(item: Item, view: View) -> Iterator[str]:
    """The part that came off last before it, and was still off, may lie in front of it."""
    parts = [one for one in view.state.items.values() if one.described and view.car.kind(one.name) == PART]
    over = [one for one in parts if 0 < one.left < item.left and not 0 < one.returned < item.left]
    for one in sorted(over, key=lambda one: one.left)[-1:]:
        yield f"  behind: [{_key(one.name)}]  # it was off already; say whether it has to be"


def _group(group: Group, view: View) -> Proposal:
    part = group.belongs_to if group.belongs_to in view.area.items else ""
    words = f"{group.name}: not in the file; {group.total} of them came off"
    if not part:
        words += ", and nobody has said what they hold"
        return Proposal(group.name, words, f"# {_key(group.name)}: {_line(group)}\n")
    lines = [f"{_key(part)}:", "  held by:", f"    {_key(group.name)}: {_line(group)}"]
    return Proposal(group.name, f"{words}, at the {part}", _under_parts(lines))


def _line(group: Group) -> str:
    """A group of fasteners as the file writes them; its torque as a remark, for the maker's figure goes first."""
    size = group.size.strip()
    tries = [f"{group.total} x {size}", f"{group.total} x bolt, {size}"] if size else []
    phrase = next((one for one in tries if _reads(one)), f"{group.total} x bolt")
    measured = [lot for lot in group.lots if lot.standing == CLOSED and lot.evidence in MEASURED]
    torque = max((lot.torque or 0 for lot in measured), default=0)
    return f"{phrase}{f'  # tightened to {torque:g} N·m; say what the maker gives' if torque else ''}"


def _reads(text: str) -> bool:
    """Whether the file would understand it, and not take a size for the name of a fastener."""
    try:
        return not re.search(r"\d", read_line(text).fastener.noun)
    except InputError:
        return False


# What the file has otherwise


def _counts(view: View) -> Iterator[Proposal]:
    """More of a group than the file says."""
    more = {group.name: group.extra for group in view.state.groups.values() if group.described and group.extra}
    for found in view.state.differences:
        if found.what == "extra found" and view.car.fastener(found.item):
            more[found.item] = max(more.get(found.item, 0), found.count or 1)
    for name, extra in more.items():
        fastener = view.car.fastener(name)
        count = fastener.count + extra
        words = f"{name}: {count} counted on this car, {fastener.count} in the file"
        yield _fastener(view.car.items[name], words, replace(fastener, count=count))


def _differences(view: View) -> Iterator[Proposal]:
    for found in view.state.differences:
        item = view.car.items.get(found.item) or view.area.items.get(found.item)
        if item is None:
            continue
        if found.what == "other tool" and found.tool and item.fastener:
            words = f"{item.name}: takes {found.tool} on this car"
            yield _fastener(item, words, item.fastener, tool_list(found.tool))
        elif found.what in ("seized", "broken") and item.kind in (FASTENERS, PART):
            yield _risk(item, found, view)
        elif found.what == "not fitted":
            yield _variant(item)


def _fastener(item: Described, words: str, fastener: Fastener, tools=None, more: tuple[str, ...] = ()) -> Proposal:
    phrase = fastener_phrase(fastener, item.base.tools if tools is None else tools)
    if more:
        lines = [f"{_key(item.name)}:", f"  is: {phrase}", *(f"  {line}" for line in more)]
    else:
        lines = [f"{_key(item.name)}: {phrase}"]
    under = [f"{_key(item.owner)}:", "  held by:", *(f"    {line}" for line in lines)]
    return Proposal(item.name, words, _under_parts(under))


def fastener_phrase(fastener: Fastener, tools: tuple[tuple[str, ...], ...] = ()) -> str:
    """A group of fasteners in one line of an area file; `read_line` gives the same again.

    Parameters
    ----------
    fastener : Fastener
    tools : tuple of tuple of str
        The sets that it takes.
    """
    what = fastener.thread.text if fastener.thread else ""
    noun = "" if what and fastener.noun == "bolt" else fastener.noun
    words = [f"{fastener.count} x {what} {noun}".replace("  ", " ").strip()]
    words += [f"class {fastener.property_class}"] if fastener.property_class else []
    words += [" or ".join(" + ".join(one) for one in tools)] if tools else []
    words += [fastener.torque.shown] if fastener.torque else []
    words += [fastener.pattern] if fastener.pattern else []
    flags = {"one-time": fastener.one_time, "left-hand": fastener.left_hand, "coated": fastener.coated}
    words += [word for word, said in flags.items() if said]
    words += ["on the ground"] if fastener.on_the_ground else []
    words += [f"{float(fastener.price) / 100:.2f} each"] if fastener.price is not None else []
    return ", ".join([*words, *([fastener.where] if fastener.where else [])])


def _risk(item: Described, found: Difference, view: View) -> Proposal:
    """What happened once; how likely it is one job cannot tell."""
    known = [*item.base.risks, *(risk for way in item.ways for risk in way.risks)]
    words = f"{item.name}: {found.what} on this car{f' ({found.note})' if found.note else ''}"
    if known:
        said = (f"{float(one.probability * 100):g} % x {float(one.minutes):g} min, {one.what}" for one in known)
        words += f"; the file has {'; '.join(said)}"
        return Proposal(item.name, words, f"# {_key(item.name)}: look at its risk again\n")
    line = f"risk: 10 % x {_lost(found, view)} min, {_sayable(item.name)} {found.what}  # say how likely, and how long"
    if item.fastener:
        return _fastener(item, words, item.fastener, more=(line,))
    return Proposal(item.name, words, _under_parts([f"{_key(item.name)}:", f"  {line}"]))


def _lost(found: Difference, view: View) -> int:
    """Minutes until it was settled; a quarter of an hour where it never was."""
    rows = {row.number: row.event for row in view.logged}
    settled = [event for event in rows.values() if event.kind == "difference settled"]
    end = next((event for event in settled if event.data["item"] == found.item), None)
    return max(1, round(minutes_between(rows[found.number].at, end.at))) if end else 15


def _variant(item: Described) -> Proposal:
    """A thing that one car has and another has not."""
    name = _sayable(item.name)
    lines = ["variants:", f"  {name}: [with {name}, without {name}]"]
    if item.kind == PART:
        lines += ["parts:", f"  {_key(item.name)}:", f"    only for: [with {name}]"]
    words = f"{item.name}: not fitted to this car; a variant, if other cars of its kind have it"
    return Proposal(item.name, words, "\n".join(lines) + "\n")


def _under_parts(lines: list[str]) -> str:
    return "\n".join(["parts:", *(f"  {line}" for line in lines)]) + "\n"


def _key(name: str) -> str:
    """A name as a key; in quotes where YAML would take it for something else."""
    plain = _PLAIN.fullmatch(name) and name.casefold() not in _SPECIAL
    return name if plain else json.dumps(name, ensure_ascii=False)


def _sayable(name: str) -> str:
    """A name within a phrase, where commas and colons part things."""
    return re.sub(r"[^\w .()/'+-]+", " ", name).strip()
