"""The tension of a belt by the tone of one of its runs."""

import re

from putback.belt.finding import Finding
from putback.belt.load import rest_tension
from putback.belt.pull import span_frequency, span_tension
from putback.belt.route import Laid
from putback.errors import InputError

USUAL = 0.25  # how far the tension by tone may be from that by the spring, as a share; common practice, no source


def run_between(laid: Laid, text: str) -> int:
    """The run between two pulleys: its number in running order, from 0.

    Parameters
    ----------
    laid : Laid
    text : str
        Both names in either order, as in ``crankshaft to idler pulley``

    Raises
    ------
    InputError
        The belt has no such run.
    """
    names = [stop.pulley for stop in laid.route]
    ends = {frozenset((name, names[(n + 1) % len(names)])): n for n, name in enumerate(names)}
    parts = re.split(r"\s+to\s+|\s*->\s*", text.strip())
    found = ends.get(frozenset(parts)) if len(parts) == 2 else None
    if found is None:
        runs = ", ".join(f'"{name} to {names[(n + 1) % len(names)]}"' for n, name in enumerate(names))
        raise InputError(f'"{text}" is no run of this belt; there are: {runs}')
    return found


def judge_tone(laid: Laid, frequency: float, run: str) -> tuple[Finding, ...]:
    """What the tone of a plucked run says of the belt's tension.

    Parameters
    ----------
    laid : Laid
    frequency : float
        [Hz], above 0
    run : str
        Which run, as `run_between` reads it

    Raises
    ------
    InputError
        No such run, no tone, or the mass of the belt is not known.
    """
    mass, length = laid.drive.belt.mass, laid.loop.spans[run_between(laid, run)].length
    if mass is None:
        raise InputError('a tone tells the tension only with the mass of the belt: "mass: 0.14 kg/m" in the drive file')
    if not frequency > 0:
        raise InputError("a tone has a frequency above 0")
    tension, wanted = span_tension(frequency, length, mass), rest_tension(laid)
    words = f"{frequency:g} Hz on the run {run}, {1000 * length:.0f} mm long, is a tension of {tension:.0f} N"
    if not wanted:
        return (Finding("tone", "fine", words),)
    words += f"; expected are {wanted:.0f} N, which is {span_frequency(wanted, length, mass):.0f} Hz"
    off = abs(tension / wanted - 1) > USUAL
    advice = ": look at belt, tensioner and spring, or pluck another run, best the longest" if off else ""
    return (Finding("tone", "ask" if off else "fine", words + advice),)
