"""A shop that lacks nothing has all that any way asks for, and nothing to count money with."""

from area_samples import HEAD, PUMP, area, state
from sheet_samples import UNDER, WORK

from putback.way.from_area import core_problem
from putback.way.full_shop import full_shop
from reference import demo_a


def test_no_way_is_lost_for_want_of_anything():
    """On the demo area, which asks for certificates, equipment and many tools."""
    shop = full_shop(demo_a.area(), ["alternator"])
    dropped = core_problem(demo_a.area(), shop, ["alternator"], by="minutes").dropped
    assert [one.operation for one in dropped if one.lacks] == []


def test_it_has_what_is_asked_for_and_no_more():
    """A socket for a pump on top; a lift besides for a pump under the car."""
    above, under = full_shop(area(PUMP), []), full_shop(area(UNDER, HEAD + WORK), [])
    assert (above.tools, above.stock) == (("13 mm socket",), ())
    assert "two-post lift" in [stock.name for stock in under.stock]


def test_it_has_what_another_variant_asks_for():
    """The tools of a car that is built otherwise are its tools."""
    head = HEAD + "variants: {kind: [early, late]}\n"
    ways = "    out through:\n      a: {only for: early}\n      b: {only for: late, tools: [strap wrench]}\n"
    built = area(PUMP + ways, head)

    assert full_shop(built, [], state("variants: [late]\n", built)).tools == ("strap wrench", "13 mm socket")
    assert full_shop(built, []).tools == ("13 mm socket",)


def test_it_has_no_labour_rate_and_a_clean_car():
    """Whoever gives no shop gets minutes, and no rust that nobody spoke of."""
    shop = full_shop(area(PUMP), [])
    assert (shop.labour, shop.rust) == (0, "clean")
