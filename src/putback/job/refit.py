"""The way back of what no plan knows: extra found, own entries, and a whole car that nobody has described.

What came off last goes on first, for it may lie in front of what came off before it. Fasteners follow the part that
they hold, in whatever order somebody said them.
"""

from collections.abc import Iterable

from putback.area.model import BACK, FASTENERS, PLUG, PUT_IN
from putback.job.car import Car
from putback.job.closing import Move, asks_how_tight, back_again, closing, is_group
from putback.job.plan_moves import not_back
from putback.job.plan_step import removal_notes, tray, turn, where
from putback.job.state import JobState
from putback.job.step import WAY_BACK, Step


def refit_steps(names: Iterable[str], state: JobState, car: Car) -> list[Step]:
    """Steps that bring things back home, in the order in which they go on.

    Parameters
    ----------
    names : iterable of str
        What is away.
    state : JobState
    car : Car
    """
    away = list(names)
    ordered = sorted(away, key=lambda name: _order(name, away, state, car))
    return [step for name in ordered for step in _steps(name, state, car)]


def _order(name: str, away: list[str], state: JobState, car: Car) -> tuple:
    """The last that came off first; a part with the last of its fasteners, and before them."""
    part = part_of(name, state, car)
    if part != name and part in away and left(name, state) > left(part, state):
        name_left = _with_its_fasteners(part, away, state, car)
        return (-name_left, 1, -left(name, state))
    return (-_with_its_fasteners(name, away, state, car), 0, 0)


def _with_its_fasteners(part: str, away: list[str], state: JobState, car: Car) -> int:
    return max(left(name, state) for name in away if name == part or part_of(name, state, car) == part)


def part_of(name: str, state: JobState, car: Car) -> str:
    """The part that a thing belongs to, as the description or somebody at the car has it; itself where neither does.

    Parameters
    ----------
    name : str
    state : JobState
    car : Car
    """
    owner = car.items[name].owner if name in car.items else None
    return owner or (state.groups[name].belongs_to if name in state.groups else "") or name


def left(name: str, state: JobState) -> int:
    """Number of the event by which a thing last left its place; 0 if it never did.

    Parameters
    ----------
    name : str
    state : JobState
    """
    thing = state.groups.get(name) or state.items.get(name)
    return thing.left if thing else 0


def _steps(name: str, state: JobState, car: Car) -> list[Step]:
    if is_group(name, state, car):
        return [_group_step(name, to, level, state, car) for to, level in _stages(name, state, car)]
    return [_item_step(name, state, car)]


def _stages(name: str, state: JobState, car: Car) -> list[tuple[str, int]]:
    """The states that a group still goes through: what is tightened on the ground is run in first."""
    described = car.items.get(name)
    if described is None:
        return [("", 0)]
    run_in = [(described.states[1], 1)] if described.levels > 1 and state.groups[name].out else []
    return [*run_in, (described.states[0], 0)]


def _group_step(name: str, to: str, level: int, state: JobState, car: Car) -> Step:
    group, part = state.groups[name], part_of(name, state, car)
    # What a stage before this one runs in is loose by then.
    count = not_back(group, level)
    move = Move(name, BACK, to, count)
    fastener = car.fastener(name)
    lies = tray(name, False, state, {})
    return Step(
        f"refit: {name}{f', {to}' if level else ''}",
        WAY_BACK,
        _group_text(name, count, part, level, state, car),
        item=name,
        part=part,
        kind=FASTENERS,
        left=count,
        of=group.total,
        torque=fastener.torque.shown if fastener and fastener.torque and level == 0 else "",
        turn=turn(name, False, car),
        where=where(name, car),
        tray=lies,
        notes=removal_notes(name, part, state),
        asks="fasteners on" if asks_how_tight(name, state, car) else "",
        closes=closing(move, state, car),
    )


def _group_text(name: str, count: int, part: str, level: int, state: JobState, car: Car) -> str:
    size = state.groups[name].size
    what = f"{count} x {name}{f', {size}' if size and size not in name else ''}"
    held = f" (hold the {part})" if part != name else ""
    return f"run in by hand: {what}{held}" if level else f"put back and tighten: {what}{held}"


def _item_step(name: str, state: JobState, car: Car) -> Step:
    item, described = state.items[name], car.items.get(name)
    to = described.states[0] if described else back_again(item.state)
    part = part_of(name, state, car)
    return Step(
        f"refit: {name}",
        WAY_BACK,
        _item_text(name, item.state, to, described.kind if described else ""),
        item=name,
        part=part,
        kind=described.kind if described else "",
        where=where(name, car),
        notes=removal_notes(name, part, state),
        closes=closing(Move(name, BACK, to), state, car),
    )


def _item_text(name: str, stands: str, to: str, kind: str) -> str:
    if kind == PUT_IN:
        return f"take the {name} out"
    if kind == PLUG or to == "plugged":
        return f"plug the {name} in"
    return f"put the {name} back ({stands} now)"


def merged(planned: list[Step], own: list[Step], state: JobState) -> list[Step]:
    """The plan's way back with what it does not know at the right places.

    Nothing that came off before a thing goes on before it, for it may lie over it; fasteners come after their part.

    Parameters
    ----------
    planned : list of Step
        On the way back, in the plan's order.
    own : list of Step
        From `refit_steps`, in their order.
    state : JobState
    """
    found = list(planned)
    for step in own:
        found.insert(_place(step, found, own, state), step)
    return found


def _place(step: Step, steps: list[Step], own: list[Step], state: JobState) -> int:
    if step.kind == PUT_IN:  # what it holds comes first
        return len(steps)
    mine = max(left(one.item, state) for one in own if step.item in (one.item, one.part))
    over = (at for at, one in enumerate(steps) if one.kind != PUT_IN and 0 < left(one.item, state) < mine)
    after_its_part = [at + 1 for at, one in enumerate(steps) if step.part != step.item and one.item == step.part]
    return max(next(over, len(steps)), *after_its_part, 0)
