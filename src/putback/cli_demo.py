"""`putback demo`: the whole job on an invented car."""

SECONDS = 10.0


def add(parser) -> None:
    """Declare the arguments: there are none."""


def run(args) -> int:
    """Plan the demo job, then plan again when the car differs."""
    from putback.plan_text import plan_lines, way_in_lines

    area, shop = _files()
    print("An invented car in an invented shop. No figure here may be used on a real car.\n")
    print("\n".join(plan_lines(_plan(area, shop))))
    state = _state(area)
    print("\n\nTHE CAR DIFFERS: one left mount nut turns with its stud. What is off stays off;")
    print("the way goes on from there.\n")
    print("\n".join(way_in_lines(_plan(area, shop, state))))
    print("\nPlan with your own files: putback way AREA --shop SHOP\ndocs/area-files.md and docs/shop-files.md tell how to write them.")
    return 0


def _files():
    from putback import demo
    from putback.area.area_file import read_area
    from putback.area.shop_file import read_shop

    return read_area(demo.text("demo-a.yaml"), "demo-a.yaml"), read_shop(demo.text("demo-shop.yaml"), "demo-shop.yaml")


def _state(area):
    from putback import demo
    from putback.area.state_file import read_state

    name = "demo-a-mount-nut-seized.yaml"
    return read_state(demo.text(name), name, area)


def _plan(area, shop, state=None):
    from time import perf_counter

    from putback.way.plan import plan_way

    return plan_way(area, shop, state=state, clock=perf_counter, seconds=SECONDS)
