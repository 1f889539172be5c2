"""A model as the room of suspects takes it: variants of faults as faults, minutes as costs."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from putback.models.form import NOT_FITTED, Complaint, Form, FormAction, FormTest
from putback.suspects import Action, Group, Model, Test


@dataclass(frozen=True)
class Prices:
    """What another source says of costs, all in the model's minutes, in place of its own figures.

    Attributes
    ----------
    actions : dict of str to float
        Of doing an action, its access apart.
    access : dict of str to float
        Of an access, there and back.
    """

    actions: Mapping[str, float] = field(default_factory=dict)
    access: Mapping[str, float] = field(default_factory=dict)


def engine_model(form: Form, complaint: str | None, prices: Prices) -> Model:
    """The model with the shares of a complaint.

    Parameters
    ----------
    form : Form
    complaint : str or None
        What the customer says; words that fit none of the model's complaints count half and half.
    prices : Prices
    """
    prior = _prior(form, _complaints(form, complaint))
    return Model(
        prior=prior,
        tests=tuple(_test(test) for test in form.tests.values()),
        actions=tuple(_action(form, action, prices) for action in form.actions.values() if _cures(form, action)),
        groups=tuple(Group(tests, counts) for tests, counts in form.groups),
        leftover=form.leftover,
        access=dict(form.access) | dict(prices.access),
        test_access={test.name: test.behind for test in form.tests.values() if test.behind},
    )


def _complaints(form: Form, said: str | None) -> list[Complaint]:
    """The complaints that what was said fits; all of them where it fits none."""
    text = (said or "").lower()
    fit = [one for one in form.complaints if one.name in text or any(word in text for word in one.words)]
    return fit or [*form.complaints]


def _prior(form: Form, complaints: list[Complaint]) -> dict[str, float]:
    prior = {}
    for fault in form.faults.values():
        weight = sum(one.prior[fault.name] / sum(one.prior.values()) for one in complaints)
        prior |= {name: weight * share for name, (share, _) in fault.engine_names().items()}
    total = sum(prior.values())
    return {name: weight / total for name, weight in prior.items()}


def _test(test: FormTest) -> Test:
    return Test(test.name, test.outcomes, test.chances)


def _cures(form: Form, action: FormAction) -> tuple[str, ...]:
    told = (pair for fault in form.faults.values() for pair in fault.engine_names().items())
    return tuple(name for name, (_, mends) in told if mends == action.name)


def _action(form: Form, action: FormAction, prices: Prices) -> Action:
    return Action(
        name=action.name,
        cures=_cures(form, action),
        cost=prices.actions.get(action.name, action.minutes),
        behind=action.behind,
        enough=action.enough,
        proof=action.proof,
    )


def absent(form: Form, readings: Mapping[str, object]) -> tuple[str, ...]:
    """The faults, by the names they are weighed under, that cannot be where something is not fitted.

    Parameters
    ----------
    form : Form
    readings : dict of str to number or str
    """
    gone = [form.readings[reading] for reading, value in readings.items() if value == NOT_FITTED]
    named = [name for one in gone for name in one.without]
    return tuple(dict.fromkeys(engine for name in named for engine in engine_names(form, name)))


def engine_names(form: Form, fault: str) -> tuple[str, ...]:
    """The names under which a fault, or a variant of one, is weighed.

    Parameters
    ----------
    form : Form
    fault : str
        "belt slip", or "belt slip, not driven".
    """
    return tuple(form.faults[fault].engine_names()) if fault in form.faults else (fault,)


def merged(form: Form, likely: Mapping[str, float]) -> dict[str, float]:
    """Shares of variants as shares of faults; what is none of them stays as it is.

    Parameters
    ----------
    form : Form
    likely : dict of str to float
        By the names they are weighed under.
    """
    parts = {name: engine_names(form, name) for name in form.faults}
    variants = {one for names in parts.values() for one in names}
    whole = {name: sum(likely[one] for one in names) for name, names in parts.items()}
    return whole | {name: share for name, share in likely.items() if name not in variants}
