"""What really happened on a job: events in the past tense, never changed, each chained to the one before."""

from putback.job.events import Event, chained, from_json, to_json

__all__ = ["Event", "chained", "from_json", "to_json"]
