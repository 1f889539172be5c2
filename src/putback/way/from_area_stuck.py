"""Which operation no plan gets past, and what stands in each of its ways."""

from collections.abc import Iterator
from dataclasses import dataclass

from putback.area.model import BACK
from putback.way.from_area_described import Chain
from putback.way.from_area_missing import Missing, Offer
from putback.way.from_area_shop import Lacks
from putback.way.from_area_steps import Step
from putback.way.from_area_words import sentence


@dataclass(frozen=True)
class Stuck:
    """An operation that cannot be done, and for each of its ways what is wrong, in words."""

    operation: str
    ways: tuple[tuple[str, str], ...]

    def __str__(self) -> str:
        told = "; ".join(f"{name}: {why}" if name else why for name, why in self.ways)
        return f"it is stuck where one must {self.operation} ({told})"


def stuck(missing: Missing) -> list[Stuck]:
    """The operations that keep the targets on the car, or what is off already off it; none where all can be done.

    What every way of an operation waits for is looked at in its place, down to the operation whose ways
    fail each for a reason of its own.

    Parameters
    ----------
    missing : Missing
    """
    return _Finder(missing).all()


class _Finder:
    def __init__(self, missing: Missing):
        self.missing, self.levels = missing, missing.levels()
        self.offers: dict[tuple[str, int], list[Offer]] = {}
        for offer in missing.offers:
            self.offers.setdefault((offer.step.chain.name, offer.step.level), []).append(offer)

    def all(self) -> list[Stuck]:
        at_fault = [chain for chain in self.missing.targets if self.levels[chain.name] < chain.levels]
        out = [self._stuck(self._deepest(chain, set())) for chain in at_fault]
        due = [one for one in self.missing.due if not self.missing.can_go_back(one[1], self.levels)]
        back = [self._left_open(*one) for one in due]
        return list(dict.fromkeys([*out, *back]))

    def _left_open(self, step: Step, offers: list[Offer]) -> Stuck:
        """A step back of what is off already, and what stands in each of its ways."""
        ways = tuple((offer.path.name, self._why(offer)) for offer in offers)
        return Stuck(sentence(step.chain, BACK, step.area_level, step.pieces), tuple(dict.fromkeys(ways)))

    def _next(self, chain: Chain) -> list[Offer]:
        return self.offers.get((chain.name, self.levels[chain.name] + 1), [])

    def _unmet(self, offer: Offer) -> list[Chain]:
        """What an offer waits for, apart from things that the shop lacks."""
        needs = offer.path.needs.items()
        return [self.missing.described.chains[name] for name, (low, _) in needs if self.levels[name] < low]

    def _deepest(self, chain: Chain, seen: set[str]) -> Chain:
        """Follow what every way of an operation waits for."""
        while True:
            seen.add(chain.name)
            common = self._in_common(self._next(chain), seen)
            if not common:
                return chain
            chain = common[0]

    def _in_common(self, offers: list[Offer], seen: set[str]) -> list[Chain]:
        """What all of some offers wait for, but for what was seen before."""
        common = [one for one in self._unmet(offers[0]) if one.name not in seen] if offers else []
        for offer in offers[1:]:
            names = {one.name for one in self._unmet(offer)}
            common = [one for one in common if one.name in names]
        return common

    def _stuck(self, chain: Chain) -> Stuck:
        ways = tuple((offer.path.name, self._why(offer)) for offer in self._next(chain)) or (("", self._shut(chain)),)
        level = chain.stops[self.levels[chain.name]][0] + 1
        return Stuck(sentence(chain, "out", level, self._pieces(chain)), tuple(dict.fromkeys(ways)))

    def _shut(self, chain: Chain) -> str:
        """Why nobody has a way to open something, whatever the shop."""
        may = self.missing.described.may_open(chain)
        return f"this car has no way for the {chain.item.name}" if may else f"the {chain.item.name} must not be opened"

    def _pieces(self, chain: Chain):
        step = next((one for one in self.missing.steps if one.chain is chain and one.direction == "out"), None)
        return step.pieces if step else 1

    def _why(self, offer: Offer) -> str:
        reasons = list(dict.fromkeys(self._roots(offer, set())))
        return " or ".join(reasons) if reasons else "some of its steps wait for each other"

    def _roots(self, offer: Offer, seen: set[str]) -> Iterator[str]:
        """What would have to change for a way to open, as alternatives."""
        if not offer.is_open(()):
            yield _for_want_of(offer.lacks)
            return
        unmet = [one for one in self._unmet(offer) if one.name not in seen]
        if not unmet:  # all of them were looked at: they wait for each other
            return
        chain = self._deepest(unmet[0], seen)
        offers = self._next(chain)
        if not offers:
            yield self._shut(chain)
        for one in offers:
            yield from self._roots(one, seen | {chain.name})


def _for_want_of(lacks: Lacks) -> str:
    return "for want of " + " or ".join(" and ".join(map(str, one)) for one in lacks)
