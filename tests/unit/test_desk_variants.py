"""The car turns out to be another variant than was thought."""

import pytest
from desk_samples import THINKING, Desk

from putback.desk.differs import Found, differs, vary
from putback.desk_json import differs_object
from putback.errors import InputError
from putback.job_json import job_object

FREE, SEIZED = "free hub bolts", "seized hub bolts"


@pytest.fixture
def desk(tmp_path):
    """Scenario D with its bolts free, as far as anybody knows."""
    with Desk(tmp_path) as desk:
        desk.open("d")
        desk.plan()
        yield desk


@pytest.fixture
def stuck(desk):
    """The hub bolts do not move."""
    return differs(desk.ledger, desk.job, desk.stamp, Found("hub bolts", "seized"), THINKING)


def test_where_no_way_is_left_the_other_variant_is_offered(desk, stuck):
    """Scenario D: with the bolts seized the carrier comes off and the unit is changed at the bench, 117 minutes in all."""
    (other,) = stuck.variants
    assert stuck.no_way is not None and other.variant == SEIZED
    assert other.to_do.minutes >= 117
    assert differs_object(stuck)["variants"][0]["words"].startswith(f"if this car has {SEIZED}")
    assert desk.look().state.variants == (), "nothing was logged by asking"


def test_said_to_be_that_variant_the_job_goes_on_through_the_carrier(desk, stuck):
    """The stuck bolts are accounted for, the carrier comes off, and the rear toe is owed."""
    told = vary(desk.ledger, desk.job, desk.stamp, SEIZED, THINKING)
    state = told.view.state
    assert told.no_way is None and told.change.after == stuck.variants[0].to_do
    assert state.variants == (SEIZED,) and all(one.settled for one in state.differences)
    assert "check the rear toe" in dict(told.change.owed)
    steps = [step["text"] for step in job_object(told.view, desk.stamp.now())["steps"]]
    assert any("hub carrier" in text for text in steps)


def test_back_again_it_is_as_before(desk, stuck):
    """A slip is put right by naming the other one; what was stuck stays put right until it is found again."""
    vary(desk.ledger, desk.job, desk.stamp, SEIZED, THINKING)
    assert vary(desk.ledger, desk.job, desk.stamp, FREE, THINKING).view.state.variants == (FREE,)


@pytest.mark.parametrize("name, words", [("sized hub bolts", 'did you mean "seized hub bolts"'), (FREE, "already")])
def test_what_is_no_other_variant_is_refused(desk, name, words):
    """A slip in the name, and what the car is known to be."""
    with pytest.raises(InputError, match=words):
        vary(desk.ledger, desk.job, desk.stamp, name, THINKING)


def test_a_car_that_nobody_described_has_no_variants(tmp_path):
    """There is nothing to choose from."""
    with Desk(tmp_path) as desk:
        desk.open()
        with pytest.raises(InputError, match="nobody has described"):
            vary(desk.ledger, desk.job, desk.stamp, SEIZED, THINKING)
