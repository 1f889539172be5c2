"""The pages that look at a job from afar: its way, the car's other jobs, what it found that nobody had described."""

import re
from xml.etree import ElementTree

import pytest
from desk_samples import THINKING, Desk, half_way_on_a
from web_samples import Web, areas_folder

from putback.chart import chart_svg
from putback.desk.planning import plan_on
from putback.web.asked import PERSON


@pytest.fixture
def web(tmp_path):
    """Demo A with a plan."""
    with Desk(tmp_path) as desk:
        desk.open("a", vehicle="AB 1234")
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


def kinds(web) -> list[str]:
    return [row.event.kind for row in web.desk.ledger.events(web.desk.job)]


# --- the way --------------------------------------------------------------------------------------


def test_the_picture_is_that_of_the_plan_in_force(web):
    """The same that the plan itself would draw, with the line of now where its steps stand."""
    desk = web.desk
    sheet = plan_on(desk.look(), desk.stamp.now(), THINKING)
    drawn = web.get(f"/jobs/{desk.job}/way.svg")

    assert drawn.headers["content-type"].startswith("image/svg+xml")
    assert drawn.text == chart_svg(sheet, done=0)


def test_the_line_of_now_moves_with_what_is_done(web):
    """Two steps later it stands behind the second one."""
    web.desk.off("cover clips", 4)
    web.desk.moved("engine cover", "off")
    drawn = ElementTree.fromstring(web.get(f"/jobs/{web.desk.job}/way.svg").text)

    assert any("2 of 81 steps done" in text for text in drawn.itertext())
    assert look(web, "way").count("<b>done</b>") == 2


def test_every_step_says_why(web):
    """Each part on the way in with the chain to what the car came for."""
    text = look(web, "way")

    assert "opens the way to: intake duct, engine support, engine, alternator" in text
    assert text.count("<li value=") == len(web.desk.look().plan["steps"])


def test_the_other_ways_are_priced_when_they_are_asked_for(web):
    """Not before, for it takes a while; the cheapest comes first."""
    assert "jack and wood block" not in look(web, "way")
    text = look(web, "way?others=1").partition("Other ways from here")[2]

    assert "engine support by jack and wood block" in text and "before tax" in text


def test_a_wish_is_planned_and_what_came_before_stays_to_be_seen(web):
    """The new plan is in force with its reason, the one before is told below it."""
    answer = send(web, "way", without="engine support bar", why="lent out")

    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/{web.desk.job}/way")
    assert kinds(web)[-1] == "plan made"
    assert "engine support bar" not in web.desk.look().plan["equipment"]
    assert "lent out" in look(web, "way") and "How it changed" in look(web, "way")


def test_a_wish_that_nothing_is_called_by_is_refused(web):
    """On the same page, with the nearest name that there is; no plan is made."""
    before = kinds(web)
    answer = send(web, "way", avoid="underray")

    assert answer.status_code == 400 and "undertray" in answer.text
    assert kinds(web) == before


def test_no_way_is_an_honest_no(web):
    """Told as such; the plan in force stays."""
    before = kinds(web)
    answer = send(web, "way", avoid="engine cover, undertray, left front wheel")

    assert answer.status_code == 409
    assert kinds(web) == before


def test_a_car_nobody_described_has_no_way(plain):
    """The page says so, and there is no picture."""
    assert "Nobody has described this car" in look(plain, "way?others=1")
    assert plain.get(f"/jobs/{plain.desk.job}/way.svg").status_code == 404


# --- the car's other jobs -------------------------------------------------------------------------


def test_the_other_jobs_of_a_car_are_told(web):
    """With what was done then, and that a part comes again too soon."""
    desk = web.desk
    first = desk.job
    desk.say("part swapped", part="alternator")
    second = desk.open("a", name="the same again", vehicle="ab1234")

    text = look(web, "history")
    assert f"/jobs/{first}/record" in text and f"/jobs/{second}/record" not in text
    assert "replaced: alternator" in text and "Again:" in text
    assert first in web.get("/vehicle?vehicle=1234").text
    assert "No job of such a car" in web.get("/vehicle?vehicle=9999").text


def test_a_job_that_does_not_say_which_car(plain):
    """Has no history, and says why."""
    assert "does not say which car" in look(plain, "history")


# --- what was found -------------------------------------------------------------------------------


def test_what_the_area_file_does_not_know_is_proposed(web):
    """As lines for it; the file stays as it is."""
    before = (web.settings.areas / "demo-a.yaml").read_bytes()
    half_way_on_a(web.desk)
    web.desk.say("difference found", item="push pins", what="broken", count=2)

    assert "push pins: broken on this car" in look(web, "found")
    assert (web.settings.areas / "demo-a.yaml").read_bytes() == before


def test_a_file_that_was_edited_since_is_told(web):
    """With what differs; also where it is gone."""
    path = web.settings.areas / "demo-a.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("46 Nm", "48 Nm").replace("46 N·m", "48 N·m"), encoding="utf-8")
    assert "upper alternator bolt: torque 48" in look(web, "found")
    path.unlink()
    assert "not among the files of this shop any more" in look(web, "found")


def test_a_car_nobody_described_is_asked_for_a_description(plain):
    """What was logged drafts one, and one may be begun."""
    shown = look(plain, "found")
    assert "area.yaml" in shown and "/areas/new" in shown


def test_every_page_is_one_tap_from_the_menu(web):
    """And the menu one tap from the step; none of its links is dead."""
    assert f'href="/jobs/{web.desk.job}/menu"' in web.get(f"/jobs/{web.desk.job}").text
    links = re.findall(rf'href="(/jobs/{web.desk.job}/[\w-]+)"', look(web, "menu"))
    assert len(links) >= 11
    assert [link for link in links if web.get(link).status_code != 200] == []
