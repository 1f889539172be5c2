"""A job to be planned: what for, in which shop, from which state on; and the problems that follow from it."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from putback.area.model import Area
from putback.area.shop_file import Shop
from putback.area.state_file import State
from putback.errors import Findings
from putback.way import names
from putback.way.from_area import MONEY, Translated, core_problem
from putback.way.from_area_minutes import judge_minutes
from putback.way.from_area_missing import Missing


@dataclass(frozen=True)
class Task:
    """A job to be planned.

    Attributes
    ----------
    by : "money" or "minutes"
        What the plan is to save.
    options : dict
        The others of :func:`putback.way.from_area.core_problem`.
    told : Translated
        The core problem that is solved.
    """

    area: Area
    shop: Shop
    targets: tuple[str, ...]
    state: State | None
    by: str
    options: dict[str, Any]
    told: Translated

    @property
    def per_worth(self) -> int:
        """How many of the core problem's cost units make one cent, or one minute where minutes are saved."""
        return parts(self.told.core["unit"]["cost"])

    def with_shop(self, shop: Shop) -> "Task":
        """The same job in another shop."""
        return _translated(self.area, shop, self.targets, self.state, self.by, self.options)

    def missing(self) -> Missing:
        """What opens up as the shop gets more things."""
        return Missing(self.area, self.shop, self.targets, self.state, self.options.get("avoid", ()))

    def keeping(self, names: Iterable[str]) -> "Task":
        """The same job, with items in it that no way to the targets asks for."""
        options = self.options | {"keep": tuple(names)}
        return _translated(self.area, self.shop, self.targets, self.state, self.by, options)


def parts(unit: str) -> int:
    """How many of a unit make one whole: 6000 for "1/6000 cent"."""
    return Fraction(unit.split()[0]).denominator if "/" in unit else 1


def make_task(
    area: Area, shop: Shop, targets: Iterable[str] = (), state: State | None = None, *, by: str = MONEY, **options
) -> Task:
    """Check what was asked, and translate it.

    Parameters
    ----------
    area : Area
    shop : Shop
    targets : names, optional
        The parts to be replaced; all targets of the area when left out.
    state : State, optional
        Where a job under way stands.
    by : "money" or "minutes"
        What the plan is to save.
    options
        The others of :func:`putback.way.from_area.core_problem`: avoid, without, no_setup, no_overlap, rust.

    Raises
    ------
    InputError
        A target, a part to avoid or a thing to do without has a name that is not known.
    Findings
        The minutes of the area do not add up.
    """
    targets = tuple(dict.fromkeys(targets)) or tuple(target.name.name for target in area.targets)
    if findings := judge_minutes(area):
        raise Findings(findings)
    names.check_targets(area, targets)
    names.check_avoided(area, options.get("avoid", ()))
    names.check_things(area, shop, options.get("without", ()))
    return _translated(area, shop.without(options.pop("without", ())), targets, state, by, options)


def _translated(area: Area, shop: Shop, targets: tuple, state: State | None, by: str, options: dict) -> Task:
    told = core_problem(area, shop, targets, state, by=by, **options)
    return Task(area, shop, targets, state, by, options, told)
