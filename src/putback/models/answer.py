"""What a set of readings says: what to do, whether a part may be ordered now, what is possible, what to read next."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from putback.errors import InputError
from putback.models.engine import Prices, absent, engine_model, engine_names, merged
from putback.models.form import NOT_FITTED, Form, FormAction, FormTest
from putback.models.judge import Judged, holds, judge, leading
from putback.suspects import Choice, Decision, Model, capped, decide, next_tests, shares

MORE = "more readings"
GO, NOT_YET, NOT_THIS = "go", "not yet", "not this part"
CLEARED = 0.05  # judgement: the share below which a part counts as cleared
NEARLY = 0.8  # judgement: the part of the best worth from which on a test counts as nearly as good
TOLD = 3  # tests worth doing next that are told
STANDS = 0.03  # share from which a suspect is worth telling apart


@dataclass(frozen=True)
class Next:
    """A test worth doing next.

    Attributes
    ----------
    test : str
    worth : float
        Minutes that it is expected to save until the car is right, its own taken off.
    minutes : float
        Of attention, access there and back included.
    waits : float
        Minutes of waiting besides.
    why : str
    """

    test: str
    worth: float
    minutes: float
    waits: float
    why: str


@dataclass(frozen=True)
class Answer:
    """What a set of readings says.

    Attributes
    ----------
    action : str
        One of the model's, or "more readings".
    verdict : str
        "go": the part that the action names may be ordered and reached now. "not this part": the target is cleared, the
        fault lies elsewhere. "not yet": neither.
    posterior : dict of str to float
        Of each fault, and of what is not in the list.
    shares : dict of str to float
        Of each action.
    sets : tuple of tuple of str
        Faults that these readings cannot tell apart.
    next : tuple of Next
    missing : tuple of str
        Readings that matter and are not there, or do not count.
    again : tuple of str
        Readings to take again, because they contradict each other.
    why : tuple of str
        What stands against going on, or what was concluded, each a clause.
    silent : dict of str to str
        Tests whose readings say nothing, and why.
    target : str
        The action whose part was in question.
    """

    action: str
    verdict: str
    posterior: Mapping[str, float]
    shares: Mapping[str, float]
    sets: tuple[tuple[str, ...], ...]
    next: tuple[Next, ...]
    missing: tuple[str, ...]
    again: tuple[str, ...]
    why: tuple[str, ...]
    silent: Mapping[str, str]
    target: str


def answer(
    form: Form,
    readings: Mapping[str, object],
    target: str | None = None,
    prices: Prices | None = None,
    opened: Iterable[str] = (),
    ahead: int = 2,
) -> Answer:
    """What a set of readings says.

    Parameters
    ----------
    form : Form
        The model.
    readings : dict of str to number or str
        What was read, as `read_readings` gives it.
    target : str, optional
        The action whose part is in question; the model's own where it is left out.
    prices : Prices, optional
        Costs in place of the model's own.
    opened : iterable of str
        Accesses that are open already.
    ahead : int
        How many tests to look ahead, 1 or 2.

    Raises
    ------
    InputError
        The model has no such action.
    """
    target = form.target if target is None else target
    if target not in form.actions:
        raise InputError(f'the model "{form.name}" has no action "{target}"; there are: {", ".join(form.actions)}')
    model = engine_model(form, _said(readings), prices or Prices())
    judged = judge(form, readings)
    costs, alike = _costs(form, readings, judged), _alike(form, judged)
    without = absent(form, readings)
    decision = decide(model, judged.evidence, costs, without, alike, opened, ahead)
    alone = next_tests(model, judged.evidence, costs, without, 1, opened) if ahead > 1 else decision.next
    decision = replace(decision, next=_told_first(decision.next, alone))
    return _answer(form, model, readings, judged, decision, target)


def _told_first(choices: Sequence[Choice], alone: Sequence[Choice]) -> tuple[Choice, ...]:
    """Tests in their order, but of those that are nearly as good as the best first what says most by itself.

    Looking two tests ahead, any cheap one is good that can be followed by the one that decides.
    """
    by_itself = {choice.test: choice.worth for choice in alone}
    good = NEARLY * max((choice.worth for choice in choices), default=0.0)
    near = [choice for choice in choices if choice.worth > 0 and choice.worth >= good]
    near.sort(key=lambda choice: -round(by_itself[choice.test], 9))
    return (*near, *(choice for choice in choices if choice not in near))


def _said(readings: Mapping[str, object]) -> str | None:
    said = readings.get("complaint")
    return said if isinstance(said, str) else None


def _costs(form: Form, readings: Mapping[str, object], judged: Judged) -> dict[str, float]:
    """The tests that can be had, with their minutes."""
    tests = (test for test in form.tests.values() if test.name not in judged.evidence)
    return {test.name: test.minutes for test in tests if _can_be_had(test, readings, judged)}


def _can_be_had(test: FormTest, readings: Mapping[str, object], judged: Judged) -> bool:
    asked = [readings.get(name) for name in test.asks]
    return NOT_FITTED not in asked and (test.name in judged.silent or None in asked)


def _alike(form: Form, judged: Judged) -> list[tuple[str, ...]]:
    """Faults told to be alike, by the names they are weighed under, as long as nothing was read that parts them."""
    return [
        tuple(engine for name in one.faults for engine in engine_names(form, name))
        for one in form.alike
        if not any(test in judged.evidence for test in one.unless)
    ]


def _answer(
    form: Form, model: Model, readings: Mapping[str, object], judged: Judged, decision: Decision, target: str
) -> Answer:
    sets = _sets(form, decision)
    likely = capped(merged(form, decision.posterior), sets)
    sets = tuple(one for one in sets if sum(likely[name] >= STANDS for name in one) > 1)
    share = shares(model, decision.posterior)
    sums = _sums(form, readings)
    best = max(share, key=share.__getitem__)
    unsure = not judged.evidence or share[best] < form.undecided or any(far for _, _, far in sums)
    missing = _missing(form, form.actions[best], readings, judged) if not unsure else ()
    against = () if unsure else _against(form, form.actions[best], judged, decision, missing, sums)
    action = MORE if unsure else best
    verdict = _verdict(form, action, target, share, against)
    steps = _next(model, form, decision, share)
    if action == MORE:
        against = (*(why for _, why, _ in sums), *_undecided(share, form))
    if verdict == NOT_YET:
        asked = (name for step in steps if step.worth > 0 for name in form.tests[step.test].asks)
        missing = tuple(dict.fromkeys([*missing, *(name for name in asked if name not in readings)]))
    again = (*(name for names, _, _ in sums for name in names), *_asked(form, decision.again, readings))
    return Answer(
        action=action,
        verdict=verdict,
        posterior=likely,
        shares=share,
        sets=sets,
        next=() if verdict == GO else steps,
        missing=missing if verdict != NOT_THIS else (),
        again=tuple(dict.fromkeys(again)),
        why=against,
        silent=judged.silent,
        target=target,
    )


def _sets(form: Form, decision: Decision) -> tuple[tuple[str, ...], ...]:
    """Sets by the names of faults; variants of one fault are no set."""
    of = {engine: name for name in form.faults for engine in engine_names(form, name)}
    named = [tuple(dict.fromkeys(of[engine] for engine in one)) for one in decision.sets]
    return tuple(dict.fromkeys(one for one in named if len(one) > 1))


def _sums(form: Form, readings: Mapping[str, object]) -> list[tuple[tuple[str, ...], str, bool]]:
    """Readings that do not add up: their names, why, and whether by so much that nothing may be concluded."""
    found = []
    for one in form.sums:
        names = (*one.difference, *one.less)
        values = [readings.get(name) for name in names]
        if all(isinstance(value, float) for value in values):
            off = abs(values[0] - values[1] - sum(values[2:]))
            if off > one.most + 1e-9:
                found.append((names, f"{one.why}: {off:.2f} V is not explained; read again", off > one.far))
    return found


def _missing(form: Form, action: FormAction, readings: Mapping[str, object], judged: Judged) -> tuple[str, ...]:
    tests = (form.tests[known.test] for known in action.known if not _excused(form, known.unless, judged))
    names = (name for test in tests if not _was_read(test, readings, judged) for name in _lacking(test, readings))
    return tuple(dict.fromkeys(names))


def _excused(form: Form, unless: Mapping[str, tuple[str, ...]], judged: Judged) -> bool:
    return any(_reads(form, test, outcomes, judged) for test, outcomes in unless.items())


def _reads(form: Form, test: str, outcomes: Sequence[str], judged: Judged) -> bool:
    return test in judged.evidence and leading(form.tests[test], judged.evidence[test]) in outcomes


def _was_read(test: FormTest, readings: Mapping[str, object], judged: Judged) -> bool:
    told = [readings.get(name) for name in test.asks]
    if NOT_FITTED in told:
        return True
    return None not in told and test.name in judged.evidence and holds(test.valid, readings)


def _lacking(test: FormTest, readings: Mapping[str, object]) -> list[str]:
    """What of a test is not there; where all is there, all of it does not count."""
    return [name for name in test.asks if name not in readings] or [*test.asks]


def _against(
    form: Form, action: FormAction, judged: Judged, decision: Decision, missing: Sequence[str], sums: Sequence
) -> tuple[str, ...]:
    """What stands against doing it now."""
    before = [] if action.first else [one.why for one in form.before if _reads(form, one.test, one.outcomes, judged)]
    lacking = [f"not read, or not so that it counts: {', '.join(missing)}"] if missing else []
    return (*before, *lacking, *(why for _, why, _ in sums), *decision.why)


def _verdict(form: Form, action: str, target: str, share: Mapping[str, float], against: Sequence[str]) -> str:
    if action == MORE:
        return NOT_YET
    if action == target:
        return NOT_YET if against else GO
    if form.actions[action].first or share[target] > CLEARED:
        return NOT_YET
    return NOT_THIS


def _undecided(share: Mapping[str, float], form: Form) -> Iterable[str]:
    first, second = sorted(share, key=lambda name: -share[name])[:2]
    if share[first] < form.undecided:
        yield f"{first} is {share[first]:.0%} likely and {second} {share[second]:.0%}: that is not enough to act on"


def _asked(form: Form, tests: Iterable[str], readings: Mapping[str, object]) -> list[str]:
    return [name for test in tests for name in form.tests[test].asks if name in readings]


def _next(model: Model, form: Form, decision: Decision, share: Mapping[str, float]) -> tuple[Next, ...]:
    worth = [choice for choice in decision.next if choice.worth > 0][:TOLD] or [*decision.next[:1]]
    return tuple(_step(model, form, choice, decision) for choice in worth)


def _step(model: Model, form: Form, choice: Choice, decision: Decision) -> Next:
    test = form.tests[choice.test]
    return Next(choice.test, round(choice.worth, 1), round(choice.cost, 1), test.waits, _parts(model, test, decision))


def _parts(model: Model, test: FormTest, decision: Decision) -> str:
    """Which two actions a test tells apart best, among those that still stand."""
    share = shares(model, decision.posterior)
    rows = {
        action.name: _row(test, action.cures, decision.posterior)
        for action in model.actions
        if share[action.name] >= STANDS
    }
    pairs = [(one, other) for one in rows for other in rows if share[one] > share[other]]
    if not pairs:
        return "to be sure"
    one, other = max(pairs, key=lambda pair: share[pair[0]] * share[pair[1]] * _apart(rows[pair[0]], rows[pair[1]]))
    return f"it tells {one} ({share[one]:.0%}) from {other} ({share[other]:.0%})"


def _row(test: FormTest, faults: Sequence[str], likely: Mapping[str, float]) -> list[float]:
    total = sum(likely[fault] for fault in faults)
    columns = zip(*(test.chances[fault] for fault in faults), strict=True)
    weights = [likely[fault] for fault in faults]
    return [sum(chance * weight for chance, weight in zip(column, weights, strict=True)) / total for column in columns]


def _apart(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(abs(a - b) for a, b in zip(one, other, strict=True)) / 2
