"""The pages about parts: what is ordered and here, and the new part beside the old one."""

import pytest
from desk_samples import Desk
from web_samples import Web, areas_folder

from putback.web.asked import PERSON


@pytest.fixture
def web(tmp_path):
    """Demo A, nothing done yet."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        desk.plan()
        yield Web(desk, areas_folder(tmp_path))


@pytest.fixture
def plain(tmp_path):
    """A car that nobody has described."""
    with Desk(tmp_path) as desk:
        desk.open(name="bumper")
        yield Web(desk, areas_folder(tmp_path))


def look(web, page: str) -> str:
    answer = web.get(f"/jobs/{web.desk.job}/{page}")
    assert answer.status_code == 200
    return answer.text.replace("&#39;", "'")


def send(web, page: str, **said):
    return web.post(f"/jobs/{web.desk.job}/{page}", data=said, cookies={PERSON: "technician 1"})


def sent(web, page: str, **said) -> None:
    answer = send(web, page, **said)
    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/{web.desk.job}/{page}"), answer.text


def last(web):
    return web.desk.ledger.events(web.desk.job)[-1].event


def count(web) -> int:
    return len(web.desk.ledger.events(web.desk.job))


# --- parts ----------------------------------------------------------------------------------------


def test_the_list_has_what_the_plan_takes(web):
    """The new part with what to ask for, and the one-time fasteners; what to lay out besides."""
    text = look(web, "order")

    assert "1 x alternator" in text and "2 x left mount nuts" in text and "one-time fastener" in text
    assert "pulley ribs: 7" in text
    assert "two-post lift" in text


def test_a_part_is_ordered_comes_is_wrong_and_goes_back(web):
    """Each button logs its event, and the next one is offered then."""
    for button, standing in (("Ordered", "ordered"), ("Here", "here")):
        sent(web, "order", part="alternator", count="1", do=button)
        assert f'<p class="verdict">{standing}</p>' in look(web, "order")
    sent(web, "order", part="alternator", count="1", do="Wrong", note="six ribs")
    assert "six ribs" in look(web, "order") and "1 needed, 1 wrong" in look(web, "order")
    sent(web, "order", part="alternator", do="Returned")
    assert "1 needed, 1 returned" in look(web, "order")
    assert last(web).kind == "part returned"


def test_some_of_several_are_here(web):
    """They are counted."""
    sent(web, "order", part="left mount nuts", count="1", do="In stock")

    assert "1 needed, 1 here" in look(web, "order")


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"part": "alternator", "count": "0", "do": "Ordered"}, "no count"),
        ({"part": "alternator", "count": "1.5", "do": "Ordered"}, "no count"),
        ({"part": "alternator", "count": "many", "do": "Ordered"}, "no count"),
        ({"part": "", "do": "Ordered"}, "say which part"),
        ({"part": "alternator", "do": "Stolen"}, "no such button"),
        ({"part": "x" * 5000, "do": "Ordered"}, "must be one line of text"),
    ],
)
def test_what_cannot_be_understood_is_not_logged(web, said, words):
    """One sentence on the same page."""
    before = count(web)
    answer = send(web, "order", **said)

    assert answer.status_code == 400 and words in answer.text and "<h1>Parts</h1>" in answer.text
    assert count(web) == before


def test_parts_of_a_car_nobody_described_are_ordered_as_well(plain):
    """By their names."""
    sent(plain, "order", part="bumper bracket", count="2", do="Ordered")

    assert "2 x bumper bracket" in look(plain, "order")


# --- old and new ----------------------------------------------------------------------------------


def all_of(web, **otherwise) -> dict:
    """Everything that demo A's description wants of the new part, measured so on both."""
    wanted = {name: value.partition(" ± ")[0].partition(" to ")[0] for name, value in web.desk.look().area.match}
    new = wanted | {name.replace("_", " "): value for name, value in otherwise.items()}
    return {f"old: {name}": value for name, value in wanted.items()} | {f"new: {name}": value for name, value in new.items()}


def test_a_part_that_fits_can_go_in(web):
    """Once every feature was compared; before that the page does not say so."""
    assert "It can go in" not in look(web, "match")
    sent(web, "match", part="alternator", do="compare", **all_of(web))

    assert "It can go in" in look(web, "match")
    assert last(web).kind == "part compared"


def test_a_part_that_differs_is_stopped_and_told_by_its_feature(web):
    """Old, new and wanted beside each other; one press says that it is the wrong one, with the reason."""
    sent(web, "match", part="alternator", do="compare", **all_of(web, pulley_ribs="6"))
    text = look(web, "match")

    assert "Stop: do not fit it." in text and "pulley ribs: 6" in text and "7 wanted" in text
    assert "It can go in" not in text
    sent(web, "match", part="alternator", do="wrong", note="pulley ribs 6, 7 wanted")
    assert last(web).data == {"part": "alternator", "note": "pulley ribs 6, 7 wanted"}
    assert "The wrong part:" in look(web, "match")


def test_the_tolerance_counts(web):
    """41.5 ± 0.5 mm: 41.9 fits, 42.2 does not."""
    sent(web, "match", part="alternator", do="compare", **all_of(web) | {"new: pulley offset, face to ear": "41.9"})
    assert "DIFFERS" not in look(web, "match")
    sent(web, "match", part="alternator", do="compare", **all_of(web) | {"new: pulley offset, face to ear": "42.2"})
    assert "DIFFERS" in look(web, "match")


def test_somebody_answers_for_a_difference_by_name_and_reason(web):
    """Then the part can go in; compared anew, the answer counts no more."""
    sent(web, "match", part="alternator", do="compare", **all_of(web, pulley_ribs="6"))
    said = {"part": "alternator", "feature": "pulley ribs", "by": "foreman", "do": "accept"}
    assert send(web, "match", **said).status_code == 400
    sent(web, "match", **said, reason="the sixth rib runs free")

    assert "It can go in" in look(web, "match")
    sent(web, "match", part="alternator", do="compare", **all_of(web, pulley_ribs="6"))
    assert "Stop: do not fit it." in look(web, "match")


def test_looks_the_same_is_no_comparison(web):
    """It is kept as said, and the part cannot go in by it."""
    sent(web, "match", part="alternator", do="compare", **all_of(web, pulley_ribs="looks the same"))

    assert "It can go in" not in look(web, "match")


def test_parts_of_a_car_nobody_described_are_compared_by_what_is_measured(plain):
    """Old against new, feature by feature."""
    said = {"more: 1": "length", "more old: 1": "120 mm", "more new: 1": "118 mm", "more: 2": "holes", "more old: 2": "4", "more new: 2": "4"}
    assert "bumper bracket" in look(plain, "match?part=bumper%20bracket")
    sent(plain, "match", part="bumper bracket", do="compare", **said)

    assert last(plain).data["old"] == {"length": "120 mm", "holes": "4"}
    assert "length: 118 mm" in look(plain, "match") and "120 mm wanted" in look(plain, "match")


def test_nothing_measured_is_nothing_compared(web):
    """One sentence, and no event."""
    before = count(web)
    answer = send(web, "match", part="alternator", do="compare")

    assert answer.status_code == 400 and "nothing was written" in answer.text
    assert count(web) == before
