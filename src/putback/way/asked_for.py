"""The things that the ways of a job ask for: those that the shop lacks, and those that it has."""

from collections.abc import Iterator

from putback.area.model import SECOND_PERSON, Demand, Equipment
from putback.area.tools import BARE_HANDS
from putback.way.from_area_missing import Missing, Offer
from putback.way.from_area_shop import CERTIFICATE, TOOL, Lack, by_name, lack_of
from putback.way.lay_out import equipment, tools
from putback.way.sheet import Sheet
from putback.way.task import Task


def lacking(task: Task, missing: Missing) -> list[Lack]:
    """Everything that some way asks for, or could be done with, and the shop has not got; by name.

    Parameters
    ----------
    task : Task
    missing : Missing
        What it opens up, of the same task.
    """
    shop = task.shop
    found = [lack_of(one) for one in _equipment(task, missing) if not shop.has(one)]
    for offer in _offers(missing):
        found += [Lack(TOOL, tool) for one in offer.path.tools for tool in one if tool not in (*shop.tools, BARE_HANDS)]
        found += [Lack(CERTIFICATE, name) for name in offer.path.certificates if name not in shop.certificates]
    return sorted(dict.fromkeys(found), key=by_name)


def owned(task: Task, missing: Missing) -> list[Lack]:
    """Every piece of equipment that some way asks for and the shop has: one more of each, by name.

    Parameters
    ----------
    task : Task
    missing : Missing
        What opens up, of the same task.
    """
    found = [lack_of(one) for one in _equipment(task, missing) if task.shop.has(one)]
    return sorted(dict.fromkeys(found), key=by_name)


def _equipment(task: Task, missing: Missing) -> Iterator[Equipment]:
    for offer in _offers(missing):
        yield from (one for demand in _demands(task, offer) for one in demand.offers)
    yield from (one for raising in task.shop.raising for one in (*raising.holds, *raising.moving))


def _offers(missing: Missing) -> Iterator[Offer]:
    """The ways of what may come off, and of what is off already and goes back."""
    yield from missing.offers
    yield from (offer for _, offers in missing.due for offer in offers)


def _demands(task: Task, offer: Offer) -> Iterator[Demand]:
    yield from (*offer.path.equipment, *offer.step.holds)
    for name in offer.path.follow_ups:
        yield from task.area.follow_ups[name].equipment


def taken(sheet: Sheet) -> set[str]:
    """The names of everything that a plan takes of a shop: equipment, tools, certificates, a second person."""
    ways = [step.way for step in sheet.steps if step.way]
    owed = [demand for name, _ in sheet.due for demand in sheet.area.follow_ups[name].equipment]
    found = {one.name for one in equipment(sheet)} | {one.name for demand in owed for one in demand.offers}
    found |= {name for way in ways for name in way.certificates}
    return found | set(tools(sheet)) | {SECOND_PERSON.name for way in ways if way.second_person is not None}
