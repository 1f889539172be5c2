"""Faults, tests and probabilities: what may be wrong, which test next, and when it is proved."""

from putback.suspects.contradiction import Contradiction, contradiction
from putback.suspects.decide import Decision, decide
from putback.suspects.model import NOTHING_LISTED, Action, Group, Model, Test
from putback.suspects.next_test import Choice, next_tests
from putback.suspects.order import Order, order
from putback.suspects.posterior import posterior, shares
from putback.suspects.sets import capped, classes

__all__ = [
    "NOTHING_LISTED",
    "Action",
    "Choice",
    "Contradiction",
    "Decision",
    "Group",
    "Model",
    "Order",
    "Test",
    "capped",
    "classes",
    "contradiction",
    "decide",
    "next_tests",
    "order",
    "posterior",
    "shares",
]
