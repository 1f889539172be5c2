"""Plays a job tap by tap, as somebody would who does what the step now says; and plans of the demo areas."""

import json
import time
from datetime import timedelta
from functools import cache

from log import START, Log, demo_area, demo_shop

from putback.job.car import Car
from putback.job.next_step import next_steps
from putback.plan_json import plan_object
from putback.way.plan import plan_way

NOTHING = Car(None, None)


@cache
def _planned(letter: str, avoid: tuple[str, ...]) -> str:
    area = demo_area(letter)
    targets = tuple(target.name.name for target in area.targets)
    sheet = plan_way(area, demo_shop(), targets, None, clock=time.perf_counter, seconds=30, avoid=avoid)
    return json.dumps(plan_object(sheet))


def demo_plan(letter: str = "a", avoid: tuple[str, ...] = ()) -> dict:
    """The plan of a demo area as it is kept: JSON."""
    return json.loads(_planned(letter, avoid))


def when(minutes: float) -> str:
    """Minutes after eight, as events have it."""
    return (START + timedelta(minutes=minutes)).strftime("%Y-%m-%dT%H:%M:%S.000Z")


class Played:
    """A job on a demo car, with what is logged by taps and what is asked for besides."""

    def __init__(self, letter: str = "a", avoid: tuple[str, ...] = (), *, area=None, shop=None, plan=None):
        self.area, self.shop = area or demo_area(letter), shop or demo_shop()
        self.car, self.plan = Car(self.area, self.shop), plan or demo_plan(letter, avoid)
        self.log = Log(self.area, self.shop, targets=[target.name.name for target in self.area.targets])
        self.log.say("plan made", plan="0" * 64, money=1.0)
        self.minute, self.taps = 10.0, []

    @property
    def state(self):
        """What the log adds up to."""
        return self.log.state

    @property
    def now(self) -> str:
        """The time of the next tap."""
        return when(self.minute)

    def steps(self):
        """What is still to do."""
        return next_steps(self.state, self.car, self.plan, self.now)

    def say(self, closes, **more):
        """Log what a tap logs."""
        for kind, data in closes:
            said = {name.replace(" ", "_"): value for name, value in data.items()}
            self.log.say(kind, _at=self.minute, **said, **more)
        self.minute += 1

    def tap(self, step):
        """Do what a step says, whatever it asks for."""
        self.minute += step.not_before
        if step.asks == "intake noted":
            self.log.say("intake noted", complaint="lamp on", audio_code="none", _at=self.minute)
        elif step.asks == "part compared":
            same = {name: _within(wanted) for name, wanted in self.area.match} or {"ports": "2"}
            self.log.say("part compared", part=step.item, old=same, new=same, _at=self.minute)
        elif step.asks == "hand-over signed":
            self.log.say("hand-over signed", by="technician 1", _at=self.minute)
        elif step.asks == "point accepted":
            self.log.say("point accepted", point=step.key.removeprefix("point: "), reason="seen", by="supervisor 1")
        else:
            assert step.closes, step
            self.say(step.closes)
        self.taps.append(step)

    def until(self, key: str):
        """Tap until the step now is the one of this key."""
        while (step := self.steps()[0]).key != key:
            self.tap(step)
        return step

    def to_the_end(self):
        """Tap until nothing is left to do."""
        while steps := self.steps():
            self.tap(steps[0])
        return self


def _within(wanted: str) -> str:
    number, plus_minus, rest = wanted.partition(" ± ")
    return f"{number} {rest.split()[-1]}" if plus_minus else wanted
