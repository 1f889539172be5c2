"""A small area for the tests of orders, and orders on it; every figure is invented.

The pump hangs behind a lid on top and a tray below; a bolt on the wheel's side is loosened with the car on the ground.
"""

from functools import cache

from area_samples import HEAD, SHOP, area, shop, state

from putback.area.model import Area
from putback.area.order_file import read_order
from putback.way.price_order import Priced, price_order
from putback.way.task import Task, make_task

TEXT = """\
on the ground: {stands on: [wheel]}
follow-ups: {re-check the wheel bolts: at hand-over}
parts:
  wheel:
    from: wheel arch
    minutes: 3 off, 3 on
    follow-ups: [re-check the wheel bolts]
    held by:
      wheel bolts: 4 x M12x1.5x45, class 10.9, 17 mm, 110 N·m in 2 passes, star pattern, on the ground
  lid: {from: top, minutes: "2 off, 2 on"}
  tray: {from: under, minutes: "3 off, 3 on"}
  badge: {from: top, minutes: "1 off, 1 on"}
  pump:
    from: top
    minutes: 4 off, 6 on
    behind: [lid, tray]
    held by:
      upper bolt: M8x30, class 8.8, 13 mm, 22 N·m, one-time, 1.50 each
      lower bolt: M8x40, class 8.8, 13 mm, 22 N·m, after upper bolt
    out through:
      the top: {}
      the arch: {behind: [wheel], from: wheel arch}
      the floor: {with: floor saw}
    cautions:
      - on: the sleeve goes in first
"""
FREE = SHOP.replace(
    "{tool: 1, vantage: 2}", "{tool: 0, vantage: 2}"
)  # changes of tool cost nothing: sums by hand stay short

# A lid that a prop must hold, put in with the car on the ground; the only jack cannot prop it and raise the car too.
PROP = """\
parts:
  lid: {from: top, minutes: "2 off, 2 on", hazards: [supported]}
  pump: {from: under, behind: [lid], minutes: "4 off, 6 on"}
put in:
  prop:
    secures: [lid]
    from: top, on the ground
    minutes: 1 in, 1 out
    by: {jack: {with: floor jack}, strut: {with: gas strut}}
"""
ONE_JACK = SHOP.replace("{two-post lift: 1}", "{floor jack: 1, axle stand: 4, gas strut: 1}").replace(
    "on a lift", "on stands"
)


@cache
def described() -> Area:
    return area(TEXT, HEAD)


def task(at: str = "", **options) -> Task:
    return make_task(described(), shop("", FREE), state=state(at, described()) if at else None, **options)


def priced(way_in: str, way_back: str = "in reverse", at: str = "", **options) -> Priced:
    """The price of an order, its entries parted by commas."""
    back = way_back if way_back == "in reverse" else f"[{way_back}]"
    text = f"order: 1\nname: the manual\nway in: [{way_in}]\nway back: {back}\n"
    return price_order(task(at, **options), read_order(text, "order.yaml", described()))
