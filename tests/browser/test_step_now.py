"""The page of the step now: its size, its speed, its buttons, and what bars the way."""

import pytest
from web_server import Device

pytestmark = pytest.mark.slow

DEMO = {"area": "demo-a.yaml", "shop": "demo-shop.yaml"}


@pytest.fixture
def demo(server):
    """Demo A, a fresh job."""
    with Device(server.address) as other:
        yield other.open("alternator", **DEMO, complaint="lamp on")


@pytest.fixture
def bare(server):
    """A car that nobody has described."""
    with Device(server.address) as other:
        yield other.open("bumper", targets=["bumper"])


def log(server, job: str) -> list[dict]:
    """The events of a job."""
    with Device(server.address) as other:
        return other.log(job)["events"]


def say(server, job: str, kind: str, **data) -> None:
    """Somebody else logs something."""
    with Device(server.address) as other:
        assert other.say(job, other.event(job, kind, **data)).status_code == 200


def test_the_page_and_all_that_it_needs_is_small(server, phones, demo):
    """Less than 200 kB without photos, with every step of the job."""
    weights = []
    phone = phones.open(server.address, demo)
    phone.page.on("response", lambda answer: weights.append(len(answer.body())))
    phone.page.reload(wait_until="networkidle")

    assert 50_000 < sum(weights) < 200_000


def test_a_tap_shows_the_next_step_within_a_tenth_of_a_second(server, phones, demo):
    """From the touch to the new step laid out and painted, with the tap kept on the device; whatever the server does. The best of
    five counts, for other work on the machine is none of the page's."""
    phone = phones.open(server.address, demo)
    phone.page.route("**/api/**", lambda route: None)  # never answered
    steps = [phone.step]
    took = []
    for _ in range(5):
        took.append(phone.page.evaluate(TOUCH_TO_PAINT))
        steps.append(phone.step)

    assert min(took) < 100
    assert len(set(steps)) == 6
    assert phone.sent.startswith("Not sent yet: ")


TOUCH_TO_PAINT = """async () => {
  const begun = performance.now();
  document.getElementById("done").click();
  await new Promise((good) => requestAnimationFrame(() => setTimeout(good)));
  return performance.now() - begun;
}"""


def test_what_closes_a_step_is_large_and_at_the_bottom(server, phones, demo):
    """72 CSS px at least, in reach of the thumb; every other button has 48, and the button does not move as steps change."""
    phone = phones.open(server.address, demo)
    boxes = []
    for _ in range(4):
        boxes.append(phone.page.locator("#done").bounding_box())
        for button in phone.page.locator("main button:visible").all():
            assert button.bounding_box()["height"] >= 48, button.inner_text()
        phone.done()

    assert all(box["height"] >= 72 and box["y"] > 600 for box in boxes)
    assert len({(box["y"], box["height"]) for box in boxes}) == 1


def test_figures_come_first_and_torque_never_without_its_unit(server, phones, demo):
    """What to do, torque with unit, the wrench's setting and the tray, before any caution."""
    phone = phones.open(server.address, demo)
    step = next(one for one in phone.page.evaluate("job.steps") if one["torque"] and one["wrench"])
    parts = phone.page.evaluate("(step) => stepParts(step).map((part) => [part.className, part.textContent])", step)
    names = [name for name, _ in parts]

    assert ["torque", step["torque"]] in parts
    assert step["torque"].endswith("N·m")
    assert step["wrench"][0].endswith("N·m")
    assert names.index("torque") < names.index("wrench") < names.index("tray")


def test_a_step_is_done_otherwise_by_the_keypad_alone(server, phones, demo):
    """Only some of them, to another tray; the rest stays to be done."""
    phone = phones.open(server.address, demo)
    while "cover clips" not in phone.step:
        phone.done()
    phone.tap("#change")
    phone.keys("count", "3")
    phone.button("Log it")

    phone.until(lambda: "(1 of 4 still in)" in phone.step, "one is left")
    assert phone.page.inner_text("#done") == "Done"
    assert log(server, demo)[-1]["data"]["count"] == 3


