"""Lower bounds on what changes of context still have to cost in a phase.

Change costs add up over dimensions, so bounds on separate dimensions add up too. Each part is exact: the
cheapest way to finish when nothing else costs anything. Costs are split in several ways, and the largest sum counts:

* the main dimension (the one with most values, as a rule the tool) by itself, and all others together;
* blocks of main dimension *and* one other (same tool at the same vantage): every border between two blocks
  costs at least the cheaper of the two changes. What is left of the costs goes to the other parts.
"""

from collections.abc import Iterator, Sequence
from itertools import product

from putback.way.phase import Phase
from putback.way.problem import Problem
from putback.way.space import Space, change_table

NEVER = 1 << 80  # above every search cost: no plan is dearer than 2^48, times CHANGES


APART = -1  # the split without a partner
HINT = 50  # effort for a hint
SPLITS = 2  # as many are worth their time


class Bound:
    """Bounds on the cost to go for the states of one space.

    Parameters
    ----------
    space : Space
        The states to be bounded.
    splits : sequence of int, optional
        Partners of the main dimension to split by, the best first; left out, those that bound the start best.
    effort : int
        How many states a part works out for one question; what it then does not know yet, it bounds by what the steps
        ask for at least.
    """

    def __init__(self, space: Space, splits: Sequence[int] = (), effort: int = 1000):
        problem = space.problem
        dims = tuple(range(len(problem.dims)))
        main = self.main = max(dims, key=lambda dim: len(problem.dims[dim].values), default=APART)
        cheapest = {dim: _cheapest_change(problem, dim) for dim in dims}
        partners = splits or [APART, *(dim for dim in dims if dim != main and cheapest[dim])]
        values = {partner: _Sum(space, _split(space, main, partner, cheapest, effort)).value for partner in partners}
        self.splits = splits or sorted(partners, key=lambda partner: -values[partner](*space.begin()))[:SPLITS]
        self.quick, *self._others = (values[partner] for partner in self.splits)

    def hint(self, done: int, context: int) -> int:
        """What ``quick`` says with little effort: less sharp, for looking ahead often."""
        return self.quick(done, context, HINT)

    def second(self, done: int, context: int) -> int:
        """The largest of the other bounds."""
        return max((value(done, context) for value in self._others), default=0)

    def best(self, done: int, context: int) -> int:
        """The largest bound: ``quick`` alone is one, and mostly it is the largest."""
        return max(self.quick(done, context), self.second(done, context))


def _split(space: Space, main: int, partner: int, cheapest: dict[int, int], effort: int) -> list:
    """Blocks of one or two dimensions, and what is left of the costs."""
    problem, phase = space.problem, space.phase
    others = tuple(dim for dim in cheapest if dim != main)
    if partner == APART:
        blocks = [_Blocks(problem, phase, (main,), cheapest[main], effort)] if cheapest else []
        return [*blocks, _Rest(problem, phase, others, {}, effort)]
    border = min(cheapest[main], cheapest[partner])
    parts: list = [_Blocks(problem, phase, (main, partner), border, effort)]
    parts.append(_Rest(problem, phase, others, {partner: border}, effort))
    if cheapest[main] > border:
        parts.append(_Blocks(problem, phase, (main,), cheapest[main] - border, effort))
    return parts


class _Sum:
    """Parts added up; each numbers the contexts of the whole space in its own way."""

    def __init__(self, space: Space, parts: list):
        self._space, self._parts = space, parts
        self._seen: list[list[tuple]] = []

    def value(self, done: int, context: int, effort: int | None = None) -> int:
        while len(self._seen) <= context:
            values = self._space.contexts[len(self._seen)]
            self._seen.append([(part.value, part.number(values)) for part in self._parts])
        total = 0
        for value, number in self._seen[context]:
            total += value(done, number, effort)
        return total


