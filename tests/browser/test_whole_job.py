"""A whole job by thumb: demo A from the complaint to the hand-over, and what the log says of it afterwards."""

import re

import pytest
from phone import Phone
from web_server import Device

pytestmark = pytest.mark.slow

HAND_OVER = "hand the car over"
MOVES = ("item moved", "fasteners loosened", "fasteners off", "fasteners on", "fasteners tightened")


def opened(server, phones, **fields) -> Phone:
    """A job opened on the page for that; the phone then shows its first step."""
    context = phones.device(address=server.address)
    page = context.new_page()
    page.goto(server.address)
    page.get_by_role("link", name="New job").tap()
    for name, value in fields.items():
        field = page.locator(f"#{name}")
        field.select_option(value) if name in ("area", "shop") else field.fill(value)
    page.get_by_role("button", name="Open the job").tap()
    page.wait_for_url(re.compile("/jobs/[0-9a-f]{32}$"), timeout=60_000)
    job = page.url.rpartition("/")[2]
    page.close()
    return Phone(context, server.address, job)


def play(phone: Phone) -> list[str]:
    """Touch the one button that closes the step now, until the hand-over; the steps that were closed so."""
    steps = []
    while (step := phone.step) != HAND_OVER:
        if "compare old and new" in step:
            compare(phone)
            continue
        phone.done()
        steps.append(step)
        phone.until(lambda was=step: phone.step != was, f"a step after {step}")
        assert phone.is_calm(), phone.page.inner_text("main")
    phone.all_sent()
    assert phone.is_calm(), phone.page.inner_text("main")
    return steps


def compare(phone: Phone) -> None:
    """Old and new side by side, on the page for that: every feature is as the area wants it."""
    phone.all_sent()
    phone.page.tap("#done")
    phone.page.wait_for_selector("fieldset.compared")
    for feature in phone.page.locator("fieldset.compared").all():
        value = as_wanted(feature.locator(".wanted").inner_text())
        for place in feature.locator("input").all():
            place.fill(value)
    phone.page.get_by_role("button", name="Compare", exact=True).tap()

    phone.page.get_by_text("It can go in").wait_for()
    phone.page.get_by_role("link", name="On to the step").tap()
    phone.page.wait_for_selector("#buttons:visible")
    assert "compare old and new" not in phone.step


def as_wanted(text: str) -> str:
    """A value that is what is wanted: the middle of a tolerance, or the words themselves."""
    figure, sign, rest = text.partition(" ± ")
    return f"{figure} {rest.split()[-1]}" if sign else text


def sign(phone: Phone) -> None:
    """Over the page of the hand-over, by name."""
    phone.page.get_by_label("Who hands it over").fill("technician 1")
    phone.page.get_by_role("button", name="Hand over", exact=True).tap()


def test_demo_a_by_taps_alone(server, phones):
    """Every step is one tap, and the car is handed over; readings, the match and signatures apart there are at most 1.2 taps for each level that is moved,
    out and back; each was sent once, in order, and nothing but the hand-over stands open."""
    fields = {"area": "demo-a.yaml", "shop": "demo-shop.yaml", "complaint": "charge lamp on", "audio": "none", "kilometres": "148000"}
    phone = opened(server, phones, name="alternator", vehicle="demo car A", vin="1M8GDM9AXKP042788", **fields)
    steps = play(phone)
    with Device(server.address) as other:
        job = other.asking.get(f"/api/jobs/{phone.job}").json()
        phone.done()
        sign(phone)
        phone.page.wait_for_url("**/record", timeout=60_000)
        log = other.log(phone.job)
    mine = [row for row in log["events"] if row["device"] == job_device(log)]
    levels = sum(row["kind"] in MOVES for row in mine)

    assert len(steps) == phone.taps - 1
    assert levels > 70
    assert sum("reading" not in step for step in steps) / levels <= 1.2
    assert [row["at"] for row in mine] == sorted(row["at"] for row in mine)
    assert len({row["id"] for row in mine}) == len(mine)
    assert log["whole"]
    assert log["events"][-1]["kind"] == "hand-over signed"
    assert [step["text"] for step in job["steps"]] == [HAND_OVER]
    assert [point["text"] for point in job["points"] if point["weight"] == "stop"] == []
    assert not job["stands"]["away"] and not job["stands"]["fasteners"]


def job_device(log: dict) -> str:
    """The device that spoke first."""
    return log["events"][0]["device"]


def test_a_hand_over_is_refused_until_everything_is_back(server, phones):
    """The page names what stands open; when it is back and tight the same signature is taken."""
    with Device(server.address) as other:
        job = other.open("bracket", complaint="it rattles")
        other.say(job, other.event(job, "fasteners off", item="bracket bolts", count=2, to="tray", tray_position="1"))
    phone = phones.open(server.address, job)
    phone.page.goto(f"{server.address}/jobs/{job}/hand-over")
    sign(phone)
    phone.page.get_by_text("Refused").first.wait_for()
    assert "bracket bolts" in phone.page.inner_text("main")
    phone.page.goto(f"{server.address}/jobs/{job}")
    phone.button("All is off")
    while phone.step != HAND_OVER:
        phone.done()
        phone.keys("torque", "22")
        phone.button("Log it")
        phone.all_sent()
    phone.done()
    sign(phone)
    phone.page.wait_for_url("**/record")


def test_what_is_wrong_with_a_new_job_is_said_and_nothing_is_lost(server, phones):
    """A misread identification number, a figure that is none, an area without its shop: what was written stays on the page."""
    page = phones.device(address=server.address).new_page()
    page.goto(f"{server.address}/jobs/new")
    for name, value in {"name": "a job", "vin": "1M8GDM9A1KP042788", "complaint": 'it says "<b>"'}.items():
        page.fill(f"#{name}", value)
    page.get_by_role("button", name="Open the job").tap()

    page.get_by_role("alert").filter(has_text='the ninth sign must be "X"').wait_for()
    assert page.input_value("#complaint") == 'it says "<b>"'
    page.fill("#vin", "")
    page.fill("#kilometres", "many")
    page.get_by_role("button", name="Open the job").tap()
    page.get_by_role("alert").filter(has_text="kilometres").wait_for()
