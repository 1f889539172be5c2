"""Charging systems that stand in no workshop: physics by lot, and what meters say of them.

A battery with charge, wear and temperature; an alternator that gives so much at a speed and no more; a regulator with a
target or a command; two paths with resistance; a belt; a lamp. Each of the model's faults, or none, is put in; the
meters read with their errors, and some readings are left out. Two sets of laws: what was tuned on one is tried on the
other.
"""

from dataclasses import dataclass
from random import Random

from putback.models import load

FORM = load("charging")
COMPLAINTS = {"goes flat": "battery goes flat, slow to crank", "lamp on": "battery lamp on with the engine running"}
REST = ((0.0, 11.75), (0.25, 12.05), (0.5, 12.24), (0.75, 12.45), (1.0, 12.68))


@dataclass
class Car:
    """The quantities of one car; a fault changes some of them."""

    celsius: float
    charged: float
    rated: float  # cold-cranking amps
    wear: float = 1.0  # inner resistance against new
    cells: int = 6
    clamp: float = 0.0003  # ohm between posts and cables
    positive: float = 0.0008  # ohm from the stud to the positive clamp
    ground: float = 0.0006
    give: float = 1.0  # of what the machine could give
    slip_loaded: float = 1.0
    machine: float = 120.0  # A rated
    target: float = 14.3
    command: float | None = None
    senses_battery: bool = False
    ripple: float = 1.0
    link_open: bool = False
    feed: float = 1.0
    draw: float = 0.025
    lamp: str = "sound"
    code: bool = False
    belt: str = "good"
    squeal: bool = False
    drives: bool = True


def car(lot: Random, fault: str, laws: str) -> tuple[Car, str]:
    """A car with a fault, and the action that mends it."""
    one = _sound(lot, laws)
    action = FAULTS[fault](one, lot)
    return one, action


def _sound(lot: Random, laws: str) -> Car:
    rated = lot.choice([380.0, 450.0, 540.0, 640.0, 720.0, 800.0])
    one = Car(celsius=lot.uniform(-12, 36), charged=lot.uniform(0.78, 1.0), rated=rated)
    one.wear = lot.uniform(0.95, 1.25)
    one.machine = lot.choice([90, 110, 120, 140, 150, 180])
    one.positive, one.ground = lot.uniform(0.4e-3, 1.7e-3), lot.uniform(0.3e-3, 1.4e-3)
    slope = lot.uniform(-0.012, -0.005) if laws == "a" else -0.018
    one.target = lot.gauss(14.35, 0.12) + slope * (one.celsius - 25)
    one.senses_battery = lot.random() < 0.4
    if lot.random() < (0.45 if laws == "a" else 0.7):
        low = one.charged > 0.88 and lot.random() < 0.3
        one.command = one.target = lot.uniform(12.5, 13.1) if low else round(one.target, 1)
    one.draw = lot.uniform(0.008, 0.042)
    if lot.random() < 0.10:
        one.belt = lot.choice(["worn", "worn", "glazed"])
    one.squeal = lot.random() < 0.04
    return one


def _emptied(one: Car, lot: Random, likely: float = 0.75) -> None:
    if lot.random() < likely:
        one.charged = lot.uniform(0.05, 0.7)


def _battery_worn(one, lot):
    one.wear = lot.uniform(1.9, 4.5)
    one.charged = lot.uniform(0.3, 1.0)
    return "battery"


def _battery_shorted_cell(one, lot):
    one.cells, one.wear, one.charged = 5, lot.uniform(1.2, 2.5), lot.uniform(0.3, 0.9)
    return "battery"


def _battery_discharged_by_use(one, lot):
    one.charged = lot.uniform(0.02, 0.62)
    return "charge and advise"


def _clamp(one, lot):
    one.clamp = lot.uniform(0.012, 0.08)
    side = lot.choice(["positive", "ground"])
    if side == "positive":
        one.positive += lot.uniform(0.002, 0.02)
    else:
        one.ground += lot.uniform(0.002, 0.02)
    return f"{side} path"


