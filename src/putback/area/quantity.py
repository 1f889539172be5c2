"""The short phrases of figures: minutes, money, risks, equipment.

Each function takes the text of one phrase and gives a value, or raises InputError without a place; the
reader adds where it stood.
"""

import re
from fractions import Fraction

from putback.area.model import (
    BACK,
    OUT,
    Demand,
    Equipment,
    Fluid,
    FollowUp,
    Minutes,
    Risk,
    Spread,
)
from putback.errors import InputError

# What goes beyond these is a slip of the pen; it would also drown every other figure of a plan.
LONGEST = 10_000  # minutes, a month of one person's work
DEAREST = 1_000_000  # in whole money
MOST = 1_000  # pieces
HEAVIEST = 50_000  # kg

_NUMBER = r"\d+(?:\.\d+)?"
_SPREAD = rf"{_NUMBER}(?:\s*-\s*{_NUMBER}\s*-\s*{_NUMBER})?"


def _figure(number: str, most: int, unit: str) -> Fraction:
    """A number that is at most so much of a unit."""
    value = Fraction(number.strip())
    if value > most:
        raise InputError(f'"{number}" is more than the {most} {unit} that are taken for real; look at the figure')
    return value


def time(number: str) -> Fraction:
    """Minutes, from the number alone."""
    return _figure(number, LONGEST, "minutes")


def spread(text: str) -> Spread:
    """Minutes as `5` or `4-5-8` (least, likely, most)."""
    numbers = [time(part) for part in text.split("-")]
    if len(numbers) == 1:
        return Spread(*numbers * 3)
    if not numbers[0] <= numbers[1] <= numbers[2]:
        raise InputError(f'"{text}": write least, likely and most minutes in rising order, as in "4-5-8"')
    return Spread(*numbers)


def both_ways(out_word: str, back_word: str):
    """A reader of `5 off, 7 on` (or `12 in, 6 out`), in whichever order they stand."""
    pattern = re.compile(rf"({_SPREAD})\s*(?:min\s*)?({out_word}|{back_word})")

    def read(text: str) -> Minutes:
        matches = [pattern.fullmatch(part.strip()) for part in text.split(",")]
        if not all(matches) or sorted(match[2] for match in matches) != sorted((out_word, back_word)):
            point = "; a decimal is written with a point" if re.search(r"\d,\d", text) else ""
            raise InputError(f'"{text}" is not understood; write minutes as "5 {out_word}, 7 {back_word}"{point}')
        found = {match[2]: spread(match[1]) for match in matches}
        return Minutes(found[out_word], found[back_word])

    return read


