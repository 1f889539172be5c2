"""Reading a model file: text in, a Form out, or all that is wrong with it at once. docs/suspects.md teaches it."""

import re
from collections.abc import Iterable, Mapping
from math import isclose

from putback.area.notes import Notes, bounded
from putback.area.shape import Either, Named, Names, Record, Row, Several, Word, read_row, version
from putback.area.spelling import nearest
from putback.charging.quantities import QUANTITIES
from putback.errors import Findings, InputError
from putback.models.form import (
    Alike,
    Before,
    Complaint,
    Condition,
    Fault,
    Form,
    FormAction,
    FormTest,
    Known,
    Limit,
    Reading,
    Rule,
    Source,
    Sum,
)

SURE = 0.98
_NUMBER = re.compile(r"[-+]?[0-9]{1,9}(?:\.[0-9]{1,9})?")
MOST_NAMES = 200


def decimal(text: str) -> float:
    """A number as model files write them."""
    if not _NUMBER.fullmatch(text.strip()):
        raise InputError(f'"{text}" is no number; write it as in 12.4')
    return float(text)


def positive(text: str) -> float:
    """A number above 0."""
    if (value := decimal(text)) <= 0:
        raise InputError(f'"{text}" must be above 0')
    return value


def share(text: str) -> float:
    """A number from 0 to 1."""
    if not 0 <= (value := decimal(text)) <= 1:
        raise InputError(f'"{text}" is no share; write a number from 0 to 1, as in 0.35')
    return value


def yes(text: str) -> bool:
    """A plain yes or no."""
    if text not in ("yes", "no"):
        raise InputError(f'"{text}": write yes or no')
    return text == "yes"


TEXT = Word(str.strip, "words", "voltage at rest")
NUMBER = Word(decimal, "a number", "12.4", number=True)
POSITIVE = Word(positive, "a number above 0", "6", number=True)
SHARE = Word(share, "a share from 0 to 1", "0.35", number=True)
FLAG = Word(yes, "yes or no", "yes")
NAME = Named("a name", "battery worn")
NAMES = Several(NAME)
ROW = Several(NUMBER)
OUTCOMES = Names(NAMES, "words with the outcomes that they speak for", MOST_NAMES, "worn: doubtful")

