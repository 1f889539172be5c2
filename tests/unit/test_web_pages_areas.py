"""The pages of the area files: reading, bringing and writing, and nothing outside the folder."""

from pathlib import Path

import pytest
from desk_samples import Desk
from log import DEMO
from web_samples import Web, areas_folder

from putback.desk.shelf import stamp_of

FILE = "demo-a.yaml"


@pytest.fixture
def web(tmp_path):
    with Desk(tmp_path) as desk:
        yield Web(desk, areas_folder(tmp_path))


def folder(web) -> Path:
    return web.settings.areas


def text(name: str = FILE) -> str:
    return (DEMO / name).read_text(encoding="utf-8")


def write(web, said: str, began: bytes | None = None, do: str = "save", name: str = FILE):
    began = (folder(web) / FILE).read_bytes() if began is None else began
    return web.post(f"/areas/{name}/edit", data={"text": said, "began": stamp_of(began), "do": do})


def bring(web, data: bytes, sent_as: str = "mine.yaml", **said):
    return web.post("/areas/new", data={"do": "bring", **said}, files={"file": (sent_as, data)})


def names(web) -> list[str]:
    return sorted(path.name for path in folder(web).iterdir())


def test_the_list_and_one_area(web):
    """By their titles; the area with its parts and how each is held, and what is wrong with it."""
    assert "alternator behind a transverse four" in web.get("/areas").text
    page = web.get(f"/areas/{FILE}").text

    assert "Checked, nothing wrong" in page
    assert "upper alternator bolt" in page and "46 N·m" in page


def test_whether_a_shop_can_do_it(web):
    """With the shop's file the targets have to be reachable."""
    assert "demo-shop.yaml can reach every target" in web.get(f"/areas/{FILE}?shop=demo-shop.yaml").text
    (folder(web) / "bare.yaml").write_text("shop: 1\nname: bare shop\nlabour: 60.00 per hour\n", encoding="utf-8")
    assert "this shop has no way to" in web.get(f"/areas/{FILE}?shop=bare.yaml").text
    (folder(web) / "bare.yaml").write_text("shop: 1\n", encoding="utf-8")
    assert "bare.yaml:1:1" in web.get(f"/areas/{FILE}?shop=bare.yaml").text


def test_a_finding_stands_at_its_line(web):
    """Checked without being saved."""
    at = next(number for number, line in enumerate(text().splitlines(), 1) if "battery: battery clamp" in line)
    answer = write(web, text().replace("battery: battery clamp", "battery: batery clamp"), do="check")

    assert answer.status_code == 200 and "1 finding" in answer.text
    listing = answer.text.partition('<ol class="listing">')[2].split("<li")
    assert "batery clamp" in listing[at] and 'class="found"' in listing[at] and "battery clamp" in listing[at].partition("<p>")[2]
    assert (folder(web) / FILE).read_text(encoding="utf-8") == text()


def test_what_is_saved_is_what_was_written_and_the_old_stays_beside(web):
    """With line ends as files have them, whatever a browser sends."""
    new = text() + "# looked at in March\n"
    answer = write(web, new.replace("\n", "\r\n"))

    assert (answer.status_code, answer.headers["location"]) == (303, f"/areas/{FILE}")
    assert (folder(web) / FILE).read_text(encoding="utf-8") == new
    assert (folder(web) / f"{FILE}.before").read_text(encoding="utf-8") == text()
    assert f"{FILE}.before" not in web.get("/areas").text


def test_nobody_writes_over_what_another_has_saved(web):
    """The second one is told, keeps what he wrote on the page, and the first one's text stays."""
    began = (folder(web) / FILE).read_bytes()
    write(web, text() + "# one\n")
    answer = write(web, text() + "# another\n", began)

    assert answer.status_code == 400 and "somebody else has saved it" in answer.text and "# another" in answer.text
    assert (folder(web) / FILE).read_text(encoding="utf-8").endswith("# one\n")


@pytest.mark.parametrize("said", ["", "a: [", "state: 1\n", "nothing of use"])
def test_what_is_no_area_is_not_saved(web, said):
    """It would be gone from the list."""
    answer = write(web, said)

    assert answer.status_code == 400 and "Not done:" in answer.text
    assert (folder(web) / FILE).read_text(encoding="utf-8") == text()


def test_a_file_is_brought(web):
    """Under its own name or another; one that is there already is never written over."""
    assert bring(web, text().encode()).headers["location"] == "/areas/mine.yaml"
    assert bring(web, text().encode(), name="second one").headers["location"] == "/areas/second%20one.yaml"
    again = bring(web, b"area: 1\nname: other\n", name="Mine")
    assert again.status_code == 400 and "already" in again.text
    assert (folder(web) / "mine.yaml").read_text(encoding="utf-8") == text()


@pytest.mark.parametrize("name", ["../out.yaml", "/etc/x.yaml", "a/b.yaml", "..", ".hidden", "a\0b.yaml", "a" * 200, "x.yaml/", "%2e%2e%2fout"])
def test_no_name_leads_out_of_the_folder(web, name):
    """Neither as the name that was written nor as that of the file; nothing is there afterwards."""
    before = names(web)

    assert bring(web, text().encode(), name=name).status_code == 400
    assert names(web) == before
    assert sorted(folder(web).parent.rglob("*out*.yaml")) == []


def test_the_path_of_a_file_that_is_sent_counts_for_nothing(web):
    """Some browsers send one; only its last part is taken."""
    assert bring(web, text().encode(), sent_as="../../mine.yaml").headers["location"] == "/areas/mine.yaml"
    assert bring(web, text().encode(), sent_as="C:\\areas\\theirs.yaml").headers["location"] == "/areas/theirs.yaml"


@pytest.mark.parametrize("data", [b"", b"\xff\xfe\0", b"\x89PNG\r\n\x1a\n", b"area: 1\n" + b"# x\n" * 200_000])
def test_what_is_no_text_or_too_much_is_refused(web, data):
    """In one sentence, and nothing is kept."""
    before = names(web)
    answer = bring(web, data)

    assert answer.status_code == 400 and "Not done:" in answer.text
    assert names(web) == before


@pytest.mark.parametrize("name", ["none.yaml", "demo-a.yaml.before", "..%2fledger.db", "%00", "ledger.db"])
def test_only_what_lies_in_the_folder_by_name_is_shown(web, name):
    """All else is not there, links that lead out of it as well."""
    (folder(web) / "link.yaml").symlink_to(folder(web).parent / "ledger.db")
    for page in (name, f"{name}/edit", "link.yaml", "link.yaml/edit"):
        assert web.get(f"/areas/{page}").status_code == 404
    assert bring(web, text().encode(), name="link").status_code == 400


def test_an_area_is_begun(web):
    """With the part that is to be replaced; then it is written in."""
    answer = web.post("/areas/new", data={"do": "begin", "title": "rear lamp", "target": "lamp"}, files={"file": ("", b"")})

    assert answer.headers["location"] == "/areas/rear%20lamp.yaml/edit"
    page = web.get("/areas/rear lamp.yaml/edit").text
    assert "name: rear lamp" in page
