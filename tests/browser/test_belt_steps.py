"""The steps of a belt at the car: its drawing, its words, and the photo of its route."""

import pytest
from web_job import picture
from web_server import Device, serving

pytestmark = pytest.mark.slow

DEMO = {"area": "demo-a.yaml", "shop": "demo-shop.yaml"}
SUMMARY, DRAWING = "#step details > summary", "#step img.drawing"


def before_the_belt(address: str) -> str:
    """Demo A, everything done that comes before the belt comes off."""
    with Device(address) as other:
        job = other.open("alternator", **DEMO)
        steps = other.asking.get(f"/api/jobs/{job}").json()["steps"]
        before = steps[: next(n for n, step in enumerate(steps) if step["item"] == "belt")]
        for step in before:
            events = [other.event(job, said["kind"]) | {"data": said["data"]} for said in step["closes"]]
            assert not events or other.say(job, *events).status_code == 200
    return job


def height(phone, where: str) -> float:
    return phone.page.locator(where).bounding_box()["height"]


def is_drawn(phone) -> bool:
    """Whether the picture has come, and can be seen."""
    image = phone.page.locator(DRAWING)
    return image.is_visible() and image.evaluate("(node) => node.complete && node.naturalWidth > 0")


def test_the_drawing_stands_behind_one_touch_and_fits_the_screen(server, phones):
    """Large enough for a thumb, as wide as the page, told to whoever cannot see it."""
    phone = phones.open(server.address, before_the_belt(server.address))
    assert not phone.page.locator(DRAWING).is_visible()
    phone.tap(SUMMARY)
    phone.until(lambda: is_drawn(phone), "the drawing is there")
    box = phone.page.locator(DRAWING).bounding_box()

    assert height(phone, SUMMARY) >= 48
    assert 300 <= box["width"] <= 390 and box["x"] >= 0
    assert phone.page.evaluate("document.documentElement.scrollWidth") <= 390
    assert "tensioner pulley anticlockwise" in phone.page.get_attribute(DRAWING, "alt")


def test_the_photo_of_the_route_is_asked_for_until_it_is_there(server, phones):
    """By a button of its own at the removal; at the refit the photo is shown again."""
    job = before_the_belt(server.address)
    phone = phones.open(server.address, job)
    with phone.page.expect_file_chooser() as chooser:
        phone.button("Photo of the belt")
    chooser.value.set_files({"name": "route.png", "mimeType": "image/png", "buffer": picture()})
    wanted = phone.page.get_by_role("button", name="Photo of the belt")
    phone.until(lambda: wanted.count() == 0, "no photo is asked for")

    assert phone.page.get_by_role("button", name="Photo", exact=True).count() == 1
    with Device(server.address) as other:
        steps = other.asking.get(f"/api/jobs/{job}").json()["steps"]
    (refit,) = (step for step in steps if step["item"] == "belt" and step["phase"] == "way back")
    assert [note["name"] for note in refit["notes"]] == ["route.png"]


def test_the_drawing_is_there_without_a_connection(tmp_path, phones):
    """It came with the page, though the step of the belt was not yet on the screen."""
    with serving(tmp_path) as server:
        with Device(server.address) as other:
            job = other.open("alternator", **DEMO)
            other.say(job, other.event(job, "intake noted", complaint="lamp on", audio_code="none"))
        phone = phones.open(server.address, job)
        phone.all_sent()
        phone.page.wait_for_load_state("networkidle")
    while phone.page.locator(SUMMARY).count() == 0:
        phone.done()
    phone.tap(SUMMARY)

    phone.until(lambda: is_drawn(phone), "the drawing is there")
