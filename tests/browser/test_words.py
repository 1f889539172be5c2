"""A car that nobody has described, told in words: understood at once, put right by one tap, nothing lost without a signal."""

import pytest
from web_server import Device, serving

pytestmark = pytest.mark.slow

OUT = (
    "Van's up on the lift. Wheel off, five 19 mm nuts.",
    "Speed sensor unplugged.",
    "Caliper off, two 14 mm slider bolts, hung it up on a hook, hose left on.",
    "Carrier off, two 17s.",
)
BACK = (
    "Carrier back on, 2x17 105Nm",
    "Caliper back on, slider bolts 35 newton metres",
    "Sensor plugged back in, it clicked",
    "Wheel on, nuts run in by hand. Van down.",
    "Wheel nuts 110 Nm",
)


@pytest.fixture
def phone(server, phones):
    """A job without an area."""
    with Device(server.address) as other:
        job = other.open("front brakes", vehicle="demo car X", complaint="it squeals")
    return phones.open(server.address, job)


def say(phone, words: str, tray: str = "") -> None:
    """Words that are typed or dictated into the sheet."""
    phone.tap("#people")
    phone.button("Say it in words")
    phone.page.fill("#f-words", words)
    if tray:
        phone.page.fill("#f-tray", tray)
    phone.button("Log it")


def understood(phone) -> str:
    """What the sheet shows once the words were understood."""
    phone.page.wait_for_selector("#sheet-body .rung, #sheet-body .stop")
    return phone.page.inner_text("#sheet")


def close(phone) -> None:
    phone.button("That is so")
    phone.all_sent()


def test_a_whole_job_in_words(server, phone):
    """From the lift to the last nut; the way back is led by what was told, and nothing but the hand-over is left."""
    for number, words in enumerate(OUT, 1):
        say(phone, words, str(number))
        understood(phone)
        close(phone)
    phone.button("All is off")
    steps = phone.page.evaluate("stepsNow().map((step) => step.text)")
    told = [next(n for n, text in enumerate(steps) if name in text) for name in ("carrier", "caliper", "speed sensor", "wheel")]
    assert told == sorted(told), steps
    for words in BACK:
        say(phone, words)
        understood(phone)
        close(phone)
    with Device(server.address) as other:
        job = other.asking.get(f"/api/jobs/{phone.job}").json()
    assert not job["stands"]["away"] and not job["stands"]["fasteners"] and not job["stands"]["unheard"]
    assert [point["text"] for point in job["points"] if point["weight"] != "remark"] == []


def test_not_so_is_one_tap(server, phone):
    """What was understood wrongly is taken back, and the rest stays."""
    say(phone, "Carrier off, two 17s.", "2")
    assert "carrier fasteners" in understood(phone)
    phone.page.locator(".rung", has_text="carrier fasteners").get_by_role("button", name="Not so").click()
    close(phone)
    with Device(server.address) as other:
        job = other.asking.get(f"/api/jobs/{phone.job}").json()
    assert job["stands"]["fasteners"] == [] and [one["item"] for one in job["stands"]["away"]] == ["carrier"]


def test_a_figure_is_changed_in_place(server, phone):
    """The wrong event is taken back, and one with the right figure stands for it."""
    say(phone, "Carrier off, two 17s.", "2")
    understood(phone)
    phone.page.locator(".rung", has_text="carrier fasteners").get_by_role("button", name="Change").click()
    phone.keys("count", "3")
    phone.button("Log it")
    phone.all_sent()
    with Device(server.address) as other:
        (group,) = other.asking.get(f"/api/jobs/{phone.job}").json()["stands"]["fasteners"]
    assert group["out"] == 3 and group["trays"] == {"2": 3}


def test_what_is_open_is_answered_by_a_tap(server, phone):
    """Some screws: how many are asked, and the answer is one of the figures."""
    say(phone, "cover off, some screws", "4")
    assert "how many?" in understood(phone)
    phone.page.locator(".picks").get_by_role("button", name="6", exact=True).click()
    close(phone)
    with Device(server.address) as other:
        (group,) = other.asking.get(f"/api/jobs/{phone.job}").json()["stands"]["fasteners"]
    assert (group["item"], group["out"]) == ("cover screws", 6)


def test_words_without_a_signal_are_kept_and_understood_later(tmp_path, phones):
    """Nothing is lost, nothing counts twice, and what they mean is shown when the server is back."""
    with serving(tmp_path) as first:
        with Device(first.address) as other:
            job = other.open("front brakes")
        phone = phones.open(first.address, job)
        phone.all_sent()
    say(phone, "Carrier off, two 17s.", "2")
    phone.until(lambda: phone.sent.startswith("Not sent yet: 1"), "kept")
    with serving(tmp_path, port=first.port) as again:
        phone.all_sent()
        assert "carrier fasteners" in understood(phone)
        close(phone)
        phone.page.reload()
        phone.all_sent()
        with Device(again.address) as other:
            log = other.log(job)["events"]
    assert [row["kind"] for row in log if row["kind"] != "job opened"] == ["note added", "fasteners off", "item moved", "note heard"]


def test_hostile_words_are_text(phone):
    """Markup in words is shown as it was typed."""
    say(phone, "<img src=x onerror=alert(1)> off, two <b>bolts</b>")
    assert "<" in understood(phone) or "no step" in understood(phone)
    assert phone.page.locator("#sheet img").count() == 0
