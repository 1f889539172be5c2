"""A quote as text of 80 columns, in plain rows."""

import textwrap
from collections.abc import Iterable, Iterator
from fractions import Fraction

from putback.estimate.agreed import room
from putback.estimate.bill import Bill, Line
from putback.estimate.money import cents as shown
from putback.estimate.money import decimal
from putback.estimate.not_covered import not_covered
from putback.estimate.quote import Quote
from putback.estimate.to_order import EQUIPMENT, NEEDED, TOOL, Ordered, all_here
from putback.estimate.while_open import Besides, Open, nearly_free
from putback.plan_text import WIDTH, minutes, sizes_together
from putback.way.no_way import ways_taken

_FIGURE = 11  # a column of figures
_UNSURE = 3  # so many causes of the spread are named
_WORTH_SAYING = 0.01
_MARGIN = 5
_FIRM = "\u00a0"  # a blank at which no line ends


def quote_lines(quote: Quote) -> Iterator[str]:
    """The whole quote: what it costs, how sure that is, what to order, and what it does not cover.

    Parameters
    ----------
    quote : Quote
    """
    yield from short_lines(quote)
    yield from _risks(quote)
    yield from _agreed(quote)
    yield from _order(quote)
    yield from _not_covered(quote)


def short_lines(quote: Quote) -> Iterator[str]:
    """The head of a quote: its lines, its totals, and how sure they are.

    Parameters
    ----------
    quote : Quote
    """
    sheet = quote.sheet
    yield from _wrapped(f"quote: {' and '.join(sheet.targets)}".upper())
    yield from _wrapped(f"{sheet.area.name}; {sheet.shop.name}")
    yield from _wrapped("; ".join(ways_taken(sheet)))
    yield from _wrapped(quote.assumed)
    yield from _bill(quote)
    yield from _spread(quote)


# --- money and minutes ----------------------------------------------------------------------------


def _bill(quote: Quote) -> Iterator[str]:
    bill, currency = quote.bill, quote.sheet.shop.currency
    yield from ("", _row("WHAT IT COSTS", currency, indent=0))
    for line in bill.lines:
        yield from _told(_line(line), "not known" if line.cents is None else _money(line.cents))
    if quote.billed:
        source = f", {quote.billed.source}" if quote.billed.source else ""
        yield from _note(f"hours billed{source}; planned are {minutes(quote.hours.planned)} min")
    yield _row("", "-" * len(_money(bill.net)))
    yield from _told("before tax", _money(bill.net))
    if bill.tax:
        yield from _told(f"tax, {float(100 * quote.sheet.shop.tax):g} %", _money(bill.tax))
        yield from _told("to pay", _money(bill.total))
    if bill.deposit:
        yield from _told("of it ahead of the work", _money(bill.deposit))
    if quote.core:
        yield from _told("besides, until the old part is back: core deposit", _money(quote.core))


def _line(line: Line) -> str:
    count = f"{line.count} x " if line.count > 1 else ""
    return f"{count}{line.name}{f', {line.about}' if line.about else ''}"


def _spread(quote: Quote) -> Iterator[str]:
    yield from ("", _row("HOW SURE THAT IS", "min", "before tax", "to pay", indent=0))
    hours = quote.hours
    yield from _told("planned, risks at their average", minutes(hours.planned), *_both(quote.bill))
    yield from _told("least, if all goes at its best", minutes(hours.least), *_both(quote.least))
    yield from _told("likely, if no risk comes", minutes(hours.likely), *_both(quote.likely))
    for level, time in hours.within.items():
        words = f"{level} of 100 such jobs take no more" if level == min(hours.within) else f"{level} of 100"
        yield from _told(words, minutes(Fraction(time)), *_both(quote.within[level]))
    yield from _told("most, if every risk comes", minutes(hours.most), *_both(quote.most))
    if hours.shares:
        causes = [f"{name} {100 * share:.0f}{_FIRM}%" for name, share in hours.shares[:_UNSURE] if share >= _WORTH_SAYING]
        yield from _note(f"most of the spread comes from: {'; '.join(causes)}")


def _both(bill: Bill) -> tuple[str, str]:
    return _money(bill.net), _money(bill.total)


def _risks(quote: Quote) -> Iterator[str]:
    """What may come, each by itself."""
    if quote.hours.chances:
        yield from ("", _row("NAMED RISKS, IF THEY COME", "min", "before tax", indent=0))
    for one in quote.hours.chances:
        rate = quote.sheet.shop.labour
        words = f"{one.what}, {float(100 * one.probability):g} in 100"
        amount = _money(shown(one.minutes * rate / 60)) if rate and not quote.billed else ""
        yield from _told(words, minutes(one.minutes), amount)


def _agreed(quote: Quote) -> Iterator[str]:
    consent = quote.consent
    if consent is None:
        return
    yield from ("", "AGREED")
    said = ", ".join(word for word in (consent.by, consent.at, consent.how) if word)
    yield from _note(f"at most {_money(shown(consent.cap.most))} {consent.cap.words}{f': {said}' if said else ''}", _MARGIN)
    left = room(consent.cap, quote.bill)
    words = "is left below that" if left >= 0 else "above that: somebody must agree before the work begins"
    yield from _note(f"{_money(shown(abs(left)))} {words}", _MARGIN)


