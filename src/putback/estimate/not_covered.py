"""What a quote does not cover, said in sentences."""

from collections.abc import Iterator

from putback.estimate.money import decimal
from putback.estimate.quote import Quote


def not_covered(quote: Quote) -> tuple[str, ...]:
    """Whatever may still come on top, or was left out, for the reader of a quote.

    Parameters
    ----------
    quote : Quote
    """
    return tuple(_said(quote))


def _said(quote: Quote) -> Iterator[str]:
    sheet = quote.sheet
    yield "what nobody can see before the car is open, and whatever breaks that is not named as a risk here"
    yield "whatever else the vehicle maker wants new or done: the maker's instructions come before this list"
    if quote.bill.unpriced:
        yield f"{', '.join(quote.bill.unpriced)}: the price is not known, and is in no total"
    if not sheet.shop.labour:
        yield "labour: no shop is given that says what an hour costs"
    if quote.core:
        yield f"the core deposit of {decimal(quote.core)}: it is given back with the old part, and no tax is counted on it"
    if not sheet.shop.tax:
        yield "tax: the shop names no rate"
    if quote.billed:
        yield "what the work takes more or less than the hours billed"
    yield from _times(quote)
    yield from (f"{name}: said at the hand-over, and nothing is asked for it" for name, minutes in sheet.due if _is_free(quote, name, minutes))
    if not sheet.proved:
        yield f"a cheaper way that may exist: at most {float(100 * sheet.gap):.1f} % could still be saved"


def _times(quote: Quote) -> Iterator[str]:
    single = sum(not piece.given for piece in quote.hours.pieces)
    if single and quote.sheet.shop.charges.doubt is None:
        yield f"how far off single figures are: {single} of {len(quote.hours.pieces)} times have no least and most, and count as sure"


def _is_free(quote: Quote, name: str, minutes) -> bool:
    return not minutes and quote.sheet.area.follow_ups[name].at_hand_over
