"""Names that a person gives on the command line or on a page, held against what there is."""

from collections.abc import Iterable, Iterator
from difflib import get_close_matches

from putback.area.model import SECOND_PERSON, Area
from putback.area.shop_file import Shop
from putback.errors import InputError
from putback.way.from_area_described import Description
from putback.way.from_area_steps import all_steps


def check_targets(area: Area, names: Iterable[str]) -> None:
    """Refuse a target that is not in the area, with the nearest name that is."""
    for name in names:
        if name not in area.items:
            targets = [target.name.name for target in area.targets]
            raise InputError(f'there is no "{name}" in {area.name}; {_advice(name, area.items, targets)}')


def check_avoided(area: Area, names: Iterable[str]) -> None:
    """Refuse a part to avoid that is not in the area, with the nearest name that is."""
    for name in names:
        if name not in area.items:
            raise InputError(f'there is no "{name}" to avoid in {area.name}; {_advice(name, area.items, area.items)}')


def check_things(area: Area, shop: Shop, names: Iterable[str]) -> None:
    """Refuse a thing to do without that neither the shop has nor the area asks for, with the nearest name."""
    owned = {SECOND_PERSON.name, *(stock.name for stock in shop.stock), *shop.tools, *shop.certificates}
    for name in names:
        if name not in owned:
            known = sorted(owned.union(_asked(area)))
            if name not in known:
                raise InputError(f'nothing to do without is called "{name}"; {_advice(name, known, known)}')


def _asked(area: Area) -> Iterator[str]:
    """Tools, certificates and equipment that any step of an area asks for."""
    for step in all_steps(Description(area, None, ())):
        for path in step.paths:
            yield from (tool for one in path.tools for tool in one)
            yield from path.certificates
        demands = (*step.holds, *(demand for path in step.paths for demand in path.equipment))
        yield from (offer.name for demand in demands for offer in demand.offers)


def _advice(name: str, known: Iterable[str], some: Iterable[str]) -> str:
    near = get_close_matches(name, list(known), 1, 0.5)
    return f'did you mean "{near[0]}"?' if near else f"it knows: {', '.join(some)}"
