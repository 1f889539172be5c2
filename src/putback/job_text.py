"""A job in words for the terminal: the step now, what is off, what stands open."""

import textwrap
from collections.abc import Iterable, Iterator

from putback.desk.belts import belt_help
from putback.desk.jobs import where
from putback.desk.view import View
from putback.event_text import event_words
from putback.job.ledger import Logged
from putback.job.next_step import next_steps
from putback.job.points import ASK, REMARK, STOP, Point
from putback.job.state import Group
from putback.job.step import Step

WIDTH = 80


def folded(text: str, first: str = "", rest: str = "") -> list[str]:
    """A text in lines that a terminal of 80 columns holds.

    Parameters
    ----------
    text : str
    first, rest : str
        What the first line and the others begin with.
    """
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest)


_HOW = {
    "reading taken": 'say the figures with `putback job reading WHAT VALUE UNIT`, then `putback job work "..."`',
    "part compared": 'say what you see with `putback job compare PART "feature=value" ...`',
    "plan made": "`putback job plan --keep` plans again",
    "fluid filled": "`putback job fluid in FLUID LITRES`",
    "fluid drained": "`putback job fluid out FLUID LITRES`",
    "hand-over signed": "`putback job hand-over`",
    "intake noted": "`putback job intake`",
    "job taken over": "`putback job hand-on` shows what to confirm, `putback job take-over a b c` confirms it",
    "difference settled": "`putback job settled ITEM HOW`",
    "point accepted": "`putback job accept POINT REASON`",
    "fasteners on": '`putback job done --torque "24 N·m"`, or `--by-feel "and why"`; `putback job on` for anything else',
    "fasteners off": "`putback job off ITEM COUNT --tray PLACE`, `putback job moved ITEM off`",
}


def how(asks: str) -> str:
    """With which word a step is said that needs more than "done".

    Parameters
    ----------
    asks : str
        The kind of event that it asks for.
    """
    return _HOW.get(asks, "log it with the word that fits; `putback job --help` lists them")


def said_line(row: Logged) -> str:
    """An event that was just logged, with its number.

    Parameters
    ----------
    row : Logged
    """
    return f"{row.number}  {event_words(row.event)}"


def next_lines(view: View, now: str, count: int = 4) -> list[str]:
    """The step now, large, and the ones after it, each in a line.

    Parameters
    ----------
    view : View
    now : str
        The time in UTC.
    count : int
        How many steps in all.
    """
    steps = next_steps(view.state, view.car, view.plan, now)
    if not steps:
        return ["nothing is left to do"]
    first, *rest = steps[:count]
    return [*_step(first), *_belt(view, first), *([""] if rest else []), *(f"  then  {step.text}" for step in rest)]


def _step(step: Step) -> Iterator[str]:
    yield f"NOW  {step.phase.upper()}"
    yield from folded(step.text, "  ", "  ")
    for words in _facts(step):
        yield from folded(words, "       ", "       ")
    for caution in step.cautions:
        yield from folded(f"! {caution}", "       ", "         ")
    for note in step.notes:
        yield from folded(f"noted: {note.get('note') or note.get('name')} ({note['person']})", "       ", "         ")


def _belt(view: View, step: Step) -> Iterator[str]:
    help = belt_help(view, step)
    for words in help.words if help else ():
        yield from folded(words, "       ", "         ")


def _facts(step: Step) -> Iterator[str]:
    place = ", ".join(word for word in (f"from {step.vantage}" if step.vantage else "", step.posture and f"car {step.posture}", *step.settings) if word)
    tools = " + ".join((*step.tools, *step.equipment))
    if tools or place:
        yield "; ".join(word for word in (tools, place) if word)
    if step.turn:
        yield f"LEFT-HAND THREAD: {step.turn}"
    if step.torque:
        yield f"torque {step.torque}" + (f"; {', '.join(step.wrench)}" if step.wrench else "")
    if step.order:
        yield f"order {'-'.join(map(str, step.order))}"
    if step.where:
        yield step.where
    if step.tray:
        yield f"tray {step.tray}"
    if step.asks in _HOW and not step.closes:
        yield f"how: {how(step.asks)}"
    if step.not_before:
        yield f"WAIT: not before {step.not_before:.0f} more min"


def point_lines(points: list[Point], costs: dict | None = None) -> Iterator[str]:
    """Open points, those that bar the hand-over first, each with what it costs to reach it again.

    Parameters
    ----------
    points : list of Point
    costs : dict of str to str, optional
        Words by the key of the point.
    """
    for weight, title in ((STOP, "MUST BE DONE"), (ASK, "DONE, OR ANSWERED FOR BY NAME"), (REMARK, "FOR THE RECORD")):
        group = [point for point in points if point.weight == weight]
        if group:
            yield title
        for point in group:
            yield from folded(point.text, "  - ", "    ")
            if costs and point.key in costs:
                yield from folded(costs[point.key], "      ", "      ")
            if weight == ASK:
                yield from folded(f'as: "{point.key}"', "      ", "      ")


def stand_lines(view: View) -> Iterator[str]:
    """Where a job stands: what is off, loose, in, drained and under way.

    Parameters
    ----------
    view : View
    """
    state = view.state
    yield from folded(f"{state.name}{f', {state.vehicle}' if state.vehicle else ''}: {where(state)}")
    if state.posture:
        yield f"the car is {state.posture}"
    for who, since in state.under.items():
        yield f"UNDER THE CAR: {who}, since {since[11:16]} UTC"
    yield from section("NOT WHERE IT BELONGS", (f"{item.name}: {item.state}, since {item.left_at[11:16]} UTC" for item in state.away()))
    yield from section("FASTENERS", (_group(view, group) for group in state.open_groups()))
    put_in = (f"{count} x {name} ({what}) at {place}" for (what, name, place), count in state.things.items() if count)
    yield from section("PUT IN", put_in)
    yield from section("FLUIDS", (f"{name}: {out:g} l out, {state.filled.get(name, 0):g} l in" for name, out in state.drained.items()))
    yield from section("THE CAR DIFFERS", (f"{one.item}: {one.what}{f', {one.settled}' if one.settled else ''}" for one in state.differences))


def _group(view: View, group: Group) -> str:
    trays = ", ".join(f"{count} in {place}" for place, count in group.trays.items())
    counts = [f"{group.out} out" if group.out else "", f"{group.hand_tight} not tight" if group.hand_tight else ""]
    told = f"{view.car.named(group.name)}: {', '.join(one for one in counts if one)} of {group.total}"
    return f"{told} ({trays})" if trays else told


def section(title: str, lines: Iterable[str], rest: str = "    ") -> Iterator[str]:
    """A heading with its lines below; nothing where there are none.

    Parameters
    ----------
    title : str
    lines : iterable of str
    rest : str
        What a line that is folded goes on with.
    """
    lines = list(lines)
    if lines:
        yield ""
        yield title
    for line in lines:
        yield from folded(line, "  ", rest)
