"""What is laid out before the start is what the steps take."""

from fractions import Fraction

from area_samples import PUMP, area, shop
from sheet_samples import from_above, from_under, under_way

from putback.area.model import Equipment
from putback.way import lay_out
from putback.way.plan import plan_way


def on_stands(text: str):
    return plan_way(area(text), shop(base="""\
shop: 1
name: sample shop
labour: 60.00 per hour
raises cars: {on stands: "9 min up, 7 min down"}
equipment: {axle stand: 4, floor jack: 2, strap: 2}
tools: {sockets: 6-32 mm}
"""))  # fmt: skip


def test_tools_are_those_of_the_steps_without_bare_hands():
    """Each once, however often it is taken up."""
    assert lay_out.tools(from_above()) == ["13 mm socket"]


def test_tools_are_sorted_by_kind_and_size():
    """8 comes before 10, as in the drawer."""
    text = PUMP.replace("2 x M8x30, class 8.8, 13 mm, 22 N·m", "M8x30, 13 mm") + (
        "      small bolts: 2 x M6x16, 8 mm\n      flange bolts: M6x16, 10 mm\n"
    )
    assert lay_out.tools(plan_way(area(text), shop())) == ["8 mm socket", "10 mm socket", "13 mm socket"]


def test_equipment_counts_what_is_busy_at_once():
    """Four stands hold the car and the jack only moves it; the pump's own things come while it stands."""
    sheet = on_stands("parts:\n  pump:\n    from: under\n    with: [strap, floor jack]\n    minutes: 4 off, 6 on\n")
    assert lay_out.equipment(sheet) == [Equipment("axle stand", 4), Equipment("floor jack"), Equipment("strap")]


def test_nothing_is_laid_out_where_hands_do():
    """No equipment for a car that stays on the ground."""
    assert lay_out.equipment(from_above()) == []


def test_new_parts_are_the_target_and_what_is_used_up():
    """Two one-time bolts at 1.50; prices are in cents each."""
    assert lay_out.new_parts(from_under()) == [("pump", Fraction(10000), 1), ("pump bolts", Fraction(150), 2)]


def test_a_pump_that_is_swapped_already_is_not_bought_again():
    """The bolts still are."""
    sheet = under_way("swapped: yes\nposture: on a lift\nnow: {drain plug: off, pump: off}\n")
    assert [name for name, _, _ in lay_out.new_parts(sheet)] == ["pump bolts"]


def test_the_swap_takes_no_tools():
    """What lies on the bench is not in hand."""
    swap = next(step for step in from_above().steps if step.operation is None)
    assert lay_out.step_tools(swap) == ()
    assert lay_out.step_tools(from_above().steps[0]) == ("13 mm socket",)
