"""An event as a person would say it: one line for each kind, the same on terminal, page and paper."""

from collections.abc import Callable

from putback.job.events import Event


def event_words(event: Event) -> str:
    """What an event says, in words; a kind that is not known is named as it is.

    Parameters
    ----------
    event : Event
    """
    words = _WORDS.get(event.kind)
    told = words(event.data) if words else f"{event.kind}: {', '.join(f'{name} {said}' for name, said in event.data.items())}"
    return " / ".join(line.strip() for line in told.splitlines() if line.strip())  # a note of two lines forges no second event


def _figures(said: dict) -> str:
    """How tight, as far as it is known."""
    figure = f"{said['torque']:g} N·m" if "torque" in said else ""
    angle = f" + {said['angle']:g}°" if "angle" in said else ""
    reason = f" ({said['reason']})" if "reason" in said else ""
    wrench = f" with the {said['wrench']}" if "wrench" in said else ""
    told = said["evidence"] if not figure else f"{figure}{angle}, {said['evidence']}"
    return f"{told}{reason}{wrench}"


def _off(said: dict) -> str:
    where = f"tray {said['tray position']}" if "tray position" in said else said["to"]
    size = f", {said['size']}" if "size" in said else ""
    return f"{said['count']} x {said['item']} off{size}, {where}"


def _on(said: dict) -> str:
    new = "new, " if said["new"] else "cleaned, " if said.get("cleaned") else ""
    where = f", {said['at']}" if "at" in said else ""
    return f"{said['count']} x {said['item']} on, {new}{_figures(said)}{where}"


def _moved(said: dict) -> str:
    confirmed = f", {said['confirmed']}" if "confirmed" in said else ""
    new = f", new: {', '.join(said['new parts'])}" if "new parts" in said else ""
    way = f" by {said['way']}" if "way" in said else ""
    return f"{said['item']}: {said['state']}{way}{confirmed}{new}"


def _thing(direction: str) -> Callable[[dict], str]:
    return lambda said: f"{said.get('count', 1)} x {said['name']} ({said['what']}) {direction}: {said['where']}"


def _list(said: dict, name: str, words: str) -> str:
    return f"{words} {', '.join(said[name])}" if said.get(name) else ""


def _intake(said: dict) -> str:
    told = [
        said.get("complaint", ""),
        f"{said['kilometres']:g} km" if "kilometres" in said else "",
        _list(said, "lamps on", "lamps on:"),
        _list(said, "stored codes", "stored codes:"),
        "audio code known" if "audio code" in said else "",
        _list(said, "damage already there", "damage already there:"),
    ]
    return "intake: " + "; ".join(one for one in told if one)


def _plan(said: dict) -> str:
    money = f", {said['money'] / 100:.2f} before tax" if "money" in said else ""
    minutes = f", {said['minutes']:.0f} min" if "minutes" in said else ""
    return f"plan made{minutes}{money}{_because(said, 'why')}"


def _because(said: dict, name: str) -> str:
    return f": {said[name]}" if said.get(name) else ""


def _compared(said: dict) -> str:
    accepted = f", accepted: {', '.join(said['accepted'])}" if said.get("accepted") else ""
    return f"{said['part']}: old and new compared in {len(said['new'])} features{accepted}"


def _reading(said: dict) -> str:
    good = {True: ", good", False: ", NOT GOOD"}.get(said.get("good"), "")
    read = [f"{said['value']:g} {said['unit']}"] if "value" in said else []
    return f"{said['what']}: {', '.join([*read, *([said['word']] if 'word' in said else [])])}{good}"


def _weighed(said: dict) -> str:
    share = f" ({said['share']:.0%})" if "share" in said else ""
    why = f": {'; '.join(said['why'])}" if said.get("why") else ""
    return f"suspects weighed: {said['action']}{share}, {said['verdict']}{why}"


def _judged(said: dict) -> str:
    sides = (f"{side}: {', '.join(said[side])}" for side in ("good", "bad") if said[side])
    return f"held against the limits for proof: {'; '.join(sides) or 'nothing yet'}"


def _counted(words: str) -> Callable[[dict], str]:
    return lambda said: f"{said.get('count', 1)} x {said['part']} {words}{_because(said, 'note')}"


def _consent(said: dict) -> str:
    total = f", up to {said['total'] / 100:.2f} before tax" if "total" in said else ""
    how = f" ({said['how']})" if "how" in said else ""
    return f"{said['by']} agreed to {said['to what']}{total}{how}"


def _to(said: dict) -> str:
    return f" to {said['customer']}" if "customer" in said else ""


_WORDS: dict[str, Callable[[dict], str]] = {
    "job opened": lambda said: f"job opened: {said['name']}",
    "intake noted": _intake,
    "role given": lambda said: f"{said['who']} is {said['role']}",
    "plan made": _plan,
    "item moved": _moved,
    "fasteners loosened": lambda said: f"{said['count']} x {said['item']} broken loose",
    "fasteners off": _off,
    "fasteners on": _on,
    "fasteners tightened": lambda said: f"{said['count']} x {said['item']} tightened, {_figures(said)}",
    "part compared": _compared,
    "part swapped": lambda said: f"{said['part']}: the new one takes its place",
    "difference found": lambda said: f"{said['item']}: {said['what']}{_because(said, 'note')}",
    "difference settled": lambda said: f"{said['item']}: {said['how']}",
    "variant found": lambda said: f"this car has: {said['variant']}",
    "event undone": lambda said: f"taken back{_because(said, 'reason')}",
    "job paused": lambda said: f"paused{_because(said, 'reason')}",
    "job resumed": lambda said: "work goes on",
    "job handed on": lambda said: f"handed on to {said['to']}",
    "job taken over": lambda said: f"taken over, confirmed: {'; '.join(said['confirmed'])}",
    "steps confirmed": lambda said: f"{len(said['events'])} steps looked at again",
    "person went under": lambda said: f"{said['who']} is under the car",
    "person came clear": lambda said: f"{said['who']} is clear of the car",
    "car moved": lambda said: f"the car is {said['posture']}",
    "engine ran": lambda said: f"engine {said['what']}{_because(said, 'why')}",
    "consent given": _consent,
    "part ordered": _counted("ordered"),
    "part arrived": _counted("arrived"),
    "part found wrong": _counted("found wrong"),
    "part returned": _counted("returned"),
    "fluid drained": lambda said: f"{said['litres']:g} l {said['fluid']} out",
    "fluid filled": lambda said: f"{said['litres']:g} l {said['fluid']} in",
    "thing put in": _thing("put in"),
    "thing taken out": _thing("taken out"),
    "reading taken": _reading,
    "suspects weighed": _weighed,
    "readings judged": _judged,
    "note added": lambda said: f"{said['item']}: {said['note']}" if "item" in said else said["note"],
    "note heard": lambda said: f"a note was understood as {len(said['events'])} events",
    "file added": lambda said: f"{said.get('item', 'the job')}: {said['name']}",
    "work added": lambda said: f"more work: {said['work']}",
    "work done": lambda said: f"done: {said['work']}{_because(said, 'result')}",
    "fastener found": lambda said: f"left over: {said['count']} x {said['what']}",
    "hold point released": lambda said: f"{said['item']}: looked at and released",
    "point accepted": lambda said: f"{said['by']} answers for: {said['point']} ({said['reason']})",
    "hand-over refused": lambda said: f"hand-over refused, {len(said['reasons'])} points open",
    "hand-over signed": lambda said: f"handed over by {said['by']}{_to(said)}",
}
