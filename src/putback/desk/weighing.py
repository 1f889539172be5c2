"""Suspects of a job: its readings weighed by a fault model, and after the repair held against the limits for proof.

What was concluded is an event like any other: the guards, the steps and the audit of the job go by it, and it stays on
the record what the part was condemned by.
"""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace

from putback.area.model import CABLE, PLUG, Area
from putback.desk.planning import Thinking
from putback.desk.prices import Price, reading_price
from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.errors import InputError, NoWay, PutbackError
from putback.job.events import Event
from putback.job.ledger import Ledger
from putback.job.state import Reading
from putback.models import BUILT_IN, Answer, Proof, answer, check_reading, load, proved
from putback.models.engine import Prices
from putback.models.form import Form

TELLS = ("reading taken", "intake noted")  # events after which suspects are weighed again
KINDS = {"stud": CABLE, "cable": CABLE, "wire": CABLE, "plug": PLUG}  # how a model's access ends, and what that is
_MOST_KEPT = 256  # prices, and jobs weighed, that are remembered
MARKS = ("number", "at", "person")  # what a fold adds to what was said
_EXCLUDED = 0.01  # what is less likely than that is told as excluded (own choice, no source)
NO_UNIT = "-"  # of a figure that has none


@dataclass(frozen=True)
class Weighed:
    """What the readings of a job say.

    Attributes
    ----------
    form : Form
        The model that they were judged by.
    before, after : dict of str to float or str
        The last reading of each name of the model, before the new part went in and after.
    answer : Answer
        By the readings before.
    proofs : tuple of Proof
        Of the readings after, those that were taken before as well.
    odd : tuple of str
        Readings that cannot be so, each in a sentence; they were left out.
    behind : dict of str to str
        Readings that are wanted and lie behind an item, by their names.
    open_first : tuple of str
        What has to come off to get there.
    """

    form: Form
    before: dict[str, float | str]
    after: dict[str, float | str]
    answer: Answer
    proofs: tuple[Proof, ...]
    odd: tuple[str, ...]
    behind: dict[str, str]
    open_first: tuple[str, ...]

    @property
    def settled(self) -> bool:
        """Whether the part may come off; once the new one was read, whether the repair is proved."""
        return all(one.passes for one in self.proofs) if self.after else self.answer.verdict == "go"


def form_of(view: View, model: str | None = None) -> Form | None:
    """The model that a job's readings are judged by.

    Parameters
    ----------
    view : View
    model : str, optional
        Its name; the one used before, or the one for what the car came for, when left out.

    Raises
    ------
    InputError
        There is no model of that name.
    """
    said = model or (view.state.weighed or {}).get("model")
    if said:
        return _built_in(said)
    about = " ".join(view.state.targets).casefold()
    return next((form for form in map(load, BUILT_IN) if form.target in about), None)


def _built_in(model: str) -> Form:
    """A model that comes with the program: its name may stand in an event of anybody, so no file is opened by it."""
    if model not in BUILT_IN:
        raise InputError(f'there is no model "{model}" for a job; there are: {", ".join(BUILT_IN)}')
    return load(model)


def weigh(view: View, thinking: Thinking, model: str | None = None) -> Weighed:
    """Weigh the suspects by what was read so far.

    Parameters
    ----------
    view : View
    thinking : Thinking
        For the prices of the ways.
    model : str, optional
        As for `form_of`.

    Raises
    ------
    InputError
        No model is named, and none is known for what the car came for.
    """
    form = form_of(view, model)
    if form is None:
        raise InputError(f"{view.state.name}: name the model to go by: {', '.join(BUILT_IN)}")
    (before, odd), (after, odd_after) = _readings(view, form, "before"), _readings(view, form, "after")
    places = _places(view, form, thinking)
    found = answer(form, before, prices=_prices(view, form, places))
    behind = dict(_behind(form, found, before, places))
    opened = dict.fromkeys(part for item in behind.values() for part in _opened(places, item))
    proofs = tuple(one for one in proved(form, after, found.action) if one.reading in before)
    return Weighed(form, before, after, found, proofs, (*odd, *odd_after), behind, tuple(opened))


# What was weighed of a job stays so until another event comes in.
_WEIGHED: dict[tuple, Weighed] = {}


def weigh_kept(view: View, thinking: Thinking) -> Weighed:
    """As `weigh`, and remembered until another event comes in.

    Parameters
    ----------
    view : View
    thinking : Thinking
    """
    key = (view.id, view.state.last)
    if key not in _WEIGHED:
        found = weigh(view, thinking)
        if len(_WEIGHED) >= _MOST_KEPT:
            _WEIGHED.pop(next(iter(_WEIGHED)), None)
        _WEIGHED[key] = found
    return _WEIGHED[key]


