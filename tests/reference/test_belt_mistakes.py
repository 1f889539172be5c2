"""Ten invented drives, three mistakes on each: every mistake is recognised, no right belt is called wrong.

The mistakes are those that workshops know: a pulley passed on the wrong side, two pulleys in the wrong order, a pulley
left out, a rib beside its grooves, a belt of another length. Geometry alone has to see them: the judge is not told
which route is right.
"""

from dataclasses import replace
from itertools import combinations

import pytest

from belt_samples import demo_drive
from putback.belt.drive import BACK, RIBS, Drive
from putback.belt.finding import worst
from putback.belt.judge import judge_route
from putback.belt.profile import read_mark
from putback.belt.propose import propose
from putback.belt.replacement import judge_belt
from putback.belt.route import in_running_order, lay
from putback.drive_file import read_drive, read_stop

# Of each drive: how the belt was laid in place of the right way, or which belt was fitted; and what is found.
MISTAKES = {
    "demo": (
        ("crankshaft, tensioner pulley ribs, idler pulley, alternator, compressor", "not touched"),
        ("crankshaft, tensioner pulley, alternator, idler pulley, compressor", "crossing"),
        ("crankshaft, tensioner pulley, idler pulley, alternator 1 rib off, compressor", "rib off"),
    ),
    "small_car_one_accessory": (
        ("crankshaft, tensioner pulley ribs, alternator", "length"),
        ("crankshaft, tensioner pulley, alternator back", "rotation"),
        ("5PK960", "length"),
    ),
    "pump_on_the_back": (
        ("crankshaft, tensioner pulley, alternator, steering pump, water pump ribs, compressor", "rotation"),
        ("crankshaft, tensioner pulley, alternator, steering pump, compressor", "left out"),
        ("crankshaft, tensioner pulley, steering pump, alternator, water pump, compressor", "crossing"),
    ),
    "tensioner_on_the_ribs": (
        ("crankshaft, tensioner pulley back, alternator, idler, compressor", "face"),
        ("crankshaft, tensioner pulley, alternator, idler ribs, compressor", "wrap"),
        ("6PK1100", "length"),
    ),
    "adjusted_by_hand": (
        ("crankshaft, water pump back, alternator", "rotation"),
        ("crankshaft, water pump, alternator 2 ribs off", "rib off"),
        ("4PK1400", "length"),
    ),
    "eight_pulleys": (
        (
            "crankshaft, tensioner pulley, alternator, upper idler, fan, steering pump, lower idler, compressor",
            "crossing",
        ),
        ("crankshaft, tensioner pulley, alternator, upper idler, steering pump, fan, compressor", "left out"),
        (
            "crankshaft, tensioner pulley, alternator back, upper idler, steering pump, fan, lower idler, compressor",
            "rotation",
        ),
    ),
    "engine_that_turns_anticlockwise": (
        ("crankshaft, tensioner pulley, alternator, compressor back", "rotation"),
        ("crankshaft, alternator, tensioner pulley, compressor", "crossing"),
        ("crankshaft 1 rib off, tensioner pulley, alternator, compressor", "rib off"),
    ),
    "stretched_on": (
        ("crankshaft, compressor back", "rotation"),
        ("crankshaft, compressor 1 rib off", "rib off"),
        ("4PK780", "length"),
    ),
    "two_idlers_on_the_back": (
        ("crankshaft, tensioner pulley, alternator, compressor, idler pulley, steering pump", "crossing"),
        ("crankshaft, tensioner pulley, alternator, idler pulley ribs, compressor, steering pump", "wrap"),
        ("7PK1770", "length"),
    ),
    "blower_drive": (
        ("crankshaft, blower, tensioner pulley, blower idler, alternator, water pump", "crossing"),
        ("crankshaft, tensioner pulley, blower back, blower idler, alternator, water pump", "rotation"),
        ("crankshaft, tensioner pulley, blower, alternator, blower idler, water pump", "crossing"),
    ),
}  # fmt: skip


def drive_of(root, name: str) -> Drive:
    if name == "demo":
        return demo_drive()
    file = root / "tests" / "data" / "belt" / f"{name}.yaml"
    return read_drive(file.read_bytes(), file.name)


def found(drive: Drive, mistake: str):
    """What is said of a belt laid otherwise, or of another belt."""
    if "PK" in mistake:
        return judge_belt(lay(drive, drive.route), read_mark(mistake))
    return judge_route(replace(drive, route=()), [read_stop(drive, one) for one in mistake.split(", ")])


@pytest.mark.parametrize("name", MISTAKES)
def test_the_right_belt_is_not_called_wrong(root, name):
    """Neither by geometry alone nor as the belt that is offered."""
    drive = drive_of(root, name)

    assert worst(judge_route(replace(drive, route=()), drive.route)) != "stop"
    assert worst(judge_belt(lay(drive, drive.route), read_mark(drive.belt.mark))) != "stop"


@pytest.mark.parametrize(("name", "mistake", "code"), [(name, *one) for name, all_ in MISTAKES.items() for one in all_])
def test_every_mistake_is_recognised(root, name, mistake, code):
    """With "stop", and for its reason."""
    findings = found(drive_of(root, name), mistake)

    assert code in [one.code for one in findings if one.verdict == "stop"]


@pytest.mark.parametrize("name", MISTAKES)
def test_the_right_route_is_proposed_first(root, name):
    """From pulleys, rotation and length alone."""
    drive = drive_of(root, name)

    assert propose(replace(drive, route=())).routes[0].route == lay(drive, drive.route).route


def test_there_are_ten_drives_with_three_mistakes_each():
    """As many as were promised."""
    assert (len(MISTAKES), {len(one) for one in MISTAKES.values()}) == (10, {3})


def every_single_mistake(drive: Drive):
    """The right route with one pulley on its other side, or with two in each other's place."""
    stops = lay(drive, drive.route).route
    other = {RIBS: BACK, BACK: RIBS}
    for n, stop in enumerate(stops):
        yield (*stops[:n], stop._replace(side=other[stop.side]), *stops[n + 1 :])
    for one, two in combinations(stops, 2):
        yield tuple(two if stop is one else one if stop is two else stop for stop in stops)


@pytest.mark.parametrize("name", MISTAKES)
def test_no_single_mistake_passes_where_the_route_is_known(root, name):
    """All sides turned over and all pairs swapped, but for those that come to the same route."""
    drive = drive_of(root, name)
    right = in_running_order(drive, drive.route)
    wrong = [route for route in every_single_mistake(drive) if in_running_order(drive, route) != right]

    assert len(wrong) >= len(right)
    assert [route for route in wrong if worst(judge_route(drive, route)) != "stop"] == []
