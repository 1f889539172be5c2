"""What is owed when a note ends: told by its author, or due by what he did."""

from collections.abc import Iterator

from putback.capture.events import Event, Heard, Told
from putback.capture.names import likeness, plain_words

# The circuit that a line or a fluid belongs to by its words, and what is due once it was opened or drained.
_CIRCUITS = (
    (
        "coolant",
        frozenset("coolant antifreeze radiator rad heater water header bottom top thermostat stat".split()),
        "fill and bleed the cooling system",
    ),
    ("brake", frozenset("brake clutch caliper slave master".split()), "bleed the brake circuit"),
    (
        "refrigerant",
        frozenset("refrigerant gas ac a/c aircon r134a condenser evaporator".split()),
        "charge the refrigerant",
    ),
    ("steering", frozenset("pas steering rack".split()), "fill and bleed the power steering"),
    ("fuel", frozenset("fuel petrol diesel".split()), "fill or bleed the fuel system"),
    ("gear oil", frozenset("gearoil atf gearbox transmission diff differential transfer".split()), "fill the oil"),
    ("oil", frozenset("oil".split()), "fill the oil"),
)
_NO_CIRCUIT = frozenset("vacuum vac breather washer air boost turbo intake inlet vent drain overflow".split())


def follow_ups(heard: Heard) -> tuple[Told, ...]:
    """What is owed, each with where it was told.

    Parameters
    ----------
    heard : Heard
        Of a whole note
    """
    told = [one for one in heard.owed if not _done_later(one, heard)]
    return (*told, *_due(heard))


def _done_later(one: Told, heard: Heard) -> bool:
    """What was told to be owed and then told as done is not."""
    words = {*plain_words(one.what)}
    for event in heard.events:
        if event.source.start <= one.source.end:
            continue
        verb = {
            "bleed": {"bleed", "bleeding"},
            "fill": {"fill", "filling", "top", "refill"},
            "tighten": {"tighten", "torque", "tightening", "torquing"},
        }.get(event.action, set())
        if verb & words and (not one.item or likeness(one.item, event.item) >= 0.5 or event.action == "bleed"):
            return True
        if (
            one.item
            and event.action in ("fit", "tighten", "plug in", "close", "replace")
            and likeness(one.item, event.item) >= 0.9
            and not words & {"retorque", "check", "recheck"}
        ):
            return True
    return False


def _due(heard: Heard) -> Iterator[Told]:
    seen = set()
    for n, event in enumerate(heard.events):
        circuit = circuit_of(event)
        if circuit is None or circuit[0] in seen or not _opens(event):
            continue
        if not any(_closes(later, circuit[0]) for later in heard.events[n + 1 :]) and not _is_told(heard, circuit[0]):
            seen.add(circuit[0])
            yield Told(event.item, circuit[2], event.source)


def _opens(event: Event) -> bool:
    return event.action == "drain" or (event.action in ("open", "remove") and event.kind == "line")


def circuit_of(event: Event) -> tuple[str, frozenset[str], str] | None:
    """The circuit of fluid that an event belongs to, its words and what is due; None if it belongs to none.

    Parameters
    ----------
    event : Event
    """
    words = {*plain_words(event.item)}
    if words & _NO_CIRCUIT and event.kind == "line":
        return None
    return next((one for one in _CIRCUITS if words & one[1]), None)


def _closes(event: Event, circuit: str) -> bool:
    if event.action not in ("fill", "bleed"):
        return False
    other = circuit_of(event)
    return other is None or other[0] == circuit or {circuit, other[0]} <= {"oil", "gear oil"}


def _is_told(heard: Heard, circuit: str) -> bool:
    return any(
        circuit in one.what.lower() or ("bleed" in one.what.lower() and circuit in ("brake", "coolant"))
        for one in heard.owed
    )
