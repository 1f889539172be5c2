"""What the measuring rests on: problems as large as asked for, jobs that can be ended, honest figures."""

import json
from math import inf
from random import Random
from time import monotonic

import pytest
from bench.__main__ import main
from bench.apart import Failed, apart
from bench.belts import WORK, belts
from bench.figures import Table, percent, seconds, whole
from bench.growth import levels, parts
from bench.jobs import checked
from bench.ledger import ROWS, ledger
from bench.options import Options
from bench.peers import peers
from bench.planned import gap, planned, to_proof
from bench.shops import asks, layout, levels_moved, part_names, shop_with
from bench.suspects import suspects
from bench.whole import area

from putback.way import find_way, read_problem
from putback.way.replay import replay

QUICK = Options(seeds=2, limit=2, think=5, runs=1)


# --- made-up shops --------------------------------------------------------------------------------


def test_the_same_seed_draws_the_same_problem():
    """Byte for byte, or no figure could be renewed; another seed draws another."""
    first, again, other = (json.dumps(shop_with(10, 20, seed)) for seed in (3, 3, 4))

    assert first == again != other


@pytest.mark.parametrize(("moved", "described"), [(5, 10), (12, 20), (20, 100)])
def test_a_problem_is_as_large_as_asked(moved, described):
    """So many levels at least in any plan, no more than a quarter on top in the usual way, and so many parts."""
    core = shop_with(moved, described, 0)
    found = find_way(read_problem(core), nodes=20_000)

    assert found.proved
    assert moved <= len(found.steps) // 2 <= 1.25 * moved
    assert sum("fastener" not in item for item in core["items"]) == described


def test_levels_that_move_are_counted_through_what_is_asked():
    """By hand: b (two levels, the second behind c) stands before a; d does not matter."""
    core = {"items": {"a": 1, "b": 2, "c": 1, "d": 1}}
    asked = {("a", 1): [("b", 2)], ("b", 1): [], ("b", 2): [("c", 1)], ("c", 1): [], ("d", 1): [("a", 1)]}

    assert levels_moved(core, asked, "a") == 1 + 2 + 1


def test_out_and_back_ask_together():
    """What only the way back asks for has to come off as well."""
    ops = [{"item": "a", "level": 1, "asks": ["b"]}, {"item": "a", "level": 1, "asks": ["c"]}]

    assert asks({"ops": ops}, lambda op: op["asks"]) == {("a", 1): ["b", "c"]}


def test_every_part_can_be_reached():
    """Whatever is drawn has a way, even for the part behind all others."""
    core = layout(Random(1), 6)
    for target in part_names(6):
        wanted = core | {"name": target, "target": target}
        found = find_way(read_problem(wanted), nodes=2_000)
        assert found.total > 0


# --- jobs apart -----------------------------------------------------------------------------------


def test_our_planner_answers_from_a_process_of_its_own():
    """Its plan is replayed there, and its memory told."""
    core = shop_with(8, 10, 0)
    found = planned(json.dumps(core), QUICK)

    assert found["proved"]
    assert found["lower"] == found["total"] == find_way(read_problem(core)).total
    assert found["memory"] > 5


def test_a_job_that_hangs_is_ended():
    """After the seconds it was given, and with no answer."""
    core = shop_with(60, 40, 0)
    begun = monotonic()

    assert apart("ours", {"core": json.dumps(core), "seconds": 60}, 1) is None
    assert monotonic() - begun < 10


def test_a_job_that_breaks_off_is_told(capfd):
    """It is no answer, and no silence."""
    with pytest.raises(Failed, match="ours ended with status 1"):
        apart("ours", {"core": "{", "seconds": 1}, 20)
    assert "JSONDecodeError" in capfd.readouterr().err


def test_a_wrong_plan_is_never_measured():
    """A total that the replay does not find, or a plan that breaks a rule, stops the measuring."""
    core = shop_with(5, 10, 0)
    found = find_way(read_problem(core))
    plan = [[name, way, values[2]] for name, way, values in found.steps]

    assert checked(core, found.total, plan) == {"total": found.total, "moved": len(plan) // 2}
    with pytest.raises(AssertionError, match="a wrong plan"):
        checked(core, found.total - 1, plan)
    with pytest.raises(AssertionError, match="a wrong plan"):
        checked(core, replay(core, plan[1:]).total, plan[1:])


# --- figures --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("shown", "expected"),
    [
        (seconds(0.01234), "0.012"),
        (seconds(0.9994), "0.999"),
        (seconds(0.9996), "1.00"),
        (seconds(9.994), "9.99"),
        (seconds(9.996), "10.0"),  # no fourth figure
        (seconds(1.234), "1.23"),
        (seconds(12.34), "12.3"),
        (seconds(inf, 20.0), ">20"),
        (whole(1234567), "1 234 567"),
        (whole(inf), "-"),
        (percent(0), "0"),
        (percent(0.0001), "<0.1"),
        (percent(0.0166), "1.7"),
    ],
)
def test_figures_are_shown(shown, expected):
    """To three figures at most; a limit reached, an unknown count and a small gap are never shown as something else."""
    assert shown == expected


