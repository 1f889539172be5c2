"""Dictated and typed notes: what was done, what does not agree, and a draft of an area file."""

from putback.capture.hearing import understand
from putback.capture.report import Report, as_json, report

__all__ = ["Report", "as_json", "report", "understand"]
