"""What must be there before the car is opened, and how it stands."""

import pytest
from quote_samples import rich, terms_of

from putback.errors import InputError
from putback.estimate.to_order import (
    CORE,
    CORE_OWED,
    HERE,
    IN_STOCK,
    MOVES,
    NEEDED,
    ONE_TIME,
    ORDERED,
    RETURNED,
    STATUSES,
    WRONG,
    Ordered,
    all_here,
    move,
)

BOLTS = Ordered("bolts", ONE_TIME, 4)
OLD = Ordered("old pump", CORE, 1, pieces={CORE_OWED: 1})


def test_the_list_of_a_plan():
    """The part with its features first, the old part that goes back last; what the shop has is in stock."""
    order = rich().order

    assert [(one.count, one.name, one.about, one.kind, one.standing) for one in order] == [
        (1, "pump", "gear pump", "new part", "needed"),
        (2, "pump bolts", "M8x30 bolt, class 8.8", "one-time fastener", "needed"),
        (2, "gasket", "", "used up", "needed"),
        (1, "oil", "0.5 l", "fluid", "needed"),
        (1, "13 mm socket", "", "tool", "in stock"),
        (1, "old pump", "", "core", "core owed"),
    ]
    assert order[0].match == (("ports", "2"),)


def test_pieces_go_their_ways():
    """Two ordered, one of them comes and is wrong and goes back: then one is on its way and three are needed."""
    line = move(BOLTS, 2, NEEDED, ORDERED)
    line = move(line, 1, ORDERED, HERE)
    assert (line.standing, line.missing) == ("2 needed, 1 ordered, 1 here", 3)

    line = move(move(line, 1, HERE, WRONG), 1, WRONG, RETURNED)
    assert (line.standing, line.missing) == ("3 needed, 1 ordered, 1 returned", 4)


def test_an_order_may_fall_through():
    """Then it is needed again."""
    line = move(move(BOLTS, 4, NEEDED, ORDERED), 4, ORDERED, NEEDED)

    assert (line.standing, line.pieces) == ("needed", {})


@pytest.mark.parametrize("old", STATUSES)
@pytest.mark.parametrize("new", STATUSES)
def test_only_what_follows_may_follow(old, new):
    """Every other step is refused, and so is one of more pieces than there are."""
    standing = {} if old == NEEDED else {old: 4}
    line = Ordered("bolts", ONE_TIME, 4, pieces=standing)
    if new in MOVES[old]:
        assert move(line, 4, old, new).at(new) == 4
        with pytest.raises(InputError, match="5 cannot go from"):
            move(line, 5, old, new)
    else:
        with pytest.raises(InputError, match=f'after "{old}" comes'):
            move(line, 1, old, new)


def test_the_old_part_is_never_missed():
    """It is owed until it is returned, and holds nothing up."""
    assert (OLD.missing, OLD.standing) == (0, "core owed")
    assert move(OLD, 1, CORE_OWED, RETURNED).standing == "returned"


def test_the_gate_opens_when_all_is_here():
    """What is ordered is not here; what was in stock is."""
    on_its_way = [move(BOLTS, 3, NEEDED, ORDERED), OLD]
    there = [move(BOLTS, 4, NEEDED, IN_STOCK), OLD]

    assert all_here([BOLTS, OLD]) == ("4 x bolts",)
    assert all_here(on_its_way) == ("4 x bolts (1 needed, 3 ordered)",)
    assert all_here(there) == ()


def test_terms_say_how_things_stand():
    """One status for all pieces, or numbers; more than are needed may be here."""
    terms = terms_of("parts: {pump: here, pump bolts: '1 here, 1 wrong', gasket: 5 in stock, oil: ordered, old pump: returned}\n")
    standing = {one.name: one.standing for one in rich(terms=terms).order}

    assert standing == {
        "pump": "here", "pump bolts": "1 needed, 1 here, 1 wrong", "gasket": "5 in stock", "oil": "ordered",
        "13 mm socket": "in stock", "old pump": "returned",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("parts: {pomp: here}", 'nothing to order is called "pomp"; this job takes pump, pump bolts, gasket, oil, old pump'),
        ("parts: {pump: core owed}", 'pump cannot be "core owed"; it can be needed, in stock, ordered, here, wrong, returned'),
        ("parts: {old pump: here}", 'old pump cannot be "here"; it can be core owed, returned'),
        ("prices: {pomp: 1.00}", 'there is a price for "pomp", but nothing in sample is called so; did you mean "pump"?'),
    ],
)
def test_terms_that_do_not_fit_the_job_are_refused(text, message):
    """With the names that there are."""
    with pytest.raises(InputError) as refused:
        rich(terms=terms_of(text + "\n"))

    assert str(refused.value) == message