@pytest.mark.parametrize("typed", ["0", "5", "1.5", ""])
def test_a_count_that_cannot_be_is_refused(server, phones, demo, typed):
    """In the sheet, which stays; nothing is logged."""
    phone = phones.open(server.address, demo)
    while "cover clips" not in phone.step:
        phone.done()
    phone.tap("#change")
    phone.page.fill("#f-count", typed)
    phone.button("Log it")

    assert "from 1 to 4" in phone.page.get_by_role("alert").filter(has_text="how many").inner_text()
    phone.button("Leave it")
    assert "cover clips" in phone.step


@pytest.mark.parametrize(
    ("known", "torque", "reason"),
    [("the wrench clicked", "23.5", ""), ("by feel", "", "no room for a wrench"), ("run in by hand only", "", "")],
)
def test_how_it_is_known_that_they_are_tight_is_logged(server, phones, known, torque, reason):
    """With the torque that was typed, or with the reason why there is none; never with both."""
    with Device(server.address) as other:
        job = other.open("bracket")
        other.say(job, other.event(job, "fasteners off", item="bracket bolts", count=2, to="tray", tray_position="1"))
    phone = phones.open(server.address, job)
    phone.button("All is off")
    phone.tap("#change")
    phone.choose(known)
    if torque:
        phone.keys("torque", torque)
    phone.write("reason", reason)
    phone.button("Log it")
    phone.all_sent()
    said = log(server, job)[-1]["data"]

    assert said.get("torque") == (float(torque) if torque else None)
    assert said.get("reason", "") == reason
    assert said["count"] == 2


def test_the_last_tap_is_taken_back_at_once_or_later(server, phones, demo):
    """What was logged is told beside; after a reload it can be taken back too, and both stand in the log."""
    phone = phones.open(server.address, demo)
    first = phone.step
    phone.done()
    assert phone.page.inner_text("#told").startswith("Logged: ")
    phone.button("Take back")
    assert phone.step == first
    phone.done()
    phone.all_sent()
    phone.page.reload()
    assert phone.step != first
    phone.tap("#back")
    assert phone.step == first
    phone.all_sent()
    assert phone.step == first

    assert [row["kind"] for row in log(server, demo)][-4:] == ["work done", "event undone", "work done", "event undone"]


def test_nobody_moves_the_car_over_a_person(server, phones, bare):
    """With or without a connection the tap is stopped at once; somebody clear of it may go on."""
    phone = phones.open(server.address, bare)
    phone.tap("#people")
    phone.button("I go under the car")
    phone.all_sent()
    phone.tap("#people")
    phone.button("The car is now on a lift")
    assert "technician 1 is under the car" in phone.page.inner_text("#aside")
    phone.button("Not done")
    phone.tap("#people")
    phone.button("I am clear of the car")
    phone.tap("#people")
    phone.button("The car is now on a lift")
    phone.all_sent()

    assert phone.is_calm()
    assert [row["kind"] for row in log(server, bare)][-3:] == ["person went under", "person came clear", "car moved"]


def test_what_the_server_holds_against_a_tap_takes_it_back(server, phones, demo):
    """The next step shows at once, and comes back with the reason; somebody may do it all the same and say why."""
    phone = phones.open(server.address, demo)
    while "clamp nut" not in phone.step:
        phone.done()
    phone.done()
    phone.until(lambda: "audio code" in phone.page.inner_text("#aside"), "stopped")
    assert "clamp nut" in phone.step
    assert "fasteners off" not in [row["kind"] for row in log(server, demo) if row["data"].get("item") == "clamp nut"]
    phone.button("Do it all the same")
    phone.write("reason", "the radio needs none")
    phone.button("Log it")
    phone.all_sent()

    assert "clamp nut" not in phone.step
    kinds = [(row["kind"], row["data"].get("reason")) for row in log(server, demo)][-2:]
    assert kinds == [("point accepted", "the radio needs none"), ("fasteners off", None)]


def test_what_happened_all_the_same_is_logged_with_how_it_came_to_that(server, phones, bare):
    """A stop bars the way; it never keeps a fact out of the log."""
    say(server, bare, "person went under", who="technician 2")
    phone = phones.open(server.address, bare)
    phone.tap("#people")
    phone.button("The engine starts")
    phone.button("It has happened")
    phone.write("note", "the key was turned by mistake")
    phone.button("Log it")
    phone.all_sent()

    assert [row["kind"] for row in log(server, bare)][-2:] == ["engine ran", "note added"]


