"""The cheapest plan by constraint programming: which items move, and in which order, in one circuit.

A node of the circuit is one step done in one way in one whole context (a mode), or one way to end; an arc
says which follows which, and costs the changes between them. Ranks turn the circuit into an order, and needs become
clauses over "done before". Reads docs/core-problem.md for itself. It does not know equipment or waits.
"""

from dataclasses import dataclass
from itertools import product

from ortools.sat.python import cp_model

PHASES = ("out", "swap", "back")


@dataclass(frozen=True)
class Answer:
    """The best plan found; proved when nothing better is possible."""

    total: int
    changes: int
    plan: list
    proved: bool


class NotMine(Exception):
    """The problem says something that this referee does not know."""


class OutOfTime(Exception):
    """No plan, and no proof that there is none, in the time given."""


def solve(core: dict, seconds: float = 60.0) -> Answer | None:
    """The best plan of a core problem of either version; None where there is no way."""
    model = _Model(core if core.get("core") == 2 else _version_2(core))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    solver.parameters.linearization_level = 2  # the circuit's linear bound is what proves the cheapest plan
    status = solver.solve(model.cp)
    if status == cp_model.INFEASIBLE:
        return None
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        raise OutOfTime(f"nothing in {seconds} s")
    total, changes = divmod(round(solver.objective_value), model.scale)
    plan = [step if core.get("core") == 2 else [*step[:2], step[2]["posture"]] for step in model.plan(solver)]
    return Answer(total, changes, plan, status == cp_model.OPTIMAL)


def size(core: dict) -> int:
    """How many modes the problem has, which is what its proof hangs on."""
    return len(_Model(core if core.get("core") == 2 else _version_2(core)).modes)


@dataclass(frozen=True, eq=False)
class _Step:
    id: str
    phase: str
    raw: dict
    item: str | None = None
    level: int = 0

    def own_levels(self) -> tuple[int, int]:
        """The item's level before and after."""
        return (self.level - 1, self.level) if self.phase == "out" else (self.level, self.level - 1)


@dataclass(frozen=True, eq=False)
class _Mode:
    step: _Step
    way: int
    context: tuple

    def raw_way(self) -> dict:
        return self.step.raw["ways"][self.way]


