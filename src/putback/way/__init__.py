"""The cheapest way in and the way back."""

from putback.way.problem import read_problem
from putback.way.search import Plan, find_way
from putback.way.solve import Solved, solve_core

__all__ = ["Plan", "Solved", "find_way", "read_problem", "solve_core"]
