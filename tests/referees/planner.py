"""The one seam through which the tests meet the planner."""

from putback.errors import NoWay
from putback.way import solve_core


def solve(core: dict, seconds: float | None = None) -> dict:
    """Total, changes, lower bound, proof and plan; total and plan are None where it says there is no way."""
    try:
        found = solve_core(core, seconds=seconds)
    except NoWay:
        return {"total": None, "changes": None, "lower": None, "proved": True, "plan": None}
    return {name: getattr(found, name) for name in ("total", "changes", "lower", "proved", "plan")}
