"""Independent judges of the planner: each reads docs/core-problem.md for itself and shares no code with it."""