CONDITION = Record(
    "a condition",
    {"of": NAME, "from": NUMBER, "to": NUMBER, "else": TEXT},
    required=("of", "else"),
)
RULE = Record(
    "a rule of judging",
    {
        "of": NAME,
        "difference": NAMES,
        "ratio": NAMES,
        "limits": ROW,
        "is": Several(Either(NAME, NAMES)),
        "blur": NUMBER,
        "words": OUTCOMES,
        "sure": SHARE,
        "counts where": CONDITION,
        "always counts": NAMES,
    },
)
TEST = Record(
    "a test",
    {
        "is": TEXT,
        "outcomes": NAMES,
        "minutes": POSITIVE,
        "waits": NUMBER,
        "needs": Several(TEXT),
        "behind": NAME,
        "asks": NAMES,
        "valid where": CONDITION,
        "judged": Several(RULE),
        "usually": ROW,
        "chances": Names(ROW, "faults with a chance of each outcome in percent", MOST_NAMES, "battery worn: [70, 30]"),
    },
    required=("is", "outcomes", "minutes", "asks", "judged"),
)
READING = Record(
    "a reading",
    {
        "is": TEXT,
        "unit": TEXT,
        "from": NUMBER,
        "to": NUMBER,
        "words": Either(TEXT, Names(Several(TEXT), "words, each with its other spellings", MOST_NAMES, "on: [yes]")),
        "any other words": FLAG,
        "not fitted": NAMES,
    },
    required=("is",),
)
VARIANT = Record("a variant", {"share": SHARE, "action": NAME}, required=("share",))
FAULT = Record(
    "a fault",
    {
        "action": NAME,
        "prior": Names(SHARE, "complaints with the share of this fault", MOST_NAMES, "goes flat: 0.35"),
        "variants": Names(VARIANT, "variants with their shares", MOST_NAMES, "slipping: {share: 0.8}"),
    },
    required=("prior",),
)
KNOWN = Names(
    Record("what lets it be", {"unless": Names(NAMES, "tests with outcomes", MOST_NAMES, "current: none")}),
    "tests",
    MOST_NAMES,
    "positive path: {}",
)
ACTION = Record(
    "an action",
    {
        "do": TEXT,
        "minutes": POSITIVE,
        "behind": NAME,
        "enough": SHARE,
        "known": KNOWN,
        "proof": Names(NAMES, "tests with the outcomes that prove it", MOST_NAMES, "current: none"),
        "first": FLAG,
        "nothing": FLAG,
    },
    required=("do", "minutes"),
)
LIMIT = Record(
    "a limit for proof",
    {
        "of": NAME,
        "from": NUMBER,
        "to": NUMBER,
        "words": NAMES,
        "counts where": CONDITION,
        "only for": NAMES,
        "says": TEXT,
    },
    required=("says",),
)
SUM = Record(
    "readings that add up",
    {"difference": NAMES, "less": NAMES, "to": NUMBER, "far": NUMBER, "why": TEXT},
    required=("difference", "less", "to", "far", "why"),
)
COMPLAINED = Record("a complaint", {"words": Several(TEXT)})
ALIKE = Record("faults alike", {"faults": NAMES, "unless": NAMES, "split by": TEXT}, required=("faults", "split by"))
MODEL = Record(
    "a model file",
    {
        "model": version("1"),
        "name": TEXT,
        "judged by": TEXT,
        "target": NAME,
        "leftover": SHARE,
        "undecided": SHARE,
        "complaints": Names(COMPLAINED, "complaints", MOST_NAMES, "goes flat: {words: [flat, slow]}"),
        "readings": Names(READING, "readings", MOST_NAMES, "rest_v: {is: battery at rest, unit: V}"),
        "faults": Names(FAULT, "faults", MOST_NAMES, "battery worn: {action: battery}"),
        "actions": Names(ACTION, "actions", MOST_NAMES, "battery: {do: fit a battery, minutes: 60}"),
        "access": Names(POSITIVE, "accesses with their minutes there and back", MOST_NAMES, "undertray: 12"),
        "tests": Names(TEST, "tests", MOST_NAMES, "charge at rest: ..."),
        "groups": Several(
            Record("a group", {"tests": NAMES, "counts as": POSITIVE}, required=("tests", "counts as"))
        ),
        "alike": Several(ALIKE),
        "before": Names(
            Record("what comes before", {"is": NAMES, "why": TEXT}, required=("is", "why")), "tests", MOST_NAMES
        ),
        "read again": Several(SUM),
        "proof": Names(LIMIT, "readings with their limits for proof", MOST_NAMES, "ripple_mv_2000: {to: 90}"),
    },
    required=("model", "name", "faults", "actions", "readings", "tests"),
)  # fmt: skip


def read_model(data: bytes | str, file: str) -> Form:
    """Read a model file.

    Parameters
    ----------
    data : bytes or str
        What the file holds; bytes must be UTF-8.
    file : str
        Its name, for the places in messages.

    Raises
    ------
    Findings
        Everything found wrong, sorted by place.
    """
    form, findings = bounded(lambda notes: _scanned(data, file, notes), file)
    if findings or form is None:
        raise Findings(findings)
    return form


def _scanned(data: bytes | str, file: str, notes: Notes) -> Form | None:
    row = read_row(MODEL, data, file, notes)
    if row is None or notes:
        return None
    notes += _unknown_names(row)
    notes += _odd_rules(row)
    if notes:
        return None
    notes += _odd_rows(row)
    return None if notes else _form(row)


# --- what is wrong --------------------------------------------------------------------------------


