"""How readings become likelihoods, and likelihoods an answer."""

import pytest

from putback.errors import Findings, InputError
from putback.models import answer, load, proved
from putback.models.engine import Prices
from putback.models.judge import judge
from putback.models.model_file import read_model

FORM = load("charging")


def weight(readings: dict, test: str, outcome: str) -> float:
    """How much a reading says for one outcome; the likeliest has 1."""
    row = judge(FORM, readings).evidence[test]
    return row[FORM.tests[test].outcomes.index(outcome)]


def test_near_a_limit_a_reading_counts_less():
    """The further above 12.4 V, the less a low battery is still likely."""
    low = [weight({"rest_v": volts}, "charge at rest", "low") for volts in (12.36, 12.41, 12.46, 12.60)]

    assert low == sorted(low, reverse=True)
    assert 0.3 < low[1] < 1 and low[3] < 0.01


def test_a_cold_battery_reads_high():
    """12.45 V at -10 degC is less than 12.4 V at 26.7 degC: references E5."""
    assert weight({"rest_v": 12.45}, "charge at rest", "charged") == 1
    assert weight({"rest_v": 12.45, "battery_temp_c": -10.0}, "charge at rest", "low") == 1


def test_surface_charge_is_no_rest_voltage():
    """13.1 V says nothing of the charge, and why is told; common practice, no source."""
    judged = judge(FORM, {"rest_v": 13.1})

    assert "charge at rest" not in judged.evidence
    assert "surface charge" in judged.silent["charge at rest"]
    assert "charge at rest" in judge(FORM, {"rest_v": 12.8}).evidence


@pytest.mark.parametrize(("amps", "read"), [(61.0, True), (25.0, True), (12.0, False)])
def test_a_fine_drop_counts_with_current_alone(amps, read):
    """Trap 24: a load too small proves nothing, and the reason is told."""
    judged = judge(FORM, {"ground_drop_v": 0.02, "output_a_2000": amps})

    assert ("ground path" in judged.evidence) == read
    assert ("ground path" in judged.silent) != read


def test_a_bad_drop_counts_whatever_the_load():
    """0.9 V at 12 A is bad at any load."""
    assert weight({"ground_drop_v": 0.9, "output_a_2000": 12.0}, "ground path", "clearly bad") == 1


def test_a_drop_below_50_amps_does_not_condemn():
    """Trap 24: it speaks, and is still missing before the alternator may be ordered."""
    told = {"rest_v": 12.5, "stud_v_engine_off": 12.49, "stud_v_2000_loaded": 14.0, "charge_v_2000_loaded": 13.95,
            "positive_drop_v": 0.03, "ground_drop_v": 0.02, "output_a_2000": 41.0, "command_v": 14.3,
            "ripple_mv_2000": 400.0}  # fmt: skip
    found = answer(FORM, told)

    assert (found.action, found.verdict) == ("alternator", "not yet")
    assert {"positive_drop_v", "ground_drop_v"} <= {*found.missing}


def test_a_command_goes_before_the_window():
    """Trap 26: 12.8 V are right where 12.8 V are asked for."""
    test, told = "charging at the battery under load", {"charge_v_2000_loaded": 12.8, "rest_v": 12.6}

    assert weight(told, test, "right") < 0.1
    assert weight(told | {"command_v": 12.8}, test, "right") == 1


def test_little_ripple_without_current_says_nothing():
    """Trap 29: low ripple does not acquit."""
    assert "ripple under load" not in judge(FORM, {"ripple_mv_2000": 3.0, "output_a_2000": 0.0}).evidence
    assert weight({"ripple_mv_2000": 400.0, "output_a_2000": 0.0}, "ripple under load", "very high") == 1


def test_an_averaging_meter_reads_less():
    """70 mV of an averaging meter are raised above the limit of 75 mV."""
    assert weight({"ripple_mv_2000": 70.0, "meter": "true rms"}, "ripple under load", "usual") == 1
    assert weight({"ripple_mv_2000": 70.0, "meter": "average"}, "ripple under load", "raised") == 1


def test_the_battery_comes_first():
    """Trap 27: below 12.4 V at rest nothing is ordered, however dead the alternator is."""
    told = {"rest_v": 12.39, "stud_v_engine_off": 12.38, "stud_v_2000_loaded": 12.1, "charge_v_2000_loaded": 12.1,
            "output_a_2000": 0.0, "command_v": 14.4, "feed_v_key_on": 12.2, "pulley_drives_rotor": "yes"}  # fmt: skip

    assert answer(FORM, told).verdict == "not yet"
    assert answer(FORM, told | {"rest_v": 12.45, "stud_v_engine_off": 12.44}).verdict == "go"  # just above


def test_what_is_not_fitted_is_struck_out():
    """A car without a lamp has no lamp circuit to fail, and is not asked for its lamp."""
    found = answer(FORM, {"lamp_key_on": "not fitted", "rest_v": 12.6})

    assert found.posterior["lamp circuit"] == 0
    assert "lamp with the key on" not in [one.test for one in found.next]