# --- what to order --------------------------------------------------------------------------------


def _order(quote: Quote) -> Iterator[str]:
    yield from ("", "TO ORDER BEFORE THE CAR IS OPENED")
    for one in quote.order:
        if one.kind not in (TOOL, EQUIPMENT):
            yield from _ordered(one)
    for kind, words in ((TOOL, "tools"), (EQUIPMENT, "equipment")):
        things = sizes_together([_thing(one) for one in quote.order if one.kind == kind])
        yield from _note(f"{words}: {'; '.join(things)}", _MARGIN) if things else ()
    missing = all_here(quote.order)
    if missing:
        yield from _note(f"Not here yet: {'; '.join(missing)}. Nothing is opened before they are.", _MARGIN)
    else:
        yield from _note("All is here.", _MARGIN)


def _ordered(one: Ordered) -> Iterator[str]:
    said = [one.name, one.about, one.kind if one.about else ""]
    yield from _told(f"{one.count} x {', '.join(word for word in said if word)}", one.standing)
    if one.match:
        yield from _note(f"to match: {'; '.join(f'{feature} {value}' for feature, value in one.match)}")


def _thing(one: Ordered) -> str:
    count = f"{one.count} x " if one.count > 1 else ""
    state = f" ({one.standing})" if one.at(NEEDED) else ""
    return f"{count}{one.name}{f' {one.about}' if one.about else ''}{state}"


def _not_covered(quote: Quote) -> Iterator[str]:
    yield from ("", "NOT IN THIS QUOTE")
    for sentence in not_covered(quote):
        yield from _note(sentence, _MARGIN)


# --- beside the plan ------------------------------------------------------------------------------


def other_ways_lines(quotes: Iterable[tuple[str, Quote]]) -> Iterator[str]:
    """Other ways side by side, each with its name.

    Parameters
    ----------
    quotes : iterable of (str, Quote)
        The one that is planned first.
    """
    yield from ("", _row("WAYS SIDE BY SIDE", "before tax", "min", "80 in 100", indent=0))
    for name, quote in quotes:
        figures = (_money(quote.bill.net), minutes(quote.hours.planned), minutes(Fraction(quote.hours.within[80])))
        yield from _told(name, *figures)
        ordered = [f"{one.count} x {one.name}" for one in quote.order if one.kind not in (TOOL, EQUIPMENT) and one.at(NEEDED)]
        yield from _note(f"to order: {', '.join(ordered)}") if ordered else ()


def while_open_lines(offer: Open) -> Iterator[str]:
    """What else could be done while the car is open.

    Parameters
    ----------
    offer : Open
    """
    found = nearly_free(offer.found)
    rows = [one for one in found if one.has_price or not one.is_off]
    if found or offer.unseen:
        yield from ("", _row("WHILE IT IS OPEN", "more", "min", "alone", "min", indent=0))
    for one in rows:
        yield from _told(_besides(one), _money(one.cents), _more(one.minutes), *_alone(one))
        yield from _note(f"another way then: {one.other_way}") if one.other_way else ()
    bare = [one.name for one in found if one not in rows]
    if bare:
        yield from _note(f"off anyway, at the price of the part and nothing more: {'; '.join(bare)}", _MARGIN)
    if offer.unseen:
        yield from _note(f"no time was left to look at: {'; '.join(offer.unseen)}", _MARGIN)


def _besides(one: Besides) -> str:
    notes = ["" if one.has_price else "without the part, whose price is not known", "" if one.is_proved else "at most"]
    return ", ".join([one.name, *(note for note in notes if note)])


def _more(time: Fraction) -> str:
    """Minutes that another way may also save."""
    return f"-{minutes(-time)}" if time < 0 else minutes(time)


def _alone(one: Besides) -> tuple[str, str]:
    return (_money(one.alone[1]), minutes(one.alone[0])) if one.alone else ("", "")


# --- rows -----------------------------------------------------------------------------------------


def _money(cents: int) -> str:
    return str(decimal(cents))


def _row(text: str, *figures: str, indent: int = _MARGIN) -> str:
    words = WIDTH - indent - _FIGURE * len(figures)
    return f"{'':{indent}}{text:{words}}{''.join(f'{one:>{_FIGURE}}' for one in figures)}".rstrip()


def _told(text: str, *figures: str) -> Iterator[str]:
    """Words at the left, figures at the right of their first line; a long figure widens its column."""
    wide = max(0, max((len(one) for one in figures), default=0) + 1 - _FIGURE)
    room_left = WIDTH - _MARGIN - 1 - _FIGURE * len(figures) - wide
    first, *rest = textwrap.wrap(text, room_left) or [""]
    yield _row(first, *figures) if not wide else f"{'':{_MARGIN}}{first:{room_left + 1}}{' '.join(figures):>{_FIGURE + wide}}"
    yield from (f"{'':{_MARGIN}}{line}" for line in rest)


def _note(text: str, indent: int = 7) -> list[str]:
    lines = textwrap.wrap(text, WIDTH, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2))
    return [line.replace(_FIRM, " ") for line in lines]


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH)
