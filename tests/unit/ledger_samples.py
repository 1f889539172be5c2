"""Events to log, made up and plainly numbered."""

from putback.job.events import Event

JOB, OTHER = "J" * 26, "K" * 26


def event(number: int, job: str = JOB, kind: str = "kind of a newer program", at: int = 0, **data) -> Event:
    """The event with that number in its id, logged so many seconds after nine."""
    time = f"2026-01-31T09:{at // 60:02d}:{at % 60:02d}.000Z"
    return Event(id=f"{number:026d}", job=job, kind=kind, at=time, person="technician 1", device="bay 2", data=data)


def opened(number: int, job: str = JOB, name: str = "alternator", at: int = 0) -> Event:
    """The event that opens a job."""
    return event(number, job, "job opened", at, name=name)
