"""A step of a plan as the technician meets it: with what is left of it, its tray, its notes, and what a tap logs."""

from collections.abc import Iterator

from putback.area.model import BACK, OUT
from putback.job.car import Car
from putback.job.closing import Move, closing
from putback.job.needs import minutes_left, waiting
from putback.job.plan_moves import IN, SWAP, Left, swapped_part
from putback.job.state import NOT_SAID, JobState
from putback.job.step import AT_THE_SWAP, WAY_BACK, WAY_IN, Said, Step

SWAP_TEXT = "put the new {} in the place of the old one"
_SHOWN = ("tool", "vantage", "posture")  # parts of a context that a step tells elsewhere


RENEWED = "NEW ones, the old ones are scrap"


def plan_step(move: Left, state: JobState, car: Car, plan: dict, trays: dict[str, str], now: str) -> Step:
    """A step of the plan as it stands now.

    Parameters
    ----------
    move : Left
    state : JobState
    car : Car
    plan : dict
    trays : dict of str to str
        As `trays.tray_map` has them.
    now : str
        The time in UTC, as events have it.
    """
    if move.step["direction"] == SWAP:
        return _swap(move.step)
    told, going = move.step, move.step["direction"] == IN
    name, context = told["item"], told["context"]
    left, of = _counts(move, state, car)
    new = not going and is_renewed(name, car)
    done = Move(name, OUT if going else BACK, told["state"], move.left, told["way"], *_wrench(told, car))
    return Step(
        key=f"{told['direction']}: {told['id']}",
        phase=WAY_IN if going else WAY_BACK,
        text=_text(told["text"], left, of, going),
        item=name,
        part=told["part"],
        kind=car.kind(name),
        left=left,
        of=of,
        minutes=told["minutes"],
        tools=tuple(told["tools"]),
        equipment=tuple(told["equipment"]),
        vantage=context.get("vantage") or "",
        posture=context.get("posture") or "",
        settings=tuple(f"{dim}: {value}" for dim, value in context.items() if dim not in _SHOWN),
        torque=told["torque"] or "",
        wrench=_settings(told),
        order=tuple(told["tightening"]["order"]) if told["tightening"] else (),
        turn=turn(name, going, car),
        where=", ".join(words for words in (RENEWED if new else "", where(name, car)) if words),
        tray="" if new else tray(name, going, state, trays),
        cautions=(*told["cautions"], *_fluid_out(told, car, going), *_missing(told)),
        notes=() if going else removal_notes(name, told["part"], state),
        reason=tuple(told["reason"]) if going else (),
        not_before=_not_before(told, state, car, plan, now),
        closes=(*closing(done, state, car, trays.get(name, "")), *_fluid_in(told, plan, state)),
    )


def is_renewed(name: str, car: Car) -> bool:
    """Whether new ones go in, and what lies in the tray is scrap.

    Parameters
    ----------
    name : str
    car : Car
    """
    fastener = car.fastener(name)
    return fastener is not None and fastener.one_time


def _swap(told: dict) -> Step:
    part = swapped_part(told)
    return Step(
        f"swap: {part}",
        AT_THE_SWAP,
        SWAP_TEXT.format(part),
        item=part,
        part=part,
        vantage=told["context"].get("vantage") or "",
        posture=told["context"].get("posture") or "",
        closes=(Said("part swapped", {"part": part}),),
    )


def _counts(move: Left, state: JobState, car: Car) -> tuple[int, int]:
    fastener = car.fastener(move.step["item"])
    if fastener is None:
        return 0, 0
    group = state.groups.get(move.step["item"])
    return move.left, group.total if group else fastener.count


def _text(text: str, left: int, of: int, going: bool) -> str:
    """The plan's words, and how many are left where some are done."""
    return f"{text} ({left} of {of} still {'in' if going else 'out'})" if 0 < left < of else text


def _wrench(told: dict, car: Car) -> tuple[str, str]:
    """The wrench of the last stage, and why there is none where the shop has wrenches."""
    choices = told["tightening"]["wrenches"] if told["tightening"] else []
    if choices and all(choices):
        return choices[-1]["name"], ""
    lacks = told["tightening"]["missing"] if choices else []
    return "", lacks[0] if lacks and car.shop and car.shop.wrenches else ""


