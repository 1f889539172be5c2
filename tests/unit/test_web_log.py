"""The log as a page: what was said, and what is taken back."""

import pytest
from desk_samples import Desk
from web_samples import Web, areas_folder

from putback.desk.view import look


@pytest.fixture
def web(tmp_path):
    with Desk(tmp_path) as desk:
        desk.open(name="bumper")
        yield Web(desk, areas_folder(tmp_path))


def take_back(web, event: str):
    return web.ask("POST", f"/jobs/{web.desk.job}/log", data={"event": event})


def out(web) -> int:
    return look(web.desk.ledger, web.desk.job).state.groups["screws"].out


def test_what_is_taken_back_is_struck_through_and_counts_no_more(web):
    """Taking the taking back back counts it again; all of it stays in the log."""
    first = web.desk.off("screws", 2)
    second = web.desk.off("screws", 3)
    answer = take_back(web, second)

    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/{web.desk.job}/log")
    assert out(web) == 2
    page = web.get(f"/jobs/{web.desk.job}/log").text
    assert page.count("<s>") == 1
    assert f'value="{first}"' in page
    assert f'value="{second}"' not in page
    undoing = web.desk.ledger.events(web.desk.job)[-1].event.id
    take_back(web, undoing)
    assert out(web) == 5
    assert len(web.desk.ledger.events(web.desk.job)) == 5


def test_what_nobody_takes_back_from_a_page(web):
    """The opening of the job, and what is not there."""
    opening = web.desk.ledger.events(web.desk.job)[0].event.id

    assert [take_back(web, id).status_code for id in (opening, "X" * 26, "")] == [400, 400, 400]
    assert len(web.desk.ledger.events(web.desk.job)) == 1
