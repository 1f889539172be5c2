"""Taps without a connection: kept, shown, sent in order, counted once, whatever happens in between."""

import json

import pytest
from phone import Phone
from web_server import Device, serving

pytestmark = pytest.mark.slow

DEMO = {"area": "demo-a.yaml", "shop": "demo-shop.yaml"}


def fresh(address: str) -> str:
    """Demo A, a fresh job against which nothing speaks."""
    with Device(address) as other:
        job = other.open("alternator", **DEMO)
        other.say(job, other.event(job, "intake noted", complaint="lamp on", audio_code="none"))
    return job


@pytest.fixture
def job(server):
    """A fresh job."""
    return fresh(server.address)


def events(address: str, job: str) -> list[dict]:
    """The events that a thumb logged."""
    with Device(address) as other:
        return [row for row in other.log(job)["events"] if row["device"] != "test" and row["number"] > 3]


def test_ten_taps_while_the_server_is_dead(tmp_path, phones):
    """Nothing of them is lost when the tab is closed as well; the server comes back and has all of them, once, in order."""
    with serving(tmp_path) as first:
        job = fresh(first.address)
        phone = phones.open(first.address, job)
        phone.all_sent()
    for _ in range(7):
        phone.done()
    phone.until(lambda: phone.sent.startswith("Not sent yet: ") and "no connection" in phone.sent, "not sent")
    kept = phone.page.evaluate("taps().flatMap((one) => one.events.map((each) => each.id))")
    step = phone.step
    with serving(tmp_path, port=first.port) as again:
        phone.all_sent()
        assert phone.step == step
        rows = events(again.address, job)
        assert [row["id"] for row in rows] == kept
    for _ in range(3):
        phone.done()
    kept += phone.page.evaluate("unsent().flatMap((one) => one.events.map((each) => each.id))")
    phone.page.close()
    with serving(tmp_path, port=first.port) as third:
        reopened = Phone(phone.context, third.address, job)
        reopened.all_sent()
        assert [row["id"] for row in events(third.address, job)] == kept


def test_a_tap_whose_answer_was_lost_counts_once(server, phones, job):
    """The server has it, the device does not know: it sends again."""
    phone = phones.open(server.address, job)
    lost = []

    def lose(route):
        lost.append(route.fetch())
        route.abort()

    phone.page.route("**/events", lose, times=1)
    phone.done()
    phone.all_sent()

    assert len(lost) == 1
    assert len(events(server.address, job)) == 1


@pytest.mark.parametrize("status", [200, 502, 503, 401])
def test_a_page_that_answers_in_place_of_the_server_takes_nothing(server, phones, job, status):
    """Such as one to log in to a network; the taps stay kept and are sent when the server itself answers."""
    phone = phones.open(server.address, job)
    body = "<html>log in to this network</html>"
    phone.page.route("**/api/**", lambda route: route.fulfill(status=status, body=body, content_type="text/html"))
    phone.done()
    phone.until(lambda: phone.sent.startswith("Not sent yet: 1;"), "not sent")
    assert phone.is_calm()
    phone.page.unroute("**/api/**")
    phone.all_sent()

    assert len(events(server.address, job)) == 1


def test_one_tap_that_is_refused_is_shown_and_holds_up_no_other(server, phones, job):
    """It is set aside where it is seen; it can be sent again."""
    phone = phones.open(server.address, job)
    phone.all_sent()
    wrong = {"error": {"status": 400, "sentence": "no such thing", "findings": []}}
    phone.page.route("**/events", lambda route: route.fulfill(status=400, json=wrong), times=1)
    first = phone.step
    phone.done()
    second = phone.step
    phone.until(lambda: "no such thing" in phone.page.inner_text("#aside"), "shown")
    assert phone.step == first
    phone.page.evaluate("later(shown); render(true)")
    phone.done()
    phone.until(lambda: "no such thing" in phone.page.inner_text("#aside"), "shown")
    phone.until(lambda: len(events(server.address, job)) > 0, "the other one is sent")
    phone.page.reload()
    assert "no such thing" in phone.page.inner_text("#aside")
    phone.button("Send it again")
    phone.all_sent()

    assert len({first, second, phone.step}) == 3


def test_a_fault_of_the_server_holds_up_nothing_for_ever(server, phones, job):
    """After three of them the tap is set aside and the next one goes."""
    phone = phones.open(server.address, job)
    phone.all_sent()
    phone.page.route("**/events", lambda route: route.fulfill(status=500, body="{}"), times=3)
    phone.done()
    phone.done()
    phone.until(lambda: phone.page.locator("#aside .stop").count() == 1, "set aside", 40)
    phone.until(lambda: len(events(server.address, job)) > 0, "the next is sent")


def test_where_nothing_can_be_kept_nothing_is_logged(server, phones, job):
    """A full device and a browser that forbids it say so, and take no taps."""
    phone = phones.open(server.address, job)
    phone.all_sent()
    phone.page.evaluate("for (let n = 0, piece = 'x'.repeat(1e6); piece.length; ) try { localStorage.setItem('fill' + n++, piece) } catch { piece = piece.slice(0, piece.length >> 1) }")
    step = phone.step
    phone.done()
    assert phone.step == step
    assert "storage is full" in phone.page.inner_text("#held")
    phone.page.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('no', 'SecurityError') }")
    phone.page.reload()

    assert "may keep nothing" in phone.page.inner_text("#step")
    assert not phone.page.locator("#done").is_visible()
    assert events(server.address, job) == []


def test_two_pages_on_one_device_send_each_tap_once(server, phones, job):
    """They share what is kept, and both see it."""
    one = phones.open(server.address, job)
    other = Phone(one.context, server.address, job)
    for _ in range(4):
        one.done()
    other.until(lambda: other.step == one.step, "the other page follows", 4)
    one.all_sent()
    other.all_sent()
    rows = events(server.address, job)

    assert len({row["id"] for row in rows}) == len(rows)
    assert json.dumps(one.step) == json.dumps(other.step)


def test_quick_taps_log_each_step_once(server, phones, job):
    """Faster than the server answers: no step is logged twice, none is left out, and the order is that of the taps."""
    phone = phones.open(server.address, job)
    phone.page.route("**/api/**", lambda route: (phone.page.wait_for_timeout(1), route.continue_()))
    told = phone.page.evaluate("job.steps.slice(0, 7).map((step) => step.text)")
    seen = []
    for _ in range(7):
        seen.append(phone.step)
        phone.done()
    phone.all_sent()
    rows = [(row["kind"], row["data"].get("item") or row["data"].get("work") or row["data"].get("part")) for row in events(server.address, job)]

    assert seen == told
    assert len(set(rows)) == len(rows)
    assert phone.step not in seen


def test_a_step_that_changes_under_the_thumb_is_not_closed_by_the_same_touch(server, phones, job):
    """What the server takes back comes up again; a touch meant for the step that was there logs nothing."""
    phone = phones.open(server.address, job)
    phone.all_sent()
    phone.page.evaluate("setAside(taps()[0] || (keep({ events: [], step: shown, count: 0, at: 0 }), render(true), taps()[0]), 'no')")
    kept = phone.page.evaluate("document.getElementById('done').click(), unsent().length")

    assert kept == 0