def test_a_table_stands_in_columns(capsys):
    """The first to the left, the others to the right, under a line."""
    Table("title", ["name", "long heading"], first=8).row(["a", 1])

    expected = ["", "title", "", "name      long heading", "--------  ------------", "a" + " " * 20 + "1"]
    assert capsys.readouterr().out.splitlines() == expected


def test_a_gap_is_a_share_of_the_total():
    """Ten of a hundred may be too much; a proof that is not there takes for ever."""
    found = {"total": 100, "lower": 90, "proved": False, "seconds": 10.0}

    assert gap(found) == pytest.approx(0.1)
    assert to_proof(found) == inf
    assert to_proof(found | {"proved": True}) == 10.0


# --- tables ---------------------------------------------------------------------------------------


def rows(capsys) -> list[list[str]]:
    """The cells of the rows below the headings; a cell ends where two blanks stand."""
    lines = capsys.readouterr().out.splitlines()
    begin = next(n for n, line in enumerate(lines) if line.startswith("---")) + 1
    return [[cell.strip() for cell in line.split("  ") if cell.strip()] for line in lines[begin:]]


def test_growth_by_levels_has_a_row_for_each_size(capsys):
    """Both problems of a size are proved, and the row says so."""
    levels(QUICK, sizes=(5, 10))

    five, ten = rows(capsys)
    assert (five[0], five[4]) == ("5", "2 of 2")
    assert (ten[0], ten[4]) == ("10", "2 of 2")


def test_growth_by_parts_has_a_row_for_each_number(capsys):
    """More operations are described, and about as many levels move."""
    parts(QUICK, numbers=(10, 50))

    few, many = rows(capsys)
    assert (few[0], many[0]) == ("10", "50")
    assert int(few[2]) < int(many[2].replace(" ", ""))


@pytest.mark.slow
def test_the_stages_of_the_demo_are_measured(capsys):
    """Every stage takes some time, and both plans are proved."""
    area(QUICK)

    found = dict(rows(capsys))
    assert float(found["plan and prove"]) >= float(found["first plan"]) > 0
    assert found["proved"] == found["re-plan: proved"] == "yes"


def test_belt_drives_are_measured(capsys):
    """Each kind of work has a time."""
    belts(QUICK, count=9)

    found = rows(capsys)
    assert [row[0] for row in found] == list(WORK)
    assert all(float(row[1]) > 0 for row in found)


@pytest.mark.slow
def test_the_next_test_is_measured(capsys):
    """Each kind of work has a time, ours and the general library's."""
    pytest.importorskip("pyagrum", reason="the general library has no build for this machine")
    suspects(QUICK)

    assert all(float(row[1]) > 0 for row in rows(capsys))


@pytest.mark.slow
def test_the_ledger_is_measured(capsys):
    """Each row has a time or a rate on SQLite; on PostgreSQL too, where there is one."""
    ledger(Options(runs=1))

    found = rows(capsys)
    assert [row[0] for row in found] == list(ROWS)
    assert all(float(row[1].replace(" ", "")) > 0 for row in found)


@pytest.mark.slow
def test_the_peers_stand_beside_us(capsys):
    """On the smallest problem all agree on the least total, where a peer has one."""
    pytest.importorskip("ortools")
    peers(Options(runs=1, limit=20), instances=("dense_6_3",))

    ((name, moved, total, *_, theirs),) = rows(capsys)
    assert (name, moved, total) == ("dense_6_3", "8", "661")
    assert theirs.rstrip("*") in ("661", "-")


def test_a_peer_that_is_not_there_is_said_to_be_missing(monkeypatch, capsys):
    """It is no failure of the measuring."""
    monkeypatch.setattr("bench.peers.apart", lambda *_: {"missing": True})
    peers(QUICK, instances=("shop_10_2",))

    assert rows(capsys)[0][5:] == ["not installed", "not installed", "-"]


def test_what_cannot_be_measured_is_refused(capsys):
    """An unknown table and a count of none end with a sentence."""
    for words in (["speed"], ["levels", "--seeds", "0"]):
        with pytest.raises(SystemExit):
            main(words)
    said = capsys.readouterr().err
    assert 'there is no table "speed"; there are: peers, levels, parts, start, area, ledger' in said
    assert "0: give a number above 0" in said
