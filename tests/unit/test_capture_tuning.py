"""The notes kept for tuning are read as their keys say, field by field; docs/notes.md is the contract."""

from functools import cache
from pathlib import Path

import capture_score
import pytest

from putback.capture import as_json, report

TUNING = Path(__file__).parents[1] / "data" / "notes" / "tuning"
# What is reached, less a little; it only goes up.
LEAST = {"item": 0.88, "action": 0.86, "count": 0.8, "tool": 0.7, "torque": 0.8, "unit": 0.83, "angle": 0.9}


@cache
def readings() -> list[tuple[str, dict, dict]]:
    """Each note's name, its key and what is read."""
    return [
        (name, key, capture_score.place_heard(text, as_json(report(text))))
        for name, text, key in capture_score.notes(TUNING)
    ]


@pytest.mark.parametrize("field", capture_score.FIELDS)
def test_precision_and_recall_of_a_field(field):
    """Over all notes of the corpus together."""
    tallies = [capture_score.score_events(heard["events"], key["events"]) for _, key, heard in readings()]
    tally = capture_score.total(tallies)[field]

    assert min(tally.precision, tally.recall) >= LEAST[field]


def test_torques_are_listed():
    """Item, value and unit of every torque that was told."""
    tallies = [capture_score.score_torques(heard["torques"], key["torques"]) for _, key, heard in readings()]
    tally = sum(tallies, capture_score.Tally())
    assert min(tally.precision, tally.recall) >= 0.84


def test_left_overs_are_found():
    """Nearly every planted one, and few that are none."""
    told = [capture_score.score_left_over(heard["left_over"], key["left_over"]) for _, key, heard in readings()]
    found, missed, false = (sum(len(getattr(one, name)) for one in told) for name in ("found", "missed", "false"))
    assert found >= 2 * missed
    assert false <= 2 * len(told)
