"""The pages by which a job passes on, is made safe, handed over and recorded: what they show, and what a button of theirs does."""

import re

import pytest
from desk_samples import Desk, half_way_on_a
from web_samples import Web, areas_folder

from putback.desk.passing_on import hand_on_of
from putback.job.hand_on import FACTS
from putback.web.access import Access
from putback.web.asked import PERSON


@pytest.fixture
def web(tmp_path):
    """Demo A, half apart."""
    with Desk(tmp_path) as desk:
        desk.open("a", vehicle="AB 1234")
        half_way_on_a(desk)
        yield Web(desk, areas_folder(tmp_path))


@pytest.fixture
def plain(tmp_path):
    """A car that nobody has described."""
    with Desk(tmp_path) as desk:
        desk.open(name="bumper")
        yield Web(desk, areas_folder(tmp_path))


def look(web, page: str, person: str = "technician 1") -> str:
    answer = web.get(f"/jobs/{web.desk.job}/{page}", cookies={PERSON: person})
    assert answer.status_code == 200
    return answer.text


def send(web, page: str, person: str = "technician 1", **said):
    return web.post(f"/jobs/{web.desk.job}/{page}", data=said, cookies={PERSON: person})


def kinds(web) -> list[str]:
    return [row.event.kind for row in web.desk.ledger.events(web.desk.job)]


def last(web):
    return web.desk.ledger.events(web.desk.job)[-1].event


# --- off the car ----------------------------------------------------------------------------------


def test_what_is_out_is_found_by_its_tray(web):
    """Each tray with what lies in it, how many, what it belongs to and which tool it takes."""
    text = look(web, "off")

    assert "1a" in text and "lower alternator bolt" in text and "mount-to-body bolts" in text
    assert re.search(r"3 x mount-to-body bolts", text)


def test_a_bolt_from_the_floor_finds_its_group(web):
    """By thread and length; what contradicts is not shown, and what is shown says in what it agrees."""
    thread = web.desk.look().car.fastener("lower alternator bolt").thread.text
    text = look(web, f"off?seen={thread}").partition("In the trays")[0]

    assert "lower alternator bolt" in text and "agrees in thread" in text
    assert "Nothing of this job is like it" in look(web, "off?seen=M30x200")


def test_a_car_nobody_described_has_its_trays_too(plain):
    """By the words that were logged."""
    plain.desk.off("tray screws", 4, tray="3", size="T25", belongs_to="tray")
    text = look(plain, "off")

    assert "4 x tray screws, T25" in text
    assert "tray screws" in look(plain, "off?seen=T25").partition("In the trays")[0]


# --- make safe ------------------------------------------------------------------------------------


def test_the_way_to_a_car_that_can_be_lowered(web):
    """The wheel goes on again before the car comes down, in words with the minutes; nothing is logged by looking."""
    before = kinds(web)
    text = look(web, "safe?to=lowered")

    steps = re.findall(r"<li>(.*?)</li>", text)
    assert steps.index("bring the car down onto its wheels") > steps.index("refit the left front wheel")
    assert re.search(r"\d+ steps, \d+ min", text) and "never driven" in text
    assert kinds(web) == before


def test_whoever_is_under_the_car_is_told_first(web):
    """Before any step."""
    web.desk.say("person went under", who="technician 2")

    assert "Under the car:</strong> technician 2" in look(web, "safe")


# --- hand on, pause -------------------------------------------------------------------------------


def test_a_job_is_handed_on_and_taken_over_by_who_has_looked(web):
    """The sender hands on; only the receiver sees the three facts to confirm; without them nothing is taken over."""
    assert send(web, "hand-on", do="hand on", to="technician 2").status_code == 303
    assert "Waits for technician 2" in look(web, "hand-on")
    assert look(web, "hand-on", "technician 2").count('type="checkbox"') == FACTS

    refused = send(web, "hand-on", "technician 2", do="take over")
    assert refused.status_code == 400 and "look and confirm first" in refused.text

    view = web.desk.look()
    facts = {f"fact: {fact.key}": "yes" for fact in hand_on_of(view, web.desk.stamp.now()).facts}
    taken = send(web, "hand-on", "technician 2", do="take over", **facts)
    assert (taken.status_code, taken.headers["location"]) == (303, f"/jobs/{web.desk.job}")
    assert (last(web).kind, last(web).person) == ("job taken over", "technician 2")


def test_a_job_pauses_and_goes_on(web):
    """With the reason; a second pause is refused in words."""
    assert send(web, "hand-on", do="pause", reason="part comes at two").status_code == 303
    assert "Paused since" in look(web, "hand-on") and "part comes at two" in look(web, "hand-on")
    assert send(web, "hand-on", do="pause").status_code == 400
    assert send(web, "hand-on", do="go on").status_code == 303
    assert last(web).kind == "job resumed"


