"""Units at the edge: what people type becomes SI, and SI becomes what people read.

A torque without a clear unit is refused with the question what to write: 25 in-lb taken for 25 ft-lb
shears the bolt.
"""

from putback.units.numbers import number, show_number
from putback.units.tightening import Tightening, looks_like_torque, read_tightening
from putback.units.torques import (
    FOOT_POUND,
    INCH_POUND,
    KILOPOND_METRE,
    TORQUE_UNITS,
    Reading,
    TorqueUnit,
    read_torque,
    show_both,
    show_in,
    show_torque,
    torque,
    torque_unit,
    unclear_unit,
)

__all__ = [
    "FOOT_POUND",
    "INCH_POUND",
    "KILOPOND_METRE",
    "TORQUE_UNITS",
    "Reading",
    "Tightening",
    "TorqueUnit",
    "looks_like_torque",
    "number",
    "read_tightening",
    "read_torque",
    "show_both",
    "show_in",
    "show_number",
    "show_torque",
    "torque",
    "torque_unit",
    "unclear_unit",
]
