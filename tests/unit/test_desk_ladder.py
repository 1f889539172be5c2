"""What may free a stuck fastener, weighed against another way."""

from fractions import Fraction

import pytest
from log import demo_area

from putback.desk.ladder import ANOTHER_WAY, HEAT, Means, ladder, means, weigh
from putback.desk.planning import Total


def tried(name: str, minutes: int, chance: str) -> Means:
    return Means(name, "", "", Fraction(minutes), Fraction(chance))


def minutes(rung) -> Fraction:
    return rung.expected.minutes


GENTLE, HARD = tried("gentle", 10, "0.5"), tried("hard", 20, "0.8")


def test_each_means_counts_with_what_follows_where_it_fails():
    """By hand: hard 20 + 0.8 x 100 + 0.2 x 160 = 132; gentle 10 + 0.5 x 100 + 0.5 x 132 = 126; the other way 160."""
    rungs = weigh((GENTLE, HARD), Total(Fraction(100), None), Total(Fraction(160), None), Fraction(0))

    assert [(one.name, one.expected.minutes, one.then) for one in rungs] == [
        ("gentle", 126, "hard"), ("hard", 132, ANOTHER_WAY), (ANOTHER_WAY, 160, ""),
    ]  # fmt: skip
    assert rungs[0].fails == Fraction("0.1")


def test_after_a_means_the_other_way_follows_where_that_is_less():
    """Who has failed gently does not drill where the other way costs four minutes more: 10 + 50 + 0.5 x 104 = 112."""
    gentle, hard, other = weigh((GENTLE, HARD), Total(Fraction(100), None), Total(Fraction(104), None), Fraction(0))
    assert gentle.then == ANOTHER_WAY and gentle.expected.minutes == 112
    assert hard.expected.minutes > other.expected.minutes


def test_money_is_the_minutes_at_the_rate_and_what_is_bought():
    """Ten minutes at 60.00 an hour are 10.00; 1000 + 0.5 x 20000 + 0.5 x 30000 cents."""
    before, after = Total(Fraction(100), Fraction(20000)), Total(Fraction(160), Fraction(30000))
    gentle, _ = weigh((GENTLE,), before, after, Fraction(6000))
    assert gentle.expected.money == 26000


def test_without_another_way_the_chance_that_nothing_helps_is_told():
    """An honest no stands behind the last rung."""
    gentle, hard = weigh((GENTLE, HARD), Total(Fraction(100), None), None, Fraction(0))
    assert gentle.then == "hard" and hard.then == "" and gentle.fails == Fraction("0.1")


def test_the_cheapest_comes_first():
    """Whatever the order in which they would be tried."""
    area = demo_area("a")
    found = ladder("left mount nuts", "seized", area, Total(Fraction(175), None), Total(Fraction(237), None))
    assert [minutes(one) for one in found.rungs] == sorted(minutes(one) for one in found.rungs)
    assert {one.name for one in found.rungs} == {"soak", "heat", "hold back", "drill", "new stud", ANOTHER_WAY}


def test_no_heat_beside_what_burns():
    """Trap: a flame beside a fuel line; every means comes with eyes covered, heat with what it must be kept from."""
    area = demo_area("b")
    fuel = next(item for item in area.items.values() if any(ref.name == "fuel" for ref in item.hazards))
    found = ladder(fuel.name, "seized", area)

    assert "heat" not in [one.name for one in found.rungs]
    assert [name for name, _ in found.left_out] == ["heat"] and "fuel" in found.left_out[0][1]
    assert all(one.cautions and (HEAT in one.cautions) == one.heat for one in means())


@pytest.mark.parametrize(
    ("item", "what", "names"),
    [
        ("bracket bolt", "seized", {"soak", "heat", "extractor", "drill"}),
        ("bracket bolt", "broken", {"extractor", "drill"}),
        ("link nut", "broken", {"drill", "new stud"}),
        ("push pins", "seized", set()),  # pressed in: nothing to soak
        ("rusty thing", "seized", {"soak", "heat"}),  # nobody has described it
    ],
)
def test_each_fastener_has_the_means_that_do_for_it(item, what, names):
    """No stud driver for a bolt, no oil for what has broken off."""
    assert {one.name for one in ladder(item, what, demo_area("a")).rungs} == names


def test_gentle_comes_before_forceful_where_nothing_is_known_of_the_rest():
    """On a car that nobody described there is nothing to weigh, only an order to try things in."""
    names = [one.name for one in ladder("exhaust nut", "seized", None).rungs]
    assert names == ["soak", "heat", "hold back", "drill", "new stud"]


def test_the_shop_s_own_table_stands_in_the_place_of_ours():
    """Its figures, its order, and only what it has; a means that we do not know does for anything."""
    own = {"soak": (Fraction(5), Fraction("0.9")), "nut splitter": (Fraction(10), Fraction(1))}
    found = ladder("left mount nuts", "seized", demo_area("a"), own=own)

    assert [(one.name, one.means.minutes) for one in found.rungs] == [("soak", 5), ("nut splitter", 10)]
    assert found.rungs[1].fails == 0 and found.sentences == ("minutes and chances: the shop's own figures",)


def test_no_heat_beside_a_bearing_with_a_magnetic_ring():
    """The hub bolts of demo D hold a bearing with its encoder ring; what nobody described goes by its name."""
    told = ladder("hub bolts", "seized", demo_area("d"))
    assert "heat" not in [one.name for one in told.rungs] and "bearing" in dict(told.left_out)["heat"]
    assert "heat" not in [one.name for one in ladder("sensor screw", "seized", None).rungs]
