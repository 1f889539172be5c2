"""The terms of one job, and what was agreed."""

from fractions import Fraction

import pytest
from quote_samples import quoted, terms_of

from putback.area.charges import LABOUR, Billed, Portion
from putback.errors import Findings, InputError
from putback.estimate.agreed import Cap, Consent, in_force, read_cap, room
from putback.estimate.terms import NO_TERMS, read_terms


def refused(text: str) -> list[str]:
    with pytest.raises(Findings) as found:
        terms_of(text)
    return [finding.message for finding in found.value.findings]


def test_terms_are_read():
    """Money in cents; what is not said is the shop's."""
    terms = terms_of(
        "hours billed: 4.5 h, own time\ndiscount: 5 % off labour\ndeposit: 100.00\nprices: {pump: 90.00}\n"
        "agreed: {most: 760.00, by: the owner, at: 2026-11-25 09:10, how: by phone}\n"
        "parts: {pump: here, bolts: '1 here, 2 ordered'}\n"
    )

    assert terms.hours == Billed(Fraction(270), "own time")
    assert (terms.discount, terms.deposit) == (Portion(Fraction(1, 20), None, LABOUR), Portion(None, Fraction(10000)))
    assert terms.prices == {"pump": 9000}
    assert terms.consents == (Consent(Cap(Fraction(76000)), "the owner", "2026-11-25 09:10", "by phone"),)
    assert terms.parts == {"pump": {"here": None}, "bolts": {"here": 1, "ordered": 2}}
    assert read_terms("terms: 1\n", "t") == NO_TERMS


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("parts: {pump: there}", '"there" is not understood; write "here" or "1 here, 1 ordered"; there are: needed, in stock'),
        ("parts: {pump: '1 here, 2 here'}", '"1 here, 2 here" is not understood; write "here"'),
        ("agreed: {most: 5, by: me, at: 2026-11-25, how: by phone}", '"2026-11-25" is no day and time; write it as'),
        ("agreed: {most: 5, by: me, at: yesterday, how: by phone}", '"yesterday" is no day and time; write it as'),
        ("agreed: {most: lots, by: me, at: 2026-11-25 09:10, how: by phone}", '"lots" is no amount of money; write "760.00'),
        ("agreed: {most: 5}", 'what was agreed needs "at"'),
    ],
)
def test_what_is_not_understood_is_told(text, message):
    """Each with what to write."""
    assert refused(text + "\n")[0].startswith(message)


@pytest.mark.parametrize(
    ("text", "cap"),
    [("760.00", Cap(Fraction(76000))), ("760.00 before tax", Cap(Fraction(76000))), ("912 with tax", Cap(Fraction(91200), True))],
)
def test_an_amount_is_before_tax_unless_it_says_otherwise(text, cap):
    """As all money of a plan is."""
    assert read_cap(text) == cap


def test_a_cap_that_is_no_amount_is_refused():
    """And how to write it is said."""
    with pytest.raises(InputError, match='write "760.00 before tax" or "912.00 with tax"'):
        read_cap("760 net")


def test_the_latest_consent_is_in_force():
    """Whatever the order of the file; of equally late ones the last."""
    early, late, same = (Consent(Cap(Fraction(n)), at=at) for n, at in ((1, "2026-11-25 09:10"), (2, "2026-11-26 08:00"), (3, "2026-11-26 08:00")))

    assert in_force([]) is None
    assert in_force([late, early]) == late
    assert in_force([late, same, early]) == same


@pytest.mark.parametrize("more", [-1, 0, 1])
def test_above_the_cap_somebody_must_agree(more):
    """A cent below, at and above: only above is there no room."""
    bill = quoted("parts:\n  pump: {from: top, minutes: '4 off, 6 on'}\n", "tax: 20 %\n").bill

    assert room(Cap(Fraction(bill.net - more)), bill) == -more
    assert room(Cap(Fraction(bill.total - more), with_tax=True), bill) == -more
