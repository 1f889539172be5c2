"""A job as it stands."""

import pytest
from desk_samples import Desk

from putback.desk.view import look
from putback.errors import InputError


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def test_a_job_is_what_its_events_add_up_to(desk):
    """State, description, and what stands open, all of one moment."""
    desk.open("a")
    desk.moved("engine cover", "off")
    view = desk.look()

    assert view.state.items["engine cover"].state == "off" and len(view.logged) == 2
    assert "away: engine cover" in {point.key for point in view.points}


def test_a_job_that_is_not_there_is_one_sentence(desk):
    """With what to do."""
    with pytest.raises(InputError, match="there is no job"):
        look(desk.ledger, "X" * 26)


def test_an_area_file_is_read_once_however_often_a_job_is_looked_at(desk):
    """Reading it takes longer than everything else together."""
    desk.open("a")
    assert desk.look().area is desk.look().area
