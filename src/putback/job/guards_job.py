"""What speaks against going on at all: a pause, a change of hands, a part that does not match, the wrong fluid."""

from collections.abc import Iterator

from putback.area.model import PUT_IN
from putback.job.accepted import is_accepted
from putback.job.asked import OFF, ON, Asked, Stop
from putback.job.audit_work import fluids_out, slack
from putback.job.match import mismatches, not_compared

AFTERWARDS = ("note added", "file added", "part returned", "reading taken", "hand-over signed")  # once the car is gone
WORK = ("item moved", "part swapped", *OFF, *ON)


def job_stops(asked: Asked) -> Iterator[Stop]:
    """Everything about the job as a whole, the swap and what is poured in.

    Parameters
    ----------
    asked : Asked
    """
    if asked.state.signed and asked.kind not in AFTERWARDS:
        by, at = asked.state.signed["by"], asked.state.signed["at"][:10]
        yield Stop("handed over", f"handed over on {at}, signed by {by}; open a new job for what is done now", hard=True)
        return
    if asked.kind in WORK or asked.kind == "engine ran":
        yield from _hands(asked)
    if asked.kind == "part swapped":
        yield from _swap(asked)
    if asked.kind == "fluid filled":
        yield from _fluid(asked)
    if asked.kind in ("person came clear", "event undone"):
        yield from _clear_by_another(asked)


def _clear_by_another(asked: Asked) -> Iterator[Stop]:
    """Who is under the car says himself that he is clear; anybody else says how he knows."""
    who = asked.data.get("who") or asked.state.went_under.get(asked.data.get("event", ""), "")
    if asked.person and who in asked.state.under and who != asked.person:
        words = f"{who} went under the car and has not said to be clear; ask {who}, or say how {asked.person} knows"
        yield Stop(f"clear: {who}", words, since=asked.state.said.get(who, 0))


def _hands(asked: Asked) -> Iterator[Stop]:
    state = asked.state
    if state.handed_to and not _makes_safe(asked):
        words = f"{state.handed_to} has not confirmed yet what stands open; until then only what makes the car safe"
        yield Stop("handed on", words, hard=True)
    elif state.paused:
        yield Stop("paused", f"the job is paused since {state.paused[0][11:16]} UTC; resume it first", hard=True)
    elif state.unconfirmed and not _makes_safe(asked):
        count = len(state.unconfirmed)
        words = f"the last {f'{count} steps have' if count > 1 else 'step has'} not been looked at again; confirm first"
        yield Stop("not confirmed again", words, since=max(step.number for step in state.steps))


def _makes_safe(asked: Asked) -> bool:
    """Whether something comes back, a support goes in, or the engine is stopped."""
    if asked.kind == "engine ran":
        return asked.data["what"] == "stopped"
    return asked.comes_back or (asked.goes_out and asked.car.kind(asked.name) == PUT_IN)


def _swap(asked: Asked) -> Iterator[Stop]:
    part, state = asked.data["part"], asked.state
    compared = state.compared.get(part, {}).get("number", 0)
    item = state.items.get(part)
    if part in state.wrong:
        note = f" ({state.wrong[part]})" if state.wrong[part] else ""
        yield Stop(f"wrong part: {part}", f"{part}: found to be the wrong one{note}; it does not go in", hard=True)
    missing = not_compared(part, state, asked.car)
    if missing and not is_accepted(f"not compared: {part}", state, compared):
        words = f"{part}: compare old and new first: {', '.join(missing)}"
        yield Stop(f"not compared: {part}", words, hard=True)
    for one in mismatches(part, state, asked.car):
        key = f"mismatch: {part}, {one.feature}"
        if not is_accepted(key, state, compared):
            words = f"{part}: {one.feature} of the new one is {one.new}, {one.wanted} wanted; do not fit it"
            yield Stop(key, words, hard=True)
    if part in asked.car.items and (item is None or item.home):
        yield Stop(f"still in: {part}", f"{part}: the old one is still in its place")


def _fluid(asked: Asked) -> Iterator[Stop]:
    name, litres = asked.data["fluid"], asked.data["litres"]
    out = fluids_out(asked.state, asked.car)
    total = asked.state.filled.get(name, 0.0) + litres
    if name not in out:
        came = f"what came out is {', '.join(out)}" if out else "nothing came out"
        yield Stop(f"fluid: {name}", f"{name}: none of it came out, {came}; look at the can before it goes in")
    elif total > out[name] + slack(out[name]):
        yield Stop(f"fluid: {name}", f"{name}: {total:g} l in, and {out[name]:g} l came out; check the level first")
