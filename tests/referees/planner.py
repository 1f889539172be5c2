"""The one seam through which the tests meet the planner."""

import pytest

from putback.errors import NoWay

try:
    from putback.way import solve_core
except ImportError:
    solve_core = None

needed = pytest.mark.skipif(solve_core is None, reason="there is no planner in this tree")


def solve(core: dict, seconds: float | None = None) -> dict:
    """Total, changes, lower bound, proof and plan; plan and total are None where it says there is no way."""
    try:
        found = solve_core(core, seconds=seconds)
    except NoWay:
        return {"total": None, "changes": None, "lower": None, "proved": True, "plan": None}
    return {name: getattr(found, name) for name in ("total", "changes", "lower", "proved", "plan")}
