"""Time and money of a plan with their spread, what to order, and what is nearly free while the car is open."""

from putback.estimate.quote import Quote, make_quote

__all__ = ["Quote", "make_quote"]