def _unknown_names(row: Row) -> Iterable[InputError]:
    faults = [name.name for name, _ in row["faults"]]
    actions = [name.name for name, _ in row["actions"]]
    tests = {name.name: [one.name for one in said["outcomes"]] for name, said in row["tests"]}
    readings = [name.name for name, _ in row["readings"]]
    complaints = [name.name for name, _ in row.get("complaints", ())]
    access = [name.name for name, _ in row.get("access", ())]
    sources = [*readings, *QUANTITIES]
    yield from _strange("fault", _fault_refs(row), [*faults, *_engine_names(row)])
    yield from _strange("action", _action_refs(row), actions)
    yield from _strange("complaint", (name for _, said in row["faults"] for name, _ in said["prior"]), complaints)
    behind = (said["behind"] for _, said in [*row["tests"], *row["actions"]] if "behind" in said)
    yield from _strange("access", behind, access)
    yield from _strange("reading", _reading_refs(row), readings)
    yield from _strange("reading or quantity", _source_refs(row), sources)
    yield from _strange("test", _test_refs(row), tests)
    for test, outcome in _outcome_refs(row):
        yield from _strange(f"outcome of {test}", [outcome], tests.get(test, []))
    if "target" in row:
        yield from _strange("action", [row["target"]], actions)


def _strange(kind: str, refs: Iterable, known: Iterable[str]) -> Iterable[InputError]:
    known = list(known)
    for ref in refs:
        if ref.name not in known:
            near = nearest(ref.name, known)
            advice = f'did you mean "{near}"?' if near else f"there are: {', '.join(known) or 'none'}"
            yield InputError(f'there is no {kind} "{ref.name}"; {advice}', ref.place)


def _engine_names(row: Row) -> list[str]:
    return [f"{fault.name}, {name.name}" for fault, said in row["faults"] for name, _ in said.get("variants", ())]


def _fault_refs(row: Row) -> Iterable:
    yield from (name for _, said in row["tests"] for name, _ in said.get("chances", ()))
    yield from (name for said in row.get("alike", ()) for name in said["faults"])
    yield from (name for _, said in row["readings"] for name in said.get("not fitted", ()))


def _action_refs(row: Row) -> Iterable:
    yield from (said["action"] for _, said in row["faults"] if "action" in said)
    yield from (one["action"] for _, said in row["faults"] for _, one in said.get("variants", ()) if "action" in one)
    yield from (name for _, said in row.get("proof", ()) for name in said.get("only for", ()))


def _reading_refs(row: Row) -> Iterable:
    yield from (name for _, said in row["tests"] for name in said["asks"])
    yield from (name for name, _ in row.get("proof", ()))
    yield from (name for said in row.get("read again", ()) for key in ("difference", "less") for name in said[key])
    yield from (name for rule in _rules(row) for key in ("difference", "ratio") for name in rule.get(key, ()))


def _source_refs(row: Row) -> Iterable:
    tests = [said for _, said in row["tests"]]
    for said in [*_rules(row), *(limit for _, limit in row.get("proof", ())), *tests]:
        conditions = [said[key] for key in ("counts where", "valid where") if key in said]
        yield from (one["of"] for one in [said, *conditions] if "of" in one)


def _test_refs(row: Row) -> Iterable:
    yield from (name for said in row.get("groups", ()) for name in said["tests"])
    yield from (name for said in row.get("alike", ()) for name in said.get("unless", ()))
    yield from (name for name, _ in row.get("before", ()))
    for _, said in row["actions"]:
        yield from (name for name, _ in said.get("proof", ()))
        for name, known in said.get("known", ()):
            yield name
            yield from (gate for gate, _ in known.get("unless", ()))


def _outcome_refs(row: Row) -> Iterable[tuple[str, object]]:
    for test, said in row["tests"]:
        for rule in said["judged"]:
            yield from ((test.name, one) for one in _spoken_for(rule))
    for name, said in row.get("before", ()):
        yield from ((name.name, one) for one in said["is"])
    for _, said in row["actions"]:
        yield from ((name.name, one) for name, outcomes in said.get("proof", ()) for one in outcomes)
        gates = [gate for _, known in said.get("known", ()) for gate in known.get("unless", ())]
        yield from ((name.name, one) for name, outcomes in gates for one in outcomes)


def _spoken_for(rule: Row) -> Iterable:
    yield from (one for step in rule.get("is", ()) for one in _listed(step))
    yield from (one for _, outcomes in rule.get("words", ()) for one in outcomes)
    yield from rule.get("always counts", ())


def _listed(step) -> tuple:
    return step if isinstance(step, tuple) else (step,)


def _rules(row: Row) -> list[Row]:
    return [rule for _, said in row["tests"] for rule in said["judged"]]


