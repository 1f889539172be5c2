"""Whose minutes are whose: a part's minutes include its fasteners, plugs and what is put in for it.

They are shared out by weight, in whole hundredths of a minute; what is left over goes to the largest
remainders. So the shares of a part always add up to exactly what the file says.
"""

from fractions import Fraction

from putback.area.model import BACK, FASTENERS, MARKS, NO_TIME, OUT, PUT_IN, Area, Item, Minutes, Spread
from putback.errors import InputError

STEP = Fraction(1, 100)  # of a minute
# Our own choice of weights: undoing a bolt is one, a clip half of that, a plug or a mark one, the part itself two.
THREADED, CLIP, PLUG, MARK = Fraction(1), Fraction(1, 2), Fraction(1), Fraction(1)
SELF, SUPPORT = Fraction(2), Fraction(2)


def share_out(total: Fraction, weights: list[Fraction]) -> list[Fraction]:
    """Divide `total` by `weights` in whole steps, so that the parts add up to it exactly.

    Parameters
    ----------
    total : Fraction
        Minutes, 0 or more.
    weights : list of Fraction
        0 or more each; a weight of 0 gets nothing while another has some.

    Returns
    -------
    shares : list of Fraction
        Largest-remainder method; of equal remainders the earlier gets the step.
    """
    whole = sum(weights)
    if not whole:
        return [total / len(weights)] * len(weights)
    exact = [total * weight / whole for weight in weights]
    shares = [share // STEP * STEP for share in exact]
    left = total - sum(shares)
    for index in sorted(range(len(weights)), key=lambda index: shares[index] - exact[index]):
        if weights[index] and left > 0:
            step = min(STEP, left)
            shares[index] += step
            left -= step
    return shares


def share_spread(total: Spread, weights: list[Fraction]) -> list[Spread]:
    """`share_out` for least, likely and most minutes."""
    values = (total.low, total.likely, total.high)
    shared = {value: share_out(value, weights) for value in dict.fromkeys(values)}  # mostly all three are the same
    return [Spread(*parts) for parts in zip(*(shared[value] for value in values), strict=True)]


def shares(area: Area) -> dict[str, Minutes]:
    """The minutes of every item by itself, out and back."""
    found: dict[str, Minutes] = {}
    for item in area.items.values():
        if item.owner is None and item.counted_in is None:
            _divide(area, item, own_minutes(item) or Minutes(NO_TIME, NO_TIME), found)
    return found


def own_minutes(item: Item) -> Minutes | None:
    """The minutes given for an item; where only its ways have some, the least of them."""
    given = [way.minutes for way in item.ways if way.minutes is not None]
    if item.minutes is not None or not given:
        return item.minutes
    return Minutes(_least([one.out for one in given]), _least([one.back for one in given]))


def _least(spreads: list[Spread]) -> Spread:
    return Spread(min(one.low for one in spreads), min(one.likely for one in spreads), min(one.high for one in spreads))


def members(area: Area, item: Item) -> tuple[Item, ...]:
    """What shares the minutes of an item besides itself: what belongs to it and what is counted in it."""
    return area.sharing_minutes_of(item.name)


def left_to_share(area: Area, item: Item) -> Minutes | None:
    """An item's minutes less those that its members have of their own; below zero if they do not add up."""
    minutes = own_minutes(item)
    for member in members(area, item):
        own = own_minutes(member)
        if minutes is not None and own is not None:
            minutes = Minutes(minutes.out - own.out, minutes.back - own.back)
    return minutes


def judge_minutes(area: Area) -> list[InputError]:
    """What does not add up: an item with fewer minutes than what belongs to it, or a way with too few for its fasteners."""
    found = []
    for item in area.items.values():
        left = left_to_share(area, item)
        if left is not None and min(left.out.low, left.back.low) < 0:
            names = ", ".join(member.name for member in members(area, item) if member.minutes)
            words = f'the minutes of "{item.name}" are fewer than those of what belongs to it ({names}) together'
            found.append(InputError(words, item.place))
    return found or [
        InputError(f'"{item.name}" has fewer minutes by "{name}" than its fasteners take alone', item.place)
        for item, name in too_short(area)
    ]


def too_short(area: Area) -> list[tuple[Item, str]]:
    """Items with the name of a way that would leave less than nothing for the item's own move."""
    timed = [(item, way) for item in area.items.values() for way in item.ways if way.minutes is not None]
    found = shares(area) if timed else {}
    return [
        (item, way.name) for item, way in timed if _below_zero(found[item.name], own_minutes(item), way.minutes)
    ]


def _below_zero(share: Minutes, own: Minutes, way: Minutes) -> bool:
    return any(share.towards(to).low + way.towards(to).low < own.towards(to).low for to in (OUT, BACK))


def _divide(area: Area, item: Item, total: Minutes, found: dict[str, Minutes]) -> None:
    sharers = [item]
    for member in members(area, item):
        own = own_minutes(member)
        if own is None:
            sharers.append(member)
        else:
            total = Minutes(total.out - own.out, total.back - own.back)
            _divide(area, member, own, found)
    out = share_spread(total.out, [_weight(one, item) for one in sharers])
    back = share_spread(total.back, [_weight(one, item) if one.kind != MARKS else Fraction(0) for one in sharers])
    for one, *both in zip(sharers, out, back, strict=True):
        if one is item:
            found[one.name] = Minutes(*both)
        else:
            _divide(area, one, Minutes(*both), found)


def _weight(item: Item, sharing: Item) -> Fraction:
    if item is sharing and item.kind != FASTENERS:
        return SELF
    match item.kind:
        case kind if kind == FASTENERS:
            return item.fastener.count * (THREADED if item.fastener.thread else CLIP)
        case kind if kind == PUT_IN:
            return SUPPORT
        case kind if kind == MARKS:
            return MARK
    return PLUG


def over_levels(minutes: Spread, item: Item) -> list[Spread]:
    """An item's minutes in one direction over its levels: a third to break loose, the rest to take out."""
    if item.levels == 1:
        return [minutes]
    return share_spread(minutes, [Fraction(1), *[Fraction(2, item.levels - 1)] * (item.levels - 1)])
