"""What is remembered of a job is what the ledger holds."""

import pytest
from desk_samples import Desk, half_way_on_a
from web_samples import Web, areas_folder

from putback.desk.view import look
from putback.errors import InputError
from putback.web import views
from putback.web.views import Views
from web_addresses import pages


def test_a_remembered_job_is_the_job_as_it_stands(tmp_path):
    """After every event, also after those of somebody else, and with what was taken back."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        remembered = Views(desk.ledger)
        for work in (
            lambda: desk.off("left mount nuts", 1),
            lambda: half_way_on_a(desk),
            lambda: desk.say("event undone", event=last(desk)),
        ):
            work()
            now, fresh = remembered.look(desk.job), look(desk.ledger, desk.job)
            assert (now.logged, repr(now.state)) == (fresh.logged, repr(fresh.state))
        assert remembered.look(desk.job) is remembered.look(desk.job)


def last(desk) -> str:
    return desk.ledger.events(desk.job)[-1].event.id


def test_no_page_changes_what_is_remembered(tmp_path):
    """Every page of the table is looked at; the job is then what it was."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        desk.plan()
        half_way_on_a(desk)
        web = Web(desk, areas_folder(tmp_path))
        for path in [
            *pages(desk.job),
            f"/api/jobs/{desk.job}",
            f"/api/jobs/{desk.job}/safe",
            f"/api/jobs/{desk.job}/points?fast=1",
        ]:
            assert web.get(path).status_code in (200, 400, 404), path
        remembered = web.app.app.state.views.look(desk.job)

        assert len(desk.ledger.events(desk.job)) == len(remembered.logged)
        assert repr(remembered.state) == repr(look(desk.ledger, desk.job).state)


def test_a_job_that_is_not_there_is_not_remembered(tmp_path):
    """It may come later."""
    with Desk(tmp_path) as desk:
        remembered = Views(desk.ledger)
        with pytest.raises(InputError, match="no job"):
            remembered.look("J" * 26)
        assert not remembered._seen


def test_only_so_many_are_remembered(tmp_path, monkeypatch):
    """Those looked at last."""
    monkeypatch.setattr(views, "MOST", 2)
    with Desk(tmp_path) as desk:
        remembered = Views(desk.ledger)
        for job in (jobs := [desk.open(name=str(n)) for n in range(3)]):
            remembered.look(job)

        assert list(remembered._seen) == jobs[1:]
