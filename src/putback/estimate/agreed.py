"""What the customer agreed to: at most how much, and who said so, when and how."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from putback.area import quantity
from putback.errors import InputError
from putback.estimate.bill import Bill

BEFORE_TAX, WITH_TAX = "before tax", "with tax"


@dataclass(frozen=True)
class Cap:
    """The most that may be asked, in cents, before tax or with it."""

    most: Fraction
    with_tax: bool = False

    @property
    def words(self) -> str:
        """Which of the two it is."""
        return WITH_TAX if self.with_tax else BEFORE_TAX


@dataclass(frozen=True)
class Consent:
    """One agreement. It is a fact of the past: another amount is another consent.

    Attributes
    ----------
    cap : Cap
    by : str
        Who agreed.
    at : str
        When, as 2026-11-25 09:10.
    how : str
        By phone, in person, in writing, ...
    """

    cap: Cap
    by: str = ""
    at: str = ""
    how: str = ""


def read_cap(text: str) -> Cap:
    """`760.00`, which is before tax as all money of a plan is, `760.00 before tax`, or `912.00 with tax`.

    Parameters
    ----------
    text : str
    """
    said = text.strip()
    amount = said.removesuffix(WITH_TAX).removesuffix(BEFORE_TAX)
    try:
        return Cap(quantity.money(amount), said.endswith(WITH_TAX))
    except InputError as error:
        raise InputError(f'{error.message.partition("; ")[0]}; write "760.00 before tax" or "912.00 with tax"') from None


def in_force(consents: Iterable[Consent]) -> Consent | None:
    """The latest of some consents; of equally late ones the last.

    Parameters
    ----------
    consents : iterable of Consent
    """
    latest = None
    for one in consents:
        if latest is None or one.at >= latest.at:
            latest = one
    return latest


def room(cap: Cap, bill: Bill) -> Fraction:
    """Cents that are left below what was agreed; below zero, somebody must agree before the work goes on.

    Parameters
    ----------
    cap : Cap
    bill : Bill
    """
    return cap.most - (bill.total if cap.with_tax else bill.net)
