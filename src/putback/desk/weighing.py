"""Suspects of a job: its readings weighed by a fault model, with the prices of this car and shop."""

from collections.abc import Iterator
from dataclasses import dataclass

from putback.desk.planning import Thinking
from putback.desk.prices import Price, place_of, reading_price
from putback.desk.reading_names import NO_UNIT, reading_name
from putback.desk.view import View
from putback.errors import InputError, NoWay
from putback.job.state import Reading
from putback.models import BUILT_IN, Answer, Proof, answer, check_reading, load, proved
from putback.models.engine import Prices
from putback.models.form import Form

_MOST_KEPT = 256  # prices, and jobs weighed, that are remembered


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


# --- the car ---------------------------------------------------------------------------------------


def _places(view: View, form: Form, thinking: Thinking) -> dict[str, tuple[str, Price]]:
    """Where the accesses of a model are on this car, and what it costs to get there and back."""
    if view.area is None or view.shop is None:
        return {}
    found = {}
    for access in form.access:
        item = place_of(access, view.area, view.state.targets)
        price = _price(view, item, thinking) if item else None
        if price is not None:
            found[access] = (item, price)
    return found


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
