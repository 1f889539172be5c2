r"""In which order to try what may mend the car, so that it costs least until it is right.

One fault, and each action mends it with chance p for a cost c: trying in falling p/c costs least [1]_. Where some lie
behind an access that is paid once, opening it is a step of its own that mends nothing, and a chain of steps is worth
doing as one block while that raises its p/c; blocks are then tried in falling p/c. That is the rule for jobs of which
each may wait for one other, and it is exact [2]_. Handing the car on unsolved ends the order where going on costs more.

References
----------
.. [1] J. B. Kadane, H. A. Simon, Optimal strategies for a class of constrained sequential problems, Annals of
   Statistics 5 (1977); D. Heckerman, J. Breese, K. Rommelse, Decision-theoretic troubleshooting, Communications of the
   ACM 38(3) 1995 (summaries read).
.. [2] W. A. Horn, Single-machine job sequencing with treelike precedence ordering and linear delay penalties, SIAM
   Journal on Applied Mathematics 23 (1972) (from memory).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from putback.suspects.model import NOTHING_LISTED, Model


@dataclass(frozen=True)
class Order:
    """What to try one after another.

    Attributes
    ----------
    actions : tuple of str
        In the order to try them, as far as that is worth it.
    cost : float
        What is to be expected until the car is right, or has been handed on.
    """

    actions: tuple[str, ...]
    cost: float


def order(model: Model, posterior: Mapping[str, float], opened: Iterable[str] = ()) -> Order:
    """The order of actions that costs least, and what it costs.

    Parameters
    ----------
    model : Model
    posterior : dict of str to float
        Of each fault and of NOTHING_LISTED.
    opened : iterable of str
        Accesses that are open already.

    Examples
    --------
    >>> from putback.suspects.model import Action
    >>> plug, strap = Action("plug", ("burnt",), 5.0), Action("strap", ("loose",), 4.0, "cover")
    >>> fuse = Action("fuse", ("blown",), 2.0, "cover")
    >>> prior = {"burnt": 0.5, "loose": 0.375, "blown": 0.125}
    >>> model = Model(prior, (), (plug, strap, fuse), leftover=0.0, access={"cover": 10.0})
    >>> order(model, prior)
    Order(actions=('plug', 'strap', 'fuse'), cost=12.25)
    """
    weights = np.array([[posterior.get(fault, 0.0) for fault in (*model.faults, NOTHING_LISTED)]])
    places, costs, stop = _ordered(model, weights, access_costs(model, opened)[None, :])
    names = [model.actions[place].name for place in places[0]]
    return Order(tuple(names[: stop[0]]), float(costs[0]))


def access_costs(model: Model, opened: Iterable[str] = ()) -> np.ndarray:
    """What each access costs, nothing where it is open.

    Parameters
    ----------
    model : Model
    opened : iterable of str
    """
    opened = {*opened}
    return np.array([0.0 if name in opened else cost for name, cost in model.access.items()])


def repair_costs(model: Model, weights: np.ndarray, access: np.ndarray) -> np.ndarray:
    """What the best order costs, for many posteriors at once.

    Parameters
    ----------
    model : Model
    weights : array
        A row for each posterior; rows need not sum to 1, the cost is in proportion.
    access : array
        What each access costs, a row for each posterior.
    """
    return _ordered(model, weights, access)[1]


def _ordered(model: Model, weights: np.ndarray, access: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Of each row the order as places of actions, its cost, and after how many of them it ends."""
    chances = weights @ _cures(model)
    costs = np.array([action.cost for action in model.actions])
    worth = chances / costs
    places = _blocks(model, chances, worth, access)
    chance = np.take_along_axis(chances, places, axis=1)
    paid = costs[places] + _opening(model, places, access)
    left = weights.sum(axis=1, keepdims=True) - np.cumsum(chance, axis=1) + chance
    spent = np.hstack([np.zeros((len(weights), 1)), np.cumsum(paid * left, axis=1)])
    if model.hand_on is None:
        return places, spent[:, -1], (chance > 0).sum(axis=1)
    after = np.hstack([left, left[:, -1:] - chance[:, -1:]])
    total = spent + model.hand_on * after
    stop = total.argmin(axis=1)
    return places, total.min(axis=1), stop


def _cures(model: Model) -> np.ndarray:
    """A one where an action (column) mends a fault (row); nothing mends what nobody listed."""
    return np.vstack([np.eye(len(model.actions))[model.places], np.zeros(len(model.actions))])


def _blocks(model: Model, chances: np.ndarray, worth: np.ndarray, access: np.ndarray) -> np.ndarray:
    """The places of the actions in falling p/c of their blocks; those of a block stay together, in falling p/c."""
    key, block = worth.copy(), np.tile(np.arange(worth.shape[1]), (len(worth), 1))
    costs = np.array([action.cost for action in model.actions])
    for n, name in enumerate(model.access):
        behind = [place for place, action in enumerate(model.actions) if action.behind == name]
        if behind:
            inside, ratio = _first_block(chances[:, behind], costs[behind], access[:, n : n + 1])
            key[:, behind] = np.where(inside, ratio, worth[:, behind])
            block[:, behind] = np.where(inside, behind[0], block[:, behind])
    return np.lexsort((-worth, block, -key), axis=-1)


def _first_block(chances: np.ndarray, costs: np.ndarray, opening: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Of what lies behind one access, those that are worth most together with its opening, and the p/c they reach."""
    inner = np.argsort(-chances / costs, axis=1, kind="stable")
    gained = np.cumsum(np.take_along_axis(chances, inner, axis=1), axis=1)
    ratio = gained / (opening + np.cumsum(costs[inner], axis=1))
    rank = np.argsort(inner, axis=1, kind="stable")
    return rank <= ratio.argmax(axis=1)[:, None], ratio.max(axis=1, keepdims=True)


def _opening(model: Model, places: np.ndarray, access: np.ndarray) -> np.ndarray:
    """What each action of an order pays for its access: the first behind it all, the others nothing."""
    paid = np.zeros(places.shape)
    for n, name in enumerate(model.access):
        there = np.array([action.behind == name for action in model.actions])[places]
        first = there & (np.cumsum(there, axis=1) == 1)
        paid += first * access[:, n : n + 1]
    return paid