class _Rest:
    """Exact cost to go over some dimensions, extras of modes included."""

    def __init__(self, problem: Problem, phase: Phase, dims: tuple[int, ...], less: dict[int, int], effort: int):
        self._space = Space(problem, phase, dims, loose=True, less=less)
        self._known: dict[tuple[int, int], int] = {}
        self._effort = self._left = effort

    def number(self, values: tuple[int, ...]) -> int:
        """The part's number for a context of the whole space."""
        return self._space.context(tuple(values[dim] for dim in self._space.dims))

    def value(self, done: int, context: int, effort: int | None = None) -> int:
        """Least cost from here to all steps done, or less where that takes too much effort."""
        done = self._space.close(done, context)
        known = self._known.get((done, context))
        if known is None:
            self._left = effort or self._effort
            known = self._bounded(done, context)
            if self._left > 0 or not effort:
                self._known[done, context] = known
        return known

    def _bounded(self, done: int, context: int) -> int:
        try:
            return self._closed_value(done, context)
        except RecursionError:  # hundreds of changes one after another
            return 0

    def _closed_value(self, done: int, context: int) -> int:
        if done == self._space.full or self._left <= 0:
            return 0
        key = done, context
        known = self._known.get(key)
        if known is None:
            known = self._least(done, context)
            if self._left > 0:
                self._known[key] = known
        return known

    def _least(self, done: int, context: int) -> int:
        self._left -= 1
        best = NEVER
        moves = self._space.moves(done, context)
        for (after, there), (cost, _) in sorted(moves.items(), key=lambda move: move[1][0]):
            if cost >= best:
                break
            best = min(best, cost + self._closed_value(after, there))
        return best


