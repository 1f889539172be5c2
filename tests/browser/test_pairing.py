"""A phone of the shop's network is let in, works, and is locked out, all by the pages."""

import pytest

from phone import SCREEN
from web_job import half_done
from web_server import Device, serving

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with serving(tmp_path_factory.mktemp("network"), "--lan") as served:
        yield served


def opened(browser, address: str, **more):
    """A page on a device of its own."""
    page = browser.new_context(viewport=SCREEN, **more).new_page()
    page.set_default_timeout(15_000)
    page.goto(address)
    return page


def test_a_phone_is_paired_works_and_is_locked_out(browser, server):
    """It is led to Pair wherever it knocks, says the code that the computer shows, logs a step under the name it was
    given, and after it was locked out keeps its next tap as not sent yet; that is sent once it is paired again."""
    with Device(server.address) as device:
        job = half_done(device)
        computer, phone = (
            opened(browser, f"{server.address}/devices"),
            opened(browser, f"{server.network}/jobs/{job}", has_touch=True, is_mobile=True),
        )
        assert phone.url == f"{server.network}/pair"

        pair(computer, phone, "phone of bay 3")
        phone.goto(f"{server.network}/jobs/{job}")
        with phone.expect_response(lambda answer: answer.url.endswith("/events") and answer.status == 200):
            phone.tap("#done")
        last = device.log(job)["events"][-1]
        assert (last["device"], last["person"]) == ("phone of bay 3", "technician 7")

        computer.goto(f"{server.address}/devices")
        computer.get_by_role("button", name="Lock out phone of bay 3").click()
        before = len(device.log(job)["events"])
        phone.tap("#done")
        phone.wait_for_timeout(2500)
        assert "Not sent yet" in phone.inner_text("#sent")
        assert len(device.log(job)["events"]) == before

        phone.goto(f"{server.network}/")
        pair(computer, phone, "phone of bay 3")
        phone.goto(f"{server.network}/jobs/{job}")
        phone.get_by_text("All sent", exact=True).wait_for()
        assert len(device.log(job)["events"]) > before
    for page in (computer, phone):
        page.context.close()


def pair(computer, phone, name: str) -> None:
    """Show a code here, type it there."""
    computer.locator("form[action='/devices/code'] button").click()
    phone.fill("#code", computer.locator(".code").inner_text())
    phone.fill("#device", name)
    phone.fill("#person", "technician 7")
    phone.tap("button.close")
    phone.wait_for_url("**/")


def test_the_picture_is_the_address_with_the_code(browser, server):
    """Opened, it fills the code in and sends nothing; the picture itself is one that a camera can take."""
    computer = opened(browser, f"{server.address}/devices")
    computer.locator("form[action='/devices/code'] button").click()
    code = computer.locator(".code").inner_text().replace(" ", "")
    phone = opened(browser, f"{server.network}/pair?code={code}")

    assert phone.input_value("#code") == code
    assert computer.locator("img.qr").evaluate("image => image.naturalWidth") > 100
    for page in (computer, phone):
        page.context.close()
