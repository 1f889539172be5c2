"""From here to a car that can be lowered, and what to beware of."""

import pytest
from desk_samples import THINKING, Desk, half_way_on_a

from putback.desk.safe import make_safe
from putback.desk.safe_cautions import cautions_of


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def safe(desk: Desk, **more):
    return make_safe(desk.look(), desk.stamp.now(), THINKING, **more)


def lowered_subframe(desk: Desk) -> None:
    """Demo A from below, the subframe on its table."""
    desk.say("car moved", posture="on a lift")
    for item, state in (
        ("left front wheel", "off"), ("undertray", "off"), ("anti-roll-bar link", "undone at its lower end"),
        ("lower torque rod", "swung clear"), ("steering-wheel tie", "in"), ("steering joint", "apart"),
        ("subframe marks", "set"), ("support table", "in"), ("subframe", "lowered 65 mm"),
    ):  # fmt: skip
        desk.moved(item, state)


def test_what_the_car_stands_on_goes_home_and_no_more(desk):
    """Story 36: the wheel and its bolts, 7 min and the lowering; the belt, the tray and the rest stay off."""
    desk.open("a")
    half_way_on_a(desk)
    told = safe(desk)

    assert told.steps == (
        "refit the left front wheel", "run the 4 wheel bolts in", "bring the car down onto its wheels",
        "tighten the 4 wheel bolts finally",
    )  # fmt: skip
    assert 7 + 2 <= told.minutes <= 7 + 2 + 2  # and two changes of tool and place at most
    assert {"belt: off", "undertray: off", "compressor: aside"} <= set(told.stays)


def test_a_subframe_on_its_table_goes_home_before_the_table_leaves(desk):
    """Trap 37 backwards: the car cannot come down onto a table, nor with the subframe loose."""
    desk.open("a")
    lowered_subframe(desk)
    told = safe(desk)

    at = {text: number for number, text in enumerate(told.steps)}
    raised, table = at["raise the subframe and align it to the marks"], at["take the support table out"]
    assert raised < at["tighten the 2 front subframe bolts"] < table < at["tighten the 4 wheel bolts finally"]
    assert any("front subframe bolts: old ones" in one for one in told.cautions)
    assert "join the steering joint" not in at


def test_a_car_that_is_to_roll_has_its_steering_joined(desk):
    """Trap 48: nobody pushes a car whose wheel turns nothing."""
    desk.open("a")
    lowered_subframe(desk)
    told = safe(desk, rolled=True)
    assert "join the steering joint" in told.steps and "tighten the pinch bolt" in told.steps


def test_an_engine_on_its_bar_may_stand_but_not_roll(desk):
    """Trap 38: the support bar stays in, said as a caution; to be rolled the mount goes home first."""
    desk.open("a")
    half_way_on_a(desk)
    desk.off("left mount nuts", 1)
    desk.moved("left engine mount", "off")
    lowered, rolled = safe(desk), safe(desk, rolled=True)

    assert "refit the left engine mount" not in lowered.steps
    words = "engine support: stays in, for it holds the left engine mount; nobody goes under"
    assert any(one.startswith(words) for one in lowered.cautions)
    assert "refit the left engine mount" in rolled.steps


def test_a_load_on_nothing_is_seen(desk):
    """Trap 45: a compressor aside without its strap hangs on its hoses."""
    desk.open("a")
    desk.moved("compressor", "aside")
    assert any(one.startswith("compressor: hangs free") for one in safe(desk).cautions)


def test_bare_live_ends_are_told_of(desk):
    """Trap 42: covered, and the battery stays off; where it is on, that comes first."""
    desk.open("a")
    desk.moved("battery clamp", "off")
    desk.moved("charge cable", "off")
    assert "charge cable: cover its bare end, and leave the battery off" in safe(desk).cautions
    desk.moved("battery clamp", "fitted")
    assert "charge cable: cover its bare end; the battery is on: take it off first" in safe(desk).cautions


def test_a_car_with_everything_home_needs_nothing(desk):
    """It may come down as it is, or stays where it is."""
    desk.open("a")
    assert safe(desk).steps == ()
    desk.say("car moved", posture="on a lift")
    assert safe(desk).steps == ("bring the car down onto its wheels",) and safe(desk).minutes == 2


def test_a_car_that_nobody_described_goes_by_names_and_by_the_log(desk):
    """Wheel and hub, what came off last first; the grille stays off; nobody pretends to know the minutes."""
    desk.open()
    desk.moved("grille", "off")
    desk.off("wheel nuts", 5, belongs_to="front wheel")
    desk.moved("front wheel", "off")
    desk.moved("hub carrier", "off")
    told = safe(desk)

    assert told.minutes is None and "grille: off" in told.stays
    expected = ["put the hub carrier back", "put the front wheel back", "put back and tighten: 5 x wheel nuts"]
    assert [step[: len(words)] for step, words in zip(told.steps, expected, strict=True)] == expected


def test_what_carries_something_is_not_taken_away_by_its_name(desk):
    """Trap 38 on a car that nobody described: the support stays until what hangs on it is home."""
    desk.open()
    desk.moved("engine support", "in")
    desk.moved("engine mount", "off")
    told = safe(desk)
    assert told.steps == () and "engine support: is in; what it carries goes home before it comes out" in told.cautions


def test_a_wheel_does_not_go_on_without_its_disc_and_brake(desk):
    """A hub nut that takes a foot on the pedal, with the caliper aside: disc and caliper go home first; chocks always."""
    desk.open("d", targets=("wheel bearing unit",), variants=("free hub bolts",))
    desk.say("car moved", posture="on a lift")
    for item, state in (
        ("right rear wheel", "off"), ("shaft tie", "in"), ("drive shaft end", "free"), ("parking-brake cable", "slackened"),
        ("caliper hook", "in"), ("brake caliper", "aside"), ("brake disc", "off"),
    ):  # fmt: skip
        desk.moved(item, state)
    told = safe(desk)

    home = " / ".join(told.steps)
    assert "put the brake caliper back over the disc" in home and "refit the brake disc" in home
    assert home.index("brake disc") < home.index("refit the right rear wheel")
    assert any(one.startswith("chock the wheels") for one in told.cautions)
    assert [one for one in told.cautions if one.startswith("nobody steps")] == [], told.steps


def test_nobody_is_told_to_pump_a_brake_that_is_off(desk):
    """A caliper that stays off: the pedal is left alone, and the car is not pushed."""
    desk.open()
    desk.moved("brake caliper", "aside")
    cautions = cautions_of(desk.look().state, desk.look().car, (), ())
    assert any(one.startswith("nobody steps on the brake pedal: the brake caliper") for one in cautions)
    assert any(one.startswith("the car is not pushed and never driven") for one in cautions)
