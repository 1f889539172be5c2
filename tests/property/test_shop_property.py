"""What a shop has and has not: a job never gets cheaper by losing a thing, nor dearer by gaining one."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from putback.errors import NoWay
from putback.way import solve_core
from putback.way.from_area import core_problem
from putback.way.replay import replay
from reference.demo_a import area, shop

THINGS = [stock.name for stock in shop().stock] + ["32 mm socket", "21 mm socket", "18 mm socket", "16 mm spanner"]
NO_WAY = float("inf")


def least(without: set[str]) -> float:
    """The least total of the demo job without some things; every plan is replayed on the way."""
    core = core_problem(area(), shop(), without=sorted(without)).core
    try:
        found = solve_core(core)
    except NoWay:
        return NO_WAY
    played = replay(core, found.plan)

    assert found.proved
    assert (played.total, played.broken) == (found.total, ())
    return found.total * core_price(core)


def core_price(core: dict) -> float:
    """Cents in one unit of cost."""
    return 1 / int(core["unit"]["cost"].split()[0].split("/")[1])


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sets(st.sampled_from(THINGS), max_size=5), st.sampled_from(THINGS))
def test_a_thing_lost_never_saves_and_a_thing_gained_never_costs(lacking, thing):
    """The demo shop without some things, and without one more."""
    assert least(lacking | {thing}) >= least(lacking - {thing})
