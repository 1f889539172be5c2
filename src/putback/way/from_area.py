"""From a description to a problem that the planner can solve, and back to words for people.

translated = core_problem(area, shop, ["alternator"])
result = solve_core(translated.core)
translated.operations["left mount nuts: undo"].text     # undo the 2 left mount nuts
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from putback.area.model import MARKS, PART, PUT_IN, Area, Item
from putback.area.shop_file import RUST, Shop
from putback.area.state_file import State
from putback.errors import InputError
from putback.way import from_area_reduce as reduce
from putback.way.from_area_described import Description
from putback.way.from_area_draft import draft
from putback.way.from_area_job import Job
from putback.way.from_area_moves import Dropped, moves
from putback.way.from_area_operation import Operation, operation
from putback.way.from_area_steps import all_steps
from putback.way.from_area_whole import whole_numbers

MONEY, MINUTES = "money", "minutes"
OFF = "off"


@dataclass(frozen=True)
class Translated:
    """A core problem, what its names mean, and the same problem with the other one of money and minutes as its cost."""

    core: dict
    counted: dict
    operations: dict[str, Operation]
    dropped: tuple[Dropped, ...]


def core_problem(
    area: Area,
    shop: Shop,
    targets: Iterable[str] = (),
    state: State | None = None,
    *,
    by: str = MONEY,
    avoid: Iterable[str] = (),
    without: Iterable[str] = (),
    no_setup: bool = False,
    no_overlap: bool = False,
    rust: str | None = None,
    keep: Iterable[str] = (),
    home: Iterable[str] | None = None,
) -> Translated:
    """Translate an area for a shop.

    Parameters
    ----------
    area : Area
    shop : Shop
    targets : names, optional
        The parts to be replaced; all targets of the area when left out.
    state : State, optional
        Where a job under way stands; everything where it belongs when left out.
    by : "money" or "minutes"
        What the plan is to save.
    avoid : names
        Parts that must not be opened.
    without : names
        Equipment, tools and certificates that are not to be had today.
    no_setup : bool
        Count no time for changes of tool, vantage, posture and other settings.
    no_overlap : bool
        Count waits in full, as if no other work filled them.
    rust : "clean", "usual" or "heavy", optional
        The shop's own class when left out, and "usual" where it has none.
    keep : names
        Items that stay part of the problem though no way to the targets asks for them.
    home : names, optional
        Nothing is swapped: only these are to come home, each with all that belongs to it; what else is displaced may stay
        as it is, and what is home now is home again at the end. Job work and follow-ups wait.

    Returns
    -------
    translated : Translated
        `core` follows docs/core-problem.md, version 2; `counted` is that problem by the other measure, so that
        both can be told; `operations` has an entry for every operation in it; `dropped` lists the ways that do
        not exist, and why.

    Raises
    ------
    InputError
        A name is not in the area, or the minutes cannot be counted in whole parts.
    """
    shop = shop.without(without)
    if home is not None:
        state, home = replace(state or State("", {}, {}), swapped=True), _known(area, home, "bring home")
    described = Description(area, state, _known(area, avoid, "avoid"))
    rust_class = RUST[rust or shop.rust or "usual"]
    job = Job(area, shop, described, _targets(area, targets), rust_class, no_setup, no_overlap, home=home)
    able, unable = moves(all_steps(described), area, shop)
    able, impossible = reduce.without_the_impossible(able, described.chains)
    _keep(job, able, keep)
    exact, other = draft(job), MINUTES if by == MONEY else MONEY
    core, counted = whole_numbers(exact, by), whole_numbers(exact, other)
    return Translated(core, counted, {move.id: operation(job, move) for move in job.moves}, (*unable, *impossible))


def _keep(job: Job, able: list, keep: Iterable[str]) -> None:
    """Keep what the goal can need, and what somebody insists on."""
    chains = job.described.chains
    wanted = [*keep, *([] if job.state.swapped else job.targets)]
    names = reduce.relevant(able, chains, [chain.name for name in wanted for chain in job.described.of_item.get(name, ())])
    job.kept = {name: chains[name] for name in names}
    job.moves = [move for move in able if move.step.chain.name in job.kept]


def _targets(area: Area, names: Iterable[str]) -> list[str]:
    names = list(names) or [target.name.name for target in area.targets]
    for name in names:
        if name not in area.items:
            known = ", ".join(target.name.name for target in area.targets)
            raise InputError(f'there is no "{name}" in {area.name}; it describes the way to: {known}')
        _check_replaceable(area.items[name])
    return names


def _check_replaceable(item: Item) -> None:
    """Refuse what never leaves the car: nobody swaps a subframe that is only lowered."""
    if item.kind in (PUT_IN, MARKS):
        raise InputError(f'"{item.name}" is put there for the work; it is no part of the car to be replaced')
    if item.kind == PART and item.states[-1] != OFF:
        raise InputError(
            f'"{item.name}" cannot be replaced: in this file it goes {item.states[-1]}, never off; '
            "say there how it comes off the car"
        )


def _known(area: Area, names: Iterable[str], verb: str) -> tuple[str, ...]:
    names = tuple(names)
    for name in names:
        if name not in area.items:
            raise InputError(f'there is no "{name}" to {verb} in {area.name}')
    return names
