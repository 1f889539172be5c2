"""How a belt runs, on the pages and behind them."""

import pytest
from desk_samples import Desk
from log import DEMO
from web_samples import Web, areas_folder, sentence

from putback.belt.route import lay
from putback.desk.opening import File
from putback.drive_file import read_drive
from putback.drive_svg import drive_svg

DRIVE = "demo-a-drive.yaml"
ROUTE = "It runs over crankshaft, tensioner pulley (back), idler pulley, alternator, compressor, and back to the first."


@pytest.fixture
def web(tmp_path):
    """Demo A with a plan."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        desk.plan()
        yield Web(desk, areas_folder(tmp_path))


def drive():
    return read_drive((DEMO / DRIVE).read_bytes(), DRIVE)


def job_of(web) -> dict:
    return web.get(f"/api/jobs/{web.desk.job}").json()


def test_the_steps_of_the_belt_bring_their_words_and_the_address_of_the_drawing(web):
    """The belt and the pin that holds its tensioner, off and on; no other step has any."""
    steps = {step["key"]: step["belt"] for step in job_of(web)["steps"] if "belt" in step}

    assert [key.partition(" ")[0] for key in steps] == ["in:", "in:", "back:", "back:"]
    assert [belt["photo"] for belt in steps.values()] == [False, True, False, False]
    assert all(len(belt["pictures"]) == 1 and belt["words"] for belt in steps.values())


def test_the_drawing_stands_under_an_address_of_its_own(web):
    """As the drive itself is drawn, kept by the browser for a day, and able to do nothing."""
    drawn = web.get(next(step for step in job_of(web)["steps"] if "belt" in step)["belt"]["pictures"][0]["drawing"])
    known = drive()

    assert drawn.text == drive_svg(known, lay(known, known.route))
    assert drawn.headers["content-type"].startswith("image/svg+xml")
    assert "max-age" in drawn.headers["cache-control"]
    assert drawn.headers["content-security-policy"].startswith("default-src 'none'; script-src 'self'")


@pytest.mark.parametrize("name", ["2.svg", "0.svg", "01.svg", "demo-a-drive.yaml", "x", "..%2f1.svg", "1.svg.svg"])
def test_an_address_of_no_drawing_is_refused(web, name):
    """In one sentence; nothing that lies on the disk is opened."""
    answer = web.get(f"/api/jobs/{web.desk.job}/belts/{name}")

    assert answer.status_code == 404
    if "%" not in name:
        assert "there is no drawing" in sentence(answer)


def test_the_list_has_every_belt_in_words(web):
    """For other programs."""
    (one,) = web.get(f"/api/jobs/{web.desk.job}/belts").json()

    assert (one["name"], one["drawing"]) == ("accessory drive of demo car A", f"/api/jobs/{web.desk.job}/belts/1.svg")
    assert ROUTE in one["words"]


def test_the_page_of_the_way_shows_how_the_belt_runs(web):
    """Behind a line, with its words below it; what the picture shows is told to whoever cannot see it."""
    page = web.get(f"/jobs/{web.desk.job}/way").text

    assert f'src="/api/jobs/{web.desk.job}/belts/1.svg"' in page
    assert "alternator clockwise" in page
    assert ROUTE in page


def test_the_folder_of_the_shop_holds_drive_files_as_well(web):
    """They are listed, shown with what is worked out, and opened with a job."""
    listed, shown, area = (web.get(path).text for path in ("/areas", f"/areas/{DRIVE}", "/areas/demo-a.yaml"))
    opened = web.post("/api/jobs", {"name": "x", "area": "demo-a.yaml", "shop": "demo-shop.yaml"}).json()["job"]

    assert f'href="/areas/{DRIVE}"' in listed
    assert "AT WORK: crankshaft at 2000 rpm" in shown
    assert all(f'src="/areas/{DRIVE}/belt.svg"' in page for page in (shown, area))
    assert web.get(f"/areas/{DRIVE}/belt.svg").text == web.get(f"/api/jobs/{opened}/belts/1.svg").text
    assert web.get("/areas/demo-a.yaml/belt.svg").status_code == 404
    assert [one["file"] for one in web.get("/api/areas").json()["drives"]] == [DRIVE]


def test_a_drive_file_that_an_area_names_and_the_folder_has_not_is_asked_for(web):
    """With the page that takes it."""
    (web.settings.areas / DRIVE).unlink()
    page = web.get("/areas/demo-a.yaml").text

    assert f"{DRIVE} is named here, and is not among these files" in page


def test_a_drive_file_is_brought_with_its_name_and_refused_where_it_is_none(web):
    """What is wrong with it stands on its page."""
    data = (DEMO / DRIVE).read_bytes()
    files = {"file": ("own.yaml", data.replace(b"7PK1538", b"7QQ1538"))}
    brought = web.post("/areas/new", data={"do": "bring"}, files=files)
    refused = web.post("/areas/new", data={"do": "bring"}, files={"file": ("none.yaml", b"belt: 1\n")})

    assert brought.headers["location"] == "/areas/own.yaml"
    assert "is no profile of a ribbed belt" in web.get("/areas/own.yaml").text
    assert web.get("/areas/own.yaml/belt.svg").status_code == 404
    assert (refused.status_code, "drive: 1" in refused.text) == (400, True)


def test_hostile_names_in_a_drive_stay_words(tmp_path):
    """Whether on a page, in a title or in the drawing."""
    hostile = "<script>alert(1)</script>"
    with Desk(tmp_path) as desk:
        text = (DEMO / DRIVE).read_text(encoding="utf-8").replace("accessory drive of demo car A", f"'{hostile}'")
        desk.open("a", beside=lambda name: File(name, text.encode()))
        desk.plan()
        web = Web(desk, areas_folder(tmp_path))
        pages = [web.get(f"/jobs/{desk.job}{path}").text for path in ("", "/way")]
        drawn = web.get(f"/api/jobs/{desk.job}/belts/1.svg").text

    assert all(hostile not in text for text in (*pages, drawn))
    assert "&lt;script&gt;" in drawn
