"""Whole jobs by taps: on areas drawn by lot, and on demo cars where people do as people do."""

import json
import time
from random import Random

import pytest
from job_play import Played

from putback.area.area_file import read_area
from putback.area.shop_file import read_shop
from putback.errors import NoWay
from putback.job.guards import stops
from putback.job.planner_state import area_state, targets_left
from putback.job.trays import tray_map
from putback.plan_json import plan_object
from putback.way.plan import plan_way
from referees.random_areas import draw_area, draw_shop


def planned(area, shop, targets, state=None) -> dict:
    """A plan as it is kept."""
    sheet = plan_way(area, shop, targets, state, clock=time.perf_counter, seconds=2)
    return json.loads(json.dumps(plan_object(sheet)))


@pytest.mark.parametrize("seed", range(20))
def test_nothing_speaks_against_a_job_on_a_drawn_area(seed):
    """Whoever does what the step now says meets no guard and leaves nothing over."""
    rng = Random(seed)
    area = read_area(draw_area(rng).encode(), "area.yaml")
    shop = read_shop(draw_shop(rng, 0.9).encode(), "shop.yaml")
    try:
        plan = planned(area, shop, ["pump"])
    except NoWay:
        return
    played = Played(area=area, shop=shop, plan=plan)
    while steps := played.steps():
        if not steps[0].not_before:
            assert stops(played.state, played.car, steps[0].closes, played.now, plan) == []
        played.tap(steps[0])
    assert played.log.points() == {}


class Careless(Played):
    """Does as people do: another step first, a few of a group, a find, a rag put down, a pause, an undoing."""

    def __init__(self, letter: str, rng: Random):
        super().__init__(letter)
        self.rng, self.found = rng, 0

    def do(self, steps) -> None:
        """One act: mostly what the step now says."""
        step, lot = steps[0], self.rng.random()
        if step.key == "plan":
            state = area_state(self.state, self.area, self.now)
            self.plan = planned(self.area, self.shop, targets_left(self.state), state)
            self.log.say("plan made", plan="0" * 64, money=1.0)
        elif lot < 0.08 and step.phase == "way in":
            self.find_something()
        elif lot < 0.12:
            self.log.say("thing put in", what="rag", name="rag", where="somewhere", count=2)
        elif lot < 0.15:
            self.log.say("job paused", _at=self.minute)
            self.minute += self.rng.choice((3, 20))
        elif lot < 0.18:
            self.undo()
        elif lot < 0.30:
            self.tap(self.rng.choice([one for one in steps[:6] if one.phase == step.phase and one.key != "plan"]))
        elif lot < 0.50 and step.left > 1 and len(step.closes) == 1:
            self.some_of(step)
        else:
            self.tap(step)

    def find_something(self) -> None:
        """What no area knows comes off."""
        self.found += 1
        name = f"bracket {self.found}"
        self.log.off(f"bolts of {name}", 2, belongs_to=name, tray=f"box {self.found}")
        self.log.moved(name, "off")

    def undo(self) -> None:
        """The last thing that was moved was not moved after all."""
        kinds = ("item moved", "fasteners off", "fasteners on")
        moved = [row.event for row in self.log.rows if row.event.kind in kinds]
        if moved:
            self.log.say("event undone", event=moved[-1].id)

    def some_of(self, step) -> None:
        """Not all of a group at once."""
        ((kind, data),) = step.closes
        self.say([(kind, data | {"count": self.rng.randint(1, data["count"])} if "count" in data else data)])


LONG = [pytest.param(seed, marks=pytest.mark.slow) for seed in (0, 4)]


@pytest.mark.parametrize("seed", [1, 2, 3, 5, 6, 7, *LONG])
def test_a_careless_job_comes_to_a_clean_end_all_the_same(seed):
    """No two steps share a key, no two groups a tray position, and at the signature nothing is left over."""
    job = Careless("abcd"[seed % 4], Random(seed))
    while steps := job.steps():
        assert len({step.key for step in steps}) == len(steps)
        positions = tray_map(job.state, job.car, job.plan)
        assert len(set(positions.values())) == len(positions)
        job.do(steps)
    open_ones = {key: text for key, text in job.log.points().items() if "accepted by" not in text}
    assert [key for key in open_ones if not key.startswith("by feel: bolts of bracket")] == []