def _settings(told: dict) -> tuple[str, ...]:
    how = told["tightening"] or {"wrenches": [], "in_line": []}
    straight = [f"{one['name']} at {one['setting']}" for one in how["wrenches"] if one]
    in_line = [f"{one['name']} at {one['setting']} with the crow-foot in line" for one in how["in_line"] if one]
    return (*straight, *in_line)


def _missing(told: dict) -> tuple[str, ...]:
    return tuple(told["tightening"]["missing"]) if told["tightening"] else ()


def turn(name: str, going: bool, car: Car) -> str:
    """The direction for a left-hand thread; empty for any other.

    Parameters
    ----------
    name : str
    going : bool
        Whether it is undone.
    car : Car
    """
    fastener = car.fastener(name)
    if fastener is None or not fastener.left_hand:
        return ""
    return "LEFT-HAND THREAD: undo clockwise" if going else "LEFT-HAND THREAD: tighten anticlockwise"


def where(name: str, car: Car) -> str:
    """Where a thing sits, as far as the description says it.

    Parameters
    ----------
    name : str
    car : Car
    """
    described, fastener = car.items.get(name), car.fastener(name)
    return (fastener.where if fastener else "") or (described.about if described else "")


def tray(name: str, going: bool, state: JobState, trays: dict[str, str]) -> str:
    """The tray position that fasteners go to, or that they lie in.

    Parameters
    ----------
    name : str
    going : bool
    state : JobState
    trays : dict of str to str
    """
    group = state.groups.get(name)
    lying = [position for position in (group.trays if group else {}) if position != NOT_SAID]
    if lying and not going:
        return ", ".join(lying)
    return trays.get(name, "") if going or group is None else ""


def removal_notes(name: str, part: str, state: JobState) -> tuple[dict, ...]:
    """Notes and files of a thing and of the part that it belongs to, in the order in which they were made.

    Parameters
    ----------
    name, part : str
    state : JobState
    """
    found = [note for one in dict.fromkeys((name, part)) for note in state.notes.get(one, ())]
    return tuple(sorted(found, key=lambda note: note["number"]))


def _fluid_out(told: dict, car: Car, going: bool) -> tuple[str, ...]:
    described = car.items.get(told["item"])
    if not going or described is None or not described.loses or told["state"] != described.states[-1]:
        return ()
    fluid = described.loses
    return (f"{float(fluid.litres):g} l {fluid.name} run out: catch it, measure it and log it as drained",)


def _fluid_in(told: dict, plan: dict, state: JobState) -> tuple[Said, ...]:
    """What a step on the way back fills itself, as much as came out."""
    mine = [one for one in plan["fluids"] if any(fill["step"] == told["number"] for fill in one.get("filled", ()))]
    return tuple(said for one in mine for said in fill_up(one["name"], one["litres"], state))


def fill_up(fluid: str, litres: float, state: JobState) -> tuple[Said, ...]:
    """The event that fills what is missing of a fluid; none where nothing is.

    Parameters
    ----------
    fluid : str
    litres : float
        What the description says that runs out; what was measured goes before it.
    state : JobState
    """
    missing = round(state.drained.get(fluid, litres) - state.filled.get(fluid, 0.0), 3)
    return (Said("fluid filled", {"fluid": fluid, "litres": missing}),) if missing > 0 else ()


def _not_before(told: dict, state: JobState, car: Car, plan: dict, now: str) -> float:
    """Minutes left to wait: by what the thing itself waits for, and by what the plan says."""
    if told["direction"] != IN:
        return 0.0
    described = car.items.get(told["item"])
    own = minutes_left(described, state, car, now, told["way"]).values() if described else ()
    return max((*own, *_planned_waits(told, state, car, plan, now)), default=0.0)


def _planned_waits(told: dict, state: JobState, car: Car, plan: dict, now: str) -> Iterator[float]:
    by_number = {step["number"]: step for step in plan["steps"]}
    for wait in told["not_before"]:
        since = by_number.get(wait["after_step"])
        if since is not None and "item" in since:
            item = state.items.get(since["item"])
            yield waiting(since["item"], state, car, now) if item and not item.home else float(wait["minutes"])

