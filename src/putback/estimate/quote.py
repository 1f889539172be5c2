"""The quote of a plan: what it takes, what it costs here, how sure that is, and what must be there first.

    quote = make_quote(task, sheet)
    quote.bill.total, quote.hours.within[80], all_here(quote.order)
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from putback.area.charges import Billed, Charges
from putback.area.model import Area
from putback.area.shop_file import RUST
from putback.area.spelling import nearest
from putback.errors import InputError
from putback.estimate.agreed import Consent, in_force
from putback.estimate.bill import Bill, Labour, bill
from putback.estimate.goods import Good, goods, swapped
from putback.estimate.hours import Hours, hours
from putback.estimate.money import cents
from putback.estimate.simulate import SEED
from putback.estimate.terms import NO_TERMS, Terms
from putback.estimate.to_order import Ordered, to_order
from putback.way.sheet import Sheet
from putback.way.task import Task


@dataclass(frozen=True)
class Quote:
    """A plan as the customer, the parts counter and the shop see it.

    Attributes
    ----------
    sheet : Sheet
    hours : Hours
    goods : tuple of Good
    bill : Bill
        At the planned minutes, or at those that are billed.
    likely, least, most : Bill
        The same if no risk comes; if everything takes its least; if everything takes its most and every risk comes.
    within : dict of int to Bill
        The same at the minutes in which 50, 80 and 95 of a hundred such jobs are done.
    order : tuple of Ordered
    core : int
        Cents of deposit on old parts, due until they are back; in no total.
    billed : Billed or None
        What is billed in place of what is planned.
    consent : Consent or None
        The one that is in force.
    assumed : str
        What was taken for granted, in a sentence; empty where nothing was.
    """

    sheet: Sheet
    hours: Hours
    goods: tuple[Good, ...]
    bill: Bill
    likely: Bill
    least: Bill
    most: Bill
    within: dict[int, Bill]
    order: tuple[Ordered, ...]
    core: int
    billed: Billed | None = None
    consent: Consent | None = None
    assumed: str = ""


def make_quote(task: Task, sheet: Sheet, terms: Terms = NO_TERMS, *, assumed: str = "", seed: int = SEED) -> Quote:
    """The quote of a plan.

    Parameters
    ----------
    task : Task
    sheet : Sheet
        A plan of that task, in its shop or one that has more.
    terms : Terms
        What holds for this job.
    assumed : str
        What was taken for granted when the task was made.
    seed : int
        Of the simulation.

    Raises
    ------
    InputError
        The terms name a thing that this job does not know.
    """
    _check_prices(terms, sheet.area)
    pricing = Pricing(task, sheet, terms)
    found = hours(sheet, RUST[task.options.get("rust") or sheet.shop.rust or "usual"], sheet.shop.charges.doubt, seed=seed)
    return Quote(
        sheet=sheet,
        hours=found,
        goods=pricing.goods,
        bill=pricing.bill(),
        likely=pricing.bill(found.likely),
        least=pricing.bill(found.least),
        most=pricing.bill(found.most),
        within={level: pricing.bill(Fraction(minutes)) for level, minutes in found.within.items()},
        order=to_order(sheet, pricing.goods, terms.parts),
        core=_core(sheet),
        billed=terms.hours,
        consent=in_force(terms.consents),
        assumed=assumed,
    )


class Pricing:
    """What a plan costs in its shop on a job's terms, at any minutes.

    Parameters
    ----------
    task : Task
    sheet : Sheet
    terms : Terms
    """

    def __init__(self, task: Task, sheet: Sheet, terms: Terms):
        self.sheet, self.terms = sheet, terms
        self.goods = goods(task, sheet, terms.prices)
        self.charges = _charges(sheet.shop.charges, terms)
        self.helper = sum((step.way.second_person or Fraction(0) for step in sheet.steps if step.way), Fraction(0))

    def bill(self, minutes: Fraction | None = None, more: tuple[Good, ...] = ()) -> Bill:
        """The bill if the job takes so long, those of a second person included, and takes so much more.

        Parameters
        ----------
        minutes : Fraction, optional
            The planned ones when left out.
        more : tuple of Good
        """
        labour = self._labour(self.sheet.minutes if minutes is None else minutes)
        return bill(labour, (*self.goods, *more), self.charges, self.sheet.shop.tax)

    def _labour(self, minutes: Fraction) -> list[Labour]:
        rate, helper = self.sheet.shop.labour, self.charges.second_person
        if not rate:
            return []
        if self.terms.hours:
            return [Labour("labour, as billed", self.terms.hours.minutes, rate)]
        found = [Labour("labour", max(Fraction(0), minutes - self.helper), rate)]
        return found + ([Labour("second person", self.helper, helper or rate)] if self.helper else [])


def _charges(shop: Charges, terms: Terms) -> Charges:
    return replace(shop, discount=terms.discount or shop.discount, deposit=terms.deposit or shop.deposit)


def _check_prices(terms: Terms, area: Area) -> None:
    known = set(_priceable(area))
    for name in terms.prices:
        if name not in known:
            near = nearest(name, sorted(known))
            advice = f'; did you mean "{near}"?' if near else ""
            raise InputError(f'there is a price for "{name}", but nothing in {area.name} is called so{advice}')


def _priceable(area: Area) -> Iterator[str]:
    """The names of all that any job on the area may buy."""
    yield from area.items
    yield from (part.name for part in area.always_new)
    for item in area.items.values():
        yield from (part.name for part in item.new_parts)
        yield from (item.loses.name,) if item.loses else ()
    yield from (follow_up.sublet for follow_up in area.follow_ups.values() if follow_up.sublet)


def _core(sheet: Sheet) -> int:
    """Deposits on the old parts of a plan that replaces them."""
    return sum(cents(target.deposit) for target in sheet.area.targets if target.name.name in swapped(sheet))