class _Model:
    """The whole model; `scale` parts the total from the number of changes in the objective."""

    def __init__(self, core: dict):
        _refuse_what_is_not_mine(core)
        self.core, self.dims = core, core["dims"]
        self.cp = cp_model.CpModel()
        self.true = self.cp.new_constant(1)
        self.false = self.cp.new_constant(0)
        self.steps = self._steps()
        self.ends = self._end_contexts()
        self.scale = len(self.dims) * (len(self.steps) + 2) + 1
        self.modes = [mode for step in self.steps for mode in self._modes_of(step)]
        self.used = [self.cp.new_bool_var(f"{mode.step.id} {n}") for n, mode in enumerate(self.modes)]
        self.ended = [self.cp.new_bool_var(f"end {n}") for n in range(len(self.ends))]
        self.ranks = {step: self.cp.new_int_var(0, len(self.steps), step.id) for step in self.steps}
        self.present = {step: self._present(step) for step in self.steps}
        self.by_move = {(step.phase, step.item, step.level): step for step in self.steps}
        self.earlier: dict = {}
        self._add_circuit()
        self._add_levels()
        self._add_needs()
        self._add_ends()
        self.cp.minimize(sum(self._costs()))

    # steps and modes

    def _steps(self) -> list[_Step]:
        """All steps that can ever be done: nothing comes out below the level where its item starts."""
        steps = [
            _Step(op["id"], op["dir"], op, op["item"], op["level"])
            for op in self.core["ops"]
            if op["dir"] == "back" or op["level"] > self._start(op["item"])
        ]
        return steps + [_Step(swap["id"], "swap", swap) for swap in self.core.get("swaps", [])]

    def _start(self, item: str) -> int:
        return self.core["items"][item].get("start", 0)

    def _modes_of(self, step: _Step) -> list[_Mode]:
        modes = []
        for way, raw in enumerate(step.raw["ways"]):
            choices = [raw.get("in", {}).get(dim["name"], dim["values"]) for dim in self.dims]
            modes += [_Mode(step, way, context) for context in product(*choices)]
        return modes

    def _present(self, step: _Step):
        present = self.cp.new_bool_var(f"{step.id} is done")
        self.cp.add(sum(u for u, m in zip(self.used, self.modes, strict=True) if m.step == step) == present)
        return present

    # the circuit

    def _add_circuit(self) -> None:
        """Node 0 is the start, then come the modes, then the ways to end; all but 0 may loop to themselves."""
        nodes = [*enumerate(self.modes, 1)]
        ends = [*enumerate(self.ends, 1 + len(nodes))]
        pairs = [(0, b) for b, mode in nodes if self._may_follow(None, mode)]
        pairs += [(a, b) for (a, one), (b, other) in product(nodes, nodes) if self._may_follow(one, other)]
        pairs += [(a, b) for (a, mode), (b, _) in product(nodes, ends) if self._may_end(mode.step.phase)]
        pairs += [(0, b) for b, _ in ends if self._may_end("out")] + [(b, 0) for b, _ in ends]
        self.arcs = {pair: self.cp.new_bool_var("") for pair in pairs}
        loops = [(n, n, used.negated()) for n, used in enumerate([*self.used, *self.ended], 1)]
        self.cp.add_circuit([*((a, b, arc) for (a, b), arc in self.arcs.items()), *loops])
        self._add_ranks()

    def _may_end(self, phase: str) -> bool:
        return phase != "out" or not self.core.get("swaps")

    def _may_follow(self, one: _Mode | None, other: _Mode) -> bool:
        """Phases never go back, and nothing goes back ahead of the swaps."""
        phase = one.step.phase if one else "out"
        if one and one.step == other.step:
            return False
        if phase == "out" and other.step.phase == "back":
            return not self.core.get("swaps")
        return PHASES.index(phase) <= PHASES.index(other.step.phase)

    def _add_ranks(self) -> None:
        follows: dict = {}
        for (a, b), arc in self.arcs.items():
            if a and 0 < b <= len(self.modes):
                follows.setdefault((self.modes[a - 1].step, self.modes[b - 1].step), []).append(arc)
        for (one, other), arcs in follows.items():
            link = arcs[0] if len(arcs) == 1 else self.cp.new_bool_var("")
            if len(arcs) > 1:
                self.cp.add(sum(arcs) == link)
            self.cp.add(self.ranks[other] == self.ranks[one] + 1).only_enforce_if(link)

    # levels

    def _done(self, phase: str, item: str, level: int):
        step = self.by_move.get((phase, item, level))
        return self.false if step is None else self.present[step]

    def _reached(self, item: str, level: int):
        """Whether the item stood at `level` or beyond when the work out was over."""
        if level <= self._start(item):
            return self.true
        return self._done("out", item, level)

    def _add_levels(self) -> None:
        for item, raw in self.core["items"].items():
            for level in range(1, raw["levels"] + 1):
                self._add_out(item, level)
                self._add_back(item, level)
        for swap in self.core.get("swaps", []):
            for item in _targets(swap):
                self.cp.add_bool_or(self._reached(item, self.core["items"][item]["levels"]))

    def _add_out(self, item: str, level: int) -> None:
        """Out to a level goes what reached the one below, and after that."""
        self.cp.add_implication(self._done("out", item, level), self._reached(item, level - 1))
        self._in_order(("out", item, level - 1), ("out", item, level))

    def _add_back(self, item: str, level: int) -> None:
        """Back from a level goes what reached it and did not stay above, and after it came back from there."""
        back = self._done("back", item, level)
        self.cp.add_implication(back, self._reached(item, level))
        stayed_below = self._reached(item, level + 1).negated()
        self.cp.add_bool_or(back.negated(), stayed_below, self._done("back", item, level + 1))
        self._in_order(("back", item, level + 1), ("back", item, level))

    def _in_order(self, first: tuple, second: tuple) -> None:
        if first in self.by_move and second in self.by_move:
            one, other = self.by_move[first], self.by_move[second]
            both = [self.present[one], self.present[other]]
            self.cp.add(self.ranks[one] < self.ranks[other]).only_enforce_if(both)

    # needs, as clauses that must hold where a mode is used

    def _add_needs(self) -> None:
        for mode, used in zip(self.modes, self.used, strict=True):
            self._require_ranges(used, mode.step, mode.raw_way().get("needs", {}), after=False)
            for after in (False, True):
                self._require_ranges(used, mode.step, self._value_needs(mode.context), after)

    def _require_ranges(self, used, step: _Step, needs: dict, after: bool) -> None:
        for item, (low, high) in needs.items():
            self._require(used, self._at_step(step, item, low, high, after))

    def _value_needs(self, context: tuple) -> dict:
        """What the values in force need: of an item that two of them name, the range that both allow."""
        needs: dict = {}
        for dim, value in zip(self.dims, context, strict=True):
            for item, (low, high) in dim.get("needs", {}).get(value, {}).items():
                lowest, highest = needs.get(item, (low, high))
                needs[item] = (max(low, lowest), min(high, highest))
        return needs

    def _require(self, literal, clauses: list) -> None:
        for clause in clauses:
            self.cp.add_bool_or(literal.negated(), *clause)

    def _at_step(self, step: _Step, item: str, low: int, high: int, after: bool) -> list:
        if item == step.item:
            return [] if low <= step.own_levels()[after] <= high else [[]]
        clauses = []
        if low > 0:
            clauses += self._at_least(step, item, low)
        if high < self.core["items"][item]["levels"]:
            clauses.append(self._below(step, item, high + 1))
        return clauses

    def _at_least(self, step: _Step, item: str, level: int) -> list:
        if step.phase == "out":
            return [[self.true if level <= self._start(item) else self._before(("out", item, level), step)]]
        clauses = [[self._reached(item, level)]]
        if step.phase == "back":
            clauses.append([self._before(("back", item, level), step).negated()])
        return clauses

    def _below(self, step: _Step, item: str, level: int) -> list:
        if step.phase == "out":
            return [self.false if level <= self._start(item) else self._before(("out", item, level), step).negated()]
        clause = [self._reached(item, level).negated()]
        if step.phase == "back":
            clause.append(self._before(("back", item, level), step))
        return clause

    def _before(self, move: tuple, step: _Step):
        """Whether a move is done, and done ahead of a step."""
        if move not in self.by_move:
            return self.false
        key = move, step.id
        if key not in self.earlier:
            first = self.by_move[move]
            earlier = self.earlier[key] = self.cp.new_bool_var("")
            self.cp.add_implication(earlier, self.present[first])
            self.cp.add(self.ranks[first] < self.ranks[step]).only_enforce_if(earlier)
            later = [earlier.negated(), self.present[first]]
            self.cp.add(self.ranks[first] > self.ranks[step]).only_enforce_if(later)
        return self.earlier[key]

    # the end

    def _add_ends(self) -> None:
        for item, raw in self.core["items"].items():
            self._require(self.true, self._at_end(item, *raw.get("goal", [0, 0])))
        for swap in self.steps:
            if swap.phase == "swap":
                self.cp.add(self.present[swap] == 1)
        for context, ended in zip(self.ends, self.ended, strict=True):
            for item, (low, high) in self._value_needs(context).items():
                self._require(ended, self._at_end(item, low, high))

    def _at_end(self, item: str, low: int, high: int) -> list:
        clauses = []
        if low > 0:
            clauses += [[self._reached(item, low)], [self._done("back", item, low).negated()]]
        if high < self.core["items"][item]["levels"]:
            clauses.append([self._reached(item, high + 1).negated(), self._done("back", item, high + 1)])
        return clauses

    def _end_contexts(self) -> list[tuple]:
        """The values to end with; None where a dimension may as well stay, since nothing hangs on its value."""
        return list(product(*(dim.get("end") or (dim["values"] if dim.get("needs") else [None]) for dim in self.dims)))

    def _start_context(self) -> tuple:
        return tuple(dim["start"] for dim in self.dims)

    # what it costs, in total x scale + changes

    def _costs(self) -> list:
        costs = [arc * self._arc_cost(a, b) for (a, b), arc in self.arcs.items()]
        costs += [used * self._charge(mode) for mode, used in zip(self.modes, self.used, strict=True)]
        costs += [self._money(work) for work in self.core.get("fixed", [])]
        return costs + [self._once(once) for once in self.core.get("once", [])]

    def _arc_cost(self, a: int, b: int) -> int:
        return self._changes(self._context(a), self._context(b)) if b else 0

    def _context(self, node: int) -> tuple:
        if node == 0:
            return self._start_context()
        if node > len(self.modes):
            return self.ends[node - 1 - len(self.modes)]
        return self.modes[node - 1].context

    def _changes(self, old: tuple, new: tuple) -> int:
        zipped = zip(self.dims, old, new, strict=True)
        pairs = [(dim, a, b) for dim, a, b in zipped if b is not None and a != b]
        return self.core["rate"] * self.scale * sum(_change(*pair) for pair in pairs) + len(pairs)

    def _charge(self, mode: _Mode) -> int:
        return self._money(mode.step.raw) + self._money(mode.raw_way())

    def _money(self, raw: dict) -> int:
        return self.scale * (self.core["rate"] * raw.get("time", 0) + raw.get("cost", 0))

    def _once(self, once: dict):
        due = self.cp.new_bool_var(once["id"])
        for mode, used in zip(self.modes, self.used, strict=True):
            if [mode.step.id] in once["ops"] or [mode.step.id, mode.way] in once["ops"]:
                self.cp.add_implication(used, due)
        return due * min(self._money(offer) for offer in once["offers"])

    def plan(self, solver: cp_model.CpSolver) -> list:
        follows = {a: b for (a, b), arc in self.arcs.items() if solver.boolean_value(arc)}
        steps, node = [], follows.get(0, 0)
        while 0 < node <= len(self.modes):
            mode = self.modes[node - 1]
            context = {dim["name"]: value for dim, value in zip(self.dims, mode.context, strict=True)}
            steps.append([mode.step.id, mode.way, context])
            node = follows[node]
        return steps


