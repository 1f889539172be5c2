"""The job sheet as plain values: every step out and back with what it takes, for the day the tablet is dead."""

from collections.abc import Iterator
from itertools import groupby
from typing import Any, NamedTuple

from putback.area.tools import BARE_HANDS
from putback.chart import chart_svg, stored_plan
from putback.desk.belts import BELT, belt_help, belt_svg
from putback.desk.view import View
from putback.errors import InputError
from putback.job.plan_moves import IN, SWAP, Left, moves_left, swapped_part
from putback.job.plan_step import RENEWED, SWAP_TEXT, is_renewed, tray, turn, where
from putback.job.step import WAY_BACK, WAY_IN, Step
from putback.job.trays import tray_map
from putback.paper.head import head_of
from putback.paper.look import Look
from putback.paper.signs import with_stand_ins

_FONT = "Libertinus Serif"
_TOLD_ELSEWHERE = ("tool", "vantage", "posture")


class Made(NamedTuple):
    """The values of a paper, and the pictures that they name."""

    data: dict[str, Any]
    files: dict[str, bytes]


def job_sheet(view: View, look: Look) -> Made:
    """All that a job sheet says.

    Parameters
    ----------
    view : View
    look : Look

    Raises
    ------
    InputError
        Nothing is planned.
    """
    plan = planned(view)
    moves = moves_left(view.state, view.car, plan)
    writer = _Writer(view, look, plan)
    data = {
        "head": head_of(view, look),
        "targets": list(plan["targets"]),
        "minutes": plan["minutes"],
        "figures_from": (view.area.figures_from if view.area else "") or "",
        "done": sum(not one.left for one in moves),
        "before": [_work(one) for one in plan["job_work"] if one["when"] == "before"],
        "legs": [
            {"leg": leg, "stands": writer.stands(list(some))}
            for leg, some in groupby(moves, lambda one: one.step["direction"])
        ],
        "ending": [one["car"]["text"] if one["car"] else f"{one['name']}: {one['value']}" for one in plan["ending"]],
        "afterwards": [_work(one) for one in plan["afterwards"]],
        "owed": [one["name"] for one in plan["owed"]],
        "stays_on": list(plan["stays_on"]),
        "chart": "chart.svg" if view.area and plan["steps"] else "",
    }
    chart = {"chart.svg": _chart(view, plan)} if data["chart"] else {}
    return Made(data, chart | writer.pictures)


def planned(view: View) -> dict[str, Any]:
    """The plan in force.

    Parameters
    ----------
    view : View

    Raises
    ------
    InputError
        There is none.
    """
    if view.plan is None:
        advice = "plan first" if view.area else "nobody has described this car, so its way is what is logged"
        raise InputError(f"{view.state.name}: nothing is planned, so there is no way to print; {advice}")
    return view.plan


def _chart(view: View, plan: dict) -> bytes:
    return drawn(chart_svg(stored_plan(plan, view.area.items)))


def drawn(svg: str) -> bytes:
    """A drawing in the type of the papers, with the signs that they can print.

    Parameters
    ----------
    svg : str
    """
    return with_stand_ins(svg).replace('font-family="sans-serif"', f'font-family="{_FONT}"').encode()


def _work(one: dict) -> dict:
    return {"name": one["name"], "minutes": one["minutes"]}


