"""A whole plan, as the searches hand it on."""

from typing import NamedTuple

from putback.way.problem import Problem


class Joined(NamedTuple):
    """A whole plan: its search cost, and operation, way and context of each step, the end of the job last."""

    cost: int
    steps: tuple[tuple[int, int, tuple[int, ...]], ...]


def filled(problem: Problem, steps: list[tuple[int, int, tuple[int, ...]]]) -> tuple:
    """The steps with every dimension settled: one left free keeps the value it has."""
    values = tuple(dim.start for dim in problem.dims)
    settled = []
    for op, way, context in steps:
        values = tuple(
            old if new == len(dim.values) else new for old, new, dim in zip(values, context, problem.dims, strict=True)
        )
        settled.append((op, way, values))
    return tuple(settled)
