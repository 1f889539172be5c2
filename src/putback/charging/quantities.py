"""What is worked out from several readings at once, by name: model files judge these as they judge readings.

Each takes the readings that there are, by their names, and gives a number, or None where it cannot be worked out.
"""

from collections.abc import Callable, Mapping

from putback.charging.battery import REFERENCE, at_reference, charge, cold_cranking_share, load_test_minimum
from putback.charging.consistency import other_drop, unexplained
from putback.charging.window import REFERENCE as CHARGING_REFERENCE
from putback.charging.window import off_target

Readings = Mapping[str, object]
Quantity = Callable[[Readings], float | None]

QUANTITIES: dict[str, Quantity] = {}

USUAL_AMPS = 55.0  # judgement: what "loaded" usually comes to, where no current was read
LEAST_AMPS = 15.0  # A by which a drop is divided at least: below, the meter's last digit would look like a resistance
AVERAGE_METER = 1.1  # judgement: peaky ripple read by a meter that averages is this much larger
SAG = 1.3  # judgement: V that a sound battery gives less while cranking, for each V that it rests lower
RESTED = 12.65  # V of a full battery at rest
USUAL_REST = 12.2  # V, judgement: of a car that comes with a complaint, where no rest voltage was read
LIVE = 9.0  # V from which on a point has battery voltage, where no rest voltage was read
DISCHARGED = 12.15  # V at rest; below, a battery takes whatever the machine gives
PLENTY = 60.0  # A, judgement, that no machine with a fault inside gives as a rule


def quantity(name: str, *needs: str):
    """Enter a function under a name; it is asked only where all the readings that it needs are there."""

    def enter(function: Callable[[Readings], float | None]) -> Callable:
        def guarded(readings: Readings) -> float | None:
            if any(readings.get(need) is None for need in needs):
                return None
            return function(readings)

        QUANTITIES[name] = guarded
        return function

    return enter


# --- the battery ----------------------------------------------------------------------------------


def resting(readings: Readings) -> float | None:
    """The battery with nothing running: at its posts, else at a live charging stud, which is joined to it."""
    stud = readings.get("stud_v_engine_off")
    return readings.get("rest_v", stud if stud is not None and stud > LIVE else None)


def _at_reference(volts: float, readings: Readings) -> float:
    return at_reference(volts, readings.get("battery_temp_c", REFERENCE))


@quantity("rest voltage as if at 26.7 degC", "rest_v")
def _rest(readings: Readings) -> float:
    return _at_reference(readings["rest_v"], readings)


@quantity("rest voltage by a live stud", "stud_v_engine_off")
def _rest_by_stud(readings: Readings) -> float | None:
    volts = resting(readings)
    return None if "rest_v" in readings or volts is None else _at_reference(volts, readings)


@quantity("charge")
def _charge(readings: Readings) -> float | None:
    volts = resting(readings)
    return None if volts is None else charge(volts, readings.get("battery_temp_c", REFERENCE)).likely


@quantity("share of the rated cranking current", "cca_measured", "cca_rated")
def _cold_cranking(readings: Readings) -> float:
    charged = QUANTITIES["charge"](readings)
    return cold_cranking_share(readings["cca_measured"], readings["cca_rated"], 100.0 if charged is None else charged)


@quantity("cranking voltage over its least", "crank_v")
def _cranking(readings: Readings) -> float:
    return readings["crank_v"] - load_test_minimum(readings.get("battery_temp_c", REFERENCE))


@quantity("cranking voltage over its least, allowing for the charge", "crank_v")
def _cranking_for_charge(readings: Readings) -> float | None:
    volts = resting(readings)
    if volts is None:
        return None
    missing = min(max(RESTED - _at_reference(volts, readings), 0.0), 1.0)
    return _cranking(readings) + SAG * missing


@quantity("rest voltage under a command", "rest_v", "command_v")
def _rest_commanded(readings: Readings) -> float:
    return _rest(readings)


# --- charging -------------------------------------------------------------------------------------


def _off_target(name: str) -> Quantity:
    def off(readings: Readings) -> float:
        celsius = readings.get("battery_temp_c", CHARGING_REFERENCE)
        return off_target(readings[name], celsius, readings.get("command_v"))

    return off