class _Blocks:
    """Exact least number of blocks of steps that share the values of some dimensions, at a flat cost per border.

    Steps are done at once wherever they can be. Two rules keep the search small: a block that must come and leaves
    nothing for later of its kind is best taken now; and a bound that counts the kinds still needed stops the rest.
    """

    def __init__(self, problem: Problem, phase: Phase, dims: tuple[int, ...], border: int, effort: int):
        self._dims, self._border, self._full = dims, border, phase.full
        self._effort = self._left = effort
        self._free = tuple(len(problem.dims[dim].values) for dim in dims)
        self._everywhere = tuple((1 << size) - 1 for size in self._free)
        self._options = [list(_options(choices, dims)) for choices in phase.choices]
        self._number: dict[tuple[int, ...], int] = {}
        self._steps: list[list[tuple[int, int]]] = []
        self._known: list[dict[int, int]] = []
        self._borders: list[int] = []
        kinds = sorted(set(self._all_kinds()))
        numbers = [self._kind(kind) for kind in kinds]
        only, any_ = self._homes(kinds)
        self._kinds = [(n, only[n], any_[n], self._steps[n]) for n in numbers]

    def number(self, values: tuple[int, ...]) -> int:
        """The part's number for a context of the whole space."""
        return self._kind(tuple(values[dim] for dim in self._dims))

    def value(self, done: int, kind: int, effort: int | None = None) -> int:
        """Least cost from here to all steps done, or less where that takes too much effort."""
        steps = self._steps[kind]
        while True:
            before = done
            for bit, after in steps:
                if not done & bit and done & after == after:
                    done |= bit
            if done == before:
                break
        known = self._known[kind].get(done)
        if known is None:
            self._left = effort or self._effort
            known = self._bounded(done, kind)
            if self._left > 0 or not effort:
                self._known[kind][done] = known
        return known

    def _bounded(self, done: int, kind: int) -> int:
        try:
            return self._closed_value(done, kind)
        except RecursionError:  # hundreds of blocks one after another
            return self._floor(done, kind)

    def _closed_value(self, done: int, kind: int) -> int:
        if done == self._full:
            return 0
        known = self._known[kind].get(done)
        if known is not None:
            return known
        if self._left <= 0:
            return self._floor(done, kind)
        known = self._least(done, kind)
        if self._left > 0:
            self._known[kind][done] = known
        return known

    def _floor(self, done: int, kind: int) -> int:
        """Every kind of block that some step waits for must come."""
        needed = sum(1 for there, only, _, _ in self._kinds if only & ~done and there != kind)
        return self._borders[kind] + self._border * (needed - 1) if needed else 0

    def _least(self, done: int, kind: int) -> int:
        border, left, others = self._borders[kind], ~done, []
        self._left -= 1
        needed = 0
        for there, only, any_, steps in self._kinds:
            if not any_ & left or there == kind:
                continue
            must = only & left
            if must:
                needed += 1
            after = done
            while True:
                before = after
                for bit, asked in steps:
                    if not after & bit and after & asked == asked:
                        after |= bit
                if after == before:
                    break
            if after == done:
                continue
            if must and not any_ & ~after:
                return border + self._closed_value(after, there)
            others.append((after, there))
        return border + self._least_of(others, self._border * (needed - 1))

    def _least_of(self, others: list[tuple[int, int]], floor: int) -> int:
        best = NEVER
        for after, there in others:
            value = self._closed_value(after, there)
            if value < best:
                best = value
                if best <= floor:
                    break
        return best

    # -- set-up ----------------------------------------------------------------------------

    def _kind(self, kind: tuple[int, ...]) -> int:
        number = self._number.get(kind)
        if number is None:
            number = self._number[kind] = len(self._steps)
            self._steps.append(self._steps_at(kind))
            self._known.append({})
            is_free = any(value == free for value, free in zip(kind, self._free, strict=True))
            self._borders.append(0 if is_free else self._border)
        return number

    def _all_kinds(self) -> Iterator[tuple[int, ...]]:
        for options in self._options:
            for allowed, _ in options:
                if allowed != self._everywhere:
                    yield from product(*[_values(mask) for mask in allowed])

    def _steps_at(self, kind: tuple[int, ...]) -> list[tuple[int, int]]:
        return [
            (1 << number, after)
            for number, options in enumerate(self._options)
            for allowed, after in options
            if all(
                mask >> value & 1 or mask == whole
                for mask, value, whole in zip(allowed, kind, self._everywhere, strict=True)
            )
        ]

    def _homes(self, kinds: list[tuple[int, ...]]) -> tuple[dict[int, int], dict[int, int]]:
        """Per kind: steps that can be done there only, and steps that can be done there (but not everywhere)."""
        only = {self._number[kind]: 0 for kind in kinds}
        any_ = dict(only)
        for number, options in enumerate(self._options):
            if self._is_everywhere(options):
                continue
            homes = {self._number[kind] for mask, _ in options for kind in self._kinds_within(mask, kinds)}
            for home in homes:
                any_[home] |= 1 << number
            if len(homes) == 1:
                only[homes.pop()] |= 1 << number
        return only, any_

    def _is_everywhere(self, options: list) -> bool:
        """Whether a step is never waiting for a certain kind of block."""
        anywhere = [after for mask, after in options if mask == self._everywhere]
        return any(all(after & ~other == 0 for _, other in options) for after in anywhere)

    def _kinds_within(self, mask: tuple[int, ...], kinds: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
        return kinds if mask == self._everywhere else list(product(*[_values(values) for values in mask]))


def _options(choices: tuple, dims: tuple[int, ...]) -> Iterator[tuple[tuple[int, ...], int]]:
    """Where a step can be done and after what, each once."""
    return iter(dict.fromkeys((tuple(choice.allowed[dim] for dim in dims), choice.after) for choice in choices))


def _values(mask: int) -> list[int]:
    return [value for value in range(mask.bit_length()) if mask >> value & 1]


def _cheapest_change(problem: Problem, dim: int) -> int:
    """Least search cost of any change of a dimension; 0 when it has one value only."""
    table = change_table(problem, dim, backwards=False)
    size = len(table) - 1
    return min((table[a][b] for a in range(size) for b in range(size) if a != b), default=0)
