"""The papers of a job on the pages and behind them, and the page that a label leads to."""

import pytest
from desk_samples import Desk, half_way_on_a
from paper_reading import text
from web_samples import Web, areas_folder, sentence

from putback.paper.kinds import PAPERS


@pytest.fixture(scope="module")
def web(tmp_path_factory):
    """Demo A, planned and half way in."""
    folder = tmp_path_factory.mktemp("papers")
    with Desk(folder) as desk:
        desk.open("a", name="alternator löw")
        desk.plan()
        half_way_on_a(desk)
        yield Web(desk, areas_folder(folder), address="http://192.0.2.10:8000")


def at(web, rest: str):
    return web.get(f"/api/jobs/{web.desk.job}/papers/{rest}")


@pytest.mark.parametrize("kind", PAPERS)
def test_every_paper_is_behind_a_link_of_the_page(web, kind):
    """The page links the PDF, CSV and JSON of each; the PDF opens as one, under a name of plain signs."""
    page, answer = web.get(f"/jobs/{web.desk.job}/papers"), at(web, f"{kind}.pdf?sheet=letter&units=us")

    assert all(f"/papers/{kind}.{form}?sheet=a4" in page.text for form in ("pdf", "csv", "json"))
    assert (answer.status_code, answer.headers["content-type"]) == (200, "application/pdf")
    assert answer.headers["content-disposition"] == f'inline; filename="alternator-low-{kind}.pdf"'
    assert PAPERS[kind].title in text(answer.content)


def test_the_values_behind_a_paper_are_there_as_well(web):
    """JSON and CSV of the labels say the same."""
    labels = at(web, "labels.json").json()["labels"]
    rows = at(web, "labels.csv").text.splitlines()

    assert len([row for row in rows if row.startswith("labels,")]) == len(labels) > 0
    assert labels[0]["page"].startswith(f"http://192.0.2.10:8000/jobs/{web.desk.job}/item/")


def test_a_label_leads_to_a_page(web):
    """The address in the code is a page of this server: where the bolts lie, how they stand, what is still to do."""
    for label in at(web, "labels.json").json()["labels"]:
        page = web.get(label["page"].removeprefix("http://192.0.2.10:8000"))
        assert page.status_code == 200
        assert label["item"] in page.text and label["position"] in page.text


@pytest.mark.parametrize("rest", ["poster.pdf", "estimate.docx", "estimate", "..%2f..%2festimate.pdf"])
def test_a_paper_that_is_not_there_is_said(web, rest):
    """Nothing of the disk is opened, and one sentence tells."""
    assert at(web, rest).status_code == 404


def test_wishes_that_cannot_be_are_said(web):
    """A sheet, units or a language that do not exist."""
    for wish, words in (("sheet=a5", "a sheet is"), ("units=stone", "units are"), ("language=xx", "no papers in")):
        answer = at(web, f"tag.pdf?{wish}")
        assert answer.status_code == 400
        assert words in sentence(answer)
    assert web.get(f"/jobs/{web.desk.job}/papers?sheet=a5").status_code == 400


def test_no_item_of_that_name(web):
    """A label of another job leads to a sentence."""
    assert web.get(f"/jobs/{web.desk.job}/item/unicorn%20bolt").status_code == 404


def test_without_a_plan_the_page_says_so(web):
    """A car that nobody described has no way to print, but all that is logged."""
    desk = web.desk
    kept, desk.job = desk.job, ""
    bare = desk.open(name="bare")
    page = web.get(f"/jobs/{bare}/papers").text
    desk.job = kept
    assert "nothing is planned yet" in page
    assert f"/api/jobs/{bare}/papers/record.pdf" in page and f"/api/jobs/{bare}/papers/estimate.pdf" not in page
