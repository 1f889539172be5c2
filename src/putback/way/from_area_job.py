"""What one translation works on, gathered once: the shop's moves and items, and how they are counted."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from putback.area.model import Area, Equipment
from putback.area.shop_file import Raising, Shop
from putback.area.state_file import State
from putback.way import from_area_shop as means
from putback.way.from_area_described import Chain, Description, Needs
from putback.way.from_area_moves import Doable, Move


@dataclass
class Job:
    """An area for one shop in one state, with what was asked of the plan.

    Attributes
    ----------
    home : tuple of str or None
        All that must be home at the end, of what is displaced now; None for the whole car.
    """

    area: Area
    shop: Shop
    described: Description
    targets: list[str]
    rust: int
    no_setup: bool
    no_overlap: bool
    moves: list[Move] = field(default_factory=list)
    kept: dict[str, Chain] = field(default_factory=dict)
    home: tuple[str, ...] | None = None

    def may_stay(self, chain: Chain) -> bool:
        """Whether it may stand at the end as it does now; what is home now is home again."""
        return self.home is not None and chain.start > 0 and not {chain.item.name, chain.item.owner} & {*self.home}

    @property
    def state(self) -> State:
        return self.described.state

    @property
    def raising(self) -> tuple[Raising, ...]:
        """How the car can be raised here, the way it is raised now included."""
        able = means.raising(self.shop)
        now = tuple(one for one in self.shop.raising if one.posture == self.state.posture and one not in able)
        return able + now

    def ways(self) -> Iterator[Doable]:
        return (way for move in self.moves for way in move.ways)

    def needs(self, found: Needs) -> dict[str, list[int]]:
        """Needs as the core writes them, without those that cannot fail: what no plan displaces is in place."""
        return {
            name: list(limits)
            for name, limits in found.items()
            if name in self.kept and limits != (0, self.kept[name].levels)
        }

    def change(self, name: str) -> Fraction:
        """The minutes of a change of tool, vantage or setting."""
        return Fraction(0) if self.no_setup else self.shop.set_up.get(name, Fraction(0))

    def equipment(self) -> Iterator[Equipment]:
        """Everything that anything here may hold or use."""
        for move in self.moves:
            for way in move.ways:
                yield from way.equipment
            yield from move.holds
        for one in self.raising:
            yield from (*one.holds, *one.moving)