def _odd_rules(row: Row) -> Iterable[InputError]:
    for rule in _rules(row):
        told = [key for key in ("of", "difference", "ratio") if key in rule]
        if len(told) != 1:
            yield InputError('a rule judges one number: say "of", "difference" or "ratio", one of them', rule.place)
        for key in ("difference", "ratio"):
            if len(rule.get(key, ("", ""))) != 2:
                yield InputError(f"a {key} is of two readings", rule.places[key])
        limits = rule.get("limits", ())
        if list(limits) != sorted(set(limits)):
            yield InputError("limits rise from the first to the last", rule.places["limits"])
        if ("words" in rule) == ("limits" in rule):
            yield InputError('a rule has "limits" with "is", or "words"', rule.place)
        elif "limits" in rule and len(rule.get("is", ())) != len(rule["limits"]) + 1:
            many = len(rule["limits"])
            yield InputError(f'{many} limits make {many + 1} steps; "is" names as many', rule.place)


def _odd_rows(row: Row) -> Iterable[InputError]:
    names = {name.name for name, _ in row["faults"]}
    for test, said in row["tests"]:
        rows = [(said.places["usually"], said["usually"])] if "usually" in said else []
        rows += [(name.place, chances) for name, chances in said.get("chances", ())]
        for place, chances in rows:
            yield from _odd_row(place, chances, len(said["outcomes"]))
        told = {name.name.partition(", ")[0] for name, _ in said.get("chances", ())}
        if "usually" not in said and names - told:
            lacking = ", ".join(sorted(names - told))
            yield InputError(f'{test.name} has no row for {lacking}; give them, or "usually"', test.place)
    for complaint, _ in row.get("complaints", ()):
        told = [part for _, said in row["faults"] for name, part in said["prior"] if name.name == complaint.name]
        if not sum(told) > 0:
            yield InputError(f'no fault has a share under "{complaint.name}"', complaint.place)
    for fault, said in row["faults"]:
        yield from _odd_fault(fault, said)


def _odd_row(place, chances: tuple, outcomes: int) -> Iterable[InputError]:
    if len(chances) != outcomes:
        yield InputError(f"{len(chances)} chances for {outcomes} outcomes", place)
    elif min(chances) < 0 or not isclose(sum(chances), 100, abs_tol=0.5):
        yield InputError(f"chances are 0 or more and sum to 100 percent; these sum to {sum(chances):g}", place)


def _odd_fault(fault, said: Row) -> Iterable[InputError]:
    variants = [one for _, one in said.get("variants", ())]
    if variants and not isclose(sum(one["share"] for one in variants), 1, abs_tol=0.005):
        yield InputError(f"the shares of the variants of {fault.name} do not sum to 1", fault.place)
    if "action" not in said and not (variants and all("action" in one for one in variants)):
        yield InputError(f'{fault.name} needs "action": what mends it', fault.place)


# --- putting it together --------------------------------------------------------------------------


def _form(row: Row) -> Form:
    faults = {name.name: _fault(name.name, said) for name, said in row["faults"]}
    return Form(
        name=row["name"],
        target=row["target"].name if "target" in row else row["actions"][0][0].name,
        leftover=row.get("leftover", 0.03),
        undecided=row.get("undecided", 0.6),
        complaints=tuple(_complaint(name.name, said, row) for name, said in row.get("complaints", ())),
        readings={name.name: _reading(name.name, said) for name, said in row["readings"]},
        faults=faults,
        actions={name.name: _action(name.name, said) for name, said in row["actions"]},
        tests={name.name: _test(name.name, said, faults) for name, said in row["tests"]},
        groups=tuple((_plain(said["tests"]), said["counts as"]) for said in row.get("groups", ())),
        access={name.name: minutes for name, minutes in row.get("access", ())},
        alike=tuple(_alike(said) for said in row.get("alike", ())),
        before=tuple(Before(name.name, _plain(said["is"]), said["why"]) for name, said in row.get("before", ())),
        sums=tuple(_sum(said) for said in row.get("read again", ())),
        limits=tuple(_limit(*one) for one in row.get("proof", ())),
    )


