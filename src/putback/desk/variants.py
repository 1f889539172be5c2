"""The car is another variant than was thought: which it may be, and whether there is a way then."""

from collections.abc import Iterator
from dataclasses import dataclass

from putback.area.state_file import with_variants
from putback.desk.planning import Thinking, Total, plan_on, total
from putback.desk.stamp import Stamp
from putback.desk.view import View, supposed
from putback.errors import InputError, NoWay
from putback.job.ledger import Ledger
from putback.way.from_area_described import variants_of


@dataclass(frozen=True)
class AsVariant:
    """What is still to do if the car is another variant."""

    variant: str
    to_do: Total


def check_variant(view: View, variant: str) -> None:
    """Refuses what is no variant of this car, and the one that it is known to be.

    Parameters
    ----------
    view : View
    variant : str

    Raises
    ------
    InputError
        It says which variants there are.
    """
    if view.area is None:
        raise InputError(f"{view.state.name}: nobody has described this car, so no variants of it are known")
    with_variants(view.area, None, [variant])
    if variant in variants_of(view.area, view.state.variants):
        raise InputError(f'"{variant}": this job takes the car for that one already')


def ways_as_others(view: View, ledger: Ledger, stamp: Stamp, thinking: Thinking) -> tuple[AsVariant, ...]:
    """Variants that the car may be instead, for which there is a way from where the job stands; the cheapest first.

    Parameters
    ----------
    view : View
    ledger : Ledger
        For the files that the job names; nothing is logged.
    stamp : Stamp
    thinking : Thinking
        For each of the plans.
    """
    found = [_as_one(view, ledger, stamp, thinking, variant) for variant in _others(view)]
    return tuple(sorted((one for one in found if one), key=lambda one: (one.to_do.money or 0, one.to_do.minutes)))


def _others(view: View) -> Iterator[str]:
    known = variants_of(view.area, view.state.variants)
    for values in view.area.variants.values():
        yield from (value for value in values if value not in known)


def _as_one(view: View, ledger: Ledger, stamp: Stamp, thinking: Thinking, variant: str) -> AsVariant | None:
    as_one = supposed(ledger, view, stamp.event(view.id, "variant found", variant=variant))
    try:
        return AsVariant(variant, total(plan_on(as_one, stamp.now(), thinking)))
    except NoWay:
        return None
