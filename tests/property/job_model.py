"""What is true of fasteners, parts and people, kept by a plain count of what happened, whoever sends it and when."""

from dataclasses import dataclass, field
from datetime import timedelta

from log import JOB, START, Row

from putback.job.events import Event

HAND, TIGHT = {"new": True, "evidence": "hand-tight"}, {"new": True, "evidence": "seated"}


@dataclass(frozen=True)
class Happened:
    """One true thing, at a minute of its own, told by one device."""

    minute: int
    device: str
    kind: str
    data: dict


@dataclass
class Truth:
    """A group of so many, a plug, a person and a car, as they really are."""

    total: int
    out: int = 0
    loose: int = 0
    plugged: bool = True
    confirmed: bool = True
    ever_out: bool = False
    part_off: bool = False
    checked: bool = True
    under: bool = False
    raised: bool = False
    happened: list[Happened] = field(default_factory=list)

    @property
    def closed(self) -> int:
        return self.total - self.out - self.loose

    def possible(self) -> list[str]:
        """What may happen next."""
        found = [name for name, count in self._counts().items() if count]
        found += ["unplug"] if self.plugged else ["plug", "plug and pull"]
        found += ["pull"] if self.plugged and self.ever_out else []
        found += ["part home"] if self.part_off else ["part off", "check"]
        return found + [("clear" if self.under else "go under"), ("lower" if self.raised else "raise")]

    def most(self, what: str) -> int:
        """Of how many it may happen at once."""
        return self._counts().get(what, 1)

    def _counts(self) -> dict[str, int]:
        within = self.total - self.out
        return {"off": within, "hand": self.out, "on": self.out, "loosen": self.closed, "tighten": self.loose}

    def happen(self, what: str, count: int, device: str, names: dict[str, str]) -> None:
        """Let it happen, and keep what is told of it."""
        getattr(self, f"_{what.replace(' ', '_')}")(count)
        kind, data = _TOLD[what]
        data = {key: names.get(value, value) if isinstance(value, str) else value for key, value in data.items()}
        if data.get("item") == names["group"]:
            data["count"] = count
        self.happened.append(Happened(len(self.happened) + 1, device, kind, data))

    def _off(self, count: int) -> None:
        self.loose -= min(count, self.loose)
        self.out += count

    def _hand(self, count: int) -> None:
        self.out, self.loose = self.out - count, self.loose + count

    def _on(self, count: int) -> None:
        self.out -= count

    def _loosen(self, count: int) -> None:
        self.loose += count

    def _tighten(self, count: int) -> None:
        self.loose -= count

    def _unplug(self, _: int) -> None:
        self.plugged, self.confirmed, self.ever_out = False, False, True

    def _plug(self, _: int) -> None:
        self.plugged = True

    def _plug_and_pull(self, _: int) -> None:
        self.plugged = self.confirmed = True

    def _pull(self, _: int) -> None:
        self.confirmed = True

    def _part_off(self, _: int) -> None:
        self.part_off, self.checked = True, False

    def _part_home(self, _: int) -> None:
        self.part_off = False

    def _check(self, _: int) -> None:
        self.checked = True

    def _go_under(self, _: int) -> None:
        self.under = True

    def _clear(self, _: int) -> None:
        self.under = False

    def _raise(self, _: int) -> None:
        self.raised = True

    def _lower(self, _: int) -> None:
        self.raised = False


_TOLD = {
    "off": ("fasteners off", {"item": "group", "to": "back in their holes"}),
    "hand": ("fasteners on", {"item": "group", **HAND}),
    "on": ("fasteners on", {"item": "group", **TIGHT}),
    "loosen": ("fasteners loosened", {"item": "group"}),
    "tighten": ("fasteners tightened", {"item": "group", "evidence": "seated"}),
    "unplug": ("item moved", {"item": "plug", "state": "unplugged"}),
    "plug": ("item moved", {"item": "plug", "state": "plugged"}),
    "plug and pull": ("item moved", {"item": "plug", "state": "plugged", "confirmed": "clicked"}),
    "pull": ("item moved", {"item": "plug", "state": "plugged", "confirmed": "held when pulled"}),
    "part off": ("item moved", {"item": "part", "state": "away"}),
    "part home": ("item moved", {"item": "part", "state": "fitted"}),
    "check": ("work done", {"work": "check"}),
    "go under": ("person went under", {"who": "technician 1"}),
    "clear": ("person came clear", {"who": "technician 1"}),
    "raise": ("car moved", {"posture": "on a lift"}),
    "lower": ("car moved", {"posture": "on the ground"}),
}


def rows(happened: list[Happened]) -> list[Row]:
    """Events in the order in which they come in."""
    opening = Happened(0, "office", "job opened", {"name": "a job"})
    return [Row(number, _event(one)) for number, one in enumerate([opening, *happened], 1)]


def _event(one: Happened) -> Event:
    at = (START + timedelta(minutes=one.minute)).strftime("%Y-%m-%dT%H:%M:%S.000Z")
    return Event(f"{one.minute:026d}", JOB, one.kind, at, f"technician on {one.device}", one.device, one.data)
