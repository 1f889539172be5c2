"""What readings say of the suspects, as sentences and as JSON."""

import json
import textwrap
from collections.abc import Iterable, Mapping

from putback.models.answer import GO, MORE, NOT_THIS, Answer
from putback.models.form import Form

WIDTH = 80
BAR = 20  # signs of a bar that stands for 100 %
TOLD = 6  # faults that are told
LEAST = 0.01
VERDICTS = {GO: "GO", NOT_THIS: "NOT THIS PART", "not yet": "NOT YET"}


def answer_json(found: Answer) -> dict:
    """The answer by the keys that docs/suspects.md tells.

    Parameters
    ----------
    found : Answer
    """
    return {
        "action": found.action,
        "verdict": found.verdict,
        "posterior": {fault: round(share, 6) for fault, share in found.posterior.items()},
        "sets": [list(one) for one in found.sets],
        "next": [
            {"test": one.test, "worth": one.worth, "minutes": one.minutes, "why": _next_why(one)} for one in found.next
        ],
        "missing": list(dict.fromkeys([*found.missing, *found.again])),
    }


def _next_why(one) -> str:
    return f"{one.why}, after {one.waits:g} min of waiting" if one.waits else one.why


def answer_lines(form: Form, found: Answer) -> list[str]:
    """The answer as sentences, in 80 columns.

    Parameters
    ----------
    form : Form
        The model it is by.
    found : Answer
    """
    blocks = [
        _wrapped(_sentence(form, found)),
        _listed("", found.why) if found.verdict != GO else [],
        ["", "WHAT IS STILL POSSIBLE", *_bars(found.posterior)],
        *(_wrapped(f"Not told apart by these readings: {', '.join(one)}.", "  ") for one in found.sets),
        _listed("READ NEXT", (_next_line(form, one) for one in found.next)),
        _listed("MISSING", (_named(form, name) for name in found.missing)),
        _listed("READ AGAIN", (_named(form, name) for name in found.again)),
        _listed("SAYS NOTHING", (f"{test}: {why}" for test, why in found.silent.items())),
    ]
    return [line for block in blocks for line in block]


def _sentence(form: Form, found: Answer) -> str:
    if found.action == MORE:
        return f"NOT YET: more readings are needed before anything is done about the {found.target}."
    do = form.actions[found.action].do
    match found.verdict:
        case "go":
            return f"GO: {do}."
        case "not this part":
            return f"NOT THIS PART: the {found.target} is cleared. What to do: {do}."
    if found.action == found.target:
        return f"NOT YET: the {found.target} is the likeliest, and must not be ordered on this."
    return f"NOT YET: {do}. The {found.target} waits until then."


def _bars(posterior: Mapping[str, float]) -> Iterable[str]:
    likely = sorted((item for item in posterior.items() if item[1] >= LEAST), key=lambda item: -item[1])[:TOLD]
    widest = max(len(fault) for fault, _ in likely)
    for fault, share in likely:
        yield f"  {fault:<{widest}}  {share:4.0%}  {'#' * round(share * BAR)}".rstrip()


def _next_line(form: Form, one) -> str:
    test = form.tests[one.test]
    needs = f"; needs {', '.join(test.needs)}" if test.needs else ""
    waits = f" and {one.waits:g} min of waiting" if one.waits else ""
    return f"{test.what} ({one.minutes:g} min{waits}{needs}): {one.why}"


def _named(form: Form, name: str) -> str:
    return f"{name}: {form.readings[name].what}"


def _listed(head: str, lines: Iterable[str]) -> list[str]:
    told = [line for one in lines for line in _wrapped(one, "  ")]
    return [*(["", head] if head else []), *told] if told else []


def _wrapped(text: str, indent: str = "") -> list[str]:
    after = indent + ("  " if indent else "")
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=after, break_on_hyphens=False)


def names_lines(form: Form) -> Iterable[str]:
    """What can be read for a model: name, meaning, and its unit or its words.

    Parameters
    ----------
    form : Form
    """
    widest = max(map(len, form.readings))
    for one in form.readings.values():
        said = one.unit or " / ".join(one.choices) or "in your own words"
        text, after = f"{one.name:<{widest}}  {one.what} [{said}]", " " * (widest + 2)
        yield from textwrap.wrap(text, WIDTH, subsequent_indent=after, break_on_hyphens=False)


def names_json(form: Form) -> str:
    """The same as one JSON object by the names of the readings; see `names_lines` for `form`."""
    told = {
        one.name: {"what": one.what, "unit": one.unit, "words": list(one.choices), "any": one.free}
        for one in form.readings.values()
    }
    return json.dumps(told, ensure_ascii=False)
