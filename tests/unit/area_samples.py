"""Small files for the tests of areas, shops and states; every figure is invented."""

from putback.area.area_file import read_area, scan_area
from putback.area.model import Area
from putback.area.shop_file import Shop, read_shop
from putback.area.state_file import State, read_state

HEAD = """\
area: 1
name: sample
figures from: invented
work from:
  top: any posture
  under: raised
  wheel arch: raised
targets:
  pump: {new: 100.00}
"""
PUMP = """\
parts:
  pump:
    from: top
    minutes: 4 off, 6 on
    held by:
      pump bolts: 2 x M8x30, class 8.8, 13 mm, 22 N·m
"""
SHOP = """\
shop: 1
name: sample shop
labour: 60.00 per hour
set-up minutes: {tool: 1, vantage: 2}
raises cars:
  on a lift: 3 min up, 2 min down
equipment: {two-post lift: 1}
tools:
  sockets: 6-32 mm
"""


def area(text: str, head: str = HEAD) -> Area:
    """An area from its parts, or whatever follows the head."""
    return read_area(head + text, "sample.yaml")


def findings(text: str, head: str = HEAD) -> list[str]:
    """What is wrong with an area, without the file's name."""
    return [str(finding).removeprefix("sample.yaml:") for finding in scan_area(head + text, "sample.yaml")[1]]


def messages(text: str, head: str = HEAD) -> list[str]:
    """What is wrong with an area, without the places."""
    return [finding.message for finding in scan_area(head + text, "sample.yaml")[1]]


def shop(text: str = "", base: str = SHOP) -> Shop:
    """The sample shop with some more lines."""
    return read_shop(base + text, "shop.yaml")


def state(text: str, of: Area) -> State:
    """A state of an area."""
    return read_state("state: 1\n" + text, "state.yaml", of)