def _readings(view: View, form: Form, when: str) -> tuple[dict, tuple[str, ...]]:
    """The last reading of each name, and what cannot be so; what the car came in with counts among those before."""
    found, odd = _intake(view, form) if when == "before" else {}, []
    for one in view.state.readings:
        name = reading_name(form, one.what)
        if name and one.when == when:
            try:
                found[name] = check_reading(form, name, _as_typed(one))
            except InputError as error:
                odd.append(str(error))
    return found, tuple(odd)


def _intake(view: View, form: Form) -> dict[str, str]:
    said = {name: value for intake in view.state.intake for name, value in intake.items()}
    codes = {"stored_code": ", ".join(said["stored codes"])} if said.get("stored codes") else {}
    told = codes | ({"complaint": said["complaint"]} if "complaint" in said else {})
    return {name: value for name, value in told.items() if name in form.readings}


def _as_typed(one: Reading) -> str:
    unit = "" if one.unit == NO_UNIT else one.unit
    return one.word or f"{one.value:.12g} {unit}".strip()


def reading_name(form: Form, what: str) -> str | None:
    """The name by which a model knows a reading; None where it does not.

    Parameters
    ----------
    form : Form
    what : str
        That name, or what people call it.
    """
    asked = what.strip().casefold()
    return next(
        (one.name for one in form.readings.values() if asked in (one.name.casefold(), one.what.casefold())), None
    )


def reading_said(form: Form | None, what: str, text: str, unit: str | None = None) -> dict:
    """What an event says of a reading that somebody types.

    Parameters
    ----------
    form : Form or None
        The model of the job.
    what : str
    text : str
        A figure, or a word for what was seen.
    unit : str, optional
        May be left out where the model knows it.

    Raises
    ------
    InputError
        The model knows the reading and it cannot be so, or it is a figure without a unit.
    """
    name = reading_name(form, what) if form else None
    if name is None:
        return _free_reading(what, text, unit)
    known = form.readings[name]
    value = check_reading(form, name, f"{text} {unit}" if unit else text)
    read = {"value": value, "unit": known.unit or NO_UNIT} if isinstance(value, float) else {"word": value}
    return {"what": known.what} | read


def _free_reading(what: str, text: str, unit: str | None) -> dict:
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        if unit:
            raise InputError(f'{what}: "{text}" is no number; write it as in 12.4 V, or a word alone') from None
        return {"what": what, "word": text}
    if not unit:
        raise InputError(f"{what}: say the unit as well, as in {text} V")
    return {"what": what, "value": value, "unit": unit}


# --- the car ---------------------------------------------------------------------------------------


def _places(view: View, form: Form, thinking: Thinking) -> dict[str, tuple[str, Price]]:
    """Where the accesses of a model are on this car, and what it costs to get there and back."""
    if view.area is None or view.shop is None:
        return {}
    found = {}
    for access in form.access:
        item = _item_of(access, view)
        price = _price(view, item, thinking) if item else None
        if price is not None:
            found[access] = (item, price)
    return found


def _item_of(access: str, view: View) -> str | None:
    """The item of that name; else the cable, or the plug, of what the car came for."""
    if access in view.area.items:
        return access
    kind = KINDS.get(access.split()[-1].removesuffix("s"))
    near = [name for target in view.state.targets for name in _near(view.area, target)]
    return next((name for name in near if view.area.items[name].kind == kind), None)


def _near(area: Area, target: str) -> Iterator[str]:
    yield from (ref.name for ref in (area.items[target].base.behind if target in area.items else ()))
    yield from (name for name, item in area.items.items() if item.owner == target)


# A price depends on the frozen files alone, so it need not be planned again at every reading.
_PRICED: dict[tuple, Price | None] = {}


def _price(view: View, item: str, thinking: Thinking) -> Price | None:
    key = (view.state.area_file, view.state.shop_file, view.state.variants, item)
    if key not in _PRICED:
        if len(_PRICED) >= _MOST_KEPT:
            _PRICED.pop(next(iter(_PRICED)), None)
        try:
            _PRICED[key] = reading_price(view.area, view.shop, item, thinking)
        except (NoWay, InputError):
            _PRICED[key] = None
    return _PRICED[key]


def _prices(view: View, form: Form, places: dict) -> Prices:
    """What the plan says of the target and of the accesses, in minutes of the bill."""
    away = {item.name for item in view.state.away()}
    access = {
        name: max(float(price.total.minutes), 0.0) if set(price.opened) - away else 0.0
        for name, (_, price) in places.items()
    }
    plan = view.state.plans[0] if view.state.plans else {}
    actions = {form.target: _minutes(view, plan)} if plan.get("minutes") else {}
    return Prices(actions, access)


