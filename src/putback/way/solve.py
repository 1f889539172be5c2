"""From parsed JSON to a plan in the words of docs/core-problem.md."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from putback.way.problem import Problem, read_problem
from putback.way.search import Plan, find_way


@dataclass(frozen=True)
class Solved:
    """A plan with the totals that its problem file would show.

    Attributes
    ----------
    total, changes, lower, proved, first_seconds, seconds, nodes
        As in :class:`putback.way.search.Plan`.
    plan : list
        Steps as the problem's own version writes them.
    """

    total: int
    changes: int
    lower: int
    proved: bool
    first_seconds: float
    seconds: float
    nodes: int
    plan: list[list]


def solved(problem: Problem, found: Plan) -> Solved:
    """What the search found, in the words of the problem's file.

    Parameters
    ----------
    problem : Problem
    found : Plan
    """
    plan = [_step(problem, step) for step in found.steps]
    return Solved(
        found.total, found.changes, found.lower, found.proved, found.first_seconds, found.seconds, found.nodes, plan
    )


def _step(problem: Problem, step: tuple[str, int, tuple[str, ...]]) -> list:
    name, way, values = step
    if problem.version == 1:
        return [name, way, values[2]]
    return [name, way, {dim.name: value for dim, value in zip(problem.dims, values, strict=True)}]


def solve_core(
    core: Mapping[str, Any],
    *,
    clock: Callable[[], float] | None = None,
    seconds: float | None = None,
    nodes: int | None = None,
    on_plan: Callable[[Solved], None] | None = None,
    below: int | None = None,
) -> Solved:
    """The cheapest plan of a core problem, or the best one found within the limits.

    Parameters
    ----------
    core : mapping
        The problem as parsed JSON, version 1 or 2.
    clock : callable, optional
        Tells seconds; needed with ``seconds``.
    seconds : float, optional
        Stop after so long.
    nodes : int, optional
        Stop after so many nodes: the same on every machine.
    on_plan : callable, optional
        Called with each better plan as it is found.
    below : int, optional
        Only plans whose total is less than this count as plans.

    Raises
    ------
    InputError
        The problem does not follow docs/core-problem.md.
    NoWay
        No plan exists (below that total, where one is given).
    NotYet
        None was found within the limits.
    """
    problem = read_problem(core)
    tell = None if on_plan is None else lambda found: on_plan(solved(problem, found))
    return solved(problem, find_way(problem, clock=clock, seconds=seconds, nodes=nodes, on_plan=tell, below=below))