def _parasitic_draw(one, lot):
    one.draw, one.charged = 10 ** lot.uniform(-1.0, 0.3), lot.uniform(0.02, 0.65)
    return "find the draw"


def _open_diode(one, lot):
    one.give, one.ripple = lot.uniform(0.62, 0.82), lot.uniform(4, 11)
    _emptied(one, lot, 0.3)
    return "alternator"


def _shorted_diode(one, lot):
    one.give, one.ripple = lot.uniform(0.22, 0.5), lot.uniform(7, 18)
    one.draw = lot.uniform(0.1, 2.0) if lot.random() < 0.5 else one.draw
    _emptied(one, lot)
    return "alternator"


def _lost_phase(one, lot):
    one.give, one.ripple = lot.uniform(0.4, 0.62), lot.uniform(5, 13)
    _emptied(one, lot, 0.5)
    return "alternator"


def _no_output(one, lot):
    one.give, one.code = 0.0, lot.random() < 0.6
    _emptied(one, lot)
    return "alternator"


def _weak_field(one, lot):
    one.give = lot.uniform(0.12, 0.42)
    one.code = lot.random() < 0.3
    _emptied(one, lot)
    return "alternator"


def _overcharge(one, lot):
    one.target, one.charged = lot.uniform(15.3, 17.5), lot.uniform(0.95, 1.0)
    one.code = lot.random() < 0.4
    return "alternator"


def _belt_slip(one, lot):
    if lot.random() < 0.3:
        one.give, one.drives = 0.0, False
        one.belt = "off" if lot.random() < 0.5 else "good"
    else:
        one.slip_loaded = lot.uniform(0.1, 0.5)
        one.belt = lot.choice(["glazed", "loose", "oily", "worn", "good"])
        one.squeal = lot.random() < 0.8
    _emptied(one, lot, 0.6)
    return "belt drive"


def _positive_path_resistance(one, lot):
    one.positive = lot.uniform(0.009, 0.045)
    _emptied(one, lot, 0.5)
    return "positive path"


def _ground_path_resistance(one, lot):
    one.ground = lot.uniform(0.009, 0.045)
    _emptied(one, lot, 0.5)
    return "ground path"


def _feed_or_command_missing(one, lot):
    if one.command is None or lot.random() < 0.5:
        one.feed, one.give = lot.choice([0.0, 0.02, 0.3]), 0.0
    else:
        one.command = one.target = lot.choice([0.0, 10.6, 12.2])
        one.give = 0.0 if one.command < 11 else one.give
        one.code = lot.random() < 0.85
    _emptied(one, lot, 0.7)
    return "feed or command"


def _positive_link_open(one, lot):
    one.link_open = True
    _emptied(one, lot)
    return "positive path"


def _lamp_circuit(one, lot):
    one.lamp = lot.choice(["stays on", "stays on", "dead", "flickers"])
    one.code = lot.random() < 0.55
    return "lamp path"


def _nothing_wrong(one, lot):
    return "nothing found"


FAULTS = {
    "battery worn": _battery_worn,
    "battery shorted cell": _battery_shorted_cell,
    "battery discharged by use": _battery_discharged_by_use,
    "post clamp or battery cable": _clamp,
    "parasitic draw": _parasitic_draw,
    "open diode": _open_diode,
    "shorted diode": _shorted_diode,
    "lost phase": _lost_phase,
    "no output": _no_output,
    "weak field": _weak_field,
    "overcharge": _overcharge,
    "belt slip": _belt_slip,
    "positive path resistance": _positive_path_resistance,
    "ground path resistance": _ground_path_resistance,
    "feed or command missing": _feed_or_command_missing,
    "positive link open": _positive_link_open,
    "lamp circuit": _lamp_circuit,
    "nothing wrong": _nothing_wrong,
}


# --- what happens on the car ----------------------------------------------------------------------


def rest(one: Car, laws: str) -> float:
    points = REST if laws == "a" else tuple((x, 11.65 + 0.95 * x + 0.08 * x * x) for x in (0.0, 0.25, 0.5, 0.75, 1.0))
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if one.charged <= x1:
            break
    volts = y0 + (y1 - y0) * (one.charged - x0) / (x1 - x0)
    warm = 0.0 if laws == "b" else -0.00432 * (one.celsius - 26.7)
    return volts * one.cells / 6 + warm