def _lift(name: str) -> Quantity:
    return lambda readings: readings[name] - _battery(readings)


def _battery(readings: Readings) -> float:
    volts = resting(readings)
    return USUAL_REST if volts is None else volts


def _under_battery(readings: Readings, volts: float) -> float:
    """How far a point lies below the battery; a live one not at all, where nobody knows what the battery rests at."""
    if "rest_v" not in readings and volts > LIVE:
        return 0.0
    return _battery(readings) - volts


for _name in ("charge_v_idle", "charge_v_idle_loaded", "charge_v_2000", "charge_v_2000_loaded", "stud_v_2000_loaded"):
    quantity(f"{_name} off its target", _name)(_off_target(_name))
    quantity(f"{_name} over rest", _name)(_lift(_name))


@quantity("stud under the battery, engine off", "stud_v_engine_off")
def _stud_off(readings: Readings) -> float:
    return _under_battery(readings, readings["stud_v_engine_off"])


@quantity("feed under the battery, key on", "feed_v_key_on")
def _feed(readings: Readings) -> float:
    return _under_battery(readings, readings["feed_v_key_on"])


@quantity("current beyond plenty into a discharged battery", "rest_v", "output_a_2000")
def _taken(readings: Readings) -> float | None:
    return readings["output_a_2000"] - PLENTY if _rest(readings) < DISCHARGED else None


@quantity("fall of the voltage under load", "charge_v_2000", "charge_v_2000_loaded")
def _fall(readings: Readings) -> float:
    return readings["charge_v_2000"] - readings["charge_v_2000_loaded"]


@quantity("ripple as by true rms, idle", "ripple_mv_idle")
def _ripple_idle(readings: Readings) -> float:
    return _ripple(readings, "ripple_mv_idle")


@quantity("ripple as by true rms", "ripple_mv_2000")
def _ripple_2000(readings: Readings) -> float:
    return _ripple(readings, "ripple_mv_2000")


def _ripple(readings: Readings, name: str) -> float:
    return readings[name] * (AVERAGE_METER if readings.get("meter") == "average" else 1.0)


# --- the paths, in milliohm -----------------------------------------------------------------------


def _milliohm(volts: float, readings: Readings) -> float:
    return 1000 * volts / max(readings.get("output_a_2000", USUAL_AMPS), LEAST_AMPS)


@quantity("positive path", "positive_drop_v")
def _positive(readings: Readings) -> float:
    return _milliohm(readings["positive_drop_v"], readings)


@quantity("ground path", "ground_drop_v")
def _ground(readings: Readings) -> float:
    return _milliohm(readings["ground_drop_v"], readings)


def _by_difference(wanted: str, other: str) -> Quantity:
    """The path whose drop was not measured, by stud, battery and the other drop."""

    def path(readings: Readings) -> float | None:
        if readings.get(wanted) is not None:
            return None
        volts = other_drop(readings["stud_v_2000_loaded"], readings["charge_v_2000_loaded"], readings[other])
        return _milliohm(volts, readings)

    return path


_BOTH_ENDS = ("stud_v_2000_loaded", "charge_v_2000_loaded")
quantity("positive path by difference", *_BOTH_ENDS, "ground_drop_v")(
    _by_difference("positive_drop_v", "ground_drop_v")
)
quantity("ground path by difference", *_BOTH_ENDS, "positive_drop_v")(
    _by_difference("ground_drop_v", "positive_drop_v")
)


@quantity("both paths", *_BOTH_ENDS)
def _both(readings: Readings) -> float | None:
    if "positive_drop_v" in readings or "ground_drop_v" in readings:
        return None
    return _milliohm(readings["stud_v_2000_loaded"] - readings["charge_v_2000_loaded"], readings)


@quantity("unexplained between stud and battery", *_BOTH_ENDS, "positive_drop_v", "ground_drop_v")
def _unexplained(readings: Readings) -> float:
    names = (*_BOTH_ENDS, "positive_drop_v", "ground_drop_v")
    return abs(unexplained(*(readings[name] for name in names)))
