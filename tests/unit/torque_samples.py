"""Torque wrenches for the tests, as a shop file would say them; every one is invented."""

from datetime import date

from putback.area.wrench import Wrench, read_wrench

DAY = date(2026, 11, 25)


def a_wrench(text: str, name: str = "one") -> Wrench:
    """A wrench from its line."""
    return Wrench(name, **read_wrench(text))


SMALL = a_wrench("1-5 N·m in steps of 0.1 N·m, 1/4 in, lever 150 mm, calibrated 2026-04-14", "small")
MEDIUM = a_wrench("5-25 N·m in steps of 0.25 N·m, 1/4 in, lever 240 mm, calibrated 2026-04-14", "medium")
LARGE = a_wrench("20-110 N·m in steps of 1 N·m, 1/2 in, lever 400 mm, calibrated 2026-09-02", "large")
LONG = a_wrench("60-300 N·m in steps of 2 N·m, 1/2 in, lever 600 mm, calibrated 2026-09-02", "long")
ALL = (SMALL, MEDIUM, LARGE, LONG)
