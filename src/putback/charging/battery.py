"""A 12 V lead-acid battery by its readings: charge at rest, load test, cold-cranking current.

All of it holds for flooded batteries of lead and acid; one with a mat or a gel rests 0.1 to 0.2 V higher (common
practice, no source), so that the battery maker's own table goes before these.
"""

from typing import NamedTuple

from putback.charging.tables import between, table
from putback.errors import InputError

REFERENCE = 26.7  # degC at which the table of rest voltages holds, 80 degF
REST_SLOPE = 0.024 / (10 * 5 / 9)  # V/K: 0.024 V for each 10 degF; a battery maker's table (opened 2026-11-25)
MAKERS_APART = 10.0  # % of charge by which makers differ at the same rest voltage
METER_OFF = 0.02  # V that a handheld meter may be off
SURFACE = 12.90  # V at 26.7 degC; a battery that reads more has not rested (common practice, no source)
LEAST_CHARGED = 12.4  # V at rest; below, charge before testing: TM 5-3805-262-20 page 5-142 (opened 2026-11-25)
WARM = 21.0  # degC, from which on the load test asks no more


class Charge(NamedTuple):
    """State of charge with its uncertainty, all in percent from 0 to 100."""

    likely: float
    low: float
    high: float


def at_reference(volts: float, celsius: float = REFERENCE) -> float:
    """The rest voltage that the same battery would have at 26.7 degC [V]; a cold one reads too high.

    Parameters
    ----------
    volts : float
        At rest [V]
    celsius : float
        Of the battery [degC]

    Examples
    --------
    >>> round(at_reference(12.40, -1.1), 2)
    12.28
    """
    return volts - REST_SLOPE * (REFERENCE - celsius)


def charge(volts: float, celsius: float = REFERENCE, meter_off: float = METER_OFF) -> Charge:
    """State of charge by the rest voltage, and the band in which it may lie.

    Parameters
    ----------
    volts : float
        After hours at rest [V]
    celsius : float
        Of the battery [degC]
    meter_off : float
        By how much the meter may be off [V], 0 or more

    Returns
    -------
    charge : Charge
        The band holds what every published set of figures says, what the meter may be off, and what makers differ.

    Raises
    ------
    InputError
        A voltage below 0, or a meter that is off by less than nothing.

    Examples
    --------
    >>> round(charge(12.55).likely, 1)
    87.5
    """
    if volts < 0 or meter_off < 0:
        raise InputError(f"a rest voltage of {volts:g} V, a meter off by {meter_off:g} V: neither is below 0")
    equal = at_reference(volts, celsius)
    points = _sets()
    likely = between(points[0], equal)
    said = [between(one, equal + off) for one in points for off in (-meter_off, meter_off)]
    low, high = min(*said, likely - MAKERS_APART), max(*said, likely + MAKERS_APART)
    return Charge(likely, max(low, 0.0), min(high, 100.0))


def _sets() -> list[list[tuple[float, float]]]:
    """Of each published set the charge over the rest voltage, the main one first."""
    rows = table("rest-voltage-handbook")
    return [[(float(volts), float(share)) for share, volts in row.items() if share != "set"] for row in rows]


def has_surface_charge(volts: float, celsius: float = REFERENCE) -> bool:
    """Whether a rest voltage is higher than rest can make it: lamps on for a while, then wait and read again.

    Parameters
    ----------
    volts : float
        [V]
    celsius : float
        Of the battery [degC]
    """
    return at_reference(volts, celsius) > SURFACE


def load_test_minimum(celsius: float = WARM) -> float:
    """What a sound battery still has after 15 s at half its cold-cranking current [V].

    Parameters
    ----------
    celsius : float
        Of the battery [degC]; below -18 and above 21 the ends of the table hold.

    Examples
    --------
    >>> load_test_minimum(25.0), load_test_minimum(-7.0)
    (9.6, 8.9)
    """
    rows = table("load-test-common-practice")
    return between([(float(row["celsius"]), float(row["volts"])) for row in rows], celsius)


def rated_resistance(amps: float, standard: str = "EN 50342-1") -> float:
    """The most inner resistance with which a charged battery still meets its cold-cranking current [ohm], at -18 degC.

    Parameters
    ----------
    amps : float
        Rated cold-cranking current [A], above 0
    standard : str
        By which it is rated: "SAE J537" or "EN 50342-1"

    Raises
    ------
    InputError
        No such standard, or no current.
    """
    rows = {row["standard"]: row for row in table("cold-cranking-ratings")}
    if standard not in rows:
        raise InputError(f'"{standard}" is not among the standards known here: {", ".join(rows)}')
    if not amps > 0:
        raise InputError(f"a cold-cranking current of {amps:g} A; it is above 0")
    full, _ = _sets()[0][-1]
    return (full - float(rows[standard]["volts"])) / amps


def reserve_left(minutes: float, amps: float) -> float:
    """Roughly how long a charged battery carries a load [h], by its reserve capacity.

    The reserve capacity is how many minutes it gives 25 A at 27 degC until 10.5 V are left (general texts on batteries,
    opened 2026-11-25). At smaller currents it lasts longer than this says, at larger ones less.

    Parameters
    ----------
    minutes : float
        Reserve capacity [min], above 0
    amps : float
        The load [A], above 0

    Examples
    --------
    >>> reserve_left(120, 0.5)
    100.0
    """
    if not (minutes > 0 and amps > 0):
        raise InputError(f"a reserve of {minutes:g} min and a load of {amps:g} A; both are above 0")
    return minutes * 25.0 / 60.0 / amps


EXPECTED_EMPTY = 0.8  # judgement: of a sound battery's cranking current, what a tester finds when it is empty


def cold_cranking_share(measured: float, rated: float, charged: float = 100.0) -> float:
    """The cold-cranking current found, against what a sound battery of that charge shows; 1 is as new.

    Parameters
    ----------
    measured : float
        By a tester [A]
    rated : float
        On the label, by the standard that the tester was set to [A], above 0
    charged : float
        State of charge [%]; a discharged battery shows less without being worn.

    Raises
    ------
    InputError
        No rated current.
    """
    if not rated > 0:
        raise InputError(f"a rated cold-cranking current of {rated:g} A; it is above 0, and stands on the label")
    return measured / rated / (EXPECTED_EMPTY + (1 - EXPECTED_EMPTY) * charged / 100)
