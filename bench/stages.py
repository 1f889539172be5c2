"""The stages of demo A, from its files to a plan: what each of them takes."""

from collections.abc import Callable
from statistics import median
from time import perf_counter

from putback import demo
from putback.area.area_file import read_area
from putback.area.order_file import read_order
from putback.area.shop_file import read_shop
from putback.area.state_file import read_state
from putback.chart import chart_svg
from putback.estimate.quote import make_quote
from putback.estimate.while_open import while_open
from putback.way import find_way, read_problem
from putback.way.alternatives import alternatives
from putback.way.from_area import core_problem
from putback.way.one_more import savings
from putback.way.openings import openings
from putback.way.plan import plan
from putback.way.price_order import price_order
from putback.way.task import make_task

AREA, SHOP, STATE = "demo-a.yaml", "demo-shop.yaml", "demo-a-mount-nut-seized.yaml"
LIMIT = 60.0
NOTHING_HOLDS = ["engine support bar", "floor jack", "support table", "ball-joint separator"]
ORDER = """\
order: 1
way in: [subframe, left front wheel, undertray, belt, compressor, battery clamp, charge cable, alternator]
way back: in reverse
"""


def stages(runs: int) -> dict:
    """Median seconds by stage, and how large the problem is and whether both plans were proved."""
    found = [_run() for _ in range(runs)]
    times = {name: median(one[0][name] for one in found) for name in found[0][0]}
    return {"times": times, "notes": found[0][1]}


class _Watch:
    """Takes the time of one stage after another."""

    def __init__(self):
        self.times: dict[str, float] = {}

    def __call__(self, name: str, work: Callable):
        begun = perf_counter()
        done = work()
        self.times[name] = perf_counter() - begun
        return done


def _run() -> tuple[dict, dict]:
    watch = _Watch()
    area = watch("read the area", lambda: read_area(demo.text(AREA), AREA))
    shop = watch("read the shop", lambda: read_shop(demo.text(SHOP), SHOP))
    notes = _plan(watch, "", area, shop, None)
    state = watch("re-plan: read the state", lambda: read_state(demo.text(STATE), STATE, area))
    notes |= _plan(watch, "re-plan: ", area, shop, state)
    _beside(watch, area, shop)
    return watch.times, notes


def _beside(watch: _Watch, area, shop) -> None:
    """What is told beside the plan: the other ways, what is missing, the quote, the chart, an order's price."""
    limits = {"clock": perf_counter, "seconds": LIMIT}
    task = make_task(area, shop)
    sheet = watch("all of a plan as a sheet", lambda: plan(task, **limits))
    watch("other ways", lambda: alternatives(task, sheet, **limits))
    watch("one thing more", lambda: savings(task, sheet, **limits))
    poor = make_task(area, shop, without=NOTHING_HOLDS)
    watch("what is missing", lambda: openings(poor, **limits))
    order = read_order(ORDER, "order.yaml", area)
    watch("price of an order", lambda: price_order(task, order, **limits))
    watch("chart", lambda: chart_svg(sheet))
    watch("quote, the plan being there", lambda: make_quote(task, sheet))
    watch("while it is open", lambda: while_open(task, sheet, **limits))


def _plan(watch: _Watch, label: str, area, shop, state) -> dict:
    core = watch(f"{label}translate", lambda: core_problem(area, shop, state=state).core)
    problem = watch(f"{label}read the problem", lambda: read_problem(core))
    found = watch(f"{label}plan and prove", lambda: find_way(problem, clock=perf_counter, seconds=LIMIT))
    watch.times[f"{label}first plan"] = found.first_seconds
    done = {step[0] for step in found.steps}
    outs = sum(op["dir"] == "out" and op["id"] in done for op in core["ops"])
    notes = {"levels moved out": outs, "operations": len(core["ops"]), "proved": "yes" if found.proved else "no"}
    return {f"{label}{name}": note for name, note in notes.items()}
