"""How a shop makes quotes, as its file says it."""

from fractions import Fraction

import pytest
from area_samples import SHOP, shop

from putback.area import charges
from putback.area.charges import GOODS, LABOUR, NO_CHARGES, PARTS, Billed, Doubt, Portion
from putback.area.shop_file import scan_shop
from putback.errors import InputError

PERCENT = Fraction(1, 100)


def quotes(text: str) -> charges.Charges:
    """The charges of the sample shop with one more line under `quotes`."""
    return shop(f"quotes:\n  {text}\n").charges


def test_a_shop_that_says_nothing_adds_nothing():
    """No mark-up, no discount, no doubt."""
    assert shop().charges == NO_CHARGES
    assert quotes("disposal: 0").mark_up == {}


def test_one_mark_up_is_for_all_goods_and_not_for_work_given_out():
    """A share for each kind may be given as well."""
    assert quotes("mark-up: 20 %").mark_up == dict.fromkeys(GOODS[:-1], 20 * PERCENT)
    assert quotes("mark-up: {sublets: 10 %}").mark_up == {"sublets": 10 * PERCENT}


def test_disposal_for_each_job_and_each_litre():
    """An amount alone is for each job."""
    alone, both = quotes("disposal: 2.50"), quotes("disposal: {each job: 2.50, each litre: 0.80}")

    assert (alone.disposal, alone.disposal_litre) == (250, 0)
    assert (both.disposal, both.disposal_litre) == (250, 80)


@pytest.mark.parametrize(
    ("read", "text", "expected"),
    [
        (charges.supplies, "3 % of labour, at most 25.00", Portion(3 * PERCENT, None, LABOUR, Fraction(2500))),
        (charges.supplies, "3 % of labour", Portion(3 * PERCENT, None, LABOUR)),
        (charges.supplies, "5.00", Portion(None, Fraction(500), LABOUR)),
        (charges.discount, "5 % off labour", Portion(5 * PERCENT, None, LABOUR)),
        (charges.discount, "5 % off parts", Portion(5 * PERCENT, None, PARTS)),
        (charges.discount, "100 %", Portion(Fraction(1))),
        (charges.discount, "20.00", Portion(None, Fraction(2000))),
        (charges.deposit, "30 %", Portion(30 * PERCENT)),
        (charges.deposit, "100.00", Portion(None, Fraction(10000))),
        (charges.billed, "4.5 h, own time", Billed(Fraction(270), "own time")),
        (charges.billed, "4 h 30 min", Billed(Fraction(270))),
        (charges.billed, "270 min", Billed(Fraction(270))),
        (charges.doubt, "90-140 %", Doubt(90 * PERCENT, 140 * PERCENT)),
        (charges.doubt, "100-100 %, triangular", Doubt(Fraction(1), Fraction(1), "triangular")),
        (charges.per_hour, "60.00/h", Fraction(6000)),
    ],
)
def test_phrases_are_read(read, text, expected):
    """Money in cents, shares of 1, times in minutes."""
    assert read(text) == expected


@pytest.mark.parametrize(
    ("read", "text", "message"),
    [
        (charges.percent, "20", '"20" is no share; write it as "15 %"'),
        (charges.percent, "1001 %", '"1001 %" is above 1000 %; check the figure'),
        (charges.supplies, "3 %", '"3 %" is not understood; write "3 % of labour, at most 25.00", or an amount'),
        (charges.supplies, "3 % of labour, 25", '"3 % of labour, 25" is not understood; write the limit as "at most 25.00"'),
        (charges.discount, "5 % off tax", '"5 % off tax" is not understood; a discount is off labour, off parts or off everything'),
        (charges.discount, "101 %", '"101 %" is above 100 %; check the figure'),
        (charges.deposit, "some", '"some" is no amount of money; write it as "268.00", without the currency'),
        (charges.billed, "4.5", '"4.5" is no time; write it as "4.5 h" or "270 min", and behind a comma where it is from'),
        (charges.doubt, "110-140 %", '"110-140 %": the least is at most 100 %, the most at least that and at most 1000 %'),
        (charges.doubt, "90-140", '"90-140" is not understood; write least and most of a time as "90-140 %"'),
        (charges.doubt, "90-140 %, flat", '"flat" is no shape of a spread; there are: beta, triangular, log-normal'),
    ],
)  # fmt: skip
def test_what_is_not_understood_is_refused(read, text, message):
    """In one sentence that says what to write."""
    with pytest.raises(InputError) as refused:
        read(text)

    assert str(refused.value) == message


def test_a_slip_in_the_file_is_told_with_its_place():
    """File, line and column, and the nearest key."""
    found = scan_shop(SHOP + "quotes:\n  markup: 20 %\n", "shop.yaml")[1]

    line = SHOP.count("\n") + 2
    assert [str(one) for one in found] == [f'shop.yaml:{line}:3: how quotes are made has no key "markup"; did you mean "mark-up"?']