def test_after_a_long_pause_the_last_steps_are_looked_at_again(web):
    """They stand on the page with one button."""
    web.desk.say("job paused")
    web.desk.time = web.desk.time.replace(hour=23)
    send(web, "hand-on", do="go on")

    assert "Look at again after the pause" in look(web, "hand-on")
    assert send(web, "hand-on", do="confirm").status_code == 303
    assert last(web).kind == "steps confirmed"


@pytest.mark.parametrize("page", ["hand-on", "hand-over"])
def test_a_button_that_is_not_there_does_nothing(web, page):
    """One sentence, nothing logged."""
    before = kinds(web)
    answer = send(web, page, do="blow up")

    assert answer.status_code == 400 and "no such button" in answer.text
    assert kinds(web) == before


# --- hand-over ------------------------------------------------------------------------------------


def test_a_hand_over_is_refused_with_every_reason(web):
    """The refusal is logged; the page then tells what each point costs to reach."""
    answer = send(web, "hand-over", do="sign", by="technician 1", customer="the owner")
    text = look(web, "hand-over?costs=1")

    assert answer.headers["location"].endswith("/hand-over?costs=1")
    assert last(web).kind == "hand-over refused"
    assert "Refused" in text
    assert all(point.text in text.replace("&#39;", "'") for point in web.desk.look().points)


def test_what_only_asks_can_be_answered_for_by_name(web):
    """With a reason; it is then a remark with both, and what must be done cannot be answered away."""
    key = next(point.key for point in web.desk.look().points if point.weight == "ask")
    assert send(web, "hand-over", do="answer", point=key, by="foreman").status_code == 400
    assert send(web, "hand-over", do="answer", point=key, by="foreman", reason="done elsewhere").status_code == 303
    assert last(web).data == {"point": key, "reason": "done elsewhere", "by": "foreman"}
    assert "accepted by foreman: done elsewhere" in look(web, "hand-over")

    stop = next(point.key for point in web.desk.look().points if point.weight == "stop")
    before = kinds(web)
    assert send(web, "hand-over", do="answer", point=stop, by="foreman", reason="no time").status_code == 303
    assert kinds(web) == before


def test_a_car_with_nothing_open_is_signed_and_recorded(plain):
    """One press; the record has the name, and the page says that it is over."""
    plain.desk.moved("trim", "off")
    plain.desk.moved("trim", "refitted")
    answer = send(plain, "hand-over", do="sign", by="technician 1", customer="the owner")

    assert answer.headers["location"] == f"/jobs/{plain.desk.job}/record"
    assert "signed by technician 1, to the owner" in look(plain, "record")
    assert "Handed over" in look(plain, "hand-over")
    assert "Hand it on" not in look(plain, "hand-on")


def test_nobody_signs_with_the_pin_of_another(tmp_path):
    """Neither a hand-over nor an answer; nothing is logged."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        access = Access(tmp_path / "access.db")
        access.set_pin("foreman", "2468")
        web = Web(desk, areas_folder(tmp_path), access=access)
        key = next(point.key for point in desk.look().points if point.weight == "ask")
        before = kinds(web)
        for said in ({"do": "sign"}, {"do": "answer", "point": key, "reason": "so"}):
            for pin in ("", "1111"):
                answer = send(web, "hand-over", by="foreman", pin=pin, **said)
                assert answer.status_code == 403 and "PIN of foreman" in answer.text
        assert kinds(web) == before

        assert send(web, "hand-over", do="answer", point=key, reason="so", by="foreman", pin="2468").status_code == 303


def test_the_record_before_the_signature_is_a_draft(web):
    """And says so."""
    assert "Draft:" in look(web, "record")


@pytest.mark.parametrize("page", ["off", "safe", "hand-on", "hand-over", "record"])
def test_a_job_that_is_not_there(web, page):
    """Is told as such, on whatever page."""
    assert web.get(f"/jobs/{'X' * 26}/{page}").status_code == 404
    assert web.post(f"/jobs/{'X' * 26}/{page}", data={"do": "pause"}).status_code in (404, 405)


def test_a_job_without_a_description_gives_its_area_file(plain):
    """A file to keep among the areas; before anything came off it is said that there is nothing to draft."""
    assert plain.get(f"/jobs/{plain.desk.job}/area.yaml").status_code == 400
    plain.desk.off("bumper bolts", 4, size="10 mm", belongs_to="bumper")
    plain.desk.moved("bumper", "off")
    assert "area.yaml" in look(plain, "found")
    answer = plain.get(f"/jobs/{plain.desk.job}/area.yaml")
    assert "attachment" in answer.headers["content-disposition"] and "bumper bolts: 4 x bolt, 10 mm" in answer.text