def inner(one: Car) -> float:
    """Inner resistance of the battery [ohm]."""
    new = 2.9 / one.rated
    cold = 1 + 0.012 * (25 - one.celsius)
    return new * one.wear * cold * (1 + 0.6 * (1 - one.charged) ** 2) * (1.3 if one.cells < 6 else 1.0)


def cranking(one: Car, laws: str) -> tuple[float, float, float]:
    """Volts at the posts and at the starter, and the current."""
    starter = (0.048 if laws == "a" else 0.058) * (1 + 0.003 * (one.celsius - 25))
    amps = rest(one, laws) / (inner(one) + one.clamp + starter + 0.002)
    return rest(one, laws) - amps * inner(one), amps * starter, amps


def running(one: Car, loads: float, speed: float, laws: str, slip: float = 1.0) -> tuple[float, float, float]:
    """Volts at the posts and at the stud (to the case), and the current out of the machine."""
    most = one.machine * speed * one.give * slip
    path = one.positive + one.ground
    polarised = (1.6 if laws == "a" else 1.9) * one.charged**3  # a full battery takes little at 14 V
    source = rest(one, laws) + 0.2 + polarised * one.cells / 6
    resistance = inner(one) * (3.0 if laws == "a" else 4.5) + one.clamp + 0.004
    if one.link_open:
        volts = rest(one, laws) - loads * (inner(one) + one.clamp)
        return volts, (max(one.target, 14.0) + 2.5 if one.give else 0.0), 0.0
    # The battery takes what the voltage over its own drives into it; loads take their current.
    wanted = one.target if one.senses_battery else None
    if wanted is None:  # sensed at the stud: V + path * (loads + (V - source) / resistance) = target
        volts = (one.target - path * (loads - source / resistance)) / (1 + path / resistance)
    else:
        volts = wanted
    amps = loads + (volts - source) / resistance
    if amps < 0:  # the target lies under the battery: nothing is given
        amps = 0.0
    if amps > most:
        amps = most
    elif amps > 0:
        return volts, volts + path * amps, amps
    deficit = amps - loads
    volts = source + deficit * resistance if deficit > 0 else rest(one, laws) + deficit * (inner(one) * 1.6 + one.clamp)
    return volts, volts + path * amps, amps


# --- what meters say ------------------------------------------------------------------------------


