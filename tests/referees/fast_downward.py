"""The cheapest plan by a general planner: an optimal A* over a planning task with action costs.

A problem of version 1 becomes facts ("the item has reached this level", "this tool is in hand") and actions
(each alternative in each posture, and one change of each part of the set-up), for unified-planning to pass
to the optimal engine of up-fast-downward. Reads docs/core-problem.md for itself. Changes are actions of their
own here, which says the same because in version 1 every change of a kind costs the same.
"""

from dataclasses import dataclass, field

from unified_planning.engines.results import PlanGenerationResultStatus as Status
from unified_planning.model import Fluent, InstantaneousAction, Problem
from unified_planning.model.metrics import MinimizeActionCosts
from unified_planning.shortcuts import Int, Not, OneshotPlanner, get_environment

# The name under which up-fast-downward takes any search; "fast-downward-opt" is the same with LM-cut alone.
ENGINE = "fast-downward"

# Two searches that prove. Merge-and-shrink is much the quicker where the order is knotty.
LM_CUT = "astar(lmcut())"
MERGE_AND_SHRINK = (
    "astar(merge_and_shrink(shrink_strategy=shrink_bisimulation(greedy=false),"
    "merge_strategy=merge_sccs(order_of_sccs=topological,merge_selector=score_based_filtering("
    "scoring_functions=[goal_relevance(),dfp(),total_order()])),"
    "label_reduction=exact(before_shrinking=true,before_merging=false),"
    "max_states=50k,threshold_before_merge=1))"
)

DIMS = {"tool": "tools", "vantage": "vantages", "posture": "postures"}


@dataclass(frozen=True)
class Answer:
    """The least total of a problem and a plan that has it."""

    total: int
    plan: list


class OutOfTime(Exception):
    """No proof in the time given."""


def solve(core: dict, seconds: float = 60.0, search: str = MERGE_AND_SHRINK) -> Answer | None:
    """The best plan of a core problem of version 1; None where there is no way."""
    get_environment().credits_stream = None
    task = _Task(core)
    with OneshotPlanner(name=ENGINE, params={"fast_downward_search_config": search}) as engine:
        result = engine.solve(task.problem, timeout=seconds)
    if result.status in (Status.UNSOLVABLE_PROVEN, Status.UNSOLVABLE_INCOMPLETELY):
        return None
    if result.plan is None:
        raise OutOfTime(f"{result.status.name} after {seconds} s at most")
    return task.answer([action.action.name for action in result.plan.actions])


@dataclass
class _Task:
    """The planning task, and what each of its actions costs and stands for."""

    core: dict
    problem: Problem = field(default_factory=lambda: Problem("way"))
    costs: dict = field(default_factory=dict)
    steps: dict = field(default_factory=dict)  # name of an action: step of a plan

    def __post_init__(self):
        self._add_facts()
        self._add_changes()
        self._add_steps()
        for item in self.core["items"]:
            self.problem.add_goal(Not(self._reached(item, 1)))
        self.problem.add_goal(self.swapped)
        self.problem.add_goal(self.context["posture"][self.core["end_posture"]])
        metric = {self.problem.action(name): Int(cost) for name, cost in self.costs.items()}
        self.problem.add_quality_metric(MinimizeActionCosts(metric))

    def answer(self, names: list[str]) -> Answer:
        plan = [self.steps[name] for name in names if name in self.steps]
        return Answer(sum(self.costs[name] for name in names), plan)

    # facts

    def _fact(self, name: str, holds: bool):
        fact = Fluent(name)
        self.problem.add_fluent(fact, default_initial_value=holds)
        return fact

    def _values(self, dim: str, values: list[str]) -> dict:
        start = self.core["start"][dim]
        return {value: self._fact(f"{dim}_{n}", value == start) for n, value in enumerate(values)}

    def _add_facts(self) -> None:
        self.reached = {
            (item, level): self._fact(f"i{n}_reached_{level}", False)
            for n, (item, levels) in enumerate(self.core["items"].items())
            for level in range(1, levels + 1)
        }
        self.context = {dim: self._values(dim, self.core[key]) for dim, key in DIMS.items()}
        self.swapped = self._fact("swapped", False)

    def _reached(self, item: str, level: int):
        return self.reached[item, level]

    # actions

    def _action(self, name: str, cost: int, needs: list, effects: list) -> None:
        action = InstantaneousAction(name)
        for condition in needs:
            action.add_precondition(condition)
        for fact, value in effects:
            action.add_effect(fact, value)
        self.problem.add_action(action)
        self.costs[name] = cost

    def _add_changes(self) -> None:
        for dim, facts in self.context.items():
            values = list(facts.values())
            for old in values:
                for new in values:
                    if new is not old:
                        name = f"from_{old.name}_to_{new.name}"
                        self._action(name, self.core["setup"][dim], [old], [(old, False), (new, True)])

    def _add_steps(self) -> None:
        for n, op in enumerate(self.core["ops"]):
            out = op["dir"] == "out"
            low = [self._reached(op["item"], op["level"] - 1)] if op["level"] > 1 else []
            here = self._reached(op["item"], op["level"])
            above = self._exactly(op["item"], op["level"])
            needs = [*low, Not(here), Not(self.swapped)] if out else [*above, self.swapped]
            self._add_ways(f"op_{n}", op["id"], op["minutes"], op["alts"], needs, [(here, out)])
        targets = self.core["target"] if isinstance(self.core["target"], list) else [self.core["target"]]
        off = [self._reached(item, self.core["items"][item]) for item in targets]
        swap = self.core["swap"]
        self._add_ways("swap", "swap", swap["minutes"], [swap], [*off, Not(self.swapped)], [(self.swapped, True)])

    def _exactly(self, item: str, level: int) -> list:
        beyond = [Not(self._reached(item, level + 1))] if level < self.core["items"][item] else []
        return [self._reached(item, level), *beyond]

    def _add_ways(self, name: str, step: str, minutes: int, alts: list, needs: list, effects: list) -> None:
        for index, alt in enumerate(alts):
            ranges = [fact for item, ends in alt.get("req", {}).items() for fact in self._within(item, *ends)]
            place = [self.context["tool"][alt["tool"]], self.context["vantage"][alt["vantage"]]]
            for posture in alt["postures"]:
                full = f"{name}_{index}_{self.core['postures'].index(posture)}"
                conditions = [*needs, *ranges, *place, self.context["posture"][posture]]
                self._action(full, minutes + alt["extra"], conditions, effects)
                self.steps[full] = [step, index, posture]

    def _within(self, item: str, low: int, high: int) -> list:
        levels = self.core["items"][item]
        lowest = [self._reached(item, low)] if low > 0 else []
        highest = [Not(self._reached(item, high + 1))] if high < levels else []
        return lowest + highest
