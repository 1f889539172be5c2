"""A car that nobody has described: what came off is said as it comes off, and asked for again from the first bolt."""

import pytest
from web_server import Device

pytestmark = pytest.mark.slow


@pytest.fixture
def phone(server, phones):
    """A job without an area."""
    with Device(server.address) as other:
        job = other.open("bumper off", vehicle="demo car X", complaint="it rattles")
    return phones.open(server.address, job)


def came_off(phone, name: str, count: str = "", size: str = "", picked: str = "") -> int:
    """Log a part with its fasteners; the touches that it took, writing apart."""
    before = phone.taps
    phone.done()
    phone.write("name", name)
    if count:
        phone.keys("count", count)
        phone.taps += 1 + len(count)
    if size:
        phone.write("size", size)
    if picked:
        phone.button(picked)
    phone.button("Log it")
    return phone.taps - before


def test_from_the_first_bolt_to_the_last(server, phone):
    """Two parts with their fasteners, each in its own tray without a word; the size of the first is one touch for the second. What
    came off last goes back first, and nothing stands open in the end but the hand-over."""
    came_off(phone, "splash guard", "6", "M6x16, 10 mm")
    taps = came_off(phone, "bracket", "2", picked="M6x16, 10 mm")
    phone.all_sent()
    assert taps <= 6
    phone.button("All is off")
    back = []
    while phone.step != "hand the car over" and len(back) < 10:
        back.append(phone.step)
        assert "tray" in phone.screen or "back (off now)" in phone.step
        phone.done()
        if "tighten" in back[-1]:  # how tight is asked for: nobody has described them
            phone.keys("torque", "20")
            phone.button("Log it")
        phone.until(lambda: phone.step != back[-1], "the next one")
        phone.all_sent()
    with Device(server.address) as other:
        log, job = other.log(phone.job)["events"], other.asking.get(f"/api/jobs/{phone.job}").json()

    assert [step.partition(" (")[0] for step in back[:4]] == [
        "put the bracket back",
        "put back and tighten: 2 x bracket bolts, M6x16, 10 mm",
        "put the splash guard back",
        "put back and tighten: 6 x splash guard bolts, M6x16, 10 mm",
    ]
    trays = [row["data"]["tray position"] for row in log if row["kind"] == "fasteners off"]
    assert trays == ["1", "2"]
    assert not job["stands"]["away"] and not job["stands"]["fasteners"]


def test_what_cannot_be_counted_is_asked_again(phone):
    """In the sheet; what was typed stays there."""
    phone.done()
    phone.button("Log it")
    assert "say what came off" in phone.page.inner_text("dialog")
    phone.write("name", "bracket")
    phone.page.fill("#f-count", "some")
    phone.button("Log it")
    assert "a number from 1" in phone.page.inner_text("dialog")
    assert phone.page.input_value("#f-name") == "bracket"


def test_what_was_put_in_comes_out_again(server, phone):
    """A cap on an open pipe is asked for until it is out."""
    phone.tap("#people")
    phone.button("Cap, rag or tool put in")
    phone.write("name", "red cap")
    phone.write("where", "intake pipe")
    phone.button("Log it")
    phone.all_sent()
    phone.tap("#people")
    phone.button("Cap, rag or tool taken out")
    phone.choose("1 x red cap at intake pipe")
    phone.button("Log it")
    phone.all_sent()

    assert phone.page.evaluate("job.stands.put_in") == []


def test_fluids_readings_and_notes_are_logged_at_any_time(server, phone):
    """Each by its own small form, figures by the keypad."""
    for button, figures, words in (
        ("Fluid came out", {"litres": "5.4"}, {"fluid": "coolant"}),
        ("A reading", {"value": "12.6"}, {"what": "battery at rest"}),
        ("A note", {}, {"note": "hose runs behind the bracket"}),
        ("A fastener that nobody knows", {"count": "1"}, {"what": "M8x30"}),
    ):
        phone.tap("#people")
        phone.button(button)
        for name, figure in figures.items():
            phone.keys(name, figure)
        for name, text in words.items():
            phone.write(name, text)
        phone.button("Log it")
    phone.all_sent()
    with Device(server.address) as other:
        said = {row["kind"]: row["data"] for row in other.log(phone.job)["events"]}

    assert said["fluid drained"] == {"fluid": "coolant", "litres": 5.4}
    assert said["reading taken"]["value"] == 12.6
    assert said["note added"]["note"] == "hose runs behind the bracket"
    assert said["fastener found"] == {"what": "M8x30", "count": 1}
