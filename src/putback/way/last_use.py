"""Taking a tool up for the last time: moves that need not be looked at.

Say a move takes up a tool with which, right there, everything can be finished that the tool is still needed for. Then any
other move that changes the tool and leads to the same place (vantage, posture, ...) can be left out. For take the
cheapest plan that begins with the other move, do the last use first, and drop it where it stood: the extra change of tool
costs one change, and where the last use stood at least one is saved, because the tool before it and the tool
after it are other ones. Where the tool in hand has nothing left to do either, no other move at all is needed.

This holds when every change of the tool costs the same, and when a step that the tool cannot do comes after all its steps, so
that some other tool always follows.
"""

from collections.abc import Mapping

from putback.way.phase import Phase
from putback.way.space import Space, Step

Moves = dict[tuple[int, int], tuple[int, Step | None]]


class LastUse:
    """Leaves out moves of one space by the values of its main dimension.

    Parameters
    ----------
    space : Space
        A space over all dimensions, in their order.
    main : int
        The dimension with most values, as a rule the tool.
    """

    def __init__(self, space: Space, main: int):
        self._space, self._main = space, main
        if not space.problem.dims:
            self.holds = False
            return
        size = len(space.problem.dims[main].values)
        self._uses = [_uses(space.phase, main, value, (1 << size) - 1) for value in range(size)]
        self._followed = [_is_followed(space.phase, main, n, every) for n, (_, every) in enumerate(self._uses)]
        self.holds = self._is_flat() and space.orderly and not self._is_guarded()

    def prune(self, done: int, context: int, moves: Moves) -> Moves:
        """The moves that are left."""
        if not self.holds or len(moves) < 2:
            return moves
        here = self._place(context)
        finishing = self._finishing(done, context, moves)
        if not finishing:
            return moves
        if here in finishing and self._is_idle(done, self._value(context)):
            chosen = finishing[here]
            return {chosen: moves[chosen]}
        return {move: found for move, found in moves.items() if self._stays(move, context, finishing)}

    def _finishing(self, done: int, context: int, moves: Moves) -> dict[tuple, tuple[int, int]]:
        """Per place, the first move there that takes a tool up for the last time."""
        found: dict[tuple, tuple[int, int]] = {}
        for (after, there), (_, step) in moves.items():
            value = self._value(there)
            if step is None and value != self._value(context) and self._is_last(done, after, value):
                found.setdefault(self._place(there), (after, there))
        return found

    def _is_last(self, done: int, after: int, value: int) -> bool:
        if value >= len(self._uses) or not self._followed[value]:
            return False
        only, every = self._uses[value]
        return bool(only & ~done) and not every & ~after

    def _stays(self, move: tuple[int, int], context: int, finishing: Mapping) -> bool:
        there = move[1]
        chosen = finishing.get(self._place(there))
        return chosen is None or chosen == move or self._value(there) == self._value(context)

    def _is_idle(self, done: int, value: int) -> bool:
        """Whether the tool in hand has nothing left to do."""
        return value < len(self._uses) and not self._uses[value][1] & ~done

    def _value(self, context: int) -> int:
        return self._space.contexts[context][self._main]

    def _place(self, context: int) -> tuple[int, ...]:
        values = self._space.contexts[context]
        return values[: self._main] + values[self._main + 1 :]

    def _is_flat(self) -> bool:
        change = self._space.problem.dims[self._main].change
        return len({cost for a, row in enumerate(change) for b, cost in enumerate(row) if a != b}) <= 1

    def _is_guarded(self) -> bool:
        equipment = self._space.equipment
        return equipment is not None and self._main in equipment.guarded


def _uses(phase: Phase, main: int, value: int, whole: int) -> tuple[int, int]:
    """Steps that can be done with this value only, and all that ask for a value and will do with this one."""
    only = every = 0
    for number, choices in enumerate(phase.choices):
        masks = {choice.allowed[main] for choice in choices}
        if masks == {1 << value}:
            only |= 1 << number
        if masks != {whole} and any(mask >> value & 1 for mask in masks):
            every |= 1 << number
    return only, every


def _is_followed(phase: Phase, main: int, value: int, every: int) -> bool:
    """Whether a step that cannot be done with a value comes after all that ask for it."""
    return any(
        not any(choice.allowed[main] >> value & 1 for choice in choices) and every & ~before == 0
        for choices, before in zip(phase.choices, phase.before, strict=True)
    )
