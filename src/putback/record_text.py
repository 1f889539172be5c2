"""The record of a job in words for the terminal, made of the same values as its JSON."""

from collections.abc import Iterable, Iterator
from typing import Any

from putback.job_text import folded, section


def record_lines(record: dict[str, Any]) -> Iterator[str]:
    """The whole record; what is empty is not named.

    Parameters
    ----------
    record : dict
        As `putback.job.record.record` makes it.
    """
    job, signature = record["job"], record["signature"]
    yield from folded(", ".join(one for one in (job["name"], job["vehicle"]) if one))
    yield "NOT HANDED OVER YET: this is a draft" if signature is None else _signed(signature)
    for title, lines in record_sections(record):
        yield from section(title, lines)


def record_sections(record: dict[str, Any]) -> Iterator[tuple[str, list[str]]]:
    """The parts of a record by heading, each with its sentences; what is empty is left out.

    Parameters
    ----------
    record : dict
        As `putback.job.record.record` makes it.
    """
    for title, told in _sections(record):
        if lines := list(told):
            yield title, lines


def _signed(signature: dict) -> str:
    customer = f", to {signature['customer']}" if signature.get("customer") else ""
    return f"handed over {signature['at'][:16].replace('T', ' ')} UTC by {signature['by']}{customer}"


def _sections(record: dict) -> Iterator[tuple[str, Iterable[str]]]:
    yield "CAME IN WITH", _intake(record["intake"])
    yield "READINGS", map(_reading, record["readings"])
    yield "WHAT THE READINGS SAID", _verdict(record["verdict"])
    yield "THE WAY", [f"{one['part']}: {one['way']}" for one in record["way"]["taken"]]
    yield "OPENED", [one["item"] if one["back_at"] else f"{one['item']}: {one['stands']}" for one in record["opened"]]
    yield "FASTENERS", map(_fastener, record["fasteners"])
    yield "PARTS", [f"{one['part']}: replaced" for one in record["parts"] if one["swapped"]]
    yield "OLD AND NEW", map(_match, record["match"])
    yield "FLUIDS", [f"{one['fluid']}: {one['out_l']:g} l out, {one['in_l']:g} l in" for one in record["fluids"]]
    yield "WORK", [f"{one['work']}{_because(one['result'])} ({one['person']})" for one in record["work"]]
    yield "TO BE CHECKED AGAIN", map(_slip, record["slips"])
    yield "THE CAR DIFFERED", [f"{one['item']}: {one['what']}{_because(one['note'])}{_because(one['settled'])}" for one in record["deviations"]]
    yield "ANSWERED FOR BY NAME", [f"{one['point']}: {one['by']}, {one['reason']}" for one in record["accepted"]]
    yield "AGREED", [f"{one['to']}: {one['by']}" for one in record["consents"]]
    yield "REMARKS", record["remarks"]
    yield "PEOPLE", [f"{one['person']}: {one['steps']} steps" for one in record["people"]]
    if record["signature"]:
        yield "THE LOG BEHIND IT", [f"hash {record['signature']['hash']}"]


def _because(text: str | None) -> str:
    return f": {text}" if text else ""


def _intake(said: dict) -> Iterator[str]:
    if said["complaint"]:
        yield said["complaint"]
    if said["kilometres"] is not None:
        yield f"{said['kilometres']:g} km"
    for name in ("lamps_on", "stored_codes", "damage"):
        if said[name]:
            yield f"{name.replace('_', ' ')}: {', '.join(said[name])}"


def _reading(one: dict) -> str:
    sides = [f"{when} {_read(one[when])}{_judged(one[when])}" for when in ("before", "after") if one[when]]
    wanted = [f"wanted {one['wanted']}"] if one["wanted"] else []
    return f"{one['what']}: {', '.join(sides + wanted)}"


def _read(one: dict) -> str:
    figure = [] if one["value"] is None else [f"{one['value']:g} {one['unit']}"]
    return ", ".join([*figure, *([one["word"]] if "word" in one else [])])


def _verdict(said: dict | None) -> Iterator[str]:
    if said is None:
        return
    share = f", {said['share']:.0%} likely" if said["share"] is not None else ""
    yield f"{said['verdict']}: {said['action']}{share} ({said['person']})"
    yield from said["why"]
    if said["excluded"]:
        yield f"excluded, each below 1 in 100: {', '.join(said['excluded'])}"


def _judged(one: dict) -> str:
    return {True: " (good)", False: " (NOT GOOD)"}.get(one["good"], "")


def _fastener(one: dict) -> str:
    torque = f", {one['torque_nm']:g} N·m" if one["torque_nm"] is not None else ""
    angle = f" + {one['angle_deg']:g}°" if one["angle_deg"] is not None else ""
    new = ", new" if one["new"] else ", cleaned" if one["cleaned"] else ""
    evidence = f", {one['evidence']}" if one["evidence"] else f", {one['stands']}"
    reason = f" ({one['reason']})" if one["reason"] else ""
    who = f"; {one['person']} {one['at'][11:16]}" if one["person"] else ""
    return f"{one['count']} x {one['item']}{torque}{angle}{evidence}{reason}{new}{who}"


def _match(one: dict) -> str:
    accepted = f", accepted: {one['accepted']}" if one["accepted"] else ""
    wanted = "" if one["fits"] else f", NOT {one['wanted']}"
    return f"{one['feature']}: {one['new']}{wanted}{accepted}"


def _slip(one: dict) -> str:
    at = f", at {one['at_kilometres']:g} km" if one["at_kilometres"] is not None else ""
    asked = "; ".join(f"{each['count']} x {each['item']} {each['asked']}" for each in one["fasteners"])
    return f"{one['what']}{at}{f' ({asked})' if asked else ''}"
