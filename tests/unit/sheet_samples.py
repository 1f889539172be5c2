"""Small plans for the tests of sheets and of what is printed from them; every figure is invented."""

from functools import cache

from area_samples import HEAD, PUMP, area, shop, state

from putback.way.plan import plan_way
from putback.way.sheet import Sheet

# The pump hangs under the car: two left-hand, one-time bolts, and 12 minutes of waiting before it comes off.
UNDER = """\
parts:
  drain plug:
    from: under
    minutes: 1 off, 1 on
    wait after: 12 min
    why: the oil runs out
  pump:
    from: under
    behind: [drain plug]
    minutes: 4 off, 6 on
    hazards: [heavy]
    held by:
      pump bolts: 2 x M8x30, class 8.8, 13 mm, 22 N·m, one-time, 1.50 each, left-hand
    follow-ups: [look for leaks after a day]
"""
WORK = """\
job work:
  before: {look it over: 3 min}
  at the swap: {compare: 2 min}
  after: {try it out: 5 min}
follow-ups:
  look for leaks after a day: at hand-over
"""


@cache
def from_above() -> Sheet:
    """The pump on top: undo, remove, swap, refit, tighten."""
    return plan_way(area(PUMP), shop())


@cache
def from_under() -> Sheet:
    """The pump under the car, on the lift, with job work."""
    return plan_way(area(UNDER, HEAD + WORK), shop())


def under_way(text: str) -> Sheet:
    """The job from under, taken up where a state file says."""
    described = area(UNDER, HEAD + WORK)
    return plan_way(described, shop(), state=state(text, described))
