"""Shop files."""

from fractions import Fraction

import pytest
from area_samples import SHOP, shop

from putback.area.model import SECOND_PERSON, Demand, Equipment
from putback.area.shop_file import Stock, scan_shop
from putback.area.wrench import Wrench
from putback.errors import Findings


def messages(text: str) -> list[str]:
    return [finding.message for finding in scan_shop(text, "shop.yaml")[1]]


def test_money_people_and_papers():
    """The rate in cents an hour."""
    read = shop("tax: 20 %\nrust: heavy\npeople: 2\ncertificates: [airbags]\nsublets: {alignment: 79.00}\n")

    assert (read.labour, read.tax, read.rust, read.people) == (6000, Fraction(1, 5), "heavy", 2)
    assert (read.certificates, read.sublets) == (("airbags",), {"alignment": 7900})


def test_ratings_count():
    """Only pieces rated high enough do where a rating is asked for; one without a rating does for none."""
    text = SHOP.replace("{two-post lift: 1}", "{floor jack: [1, '2, 500 kg', '1, 2000 kg'], two-post lift: 1}")
    read = shop(base=text)

    assert read.stock[:3] == (Stock("floor jack", 1), Stock("floor jack", 2, 500), Stock("floor jack", 1, 2000))
    assert read.count(Equipment("floor jack")) == 4
    assert read.count(Equipment("floor jack", 1, 500)) == 3  # at
    assert read.count(Equipment("floor jack", 1, 501)) == 1  # above
    assert not read.has(Equipment("floor jack", 2, 501))


def test_the_first_offer_that_is_there_is_taken():
    """A second person is there when two work here."""
    prop_or_help = Demand((Equipment("prop"), SECOND_PERSON))

    assert shop().choose(prop_or_help) is None
    assert shop("people: 2\n").choose(prop_or_help) == SECOND_PERSON


def test_tools_by_ranges():
    """And by name."""
    text = SHOP.replace(
        "6-32 mm", "8-10, 21 mm\n  T bits: 25\n  E sockets: 8, 10\n  others: [trim fork, 250 mm extension]"
    )

    assert shop(base=text).tools == (
        "8 mm socket", "9 mm socket", "10 mm socket", "21 mm socket", "T25 bit", "E8 socket", "E10 socket", "trim fork",
        "250 mm extension",
    )  # fmt: skip


def test_torque_wrenches():
    """Each by its name, with what its line says."""
    read = shop("torque wrenches:\n  small: 5-25 N·m in steps of 0.25 N·m, 1/4 in\n  big: 20-150 ft-lb\n")

    assert read.wrenches[0] == Wrench("small", 5.0, 25.0, 0.25, "1/4 in")
    assert (read.wrenches[1].name, read.wrenches[1].unit) == ("big", "ft-lb")


def test_a_wrench_that_is_wrong_is_told_with_its_place():
    """File, line and column."""
    found = scan_shop(SHOP + "torque wrenches:\n  small: 5-25 lb\n", "shop.yaml")[1]

    line = SHOP.count("\n") + 2
    assert [str(one).split(": ")[0] for one in found] == [f"shop.yaml:{line}:10"]


def test_how_cars_are_raised():
    """The usual equipment for it, unless the shop says otherwise; minutes of its own."""
    text = SHOP.replace(
        "on a lift: 3 min up, 2 min down",
        "on a lift: 4 min up, 1.5 min down\n"
        "  on stands: {minutes: '9 min up, 7 min down', with: [6 axle stands], moved with: [floor jack >= 1500 kg]}",
    )
    lift, stands = shop(base=text).raising

    assert (lift.up, lift.down, lift.holds) == (4, Fraction(3, 2), (Equipment("two-post lift"),))
    assert (stands.holds, stands.moving) == ((Equipment("axle stand", 6),), (Equipment("floor jack", 1, 1500),))


def test_a_day_without_something():
    """Equipment, tools, certificates and a second person can be away."""
    read = shop("people: 2\ncertificates: [airbags]\n").without(
        ["two-post lift", "13 mm socket", "airbags", "second person"]
    )

    assert (read.stock, read.certificates, read.people) == ((), (), 1)
    assert "13 mm socket" not in read.tools


def test_a_day_with_something_more():
    """What could be bought, borrowed or asked for."""
    read = shop().with_more(equipment=[Equipment("prop"), SECOND_PERSON], tools=["T25 bit"], certificates=["airbags"])

    assert read.has(Equipment("prop"))
    assert (read.people, read.certificates, read.tools[-1]) == (2, ("airbags",), "T25 bit")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("60.00 per hour", "60.00", '"60.00" is no labour rate; write it as "92.00 per hour"'),
        ("{two-post lift: 1}", "{two-post lift: one}", '"one" is not understood; write how many, and the rating where '
         'there is one: "1, 300 kg"'),
        ("6-32 mm", "small ones", '"small ones" is not understood; write sizes as "8-19, 21, 32 mm"'),
        ("3 min up, 2 min down", "3 min", '"3 min" is not understood; write minutes as "3 min up, 2 min down"'),
        ("tool: 1,", "tool: often,", '"often" is no time; write minutes as "0.3"'),
        ("name: sample shop\n", "", 'a shop file needs "name"'),
        ("labour:", "labor:", 'a shop file has no key "labor"; did you mean "labour"?'),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told(old, new, message):
    """With what to write instead."""
    assert message in messages(SHOP.replace(old, new))


def test_a_shop_may_say_what_frees_seized_fasteners():
    """Minutes and a chance each, in its own order; anything else is refused with the form that is asked for."""
    read = shop("when seized:\n  soak: 12 min, 40 %\n  heat: 8 min, 62.5 %\n")
    assert read.seized == {"soak": (12, Fraction("0.4")), "heat": (8, Fraction("0.625"))}
    assert list(read.seized) == ["soak", "heat"]
    for slip in ("12 min", "40 %, 12 min", "12 min, 140 %"):
        with pytest.raises(Findings, match="10 min, 40 %"):
            shop(f"when seized: {{soak: '{slip}'}}\n")
