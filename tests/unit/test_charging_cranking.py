"""Cranking in closed form: a battery with a resistance, a starter's current that falls from its rush and swings."""

import numpy as np
import pytest

from putback.charging.cranking import judge_cranking
from putback.charging.record import make_record

RATE, SECONDS, KEY_ON = 2000.0, 1.5, 0.3


def cranked(rest: float, ohms: float, with_amps: bool = True):
    """500 A at the rush, 270 A and a swing of 30 A six times a second while the engine turns."""
    times = np.arange(int(SECONDS * RATE)) / RATE
    since = np.maximum(times - KEY_ON, 0.0)
    turning = 270 + 230 * np.exp(-since / 0.05) + 30 * np.sin(2 * np.pi * 6 * since) * (1 - np.exp(-since / 0.05))
    amps = np.where(times >= KEY_ON, turning, 0.0)
    return make_record(times, rest - ohms * amps, amps if with_amps else None)


@pytest.mark.parametrize("with_amps", [True, False])
def test_a_flat_battery_that_still_turns_the_engine_is_weak(with_amps):
    """Below 12.1 V at rest a battery of 13 milliohms is weak; a charged one of 12, as in the cold, is not."""
    flat, cold = (judge_cranking(cranked(rest, ohms, with_amps)) for rest, ohms in ((11.9, 0.013), (12.6, 0.012)))

    assert flat.verdict == "weak battery"
    assert cold.verdict != "weak battery"
