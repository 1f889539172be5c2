"""Core problems with known least totals: ours, and the sequential ordering problems of TSPLIB.

Ours lie in tests/data/way; their totals were proved by an exact search that is not part of this tree, three of
them also by Fast Downward or CP-SAT (see tests/referees). The totals of the sequential ordering problems
are the optima of TSPLIB (Gerhard Reinelt, "TSPLIB - A Traveling Salesman Problem Library", ORSA Journal on
Computing 3, 1991, pages 376-384, and the library's list of solutions, from memory); their files are looked
for beside the project and never copied.
"""

import json

import pytest

from putback.way.replay import replay
from referees import planner
from referees.ordering_problems import as_core, read_ordering_problem

OURS = {
    "dense_6_1": 898,
    "dense_6_3": 661,
    "shop_10_1": 1046,
    "shop_10_2": 388,
    "shop_10_3": 859,
    "shop_50_1": 1191,
    "shop_25_1": 2294,
    "shop_100_1": 3457,
}
ORDERING = {"ESC07": 2125, "ESC11": 2075, "ESC12": 1675, "br17.10": 55, "br17.12": 55}

SECONDS = 60


def assert_proved(core: dict, total: int) -> None:
    found = planner.solve(core, seconds=SECONDS)

    assert (found["total"], found["lower"], found["proved"]) == (total, total, True)
    done = replay(core, found["plan"])
    assert done.broken == ()
    assert (done.total, done.changes) == (total, found["changes"])


@pytest.mark.parametrize("name", OURS)
def test_the_least_total_of_our_own_problems_is_proved(name, root):
    """Within the time limit, with a plan that the replay finds nothing wrong with."""
    core = json.loads((root / "tests" / "data" / "way" / f"{name}.json").read_text())

    assert_proved(core, OURS[name])


@pytest.fixture
def ordering_problem(root):
    def find(name: str):
        path = root.parent / "shared" / "data" / "sop" / f"{name}.sop"
        if not path.exists():
            pytest.skip(f"no sequential ordering problem {name} beside the project")
        return read_ordering_problem(path.read_text())

    return find


@pytest.mark.parametrize("name", ORDERING)
def test_the_optimum_of_a_sequential_ordering_problem_is_proved(name, ordering_problem):
    """Every node is an operation with a tool of its own, and the matrix is what changing tools costs."""
    assert_proved(as_core(name, ordering_problem(name)), ORDERING[name])


def test_a_sequential_ordering_problem_is_read_as_it_stands(ordering_problem):
    """The first row of ESC07, and what must come before its node 4 (counted from 0): nodes 0, 1 and 8 excepted."""
    matrix = ordering_problem("ESC07")

    assert len(matrix) == 9
    assert matrix[0] == [0, 0, 0, 0, 0, 0, 0, 0, 1000000]
    assert [before for before in range(9) if matrix[4][before] == -1] == [0, 1]


def test_an_order_costs_what_its_changes_cost(ordering_problem):
    """The path 0 1 2 3 4 5 6 7 8 of a made-up matrix, added up by hand, and an order that breaks a precedence."""
    matrix = [[0, 3, 9, 1000000], [-1, 0, 4, 9], [-1, 7, 0, 5], [-1, -1, -1, 0]]
    core = as_core("by hand", matrix)

    def path(*nodes):
        return [[f"do {node}", 0, {"tool": f"{node}"}] for node in nodes]

    assert replay(core, path(0, 1, 2, 3)).total == 3 + 4 + 5
    assert replay(core, path(0, 2, 1, 3)).total == 9 + 7 + 9
    assert replay(core, path(0, 1, 2, 3)).broken == replay(core, path(0, 2, 1, 3)).broken == ()
    assert replay(core, path(0, 1, 3, 2)).broken != ()
