"""A quote for other programs: as plain JSON values, and as rows of CSV (RFC 4180)."""

import csv
import io
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Any

from putback.estimate.agreed import Consent, room
from putback.estimate.bill import Bill
from putback.estimate.money import cents as shown
from putback.estimate.money import decimal
from putback.estimate.not_covered import not_covered
from putback.estimate.quote import Quote
from putback.estimate.spread import chance_within
from putback.estimate.to_order import all_here
from putback.estimate.while_open import Open

COLUMNS = ("section", "kind", "name", "about", "count", "minutes", "money", "status")


def quote_object(quote: Quote) -> dict[str, Any]:
    """The whole quote. Money has two decimals, minutes are decimal numbers; what is not known is null.

    Parameters
    ----------
    quote : Quote
    """
    sheet, hours = quote.sheet, quote.hours
    return {
        "area": sheet.area.name,
        "shop": sheet.shop.name,
        "currency": sheet.shop.currency,
        "targets": list(sheet.targets),
        "assumed": quote.assumed,
        "proved": sheet.proved,
        "lines": [
            {"kind": one.kind, "name": one.name, "about": one.about, "count": one.count, "money": _money(one.cents)}
            for one in quote.bill.lines
        ],
        **_totals(quote.bill),
        "tax_rate": float(sheet.shop.tax),
        "deposit": _money(quote.bill.deposit),
        "core_deposit": _money(quote.core),
        "hours_billed": quote.billed and {"minutes": _number(quote.billed.minutes), "source": quote.billed.source},
        "time": {
            "planned": _number(hours.planned),
            "mean": round(hours.moments.mean, 4),
            "deviation": round(hours.moments.deviation, 4),
            "by_hand": {
                "mean": round(hours.by_hand.mean, 4),
                "deviation": round(hours.by_hand.deviation, 4),
                "within_planned": round(chance_within(float(hours.planned), hours.by_hand), 4),
            },
            "spread_from": [{"name": name, "share": round(share, 4)} for name, share in hours.shares],
        },
        "least": {"minutes": _number(hours.least)} | _totals(quote.least),
        "likely": {"minutes": _number(hours.likely)} | _totals(quote.likely),
        "most": {"minutes": _number(hours.most)} | _totals(quote.most),
        "of_100": [
            {"jobs": level, "minutes": round(minutes, 1)} | _totals(quote.within[level]) for level, minutes in hours.within.items()
        ],
        "risks": [
            {"what": one.what, "probability": float(one.probability), "minutes": _number(one.minutes)} for one in hours.chances
        ],
        "agreed": quote.consent and consent_object(quote.consent) | {"left": _money(shown(room(quote.consent.cap, quote.bill)))},
        "to_order": [
            {
                "kind": one.kind,
                "name": one.name,
                "about": one.about,
                "count": one.count,
                "each": None if one.each is None else _number(one.each / 100),
                "match": dict(one.match),
                "status": one.standing,
                "missing": one.missing,
            }
            for one in quote.order
        ],
        "all_here": not all_here(quote.order),
        "not_covered": list(not_covered(quote)),
    }


def beside_object(ways: Iterable[tuple[str, Quote]], offer: Open) -> dict[str, Any]:
    """Other ways side by side, and what else could be done while the car is open.

    Parameters
    ----------
    ways : iterable of (str, Quote)
        The one that is planned first.
    offer : Open
    """
    return {
        "ways": [
            {"name": name, "minutes": _number(one.hours.planned), "minutes_80": round(one.hours.within[80], 1)} | _totals(one.bill)
            for name, one in ways
        ],
        "while_open": [
            {
                "name": one.name,
                "more_minutes": _number(one.minutes),
                "more_money": _money(one.cents),
                "alone_minutes": one.alone and _number(one.alone[0]),
                "alone_money": one.alone and _money(one.alone[1]),
                "off_anyway": one.is_off,
                "price_known": one.has_price,
                "proved": one.is_proved,
                "other_way": one.other_way,
            }
            for one in offer.found
        ],
        "not_looked_at": list(offer.unseen),
    }


def consent_object(consent: Consent) -> dict[str, Any]:
    """One consent, as an event of a job's ledger holds it.

    Parameters
    ----------
    consent : Consent
    """
    return {
        "most": _money(shown(consent.cap.most)),
        "with_tax": consent.cap.with_tax,
        "by": consent.by,
        "at": consent.at,
        "how": consent.how,
    }


def quote_csv(quote: Quote) -> str:
    """Lines, totals, times and the list to order as rows; each ends in CR LF, the first has the names of the columns.

    Parameters
    ----------
    quote : Quote

    References
    ----------
    .. [1] RFC 4180, section 2.
    """
    text = io.StringIO(newline="")
    rows = csv.writer(text, lineterminator="\r\n")
    rows.writerow(COLUMNS)
    rows.writerows(_rows(quote))
    return text.getvalue()


def _rows(quote: Quote) -> Iterator[tuple]:
    for one in quote.bill.lines:
        yield "line", one.kind, one.name, one.about, one.count, "", _text(one.cents), ""
    bill = quote.bill
    sums = (("before tax", bill.net), ("tax", bill.tax), ("to pay", bill.total), ("deposit", bill.deposit), ("core deposit", quote.core))
    for name, amount in sums:
        yield "total", "", name, "", "", "", _text(amount), ""
    times = {"planned": (quote.hours.planned, bill), "least": (quote.hours.least, quote.least)}
    times |= {"likely": (quote.hours.likely, quote.likely), "most": (quote.hours.most, quote.most)}
    times |= {f"{level} of 100": (minutes, quote.within[level]) for level, minutes in quote.hours.within.items()}
    for name, (minutes, at) in times.items():
        yield "time", "", name, "before tax", "", f"{float(minutes):.1f}", _text(at.net), ""
    for one in quote.order:
        each = None if one.each is None else shown(one.each * one.count)
        yield "to order", one.kind, one.name, one.about, one.count, "", _text(each), one.standing


def _totals(bill: Bill) -> dict[str, Any]:
    return {"before_tax": _money(bill.net), "tax": _money(bill.tax), "to_pay": _money(bill.total)}


def _money(cents: int | None) -> float | None:
    return None if cents is None else cents / 100


def _text(cents: int | None) -> str:
    return "" if cents is None else str(decimal(cents))


def _number(value: Fraction) -> int | float:
    return int(value) if value.denominator == 1 else round(float(value), 4)