def minutes(text: str) -> Fraction:
    """One time, as `12 min`."""
    found = re.fullmatch(rf"({_NUMBER})\s*min(?:utes)?", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write a time as "12 min"')
    return time(found[1])


def minutes_spread(text: str) -> Spread:
    """One time with its spread, as `12 min` or `10-12-20 min`."""
    found = re.fullmatch(rf"({_SPREAD})\s*min(?:utes)?", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write a time as "12 min" or "10-12-20 min"')
    return spread(found[1])


def money(text: str) -> Fraction:
    """An amount such as `268.00`, in cents."""
    if not re.fullmatch(r"\d+(?:\.\d+)?", text.strip()):
        raise InputError(f'"{text}" is no amount of money; write it as "268.00", without the currency')
    return _figure(text, DEAREST, "in money") * 100


def counted_money(text: str) -> tuple[int, Fraction]:
    """An amount, or so many at an amount: `31.50`, `4 x 0.35`."""
    count, cross, amount = text.partition(" x ")
    if not cross:
        return 1, money(text)
    if not count.strip().isdecimal():
        raise InputError(f'"{text}" is not understood; write "4 x 0.35" for four at 0.35 each')
    return pieces(count), money(amount)


def count(text: str) -> int:
    """A number of pieces, from 1."""
    if not text.strip().isdecimal() or int(text) == 0:
        raise InputError(f'"{text}" is no number of pieces; write a whole number from 1')
    return pieces(text)


def pieces(number: str) -> int:
    """A number of pieces, from its digits."""
    return int(_figure(number, MOST, "pieces"))


def rating(number: str | None) -> int | None:
    """What something must carry or is rated for [kg], from its digits; None where there are none."""
    return int(_figure(number, HEAVIEST, "kg")) if number else None


def share(text: str) -> Fraction:
    """A part of the whole: `30 %` or `0.30`."""
    found = re.fullmatch(rf"({_NUMBER})\s*(%?)", text.strip())
    value = Fraction(found[1]) / (100 if found[2] else 1) if found else None
    if value is None or value > 1:
        raise InputError(f'"{text}" is no probability; write "30 %" or "0.30"')
    return value


def risk(text: str, rusts: bool = True) -> Risk:
    """`30 % x 12 min, link nut seized`: how likely, how long, and what; `on:` ahead for the way back."""
    direction, rest = OUT, text.strip()
    if rest.startswith(("on:", "off:")):
        word, rest = rest.split(":", 1)
        direction = BACK if word == "on" else OUT
    found = re.fullmatch(rf"\s*({_NUMBER}\s*%?)\s*x\s*({_NUMBER})\s*min\s*,\s*(.+)", rest)
    if not found:
        raise InputError(f'"{text}" is not understood; write a risk as "30 % x 12 min, nut seized"')
    return Risk(found[3].strip(), share(found[1]), time(found[2]), rusts, direction)


def breakage(text: str) -> Risk:
    """Like a risk, but of something that rust does not make likelier."""
    return risk(text, rusts=False)


def demand(text: str) -> Demand:
    """`support table >= 150 kg`, `2 drain pans`, `brake-pedal prop or second person`."""
    return Demand(tuple(equipment(part) for part in re.split(r"\s+or\s+", text.strip())))


def equipment(text: str) -> Equipment:
    """One kind of equipment, with a count ahead and a least rating behind where they matter.

    Equipment is named in the singular; behind a count above 1 the plural is read as such.
    """
    found = re.fullmatch(r"(?:(\d+)\s+(?:x\s+)?)?([^<>=]+?)(?:\s*(?:>=|≥)\s*(\d+)\s*kg)?", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write equipment as "support table >= 150 kg"')
    number = pieces(found[1] or "1")
    name = found[2].removesuffix("s") if number > 1 else found[2]
    return Equipment(name, number, rating(found[3]))


def fluid(text: str) -> Fluid:
    """`0.7 l gearbox oil, 11.20`: how much runs out, of what, and what it costs."""
    found = re.fullmatch(rf"({_NUMBER})\s*[lL]\s+([^,]+?)(?:\s*,\s*({_NUMBER}))?", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write what runs out as "0.7 l gearbox oil, 11.20"')
    return Fluid(found[2], _figure(found[1], MOST, "litres"), money(found[3]) if found[3] else Fraction(0))


def follow_up(text: str) -> FollowUp:
    """`45 min with alignment rack, or sublet wheel alignment`, `6 min`, `sublet`, `at hand-over`."""
    text = text.strip()
    if text == "at hand-over":
        return FollowUp("", at_hand_over=True)
    found = re.fullmatch(
        rf"(?:({_NUMBER})\s*min(?:\s+with\s+(.+?))?)?(?:(?:\s*,?\s*or\s+)?(sublet)(?:\s+(.+))?)?", text
    )
    if not text or not found:
        raise InputError(
            f'"{text}" is not understood; write "6 min", "45 min with alignment rack, or sublet wheel alignment" '
            'or "at hand-over"'
        )
    needs = (demand(found[2]),) if found[2] else ()
    return FollowUp("", time(found[1]) if found[1] else None, needs, (found[4] or "") if found[3] else None)


def mass(text: str) -> Fraction:
    """A mass as `6.4 kg`, in kilograms."""
    found = re.fullmatch(rf"({_NUMBER})\s*kg", text.strip())
    if not found:
        raise InputError(f'"{text}" is not understood; write a mass as "6.4 kg"')
    return _figure(found[1], HEAVIEST, "kg")
