"""Demo area A as the tests use it, and a witness who reads a plan step by step."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from putback import demo
from putback.area.area_file import read_area
from putback.area.model import Area
from putback.area.shop_file import Shop, read_shop
from putback.area.state_file import State, read_state
from putback.way import solve_core
from putback.way.from_area import Translated, core_problem
from putback.way.replay import replay


@cache
def area() -> Area:
    return read_area(demo.text("demo-a.yaml"), "demo-a.yaml")


@cache
def shop() -> Shop:
    return read_shop(demo.text("demo-shop.yaml"), "demo-shop.yaml")


def mount_nut_seized() -> State:
    name = "demo-a-mount-nut-seized.yaml"
    return read_state(demo.text(name), name, area())


@dataclass(frozen=True)
class Planned:
    """A plan with what it was made from, walked by the replay."""

    translated: Translated
    plan: list
    money: Fraction  # before tax
    minutes: Fraction

    def position(self, operation: str) -> int:
        """Where an operation stands in the plan; -1 where it is not done."""
        return next((index for index, (name, _, _) in enumerate(self.plan) if name == operation), -1)

    def does(self, operation: str) -> bool:
        return self.position(operation) >= 0

    def context(self, operation: str) -> dict:
        return self.plan[self.position(operation)][2]

    def route(self) -> str:
        """Through where the alternator comes out: A1 below, A2 above, A3 through the wheel arch."""
        index = self.position("alternator: remove")
        way = self.translated.operations["alternator: remove"].ways[self.plan[index][1]]
        gaps = {"subframe": "A1", "engine": "A2", "left drive shaft": "A3"}
        return next(name for part, name in gaps.items() if part in way.needs)


def plan(translated: Translated) -> Planned:
    """The proved plan of a translation; the replay finds nothing wrong with it and counts the same."""
    core = translated.core
    solved = solve_core(core, seconds=60)
    walked = replay(core, solved.plan)
    assert (walked.broken, walked.total, solved.proved) == ((), solved.total, True)
    per_minute, per_cent = (int(text.split("/")[1].split()[0]) for text in core["unit"].values())
    money = Fraction(walked.total, per_cent) / 100 if "cent" in core["unit"]["cost"] else Fraction(0)
    return Planned(translated, list(solved.plan), money, Fraction(walked.time, per_minute))


def planned(**options) -> Planned:
    """Plan demo A in the demo shop."""
    return plan(core_problem(area(), shop(), ["alternator"], **options))