def _minutes(view: View, plan: dict) -> float:
    labour = view.shop.labour if view.shop else None
    return plan["money"] * 60 / float(labour) if labour and plan.get("money") else plan["minutes"]


def _behind(form: Form, found: Answer, before: dict, places: dict) -> Iterator[tuple[str, str]]:
    """Readings that are wanted and lie behind parts of this car, and behind which item."""
    wanted = [*found.missing, *(name for one in found.next for name in form.tests[one.test].asks if name not in before)]
    access = {name: test.behind for test in form.tests.values() if test.behind for name in test.asks}
    for name in dict.fromkeys(wanted):
        item, price = places.get(access.get(name), (None, None))
        if price is not None and price.opened:
            yield name, item


def _opened(places: dict, item: str) -> tuple[str, ...]:
    return next(price.opened for name, price in places.values() if name == item)


# --- the ledger ------------------------------------------------------------------------------------


def weigh_and_keep(ledger: Ledger, job: str, stamp: Stamp, thinking: Thinking, model: str | None = None) -> Weighed:
    """Weigh the suspects, and log what was concluded where it is news.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    thinking : Thinking
    model : str, optional
        As for `form_of`.
    """
    view = look(ledger, job)
    found = weigh(view, thinking, model)
    events = [*_weighing(view, found, stamp), *_judging(view, found, stamp)]
    if events and not view.state.signed:
        ledger.append(events)
    return found


def weigh_again(ledger: Ledger, job: str, stamp: Stamp, thinking: Thinking, events: Iterable[Event]) -> None:
    """Weigh the suspects after events that bear on them, in the name of whoever said the last one.

    Nothing happens where no model is known for the job, or nothing can be concluded: what was read is kept all the
    same.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    stamp : Stamp
    thinking : Thinking
    events : iterable of Event
        What was just logged.
    """
    telling = [event for event in events if event.kind in TELLS]
    if telling:
        view = look(ledger, job)
        form = form_of(view)
        if form and any(reading_name(form, one.what) for one in view.state.readings):
            by = replace(stamp, person=telling[-1].person, device=telling[-1].device)
            with suppress(PutbackError):
                weigh_and_keep(ledger, job, by, thinking)


def _weighing(view: View, found: Weighed, stamp: Stamp) -> Iterator[Event]:
    if not view.state.swapped:
        said = conclusion(found)
        last = {name: value for name, value in (view.state.weighed or {}).items() if name not in MARKS}
        if said != last:
            yield stamp.event(view.id, "suspects weighed", **said)


def conclusion(found: Weighed) -> dict:
    """What was concluded, as an event says it.

    Parameters
    ----------
    found : Weighed
    """
    form, said = found.form, found.answer
    limits = {one.reading: one.wanted for one in proved(form, found.before, said.action) if one.reading in found.before}
    told = {
        "model": form.name,
        "verdict": said.verdict,
        "action": said.action,
        "share": round(said.shares[said.action], 4) if said.action in said.shares else None,
        "why": [in_words(form, one) for one in said.why],
        "missing": [form.readings[name].what for name in said.missing],
        "again": [form.readings[name].what for name in said.again],
        "limits": {form.readings[name].what: wanted for name, wanted in limits.items()},
        "behind": {form.readings[name].what: item for name, item in found.behind.items()},
        "open first": list(found.open_first),
        "excluded": [fault for fault, share in said.posterior.items() if share < _EXCLUDED],
    }
    return {name: value for name, value in told.items() if value not in (None, [], {})}


def _judging(view: View, found: Weighed, stamp: Stamp) -> Iterator[Event]:
    """Which readings after the repair are good or bad, where that is not known yet."""
    if not view.state.swapped:
        return
    known = {reading_name(found.form, one.what): one for one in view.state.readings if one.when == "after"}
    verdicts = {one.reading: one.passes for one in found.proofs if one.reading in known and one.passes is not None}
    news = [name for name, passes in verdicts.items() if known[name].good is not passes]
    news = [name for name in news if known[name].good is None or not verdicts[name]]
    if news:
        sides = {side: [known[name].what for name in news if verdicts[name] is passes] for side, passes in _SIDES}
        yield stamp.event(view.id, "readings judged", model=found.form.name, **sides)


_SIDES = (("good", True), ("bad", False))


def in_words(form: Form, text: str) -> str:
    """A sentence with what people call the readings in place of their names.

    Parameters
    ----------
    form : Form
    text : str
    """
    for one in sorted(form.readings.values(), key=lambda one: -len(one.name)):
        if "_" in one.name:  # names of one word are words of the trade already
            text = text.replace(one.name, one.what)
    return text
