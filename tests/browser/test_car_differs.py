"""The car differs from its description: the plan follows, and the page tells what that costs."""

import pytest
from web_server import Device

pytestmark = pytest.mark.slow

DEMO = {"area": "demo-a.yaml", "shop": "demo-shop.yaml"}


def opened(server, **more) -> str:
    """Demo A, where a mount nut will turn with its stud."""
    with Device(server.address) as other:
        job = other.open("alternator", **DEMO, **more)
        other.say(job, other.event(job, "intake noted", complaint="lamp on", audio_code="none"))
    return job


def found(phone, what: str, item: str, count: str = "") -> None:
    """Say what differs."""
    phone.tap("#differs")
    phone.choose(what)
    phone.write("item", item)
    if count:
        phone.keys("count", count)
    phone.button("That is so")


def log(server, job: str) -> list[dict]:
    """The events of a job."""
    with Device(server.address) as other:
        return other.log(job)["events"]


def at_first_part(phone):
    """Go on until a part is in the hand, for only there something can differ."""
    while not phone.page.locator("#differs").is_visible():
        phone.done()
    return phone


def test_a_seized_nut_shows_the_means_and_another_way(server, phones):
    """What frees it with minutes, the new plan with money before and after; the page goes on with the new plan, and one touch says
    what freed it."""
    phone = at_first_part(phones.open(server.address, opened(server)))
    before = phone.page.evaluate("job.plan.minutes")
    found(phone, "seized", "left mount nuts", "1")
    phone.until(lambda: "how to free it" in phone.page.inner_text("dialog").lower(), "what it means", 90)
    text = phone.page.inner_text("dialog")
    assert "soak" in text
    assert "to do now" in text
    phone.page.locator(".rung button").first.tap()
    phone.button("Log it")
    phone.until(lambda: [row["kind"] for row in log(server, phone.job)][-1] == "plan made" and log(server, phone.job)[-2]["kind"] == "difference settled", "planned again", 90)

    assert before
    kinds = [row["kind"] for row in log(server, phone.job)]
    assert kinds.count("difference found") == 1
    assert kinds.count("plan made") == 3


def test_consent_is_asked_for_above_what_was_agreed(server, phones):
    """It is a step of its own too, with the total filled in; logged, it is asked for no more."""
    phone = phones.open(server.address, opened(server, cap=10_000))
    while not phone.step.startswith("ask for consent"):
        phone.done()
    phone.done()
    assert float(phone.page.input_value("#f-total")) > 100
    phone.button("Log it")
    phone.all_sent()

    assert log(server, phone.job)[-1]["data"]["by"] == "the customer"
    assert "consent" not in phone.step


def test_what_nobody_knows_on_this_car_is_not_logged(server, phones):
    """A slip in a name is answered with the nearest one."""
    phone = at_first_part(phones.open(server.address, opened(server)))
    found(phone, "seized", "left mount nut")
    phone.until(lambda: "left mount nuts" in phone.page.inner_text("#held"), "the nearest name", 60)

    assert "difference found" not in [row["kind"] for row in log(server, phone.job)]


def test_without_a_connection_the_difference_is_kept(server, phones):
    """Sent as any tap when the connection is back; then the page asks to plan again."""
    phone = at_first_part(phones.open(server.address, opened(server)))
    phone.all_sent()
    phone.context.set_offline(True)
    found(phone, "not fitted on this car", "undertray")
    phone.until(lambda: phone.sent.startswith("Not sent yet: 1"), "kept")
    phone.context.set_offline(False)
    phone.all_sent()
    phone.until(lambda: phone.step.startswith("the plan does not fit any more"), "to be planned again")
    phone.done()
    phone.until(lambda: log(server, phone.job)[-1]["kind"] == "plan made", "planned", 90)
    phone.button("Go on")

    assert "undertray" not in phone.page.evaluate("job.steps.map((step) => step.text).join()")