def _plain(refs: Iterable) -> tuple[str, ...]:
    return tuple(ref.name for ref in refs)


def _by_name(pairs: Iterable) -> dict[str, tuple[str, ...]]:
    return {name.name: _plain(refs) for name, refs in pairs}


def _fault(name: str, said: Row) -> Fault:
    variants = [(one.name, part) for one, part in said.get("variants", ())] or [("", {"share": 1.0})]
    return Fault(name, {one: (part["share"], (part.get("action") or said["action"]).name) for one, part in variants})


def _complaint(name: str, said: Row, row: Row) -> Complaint:
    prior = {fault.name: dict((one.name, part) for one, part in told["prior"]) for fault, told in row["faults"]}
    return Complaint(name, said.get("words", ()), {fault: parts.get(name, 0.0) for fault, parts in prior.items()})


def _reading(name: str, said: Row) -> Reading:
    words = said.get("words", ())
    spellings = {} if isinstance(words, str) else {word.name: word.name for word, _ in words}
    spellings |= {} if isinstance(words, str) else {text.lower(): word.name for word, texts in words for text in texts}
    limits = (said.get("from", 0.0), said.get("to", 0.0))
    free = said.get("any other words", False)
    return Reading(name, said["is"], said.get("unit", ""), *limits, spellings, free, _plain(said.get("not fitted", ())))


def _test(name: str, said: Row, faults: Mapping[str, Fault]) -> FormTest:
    told = {one.name: chances for one, chances in said.get("chances", ())}
    rows = {}
    for fault in faults.values():
        for engine in fault.engine_names():
            row = told.get(engine) or told.get(fault.name) or said["usually"]
            rows[engine] = tuple(chance / sum(row) for chance in row)
    return FormTest(
        name=name,
        what=said["is"],
        outcomes=_plain(said["outcomes"]),
        rules=tuple(_rule(rule) for rule in said["judged"]),
        minutes=said["minutes"],
        asks=_plain(said["asks"]),
        waits=said.get("waits", 0.0),
        needs=said.get("needs", ()),
        behind=said["behind"].name if "behind" in said else None,
        valid=_condition(said.get("valid where")),
        chances=rows,
    )


def _source(said: Row) -> Source:
    kind = next(key for key in ("of", "difference", "ratio") if key in said)
    return Source(kind, (said["of"].name,) if kind == "of" else _plain(said[kind]))


def _rule(said: Row) -> Rule:
    return Rule(
        source=_source(said),
        limits=said.get("limits", ()),
        steps=tuple(_plain(_listed(step)) for step in said.get("is", ())),
        blur=said.get("blur", 0.0),
        words=_by_name(said.get("words", ())),
        sure=said.get("sure", SURE),
        condition=_condition(said.get("counts where")),
        always=_plain(said.get("always counts", ())),
    )


def _condition(said: Row | None) -> Condition | None:
    if said is None:
        return None
    return Condition(_source(said), said.get("from", float("-inf")), said.get("to", float("inf")), said["else"])


def _action(name: str, said: Row) -> FormAction:
    known = tuple(Known(test.name, _by_name(one.get("unless", ()))) for test, one in said.get("known", ()))
    return FormAction(
        name=name,
        do=said["do"],
        minutes=said["minutes"],
        behind=said["behind"].name if "behind" in said else None,
        enough=said.get("enough", 0.8),
        known=known,
        proof=tuple(_by_name(said.get("proof", ())).items()),
        first=said.get("first", False),
        nothing=said.get("nothing", False),
    )


def _alike(said: Row) -> Alike:
    return Alike(_plain(said["faults"]), _plain(said.get("unless", ())), said["split by"])


def _sum(said: Row) -> Sum:
    return Sum(_plain(said["difference"]), _plain(said["less"]), said["to"], said["far"], said["why"])


def _limit(name, said: Row) -> Limit:
    return Limit(
        reading=name.name,
        source=_source(said) if "of" in said else Source("of", (name.name,)),
        low=said.get("from", float("-inf")),
        high=said.get("to", float("inf")),
        words=_plain(said.get("words", ())),
        condition=_condition(said.get("counts where")),
        only_for=_plain(said.get("only for", ())),
        says=said["says"],
    )