def test_nobody_is_surer_of_a_name_than_of_its_set():
    """Three faults of the bridge look alike to a meter: none gets more than 0.9."""
    told = {"rest_v": 12.5, "charge_v_2000_loaded": 13.9, "ripple_mv_2000": 600.0, "output_a_2000": 60.0}
    found = answer(FORM, told)

    assert max(found.posterior[name] for name in ("open diode", "shorted diode", "lost phase")) <= 0.9


def test_another_part_may_be_in_question():
    """For the battery the same readings say go."""
    told = {"rest_v": 12.55, "cca_measured": 190.0, "cca_rated": 640.0, "crank_v": 8.1, "crank_sound": "slow"}

    assert answer(FORM, told).verdict == "not yet"
    assert answer(FORM, told, target="battery").verdict == "go"
    with pytest.raises(InputError, match="no action"):
        answer(FORM, told, target="gearbox")


def test_prices_from_elsewhere_count():
    """Where the stud lies open its test costs its own minutes alone."""
    told = {"complaint": "lamp on", "rest_v": 12.5, "charge_v_2000_loaded": 12.3}
    cost = {one.test: one.minutes for one in answer(FORM, told, prices=Prices(access={"stud": 0.0, "plug": 0.0})).next}

    assert all(cost[name] == FORM.tests[name].minutes for name in cost)


def test_a_repair_is_proved_by_limits_of_its_own():
    """Story 8: all charging readings within their limits for proof, the lamp still on: that one fails."""
    told = {"stud_v_2000_loaded": 14.4, "command_v": 14.4, "positive_drop_v": 0.09, "output_a_2000": 66.0,
            "ripple_mv_2000": 36.0, "lamp_running": "on"}  # fmt: skip
    found = {one.reading: one.passes for one in proved(FORM, told, "alternator")}

    assert found["stud_v_2000_loaded"] and found["positive_drop_v"] and found["ripple_mv_2000"]
    assert found["lamp_running"] is False and found["ground_drop_v"] is None


def test_a_drop_below_50_amps_proves_nothing():
    """Neither passes nor fails, and says why."""
    (one,) = (one for one in proved(FORM, {"ground_drop_v": 0.01, "output_a_2000": 20.0}) if one.reading == "ground_drop_v")

    assert one.passes is None and "50 A" in one.why


BROKEN = """model: 1
name: horn
complaints: {silent: {words: [horn]}}
readings:
  plug_v: {is: voltage, unit: V, from: 0, to: 20}
faults:
  horn dead: {action: horn, prior: {silent: 1}}
actions:
  horn: {do: fit a horn, minutes: 40}
tests:
  voltage:
    is: voltage at the plug
    minutes: 2
    asks: [plug_v]
    outcomes: [none, there]
    judged:
      - {of: plug_v, limits: [9], is: [none, there]}
    usually: [2, 98]
"""


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("action: horn", "action: hron", '7:23: there is no action "hron"; did you mean "horn"?'),
        ("prior: {silent", "prior: {noisy", '7:37: there is no complaint "noisy"'),
        ("of: plug_v", "of: plug_w", '17:14: there is no reading or quantity "plug_w"'),
        ("is: [none, there]", "is: [none, their]", '17:46: there is no outcome of voltage "their"'),
        ("is: [none, there]", "is: [none]", '17:9: 1 limits make 2 steps'),
        ("[2, 98]", "[2, 97]", "18:14: chances are 0 or more and sum to 100 percent; these sum to 99"),
        ("[2, 98]", "[2, 97, 1]", "18:14: 3 chances for 2 outcomes"),
        ("minutes: 40", "minutes: soon", '9:35: "soon" is no number'),
        ("limits: [9]", "ratio: [plug_v]", "17:9: a rule judges one number"),
        ("    usually: [2, 98]\n", "", "11:3: voltage has no row for horn dead"),
    ],
)
def test_what_is_wrong_with_a_model_is_told_with_its_place(old, new, said):
    """File, line, column, and what to do."""
    assert read_model(BROKEN, "horn.yaml").name == "horn"
    with pytest.raises(Findings) as caught:
        read_model(BROKEN.replace(old, new), "horn.yaml")

    assert any(str(one).startswith(f"horn.yaml:{said}") for one in caught.value.findings), str(caught.value)


@pytest.mark.parametrize("name", ["charging", "starter", "blower"])
def test_the_built_in_models_are_read(name):
    """They name every fault's action, and answer when nothing was read at all."""
    found = answer(load(name), {})

    assert found.verdict == "not yet"
    assert sum(found.posterior.values()) == pytest.approx(1)


def test_an_unknown_model_is_refused():
    """With those there are."""
    with pytest.raises(InputError, match="charging, starter, blower"):
        load("flux")