def _refuse_what_is_not_mine(core: dict) -> None:
    ways = [way for op in [*core["ops"], *core.get("swaps", [])] for way in op["ways"]]
    holders = [*core["items"].values(), *core["dims"]]
    if core.get("waits") or any(way.get("uses") for way in ways):
        raise NotMine("waits and equipment are not known here")
    if any(holder.get("holds") or holder.get("moving") for holder in holders):
        raise NotMine("equipment is not known here")


def _change(dim: dict, old: str, new: str) -> int:
    if old == new or isinstance(dim["change"], int):
        return 0 if old == new else dim["change"]
    return dim["change"][dim["values"].index(old)][dim["values"].index(new)]


def _targets(swap: dict) -> list[str]:
    return swap["item"] if isinstance(swap["item"], list) else [swap["item"]]


def _version_2(core: dict) -> dict:
    """Version 1 in the words of version 2; its one swap names all targets at once."""
    names = {"tool": "tools", "vantage": "vantages", "posture": "postures"}
    dims = [
        {"name": name, "values": core[values], "start": core["start"][name], "change": core["setup"][name]}
        for name, values in names.items()
    ]
    dims[2]["end"] = [core["end_posture"]]
    ops = [{**op, "time": op["minutes"], "ways": [_way(alt) for alt in op["alts"]]} for op in core["ops"]]
    targets = core["target"] if isinstance(core["target"], list) else [core["target"]]
    swap = {"id": "swap", "item": targets, "time": core["swap"]["minutes"], "ways": [_way(core["swap"])]}
    items = {name: {"levels": levels} for name, levels in core["items"].items()}
    return {"core": 2, "rate": 1, "dims": dims, "items": items, "ops": ops, "swaps": [swap]}


def _way(alt: dict) -> dict:
    within = {"tool": [alt["tool"]], "vantage": [alt["vantage"]], "posture": alt["postures"]}
    return {"needs": alt.get("req", {}), "in": within, "cost": alt["extra"]}
