"""Whether what the readings point at may be done now; if not, why not, and what to read next."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from putback.suspects.contradiction import contradiction
from putback.suspects.model import Action, Model
from putback.suspects.next_test import FARTHEST, Choice, next_tests
from putback.suspects.order import Order, order
from putback.suspects.posterior import Evidence, posterior, readings_of, shares
from putback.suspects.sets import capped, classes

CLEARLY = 3  # times likelier than anything else is what a soft reading must say to count as seen


@dataclass(frozen=True)
class Decision:
    """Where the search for the fault stands.

    Attributes
    ----------
    action : str
        What most likely mends the car.
    ready : bool
        Whether it may be done now.
    posterior : dict of str to float
        Of each fault and of what is not in the list; never more than 0.9 on one that others cannot be told from.
    sets : tuple of tuple of str
        Faults that cannot be told apart.
    order : Order
        In which order to try, were nothing more read.
    next : tuple of Choice
        Tests that can be had, best first; those that are worth doing have a worth above 0.
    missing : tuple of str
        Tests that must be read before this action and were not.
    again : tuple of str
        Readings to take again, because nothing explains them together.
    why : tuple of str
        What stands against doing it now, each a part of a sentence; empty where it is ready.
    """

    action: str
    ready: bool
    posterior: Mapping[str, float]
    sets: tuple[tuple[str, ...], ...]
    order: Order
    next: tuple[Choice, ...]
    missing: tuple[str, ...]
    again: tuple[str, ...]
    why: tuple[str, ...]

    @property
    def stop(self) -> bool:
        """Whether no test that can be had is worth doing."""
        return not any(choice.worth > 0 for choice in self.next)


def decide(
    model: Model,
    evidence: Evidence,
    costs: Mapping[str, float],
    absent: Iterable[str] = (),
    listed: Iterable[Sequence[str]] = (),
    opened: Iterable[str] = (),
    ahead: int = FARTHEST,
) -> Decision:
    """What the readings point at, whether it may be done now, and which test is worth doing next.

    Parameters
    ----------
    model : Model
    evidence : dict of str to str or sequence of float
        What was read.
    costs : dict of str to float
        What each test costs that can still be had.
    absent : iterable of str
        Faults that this car cannot have.
    listed : iterable of sequences of str
        Faults known not to be told apart, besides those that the chances show.
    opened : iterable of str
        Accesses that are open already.
    ahead : int
        How many tests to look ahead, 1 or 2.
    """
    absent, opened = tuple(absent), tuple(opened)
    raw = posterior(model, evidence, absent)
    sets = tuple(dict.fromkeys([*map(tuple, listed), *classes(model, evidence, costs, absent)]))
    likely = capped(raw, [[name for name in names if name not in absent] for names in sets])
    odd = contradiction(model, evidence, absent)
    best = order(model, likely, opened)
    action = _leading(model, likely)
    missing = tuple(name for name in action.known if name not in evidence)
    again = odd.again if odd else ()
    why = (
        *_readings_against(model, action, evidence, missing, again),
        *_share_against(model, action, likely, best, opened),
    )
    tests = next_tests(model, evidence, costs, absent, ahead, opened)
    return Decision(action.name, not why, likely, sets, best, tuple(tests), missing, again, why)


def _leading(model: Model, likely: Mapping[str, float]) -> Action:
    return max(model.actions, key=lambda action: sum(likely[fault] for fault in action.cures))


def _readings_against(
    model: Model, action: Action, evidence: Evidence, missing: Sequence[str], again: Sequence[str]
) -> Iterable[str]:
    if again:
        yield f"nothing explains these readings together; take again: {' and '.join(again)}"
    if missing:
        yield f"not yet read: {', '.join(missing)}"
    if action.proof and not any(_seen(model, evidence, test, outcomes) for test, outcomes in action.proof):
        yield f"none of what proves it has been seen: {_proofs(action)}"


def _seen(model: Model, evidence: Evidence, test: str, outcomes: Sequence[str]) -> bool:
    """Whether a reading says one of these outcomes, and a soft one says it clearly."""
    if test not in evidence:
        return False
    reading = readings_of(model, {test: evidence[test]})[test][0]
    among = np.isin(model.test(test).outcomes, outcomes)
    return reading[among].max() >= CLEARLY * reading[~among].max(initial=0.0)


def _proofs(action: Action) -> str:
    return ", or ".join(f"{test} {' or '.join(outcomes)}" for test, outcomes in action.proof)


def _share_against(
    model: Model, action: Action, likely: Mapping[str, float], best: Order, opened: Sequence[str]
) -> Iterable[str]:
    """Too small a share, or a suspect that still stands, costs less to try, and is to be tried first."""
    share = shares(model, likely)
    if share[action.name] < action.enough:
        yield f"{action.name} is {share[action.name]:.0%} likely, and {action.enough:.0%} is asked for"
    before = best.actions[: best.actions.index(action.name)] if action.name in best.actions else best.actions
    for other in model.actions:
        part = _price(model, other, opened) / _price(model, action, opened)
        if other.name in before and share[other.name] >= model.stands and part < 1:
            yield f"{other.name} still stands at {share[other.name]:.0%}, and costs {part:.0%} of {action.name}"


def _price(model: Model, action: Action, opened: Sequence[str]) -> float:
    return action.cost + (0.0 if action.behind in opened else model.access.get(action.behind, 0.0))