def readings(one: Car, lot: Random, fault: str, complaint: str, laws: str) -> dict[str, object]:
    """All the readings of a car, each with its error."""
    off = 1 + lot.gauss(0, 0.0015)

    def volts(true: float) -> float:
        return round(true * off + lot.gauss(0, 0.01), 2)

    crank, at_starter, _ = cranking(one, laws)
    idle = running(one, 10, 0.33, laws)
    idle_loaded = running(one, 42, 0.33, laws, one.slip_loaded**0.5)
    free = running(one, 12, 0.8, laws, one.slip_loaded**0.4)
    loads = lot.uniform(45, 68)
    loaded = running(one, loads, 0.8, laws, one.slip_loaded)
    amps = max(0.0, loaded[2] * (1 + lot.gauss(0, 0.03)) + lot.gauss(0, 0.3))
    meter = lot.choice(["average", "true rms"])
    takes = (lot.uniform(0.78, 0.95) if meter == "average" else 1.0) * lot.uniform(0.85, 1.1)
    hides = (inner(one) / 0.006) ** 0.5
    mv = 1000 * 0.0005 * hides * takes * one.ripple
    out = {
        "complaint": COMPLAINTS[complaint],
        "rest_v": volts(rest(one, laws) + (lot.uniform(0, 0.1) if lot.random() < 0.1 else 0.0)),
        "battery_temp_c": float(round(one.celsius)),
        "cca_measured": float(round(_tested(one) * lot.uniform(0.93, 1.07))),
        "cca_rated": one.rated,
        "crank_v": volts(crank),
        "crank_sound": "normal" if at_starter > 8.3 else "slow" if at_starter > 6.3 else "click only",
        "charge_v_idle": volts(idle[0]),
        "charge_v_idle_loaded": volts(idle_loaded[0]),
        "charge_v_2000": volts(free[0]),
        "charge_v_2000_loaded": volts(loaded[0]),
        "stud_v_engine_off": volts(0.02 if one.link_open else rest(one, laws) - 0.01),
        "stud_v_2000_loaded": volts(loaded[1]),
        "positive_drop_v": volts(loaded[1] - loaded[0] if one.link_open else loaded[2] * one.positive),
        "ground_drop_v": volts(loaded[2] * one.ground),
        "output_a_2000": round(amps, 1),
        "ripple_mv_idle": float(round(max(1.0, mv * (idle[2] + 3) * 0.8 + lot.gauss(0, 2)))),
        "ripple_mv_2000": float(round(max(1.0, mv * (loaded[2] + 3) + lot.gauss(0, 2)))),
        "meter": meter,
        "feed_v_key_on": volts(one.feed * (rest(one, laws) - 0.15)),
        "lamp_key_on": _lamp_key_on(one, lot),
        "lamp_running": _lamp_running(one, loaded[0], loaded[2], lot),
        "stored_code": "charging circuit" if one.code or lot.random() < 0.04 else "none",
        "belt": one.belt,
        "belt_squeal": "yes" if one.squeal else "no",
        "pulley_drives_rotor": "yes" if one.drives else "no",
        "key_off_ma": float(round(one.draw * 1000)),
    }
    if one.command is not None:
        out["command_v"] = round(one.command, 1)
    return out


def _tested(one: Car) -> float:
    """The cold-cranking current that a tester finds."""
    return one.rated / one.wear * (1 if one.cells == 6 else 0.6) * (0.85 + 0.15 * one.charged)


def _lamp_key_on(one: Car, lot: Random) -> str:
    if one.lamp == "dead" or (one.feed < 0.2 and lot.random() < 0.6):
        return "off"
    return "on"


def _lamp_running(one: Car, posts: float, amps: float, lot: Random) -> str:
    if one.lamp != "sound":
        return {"stays on": "on", "dead": "off", "flickers": "flicker"}[one.lamp]
    if one.feed < 0.2:
        return "on" if lot.random() < 0.5 else "off"
    if amps < 1 and posts < 12.9:
        return "on"
    if one.ripple > 3 and lot.random() < 0.5:
        return "glow"
    if one.target > 15.2 and lot.random() < 0.5:
        return "on"
    if posts < 12.8:
        return lot.choice(["on", "glow", "flicker", "off"])
    return "off"


def with_gaps(told: dict[str, object], lot: Random) -> dict[str, object]:
    """Some of the readings; how many of them is left to the lot as well."""
    keep = lot.uniform(0.25, 1.0)
    return {name: value for name, value in told.items() if name in ("complaint", "meter") or lot.random() < keep}


@dataclass(frozen=True)
class Case:
    """One car: what is wrong, what mends it, and what was read."""

    fault: str
    action: str
    readings: dict[str, object]


def case(seed: int, laws: str = "a", uniform: bool = True, gaps: bool = True) -> Case:
    """A case by its seed.

    Parameters
    ----------
    seed : int
    laws : str
        "a" or "b": two sets of laws.
    uniform : bool
        Every fault alike, or by the shares of the complaint.
    gaps : bool
        Whether readings are left out.
    """
    lot = Random(f"{seed} {laws}")
    complaint = lot.choice([*COMPLAINTS])
    shares = next(one.prior for one in FORM.complaints if one.name == complaint)
    weights = [(0.02 if uniform else 0.0) + shares[fault] for fault in FAULTS]
    fault = lot.choices([*FAULTS], weights)[0]
    one, action = car(lot, fault, laws)
    told = readings(one, lot, fault, complaint, laws)
    return Case(fault, action, with_gaps(told, lot) if gaps else told)
