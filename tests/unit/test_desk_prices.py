"""What a wrong repair costs, and a reading that lies behind parts: from the planner, on the invented demo areas."""

import pytest
from desk_samples import THINKING, file

from putback.area.area_file import read_area
from putback.area.shop_file import read_shop
from putback.area.state_file import At, State
from putback.desk.prices import place_of, reading_price, repair_price
from putback.errors import InputError, NoWay
from putback.way.plan import plan
from putback.way.task import make_task


def demo(letter: str):
    """A demo area and the demo shop."""
    area, shop = file(f"demo-{letter}.yaml"), file("demo-shop.yaml")
    return read_area(area.data, area.name), read_shop(shop.data, shop.name)


def test_a_wrong_target_costs_its_whole_plan():
    """Way in, new part and way back, as `putback way` plans them."""
    area, shop = demo("a")
    sheet = plan(make_task(area, shop, ["alternator"]), clock=THINKING.clock, seconds=THINKING.seconds)
    found = repair_price(area, shop, "alternator", THINKING)

    assert (found.total.minutes, found.total.money) == (sheet.minutes, sheet.money)
    assert {"compressor", "left engine mount"} <= set(found.opened)
    assert "engine support by support bar" not in found.opened


def test_what_is_no_target_costs_its_way_out_and_back():
    """The charge cable: 3 min off, 4 on, the battery clamp 4 and 4, and the tools; far less than the alternator."""
    area, shop = demo("a")
    found = repair_price(area, shop, "charge cable", THINKING)

    assert found.opened == ("battery clamp",)
    assert 15 <= found.total.minutes < 20
    assert found.total.money == found.total.minutes * shop.labour / 60


def test_a_reading_at_an_open_stud_costs_next_to_nothing():
    """Nothing lies over the charge cable of demo A, and it is read with the battery on."""
    area, shop = demo("a")
    found = reading_price(area, shop, "charge cable", THINKING, running=True)

    assert found.opened == ()
    assert found.total.minutes < 1


def test_a_reading_behind_parts_costs_the_way_to_it_and_back():
    """The starter's stud of demo B: exhaust section and undertray 19 min off and 27 on, line bracket 3 and 4."""
    area, shop = demo("b")
    found = reading_price(area, shop, "starter cable", THINKING)

    assert {"exhaust section", "cooler-line bracket"} <= set(found.opened)
    assert "battery clamp" not in found.opened
    assert 53 < found.total.minutes < repair_price(area, shop, "starter cable", THINKING).total.minutes


def test_a_plug_is_read_with_the_battery_on_though_it_is_pulled_with_it_off():
    """Nor do the marks that it gets before it is pulled ask for that."""
    area, shop = demo("c")

    assert reading_price(area, shop, "blower motor plug", THINKING).opened == ()
    assert repair_price(area, shop, "blower motor plug", THINKING).opened == ("battery clamp",)


def test_no_reading_with_the_engine_running_where_the_belt_is_off():
    """The compressor is reached through the belt: with the engine off there is a price, running there is none."""
    area, shop = demo("a")

    assert reading_price(area, shop, "compressor", THINKING).total.minutes > 60
    with pytest.raises(NoWay, match="the engine cannot run for this reading, for the belt has to come off first"):
        reading_price(area, shop, "compressor", THINKING, running=True)


def test_on_a_car_that_is_open_already_what_is_off_costs_nothing():
    """Neither to read nor to repair."""
    area, shop = demo("a")
    state = State("", {"charge cable": At(1)}, {})

    assert repair_price(area, shop, "charge cable", THINKING, state).total.minutes == 0
    assert reading_price(area, shop, "charge cable", THINKING, state).opened == ()


def test_what_the_area_does_not_have_is_refused_with_the_nearest_name():
    """One sentence."""
    area, shop = demo("a")
    for price in (repair_price, reading_price):
        with pytest.raises(InputError, match='did you mean "charge cable"'):
            price(area, shop, "charging cable", THINKING)


@pytest.mark.parametrize(
    ("letter", "target", "access", "item"),
    [
        ("a", "alternator", "stud", "charge cable"),
        ("a", "alternator", "plug", "alternator control plug"),
        ("b", "starter", "starter wires", "starter cable"),
        ("c", "blower", "plugs", "blower motor plug"),
        ("a", "alternator", "compressor", "compressor"),
        ("a", "alternator", "tap on the winding", None),
    ],
)
def test_an_access_of_a_model_is_found_near_what_the_car_came_for(letter, target, access, item):
    """By its own name, or as the cable or plug that the target lies behind."""
    assert place_of(access, demo(letter)[0], [target]) == item
