"""A plan from where a job stands."""

import pytest
from desk_samples import THINKING, Desk

from putback.desk.planning import plan_on
from putback.errors import InputError


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def test_a_plan_in_force_is_kept_beside_the_events(desk):
    """Scenario A, everything on hand: from above, 698.47 without set-up; here with the shop's set-up minutes."""
    desk.open("a")
    view = desk.plan()

    assert view.plan["targets"] == ["alternator"] and view.plan["proved"]
    assert view.state.plans[-1]["minutes"] == pytest.approx(view.plan["minutes"], abs=1e-3)
    assert view.state.plans[-1]["money"] == pytest.approx(100 * view.plan["money"], abs=0.01)  # cents


def test_planning_goes_on_from_what_was_logged(desk):
    """What is off already costs nothing any more."""
    desk.open("a")
    whole = plan_on(desk.look(), desk.stamp.now(), THINKING)
    desk.moved("engine cover", "off")
    rest = plan_on(desk.look(), desk.stamp.now(), THINKING)
    assert 0 < whole.minutes - rest.minutes <= 3  # the cover's minute, and laying a tool down


def test_a_car_that_nobody_described_cannot_be_planned(desk):
    """An honest no, with what leads the way back all the same."""
    desk.open()
    with pytest.raises(InputError, match="what is logged leads the way back"):
        plan_on(desk.look(), desk.stamp.now(), THINKING)