def test_who_has_a_pin_signs_with_it(server, phones, demo):
    """What is taken on by name waits for the PIN, a wrong one is said, and the PIN is kept nowhere on the device."""
    with Device(server.address) as other:
        said = {"person": "technician 9", "pin": "40175", "again": "40175"}
        assert other.asking.post("/people/pin", data=said).status_code == 303
    phone = phones.open(server.address, demo, person="technician 9")
    while "clamp nut" not in phone.step:
        phone.done()
    phone.done()
    phone.until(lambda: "audio code" in phone.page.inner_text("#aside"), "stopped")
    phone.button("Do it all the same")
    phone.write("reason", "the radio needs none")
    phone.button("Log it")
    for pin in ("40176", "40175"):
        phone.until(lambda: "PIN" in phone.page.inner_text("#aside"), "asked for")
        phone.button("Sign with a PIN")
        phone.keys("pin", pin)
        phone.button("Sign")
        words = "not the PIN" if pin == "40176" else ""
        phone.until(lambda words=words: words in phone.page.inner_text("#aside") and (words or phone.is_calm()), words or "signed")

    assert [row["kind"] for row in log(server, demo)][-2:] == ["point accepted", "fasteners off"]
    assert "40175" not in phone.page.evaluate("JSON.stringify(localStorage)")


def test_a_device_that_nobody_holds_asks_who_before_it_logs(server, phones, bare):
    """And goes on with the tap."""
    phone = phones.open(server.address, bare, person="")
    phone.tap("#people")
    phone.button("Pause")
    phone.write("person", "technician 7")
    phone.button("That is me")
    phone.all_sent()

    assert [(row["kind"], row["person"]) for row in log(server, bare)][-1] == ("job paused", "technician 7")


def test_a_photo_is_kept_and_shown_again_at_the_refit(server, phones, bare):
    """Sent with its hash; behind a button at the refit of the same thing."""
    phone = phones.open(server.address, bare)
    phone.page.evaluate("photoOf = 'bumper'")
    phone.page.set_input_files("#camera", {"name": "clip.png", "mimeType": "image/png", "buffer": PNG})
    phone.until(lambda: any(row["kind"] == "file added" for row in log(server, bare)), "the photo is logged")
    say(server, bare, "item moved", item="bumper", state="off")
    phone.button("All is off")
    phone.until(lambda: bool(phone.page.evaluate("job.steps.some((step) => step.notes.length)")), "its refit is known")
    while "bumper back" not in phone.step:
        phone.page.evaluate("later(stepsNow()[0]); render()")
    phone.button("Photos of the removal (1)")

    phone.until(lambda: phone.page.evaluate("document.querySelector('.pictures img')?.naturalWidth") == 1, "it is shown")


PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010806000000"
    "1f15c4890000000d49444154789c63f8cfc0f01f0005000"
    "1ffa0cbb5cf0000000049454e44ae426082"
)


def test_script_in_a_name_stays_text(server, phones):
    """In every place of the page where words of others stand."""
    bad = "</script><img src=x onerror=alert(1)><script>alert(2)</script>"
    with Device(server.address) as other:
        job = other.open(bad, targets=[bad])
        other.say(job, other.event(job, "fasteners off", item=bad, count=2, to="tray", tray_position=bad, note=bad))
    phone = phones.open(server.address, job)
    phone.page.on("dialog", lambda dialog: pytest.fail(dialog.message))
    phone.button("All is off")

    assert bad in phone.page.inner_text("main")
    assert phone.page.locator("main img").count() == 0


def test_the_keyboard_does_it_too(server, phones, demo):
    """Enter on the button closes the step; in a sheet Enter logs and Escape leaves."""
    phone = phones.open(server.address, demo)
    first = phone.step
    phone.page.focus("#done")
    phone.page.keyboard.press("Enter")
    assert phone.step != first
    phone.page.focus("#people")
    phone.page.keyboard.press("Enter")
    phone.page.keyboard.press("Escape")

    assert phone.page.locator("dialog[open]").count() == 0
