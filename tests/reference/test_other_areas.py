"""Two more areas: the language says other jobs too, and their sums come out.

The sums were worked out by hand from minutes off and on of what each route opens, expected risks at usual
rust, job work and extras. Changes of tool, vantage and posture count nothing.
"""

from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from putback.area.area_file import read_area
from putback.area.shop_file import read_shop
from putback.area.state_file import read_state
from putback.check import check_area
from putback.errors import NoWay
from putback.way import solve_core
from putback.way.from_area import core_problem
from putback.way.from_area_missing import smallest_missing
from reference.demo_a import plan

DATA = Path(__file__).resolve().parents[1] / "data" / "area"
BLOWER, STARTER = "blower-behind-a-dashboard.yaml", "starter-in-the-valley.yaml"


@cache
def area(name: str):
    return read_area((DATA / name).read_bytes(), name)


@cache
def shop():
    return read_shop((DATA / "shop.yaml").read_bytes(), "shop.yaml")


def translated(name: str, variant: str | None = None, **options):
    """By minutes, without set-up."""
    state = read_state(f"state: 1\nvariants: [{variant}]\n", "state.yaml", area(name)) if variant else None
    return core_problem(area(name), shop(), state=state, by="minutes", no_setup=True, **options)


@pytest.mark.parametrize("name", [BLOWER, STARTER])
def test_the_files_are_clean(name):
    """In themselves and for the shop."""
    assert check_area((DATA / name).read_bytes(), name, shop())[1] == []


@pytest.mark.parametrize(
    ("avoid", "in_full", "overlapped"),
    [
        (("strut", "cowl"), "358", "350"),  # the dashboard out
        (("dashboard", "cowl"), "135", "125"),  # past the glove box
        (("dashboard", "airbag bracket"), "162.1", "152.1"),  # through the cowl
    ],
)
def test_blower_routes(avoid, in_full, overlapped):
    """The wait of 10 minutes after the battery, counted in full and filled with other work."""
    assert plan(translated(BLOWER, avoid=avoid, no_overlap=True)).minutes == Fraction(in_full)
    assert plan(translated(BLOWER, avoid=avoid)).minutes == Fraction(overlapped)


@pytest.mark.parametrize(
    ("variant", "without", "minutes"),
    [
        (None, (), "125"),
        (None, ("airbags",), "152.1"),  # nobody trained for airbag work: through the cowl
        ("one-piece housing", (), "125"),
        ("one-piece housing", ("low-profile ratchet",), "350"),  # the dashboard, with two people
    ],
)
def test_blower_by_shop_and_variant(variant, without, minutes):
    """Ways that cannot be done do not exist."""
    assert plan(translated(BLOWER, variant, without=without)).minutes == Fraction(minutes)


def test_blower_without_training_and_with_a_one_piece_housing():
    """No safe route; somebody trained for airbags would open one."""
    with pytest.raises(NoWay):
        solve_core(translated(BLOWER, "one-piece housing", without=["airbags"]).core, seconds=10)
    state = read_state("state: 1\nvariants: [one-piece housing]\n", "state.yaml", area(BLOWER))
    sets = smallest_missing(area(BLOWER), shop().without(["airbags"]), ["blower"], state)

    assert [list(map(str, one)) for one in sets] == [["certificate for airbags"]]


def test_airbag_work_waits_until_the_time_is_over():
    """As does all else that needs the battery off."""
    (wait,) = translated(BLOWER).core["waits"]

    assert wait["after"] == ["battery clamp: remove"]
    assert {"airbag bracket: swing", "yellow airbag plug: unplug", "blower plugs: unplug"} <= set(wait["before"])


@pytest.mark.parametrize(
    ("avoid", "minutes"),
    [(("exhaust section",), "218.6"), (("lower manifold",), "173.5")],
)
def test_starter_routes(avoid, minutes):
    """From above with the manifolds off, from below with the exhaust off."""
    assert plan(translated(STARTER, avoid=avoid)).minutes == Fraction(minutes)


@pytest.mark.parametrize(
    ("variant", "without", "minutes"),
    [(None, (), "173.5"), ("all-wheel drive", (), "218.6"), (None, ("two-post lift",), "218.6")],
)
def test_starter_by_shop_and_variant(variant, without, minutes):
    """With all-wheel drive or without a lift only from above."""
    assert plan(translated(STARTER, variant, without=without)).minutes == Fraction(minutes)


def test_a_plug_under_the_manifold_goes_on_before_the_manifold():
    """There is no later chance; nobody wrote that down."""
    found = plan(translated(STARTER, avoid=["exhaust section"]))

    assert 0 < found.position("knock-sensor plug: plug in") < found.position("lower manifold: refit")
