"""The page of a job's belt: what is asked of it, and what it answers."""

import pytest
from desk_samples import Desk
from web_samples import Web, areas_folder

# In the order of the file: crankshaft, alternator, compressor, idler pulley, tensioner pulley.
LAID = {
    "laid": "1",
    **{f"at {n}": at for n, at in enumerate(("1", "4", "5", "3", "2"))},
    **{f"side {n}": side for n, side in enumerate(("ribs", "ribs", "ribs", "ribs", "back"))},
    **{f"off {n}": "0" for n in range(5)},
}


@pytest.fixture
def web(tmp_path):
    """Demo A, opened."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        yield Web(desk, areas_folder(tmp_path))


def ask(web, status: int = 200, **said) -> str:
    answer = web.get(f"/jobs/{web.desk.job}/belt", params=said)
    assert answer.status_code == status
    return " ".join(answer.text.replace("&#39;", "'").replace("&#34;", '"').split())


def test_the_page_shows_how_the_belt_runs(web):
    """Drawing, words, and every pulley in the form where the known route has it."""
    page = ask(web)

    assert f'src="/api/jobs/{web.desk.job}/belts/1.svg"' in page
    assert "all 7 ribs in their grooves" in page
    assert page.count("<fieldset>") == 5
    assert '<option value="4" selected>4</option>' in page


def test_a_belt_laid_as_it_should_be_is_told_so(web):
    """Whatever the order in which the file names its pulleys."""
    assert "<b>Nothing speaks against it.</b>" in ask(web, **LAID)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"side 1": "back"}, "must turn clockwise: the belt passes it on the wrong side"),
        ({"off 1": "1"}, "1 rib of the belt hangs beside the alternator"),
        ({"at 1": "3", "at 3": "4"}, "passes through the crankshaft"),
        ({"at 3": "-"}, "The belt leaves out the idler pulley."),
    ],
)
def test_a_belt_laid_wrong_is_recognised(web, changes, words):
    """With the reason, marked as a stop in a word; what was sent stays in the form."""
    page = ask(web, **LAID | changes)

    assert "<strong>Stop:</strong>" in page and words in page
    for name, value in changes.items():
        assert f'name="{name}"' in page and f'value="{value}" selected' in page


def test_what_is_known_of_another_belt_of_the_arm_and_of_the_tone_is_told(web):
    """As the command line tells it."""
    page = ask(web, fit="7PK1563", arm="259", tone="62", run="idler pulley to alternator")

    assert "beyond its mark for the longest belt" in page
    assert "13 mm more than the mark of the belt says" in page
    assert "a tension of 222 N" in page


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"cracks": "4"}, "4 cracks in 76 mm of a rib"),
        ({"cracks": "9", "cracks over": "3 in"}, "9 cracks in 76.2 mm of a rib"),
        ({"gauge": "level"}, "The gauge lies level with the ribs"),
        ({"gauge": "above", "depth": "0,3"}, "0.3 mm above the ribs"),
        ({"torn": "14"}, "14 mm of rib are torn out"),
        ({"offset": "3.4", "offset over": "150"}, "1.30° out of line"),
    ],
)
def test_what_is_seen_of_a_belt_is_judged(web, said, words):
    """A bare figure has the unit that its field shows; another one may be written."""
    assert words in ask(web, **said)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"fit": "<b>7PK</b>"}, "is no mark of a ribbed belt"),
        ({"arm": "up"}, "is no angle"),
        ({"arm": "90"}, "the arm cannot stand at 90°"),
        ({"tone": "loud"}, "is no frequency"),
        ({"tone": "70", "run": "here to there"}, "is no run of this belt"),
        ({"cracks": "some"}, "does not say how many cracks"),
        ({"gauge": "above"}, "does not say where the gauge lies"),
        ({"gauge": "beside"}, "does not say where the gauge lies"),
        ({"offset": "1"}, "does not say what gap over what length"),
        (LAID | {"at 1": "5"}, "alternator and compressor both stand at place 5"),
        (LAID | {"side 1": "edge"}, "say which side of the belt lies on the alternator"),
        (LAID | {"at 1": "x"}, "is no place on the route"),
        (LAID | {"off 1": "-1"}, "is no place on the route"),
        ({"laid": "1"}, "there is no pulley on this route"),
        (LAID | {"at 0": "-"}, "crankshaft drives the belt, and is not in this route"),
        (LAID | {f"at {n}": "-" for n in (1, 2, 3, 4)}, "two pulleys at least"),
    ],
)
def test_what_is_not_understood_is_told_in_a_sentence(web, said, words):
    """On the page itself, and nothing of it becomes markup."""
    page = ask(web, 400, **said)

    assert "<strong>Not done:</strong>" in page and words in page
    assert "<b>7PK</b>" not in page


@pytest.mark.parametrize("number", ["0", "2", "x", "99999999999", "-1"])
def test_a_belt_that_is_not_there_is_the_first(web, number):
    """An old address still shows the page."""
    assert "accessory drive of demo car A" in ask(web, belt=number)


def test_without_a_drive_only_what_is_seen_is_judged(tmp_path):
    """On a car that nobody has described as well; the menu leads there."""
    with Desk(tmp_path) as desk:
        desk.open()
        web = Web(desk, areas_folder(tmp_path))

        assert "No drive file says" in ask(web)
        assert "4 cracks in 76 mm" in ask(web, cracks="4", fit="7PK1545", laid="1")
        assert f'href="/jobs/{desk.job}/belt"' in web.get(f"/jobs/{desk.job}/menu").text


@pytest.mark.parametrize(("letter", "leads"), [("a", True), ("b", False)])
def test_the_menu_leads_there_where_a_belt_is_near(tmp_path, letter, leads):
    """Demo B has none."""
    with Desk(tmp_path) as desk:
        desk.open(letter)
        menu = Web(desk, areas_folder(tmp_path)).get(f"/jobs/{desk.job}/menu").text

    assert (f'href="/jobs/{desk.job}/belt"' in menu) == leads