class _Writer:
    """Writes the steps of a plan, each picture once."""

    def __init__(self, view: View, look: Look, plan: dict):
        self.view, self.look = view, look
        self.trays = tray_map(view.state, view.car, plan)
        self.pictures: dict[str, bytes] = {}

    def stands(self, moves: list[Left]) -> list[dict]:
        """The steps by where one works from and how the car stands meanwhile."""
        return [
            {
                "vantage": place[0],
                "posture": place[1],
                "settings": list(place[2]),
                "steps": [self._row(one) for one in some],
            }
            for place, some in groupby(moves, lambda one: _place(one.step))
        ]

    def _row(self, move: Left) -> dict:
        step = move.step
        head = {"number": step["number"], "done": not move.left, "car": step["car"]["text"] if step["car"] else ""}
        head |= {"car_cautions": step["car"]["cautions"] if step["car"] else []}
        head |= {"waits": [one["minutes"] for one in step["not_before"]], "direction": step["direction"]}
        if step["direction"] == SWAP:
            part = swapped_part(step)
            return head | _NOTHING | {"text": SWAP_TEXT.format(part), "item": part, "match": self._match()}
        return head | _NOTHING | self._told(step)

    def _match(self) -> list[dict]:
        return [
            {"feature": feature, "wanted": value} for feature, value in (self.view.area.match if self.view.area else ())
        ]

    def _told(self, step: dict) -> dict:
        name, going, car = step["item"], step["direction"] == IN, self.view.car
        renewed = not going and is_renewed(name, car)
        return {
            "text": step["text"],
            "item": name,
            "part": step["part"],
            "pieces": step["pieces"],
            "tools": [tool for tool in step["tools"] if tool != BARE_HANDS],
            "equipment": step["equipment"],
            "torque": self.look.torque(step["torque"] or ""),
            "source": self._source(step),
            "wrench": list(self._wrenches(step)),
            "order": step["tightening"]["order"] if step["tightening"] else [],
            "turn": turn(name, going, car),
            "where": ", ".join(filter(None, (RENEWED if renewed else "", where(name, car)))),
            "tray": "" if renewed or step["pieces"] is None else self._tray(name, going),
            "cautions": [*step["cautions"], *(step["tightening"]["missing"] if step["tightening"] else [])],
            **self._belt(step, going),
        }

    def _source(self, step: dict) -> str:
        """Where a torque is from, unless it is from where all of them are."""
        own, area = step["torque_source"] or "", self.view.area
        return "" if area and own == area.figures_from else own

    def _tray(self, name: str, going: bool) -> str:
        return tray(name, going, self.view.state, self.trays) if self.view.car.fastener(name) else ""

    def _wrenches(self, step: dict) -> Iterator[str]:
        """Each wrench with its setting; where a crow-foot stands in line it is set lower."""
        how = step["tightening"] or {"wrenches": [], "in_line": []}
        for words, found in (("", how["wrenches"]), (" with the crow-foot in line", how["in_line"])):
            yield from (f"{one['name']} at {self.look.torque(one['setting'])}{words}" for one in found if one)

    def _belt(self, step: dict, going: bool) -> dict:
        """What a step about a belt shows besides: sentences, and how it runs where it goes back on."""
        phase, kind = WAY_IN if going else WAY_BACK, self.view.car.kind(step["item"])
        help = belt_help(
            self.view, Step(step["id"], phase, step["text"], item=step["item"], part=step["part"], kind=kind)
        )
        if help is None:
            return {}
        drawings = [one for one in help.pictures if one.shows and kind == BELT and not going]
        shown = [{"name": one.name, "shows": one.shows, "file": self._picture(one.file)} for one in drawings]
        return {"words": list(help.words), "pictures": shown}

    def _picture(self, drive: str) -> str:
        name = f"belt-{1 + list(self.view.drives).index(drive)}.svg"
        self.pictures[name] = drawn(belt_svg(self.view, drive) or "")
        return name


_NOTHING: dict[str, Any] = {
    "part": "", "pieces": None, "tools": [], "equipment": [], "torque": "", "source": "", "wrench": [], "order": [],
    "turn": "",
    "where": "", "tray": "", "cautions": [], "words": [], "pictures": [], "match": [],
}  # fmt: skip


def _place(step: dict) -> tuple:
    context = step["context"]
    settings = tuple(f"{name}: {value}" for name, value in context.items() if name not in _TOLD_ELSEWHERE)
    return context.get("vantage", ""), context.get("posture", ""), settings
