"""The rows of a pasted table, judged on their way in and written as an area file takes them."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches

from putback.torque.finding import Finding, worst
from putback.torque.judge import Judgement, judge
from putback.torque.pasted import Row
from putback.torque.threads import Thread
from putback.units import Tightening


@dataclass(frozen=True)
class Known:
    """What an area knows of one of its fasteners.

    Parameters
    ----------
    thread : Thread, optional
    property_class : str, optional
    words : str
        What it is, as a fastener line begins: ``2 x M8x30 bolt, class 8.8``
    tightening : Tightening, optional
        What the area has it tightened to
    """

    thread: Thread | None = None
    property_class: str | None = None
    words: str = "fastener"
    tightening: Tightening | None = None


@dataclass(frozen=True)
class Judged:
    """A row with what is to be thought of it.

    Parameters
    ----------
    row : Row
        Its name as the area has it, where the area has it
    judgement : Judgement
    known : Known, optional
        What the area knows of the fastener
    """

    row: Row
    judgement: Judgement
    known: Known | None = None


def judge_rows(rows: tuple[Row, ...], area: Mapping[str, Known] | None = None) -> tuple[Judged, ...]:
    """Judge each row against its thread and class.

    Parameters
    ----------
    rows : tuple of Row
    area : mapping of str to Known, optional
        The fasteners that there are, by name; thread and class of the row go before theirs

    Returns
    -------
    judged : tuple of Judged
    """
    return tuple(_judged(row, area) for row in rows)


def _judged(row: Row, area: Mapping[str, Known] | None) -> Judged:
    name, near = nearest(row.name, area or {})
    known = area[name] if name else None
    thread = row.thread or (known.thread if known else None)
    grade = row.property_class or (known.property_class if known and thread == known.thread else None)
    judgement = judge(row.tightening, thread=thread, property_class=grade)
    found = [_not_judged() if one.code == "nothing-known" else one for one in judgement.findings]
    found += _differs(row, known)
    if area is not None and known is None:
        found.append(_not_there(row.name, near))
    judgement = replace(judgement, findings=tuple(found), verdict=worst(found))
    return Judged(replace(row, name=name or row.name), judgement, known)


def _not_judged() -> Finding:
    return Finding("not-judged", "fine", "No thread and class: held against nothing.")


def _not_there(name: str, near: str | None) -> Finding:
    offer = f'; did you mean "{near}"?' if near else ""
    return Finding("name-not-known", "ask", f'The area has no fastener "{name}"{offer}')


def _differs(row: Row, known: Known | None) -> list[Finding]:
    """Thread, class and torque of the sheet against those of the area."""
    if known is None:
        return []
    found = []
    if row.thread and known.thread and row.thread != known.thread:
        words = f"The sheet has {row.thread.name} here, the area {known.thread.name}."
        found.append(Finding("thread-differs", "ask", words))
    if row.property_class and known.property_class and row.property_class != known.property_class:
        words = f"The sheet has class {row.property_class} here, the area {known.property_class}."
        found.append(Finding("class-differs", "ask", words))
    if known.tightening and not _same(row.tightening, known.tightening):
        words = f"The sheet has {row.tightening.text} here, the area {known.tightening.text}: which is right?"
        found.append(Finding("torque-differs", "ask", words))
    return found


def _same(one: Tightening, two: Tightening) -> bool:
    """Whether two tell the same, as nearly as figures are rounded on their way from unit to unit."""
    ours, theirs = ([*told.stages, *told.angles] for told in (one, two))
    return len(ours) == len(theirs) and all(abs(a - b) <= 0.01 * b for a, b in zip(ours, theirs, strict=True))


def nearest(name: str, known: Mapping[str, Known]) -> tuple[str | None, str | None]:
    """The name of a fastener that a row means.

    Parameters
    ----------
    name : str
        As the row has it
    known : mapping of str to Known
        The fasteners that there are

    Returns
    -------
    same, near : str or None
        The one that is the same but for capitals and blanks; else the one that is nearest
    """
    plain = {_plain(one): one for one in known}
    if same := plain.get(_plain(name)):
        return same, None
    near = get_close_matches(_plain(name), sorted(plain), 1, 0.6)
    return None, plain[near[0]] if near else None


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


def area_line(judged: Judged, source: str) -> str:
    """One line for the `held by` of an area file; behind a # what the file has no form for, or what is not fine.

    Parameters
    ----------
    judged : Judged
    source : str
        Where the figures come from, such as ``maker's page 31-4``; empty where that is not said

    Returns
    -------
    line : str
    """
    row, told = judged.row, judged.row.tightening
    if told.final is None:
        return f"# {row.name}: {told.text} (an angle: write it as a caution)"
    what, remark = _what(judged)
    if re.search(r"[,:#]", source):
        fields = {"is": what, "torque": phrase(told), "source": source}
        value = "{" + ", ".join(f"{key}: {_quoted(text)}" for key, text in fields.items()) + "}"
    else:
        value = ", ".join([what, phrase(told), *([f"source {source}"] if source else [])])
    ready = "" if judged.judgement.verdict == "fine" else "# "
    return f"{ready}{_name(row.name)}: {value}{remark}"


def _what(judged: Judged) -> tuple[str, str]:
    """What is fastened, as a fastener line begins, and a remark for what the line has no words for."""
    row = judged.row
    if judged.known:
        return judged.known.words, ""
    if row.thread is None:
        return "fastener", ""
    if row.thread.inch:
        grade = f", grade {row.property_class}" if row.property_class else ""
        return "fastener", f"  # {row.thread.name}{grade}"
    return f"{row.thread.name} bolt" + (f", class {row.property_class}" if row.property_class else ""), ""


def phrase(tightening: Tightening) -> str:
    """A torque as a fastener line takes it: without commas.

    Parameters
    ----------
    tightening : Tightening

    Examples
    --------
    >>> from putback.units import read_tightening
    >>> phrase(read_tightening("12,5 Nm, 90°"))
    '12.5 Nm then 90°'
    """
    decimal = re.sub(r"(?<=\d),(?=\d)", ".", tightening.text)
    return re.sub(r"\s*,\s*", " then ", decimal)


def _name(name: str) -> str:
    return (
        name
        if re.fullmatch(r"[^\W\d_][\w .()/+-]*", name) and name.lower() not in ("null", "true", "false")
        else _quoted(name)
    )


def _quoted(text: str) -> str:
    """In the quotes that YAML shares with JSON."""
    return json.dumps(text, ensure_ascii=False)
