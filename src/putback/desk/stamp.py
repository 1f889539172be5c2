"""Who says something, on what and when: what every event begins with."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime

from putback.job.events import Event


@dataclass(frozen=True)
class Stamp:
    """What turns a saying into an event.

    Attributes
    ----------
    person, device : str
        Who says it, and on what.
    clock : function
        The time now; it must know its zone.
    new_id : function
        A new id each time: 26 or 32 letters and digits.
    """

    person: str
    device: str
    clock: Callable[[], datetime]
    new_id: Callable[[], str]

    def event(self, job: str, kind: str, **data) -> Event:
        """One event, as of now; what is None is left out.

        Parameters
        ----------
        job : str
            Its id.
        kind : str
        data : what the event says, `_` for a blank in a name
        """
        said = {name.replace("_", " "): value for name, value in data.items() if value is not None}
        return Event(self.new_id(), job, kind, self.now(), self.person, self.device, said)

    def now(self) -> str:
        """The time now as events have it: UTC with milliseconds."""
        return utc(self.clock())


def utc(time: datetime) -> str:
    """A time as events have it.

    Parameters
    ----------
    time : datetime
        It must know its zone.
    """
    return time.astimezone(UTC).isoformat(timespec="milliseconds").removesuffix("+00:00") + "Z"
