"""The voltage at which a battery should be charged: a window by temperature, or what the control asks for."""

from typing import NamedTuple

REFERENCE = 25.0  # degC at which charging voltages are given
BATTERY_SLOPE = -0.018  # V/K for six cells: -3 mV/K each, within 1; three pages on batteries (opened 2026-11-25)
SHALLOW_SLOPE = -0.007  # V/K: what regulators of cars follow at least (from memory: 7 to 12 mV/K)
RUNNING = (13.5, 14.8)  # V, engine running, moderate load, 20 to 25 degC: common practice, no source


class Window(NamedTuple):
    """Least and most [V]."""

    low: float
    high: float


def compensated(volts: float, celsius: float, slope: float = BATTERY_SLOPE) -> float:
    """A charging voltage given for 25 degC, at another temperature [V].

    Parameters
    ----------
    volts : float
        At 25 degC [V]
    celsius : float
        Of the battery [degC]
    slope : float
        [V/K], below 0

    Examples
    --------
    >>> round(compensated(14.4, 0.0), 2), round(compensated(14.4, 40.0), 2)
    (14.85, 14.13)
    """
    return volts + slope * (celsius - REFERENCE)


def charging_window(celsius: float = REFERENCE) -> Window:
    """Where the voltage may lie with the engine running and a moderate load, for a regulator with a fixed target [V].

    Parameters
    ----------
    celsius : float
        Of the battery [degC]

    Notes
    -----
    Regulators follow the temperature less or more steeply; what any of them may do lies inside. A control that
    commands its voltage may lie outside on purpose: compare with the command then.
    """
    slopes = (SHALLOW_SLOPE, BATTERY_SLOPE)
    low, high = ([compensated(volts, celsius, slope) for slope in slopes] for volts in RUNNING)
    return Window(min(low), max(high))


def off_target(volts: float, celsius: float = REFERENCE, command: float | None = None) -> float:
    """How far a charging voltage is from where it should be [V]: below 0 too low, above 0 too high.

    Parameters
    ----------
    volts : float
        With the engine running [V]
    celsius : float
        Of the battery [degC]
    command : float, optional
        What the control asks for [V]; without it the window of a fixed target counts, and 0 is anywhere inside.

    Examples
    --------
    >>> off_target(14.2), round(off_target(13.52, command=14.4), 2), round(off_target(15.3), 2)
    (0.0, -0.88, 0.5)
    """
    if command is not None:
        return volts - command
    low, high = charging_window(celsius)
    return min(volts - low, 0.0) + max(volts - high, 0.0)
