"""The lines of a quote and their totals."""

from fractions import Fraction

from quote_samples import job, quoted, rich, terms_of

from putback.area.charges import CONSUMABLES, FASTENERS, FLUIDS, GOODS, LABOUR, PARTS, SUBLETS, Charges, Portion
from putback.estimate.bill import DISCOUNT, DISPOSAL, SUPPLIES, Labour, bill
from putback.estimate.goods import Good

TAX = Fraction(1, 5)
WORK = [Labour("labour", Fraction(90), Fraction(6000))]  # 90.00
BOUGHT = [
    Good("alignment", SUBLETS, 1, Fraction(2000)),
    Good("pump", PARTS, 1, Fraction(10000)),
    Good("clips", CONSUMABLES, 4, Fraction("40.25")),
    Good("bolts", FASTENERS, 2, None),
    Good("oil", FLUIDS, 1, Fraction(600), "0.5 l", Fraction(1, 2)),
]


def lines(charges: Charges = Charges(), labour=WORK, bought=BOUGHT):
    return {line.name: line.cents for line in bill(labour, bought, charges, TAX).lines}


def test_lines_stand_in_the_order_of_their_kinds():
    """Labour, parts, fasteners, consumables, fluids, work given out; then what is added and taken off."""
    charges = Charges(supplies=Portion(amount=Fraction(500), of=LABOUR), disposal=Fraction(100), discount=Portion(Fraction(1, 10)))
    found = bill(WORK, BOUGHT, charges, TAX)

    assert [line.kind for line in found.lines] == [LABOUR, *GOODS, SUPPLIES, DISPOSAL, DISCOUNT]


def test_each_line_is_rounded_once():
    """Four clips at 0.4025 are 1.61, not four times 0.40."""
    assert lines()["clips"] == 161


def test_what_has_no_price_is_listed_and_in_no_total():
    """And said to be so."""
    found = bill(WORK, BOUGHT, Charges(), TAX)

    assert lines()["bolts"] is None
    assert found.unpriced == ("bolts",)
    assert found.net == 9000 + 2000 + 10000 + 161 + 600


def test_a_mark_up_is_for_its_kind():
    """20 % on parts, 10 % on work given out, none on the rest."""
    found = lines(Charges(mark_up={PARTS: Fraction(1, 5), SUBLETS: Fraction(1, 10)}))

    assert (found["pump"], found["alignment"], found["oil"]) == (12000, 2200, 600)


def test_supplies_are_a_share_of_labour_up_to_a_limit():
    """3 % of 90.00 is 2.70; at most 2.00 if that is said."""
    share = Portion(share=Fraction(3, 100), of=LABOUR)

    assert lines(Charges(supplies=share))[SUPPLIES] == 270
    assert lines(Charges(supplies=Portion(share.share, None, LABOUR, Fraction(200))))[SUPPLIES] == 200
    assert lines(Charges(supplies=share), labour=[])[SUPPLIES] == 0


def test_disposal_is_for_the_job_and_for_each_litre():
    """2.00, and half a litre at 0.80."""
    assert lines(Charges(disposal=Fraction(200), disposal_litre=Fraction(80)))[DISPOSAL] == 240
    assert DISPOSAL not in lines()


def test_a_discount_is_off_what_it_says():
    """A tenth of labour; of all goods but work given out; of all; an amount, and never more than there is."""
    tenth = Fraction(1, 10)

    assert lines(Charges(discount=Portion(tenth, of=LABOUR)))["discount off labour"] == -900
    assert lines(Charges(discount=Portion(tenth, of=PARTS)))["discount off parts"] == -1076
    assert lines(Charges(discount=Portion(tenth)))["discount"] == -2176
    assert lines(Charges(discount=Portion(amount=Fraction(2500))))["discount"] == -2500
    assert bill(WORK, BOUGHT, Charges(discount=Portion(amount=Fraction(9_999_900))), TAX).total == 0


def test_a_deposit_is_part_of_what_is_to_pay_and_never_more():
    """30 % of 216.00, or all of it."""
    charges = Charges(deposit=Portion(Fraction(3, 10)))

    assert bill(WORK, BOUGHT[:0], charges, TAX).deposit == 3240
    assert bill(WORK, BOUGHT[:0], Charges(deposit=Portion(amount=Fraction(50000))), TAX).deposit == 10800


# --- of a plan ------------------------------------------------------------------------------------


def test_the_lines_of_a_plan_make_its_money():
    """Without mark-up, the exact prices and the labour are what the plan counts, to the cent."""
    for quote in (quoted(), rich()):
        assert abs(quote.bill.net - quote.sheet.money) <= Fraction(len(quote.bill.lines), 2)


def test_everything_that_a_plan_takes_is_on_a_line():
    """Part, bolts without a price, gaskets, oil, and the pressure test at the price of the sublet."""
    found = {line.name: (line.kind, line.count, line.cents) for line in rich().bill.lines if line.kind != LABOUR}

    assert found == {
        "pump": (PARTS, 1, 10000), "pump bolts": (FASTENERS, 2, None), "gasket": (CONSUMABLES, 2, 250),
        "oil": (FLUIDS, 1, 600), "pressure test": (SUBLETS, 1, 1500),
    }  # fmt: skip


def test_hours_billed_stand_in_place_of_those_planned():
    """Twice the hour is 120.00, whatever is planned; no risk changes it."""
    quote = quoted(terms=terms_of("hours billed: 2 h, own time\n"))

    assert quote.bill.lines[0].cents == quote.likely.lines[0].cents == 12000
    assert (quote.bill.lines[0].name, quote.billed.source) == ("labour, as billed", "own time")
    assert quote.hours.planned == quoted().hours.planned


def test_a_second_person_has_a_line_and_a_rate():
    """5 of the minutes at 30.00 an hour; without a rate of its own at that of everybody."""
    text = "parts:\n  pump:\n    from: top\n    minutes: 4 off, 6 on\n    second person: 5 min\n"
    cheap = quoted(text, "people: 2\nquotes: {second person: 30.00 per hour}\n")
    same = quoted(text, "people: 2\n")
    helped = [line.cents for line in cheap.bill.lines if line.name == "second person"]

    assert cheap.sheet.minutes == same.sheet.minutes
    assert len(helped) == 1
    assert same.bill.net - cheap.bill.net == helped[0]


def test_prices_of_today_stand_in_place_of_the_files():
    """Of parts, fasteners and sublets alike."""
    found = rich(terms=terms_of("prices: {pump: 90.00, pump bolts: 1.00, pressure test: 20.00}\n")).bill

    assert {line.name: line.cents for line in found.lines if line.name in ("pump", "pump bolts", "pressure test")} == {
        "pump": 9000, "pump bolts": 200, "pressure test": 2000,
    }  # fmt: skip
    assert found.unpriced == ()


def test_a_target_that_the_area_has_no_price_for_is_listed_without():
    """The guard may be replaced as well; what a new one costs nobody has said."""
    quote = rich(targets=["guard"])

    assert [(line.name, line.cents) for line in quote.bill.lines if line.kind == PARTS] == [("guard", None)]
    assert [(one.name, one.count) for one in quote.order if one.kind == "new part"] == [("guard", 1)]


def test_a_task_and_its_plan_are_not_changed():
    """The same quote twice."""
    task, sheet = job()

    assert quoted() == quoted()
    assert (task.shop, sheet.money) == (sheet.shop, job()[1].money)
