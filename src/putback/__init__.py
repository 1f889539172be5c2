"""Putback plans what to take off a car to reach a part, and how to put it all back."""

__version__ = "0.1.0"
