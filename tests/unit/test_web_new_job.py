"""Opening a job from a page, and the page that it leads to: the same as by any other way, or a sentence and nothing opened."""

import json

import pytest
from desk_samples import Desk
from web_samples import Web, areas_folder

from putback.desk.view import look
from putback.web.step import in_page

AREA, SHOP = "demo-a.yaml", "demo-shop.yaml"


@pytest.fixture
def web(tmp_path):
    with Desk(tmp_path) as desk:
        yield Web(desk, areas_folder(tmp_path))


def opened(web, **said):
    return web.ask("POST", "/jobs/new", data=said)


def job(web, answer) -> str:
    assert answer.status_code == 303, answer.text
    return answer.headers["location"].removeprefix("/jobs/")


def test_a_car_that_nobody_has_described(web):
    """With what it came in with, as events have it; lists have commas between, money is in cents."""
    said = {"name": "bumper", "vehicle": "demo car X", "vin": "1M8 GDM9AX KP042788", "complaint": "it rattles"}
    answer = opened(web, **said, kilometres="148000", codes="one, two", cap="250.50", targets="bumper, bracket")
    seen = look(web.desk.ledger, job(web, answer))
    state, intake = seen.state, seen.logged[-1].event.data

    assert (state.vehicle, state.cap, list(state.targets)) == ("demo car X, 1M8GDM9AXKP042788", 25050, ["bumper", "bracket"])
    assert (intake["kilometres"], intake["stored codes"]) == (148000, ["one", "two"])


def test_the_only_shop_is_taken_where_none_was_chosen(web):
    """An area is never left out in silence; and the way is planned at once."""
    seen = look(web.desk.ledger, job(web, opened(web, name="alternator", area=AREA)))

    assert seen.area and seen.shop and seen.plan


def test_of_two_shops_one_has_to_be_chosen(web):
    """Nothing is opened before that."""
    (web.settings.areas / "second.yaml").write_bytes((web.settings.areas / SHOP).read_bytes())
    answer = opened(web, name="alternator", area=AREA)

    assert (answer.status_code, "choose the shop" in answer.text) == (400, True)
    assert web.desk.ledger.jobs() == []


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({}, "what this job is called"),
        ({"name": "x", "vin": "1M8GDM9A1KP042788"}, "the ninth sign must be"),
        ({"name": "x", "kilometres": "many"}, "kilometres"),
        ({"name": "x", "cap": "a lot"}, "what the customer agreed to"),
        ({"name": "x", "area": "../areas/demo-a.yaml", "shop": SHOP}, "there is no"),
        ({"name": "x", "area": AREA, "shop": SHOP, "targets": "wing mirror"}, "wing mirror"),
    ],
)
def test_what_is_wrong_opens_nothing(web, said, words):
    """The form comes back with the sentence and with what was written."""
    answer = opened(web, **said)

    assert (answer.status_code, words in answer.text) == (400, True), answer.text
    assert web.desk.ledger.jobs() == []


def test_a_number_of_another_form_is_taken_when_somebody_is_sure(web):
    """An old car may have any number."""
    assert opened(web, name="x", vin="123", sure="yes").status_code == 303


def test_where_there_is_no_way_the_job_is_open_and_its_page_says_what_is_to_do(web):
    """It is opened once, not once more with each try."""
    shop = web.settings.areas / SHOP
    text = shop.read_text(encoding="utf-8")
    shop.write_text(text[: text.index("\ntools:")] + "\ntools:\n  sockets: 30 mm\n", encoding="utf-8")
    page = web.get(f"/jobs/{job(web, opened(web, name='alternator', area=AREA))}").text

    assert "nothing is planned yet" in page
    assert len(web.desk.ledger.jobs()) == 1


def test_what_stands_in_the_page_as_json_ends_no_block(web):
    """And is the same values when it is read."""
    value = {"a": "</script><!--", "b": ["\u2028", "N·m"]}

    assert "<" not in in_page(value)
    assert json.loads(in_page(value)) == value
