"""The page of the readings: what was read, the suspects, the next test, and before against after."""

from math import pi, sin

import pytest
from desk_samples import Desk
from web_samples import Web, areas_folder

from putback.web.asked import PERSON

ENOUGH = {
    "rest_v": "12.48", "stud_v_engine_off": "12.46", "stud_v_2000_loaded": "12.20", "charge_v_2000_loaded": "12.20",
    "positive_drop_v": "0", "ground_drop_v": "0", "output_a_2000": "0", "command_v": "14.4", "ripple_mv_2000": "3",
    "feed_v_key_on": "12.3", "pulley_drives_rotor": "yes", "belt": "good",
}  # fmt: skip


@pytest.fixture
def web(tmp_path):
    """Demo A, nothing done yet."""
    with Desk(tmp_path) as desk:
        desk.open("a")
        desk.plan()
        yield Web(desk, areas_folder(tmp_path))


def look(web) -> str:
    """The page."""
    answer = web.get(f"/jobs/{web.desk.job}/readings")
    assert answer.status_code == 200, answer.text
    return answer.text.replace("&#39;", "'")


def send(web, do="keep", **readings):
    """What the form sends."""
    data = {f"read: {name}": text for name, text in readings.items()} | {"do": do}
    return web.post(f"/jobs/{web.desk.job}/readings", data=data, cookies={PERSON: "technician 1"})


def kinds(web) -> list[str]:
    """The kinds of all events."""
    return [row.event.kind for row in web.desk.look().logged]


def test_the_page_tells_the_verdict_the_suspects_and_the_next_test(web):
    """Before anything was read as well: what is likeliest by the complaint alone, and what is wanted."""
    page = look(web)

    assert "NOT YET" in page and "Next test" in page and "Suspects" in page
    assert 'inputmode="decimal"' in page and "%" in page
    assert '<option value="">not read</option>' in page


def test_readings_are_kept_together_and_weighed_at_once(web):
    """In the name of who read them; what is empty is not read, and what stands already is not logged again."""
    assert send(web, **ENOUGH, key_off_ma="").status_code == 303
    events = [row.event for row in web.desk.look().logged]

    assert [event.kind for event in events].count("reading taken") == len(ENOUGH)
    assert (events[-1].kind, events[-1].person) == ("suspects weighed", "technician 1")
    assert events[-1].data["verdict"] == "go"
    assert "GO: alternator" in look(web)
    assert send(web, **ENOUGH).status_code == 400


def test_a_slip_is_told_and_nothing_is_kept(web):
    """All that is wrong at once; the sound ones wait with them."""
    before = kinds(web)
    answer = send(web, rest_v="1248", belt="purple", command_v="14.4")

    assert answer.status_code == 400
    assert "look at the meter" in answer.text and "is none of good" in answer.text
    assert kinds(web) == before


def test_after_the_swap_the_same_readings_stand_before_against_after(web):
    """With the limit for proof, and what is still to be read."""
    send(web, **ENOUGH)
    web.desk.say("part swapped", part="alternator")
    assert "still to be read: 90 mV or less" in look(web)
    send(web, stud_v_2000_loaded="14.4", command_v="14.4", positive_drop_v="0.31", output_a_2000="70")
    page = look(web)

    assert "Before, after" in page and "Suspects" not in page
    assert "NOT WITHIN: 0.20 V or less at 50 A or more" in page
    assert kinds(web)[-1] == "readings judged"


def test_a_job_for_nothing_known_chooses_its_model(tmp_path):
    """A car nobody described: the model is chosen, and from then on it is the one."""
    with Desk(tmp_path) as desk:
        desk.open(name="flat battery")
        web = Web(desk, areas_folder(tmp_path))
        assert "No suspects are weighed on this job yet" in look(web)
        answer = web.post(
            f"/jobs/{desk.job}/readings", data={"do": "choose", "model": "charging"}, cookies={PERSON: "technician 1"}
        )
        assert answer.status_code == 303

        assert "NOT YET" in look(web)
        assert desk.look().state.weighed["model"] == "charging"


def test_what_was_typed_is_shown_as_text(web):
    """A stored code is free words; nothing of it becomes a page."""
    send(web, stored_code="<script>alert(1)</script>")

    assert "<script>alert" not in look(web)
    assert "&lt;script&gt;" in look(web)


def test_events_of_a_device_are_weighed_as_they_come(web):
    """A tap without this page, sent when the network is back."""
    event = web.desk.stamp.event(web.desk.job, "reading taken", what="battery at rest", value=12.48, unit="V")
    said = {
        "events": [
            {
                **{name: getattr(event, name) for name in ("id", "job", "kind", "at", "person", "device")},
                "data": event.data,
            }
        ]
    }

    assert web.post(f"/api/jobs/{web.desk.job}/events", said).status_code == 200
    assert kinds(web)[-1] == "suspects weighed"


def record(order: int, share: float = 0.2) -> bytes:
    """A record of 14 V with one line at an order of 200 Hz, as CSV."""
    rows = (f"{n / 20000:.6f},{14 + share * sin(2 * pi * 200 * order * n / 20000):.4f}" for n in range(5000))
    return "\n".join(["time_s,volts", *rows]).encode()


def bring(web, data: bytes, name: str = "idle.csv"):
    """What the form with the file sends."""
    path = f"/jobs/{web.desk.job}/readings/record"
    files = {"file": (name, data, "text/csv")}
    return web.ask("POST", path, files=files, data={"at": "posts"}, cookies={PERSON: "technician 1"})


def test_a_record_is_judged_kept_and_weighed(web):
    """The file, why it was judged so, the reading as a word, and the suspects by it."""
    assert bring(web, record(6)).status_code == 303
    events = [row.event for row in web.desk.look().logged][-4:]

    assert [event.kind for event in events] == ["file added", "note added", "reading taken", "suspects weighed"]
    assert events[1].data["note"].startswith("idle.csv: ")
    assert events[2].data["what"] == "what a record of the ripple shows"
    assert web.desk.ledger.file(events[0].data["hash"]) == record(6)


@pytest.mark.parametrize(("data", "says"), [(b"", "choose the file"), (b"\x89PNG\r\n\x1a\n", "idle.csv")])
def test_what_is_no_record_is_told_in_one_sentence(web, data, says):
    """Nothing is kept of it."""
    before = kinds(web)
    answer = bring(web, data)

    assert answer.status_code == 400 and says in answer.text
    assert kinds(web) == before
