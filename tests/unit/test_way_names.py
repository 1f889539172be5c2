"""Names given by a person: known ones pass, others end in a sentence with the nearest."""

import pytest
from area_samples import PUMP, area, shop

from putback.errors import InputError
from putback.way import names


@pytest.fixture(scope="module")
def sample():
    return area(PUMP)


def refused(check, *args) -> str:
    with pytest.raises(InputError) as caught:
        check(*args)
    return str(caught.value)


def test_names_that_are_there_pass(sample):
    """Parts, fasteners, and things that either the shop has or the area asks for."""
    names.check_targets(sample, ["pump"])
    names.check_avoided(sample, ["pump bolts"])
    names.check_things(sample, shop(), ["two-post lift", "13 mm socket", "second person"])


def test_a_thing_that_only_the_area_asks_for_passes(sample):
    """To do without what the shop has not got anyway changes nothing, and is no mistake."""
    names.check_things(sample, shop(base="shop: 1\nname: bare\nlabour: 60.00 per hour\n"), ["13 mm socket"])


def test_an_unknown_target_is_told_with_the_nearest(sample):
    """What can be meant is offered, not guessed."""
    assert refused(names.check_targets, sample, ["pmup"]) == 'there is no "pmup" in sample; did you mean "pump"?'


def test_with_nothing_near_the_targets_are_listed(sample):
    """A name like no other: the area's own targets are the answer."""
    assert refused(names.check_targets, sample, ["xyz"]) == 'there is no "xyz" in sample; it knows: pump'


def test_an_unknown_part_to_avoid_is_told(sample):
    """Else the plan would open it after all."""
    told = refused(names.check_avoided, sample, ["pump bolt"])
    assert told == 'there is no "pump bolt" to avoid in sample; did you mean "pump bolts"?'


def test_an_unknown_thing_to_do_without_is_told(sample):
    """Else the plan would use it after all."""
    told = refused(names.check_things, sample, shop(), ["two post lift"])
    assert told == 'nothing to do without is called "two post lift"; did you mean "two-post lift"?'
