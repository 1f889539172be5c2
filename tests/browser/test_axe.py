"""Whoever sees little or nothing can work with every page: the rules of axe-core find nothing, in light and dark.

The pages are taken from the application's own table, so a new one is looked at without anybody's doing. The rules are
those of the published library (WCAG 2.2 A and AA, and what its authors hold to be good practice).
"""

from importlib.resources import files

import pytest

from phone import SCREEN
from web_addresses import pages
from web_job import half_done
from web_server import Device, serving

pytestmark = pytest.mark.slow
AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
WIDE = {"width": 1180, "height": 820}
ON_A_PHONE = (("light", SCREEN), ("dark", SCREEN))


@pytest.fixture(scope="module")
def job(server) -> str:
    with Device(server.address) as device:
        return half_done(device)


def broken_rules(browser, address: str, before=lambda page: None, looks=ON_A_PHONE) -> list[str]:
    """What axe-core finds on a page as it looks, each with where it stands; and whether it is wider than the screen."""
    # The page's own policy lets no foreign script in, and axe is one.
    context = browser.new_context(viewport=SCREEN, bypass_csp=True)
    try:
        page = context.new_page()
        page.goto(address)
        before(page)
        page.evaluate(AXE)
        return [rule for theme, screen in looks for rule in _broken(page, theme, screen)]
    finally:
        context.close()


def _broken(page, theme: str, screen: dict) -> list[str]:
    page.emulate_media(color_scheme=theme)
    page.set_viewport_size(screen)
    found = page.evaluate("async () => (await axe.run(document)).violations")
    wide = page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth")
    told = [f"{one['id']}: {one['help']}: {[node['target'] for node in one['nodes']][:5]}" for one in found]
    return [f"{theme}, {screen['width']}: {rule}" for rule in told + (["wider than the screen"] if wide else [])]


@pytest.mark.parametrize("path", pages("JOB"))
def test_every_page_can_be_used_by_all(browser, server, job, path):
    """On a phone; in the light also on a tablet laid across, for what differs there is the place of things."""
    address = server.address + path.replace("JOB", job)

    assert broken_rules(browser, address, looks=(*ON_A_PHONE, ("light", WIDE))) == []


@pytest.mark.parametrize("button", ["change", "differs", "people"])
def test_what_opens_over_the_step_can_be_used_by_all(browser, server, job, button):
    """The sheets with their fields and the keypad."""
    found = broken_rules(browser, f"{server.address}/jobs/{job}", lambda page: page.click(f"#{button}"))

    assert found == []


def test_what_was_understood_can_be_used_by_all(browser, server):
    """The words that somebody says, and what they were understood as, with what is open."""
    with Device(server.address) as device:
        job = device.open("brakes")

    def say(page) -> None:
        page.evaluate("job.person = 'technician 1'")
        page.click("text=Say it in words")
        page.fill("#f-words", "Wheel off, five nuts. Cover off, some screws.")
        page.click("#sheet-buttons .close")
        page.wait_for_selector(".rung")

    assert broken_rules(browser, f"{server.address}/jobs/{job}", say) == []


def test_pairing_can_be_done_by_all(browser, tmp_path):
    """The code at the computer, the form on the device, and both when something is wrong."""

    def wrong(page):
        for field, text in (("code", "AAAA AAAA"), ("device", "tablet"), ("person", "technician 1")):
            page.fill(f"#{field}", text)
        page.click("button")

    with serving(tmp_path, "--lan") as server:
        found = [
            *broken_rules(browser, f"{server.address}/devices"),
            *broken_rules(browser, f"{server.network}/pair"),
            *broken_rules(browser, f"{server.network}/pair", wrong),
        ]

    assert found == []


def test_trouble_can_be_read_by_all(browser, server):
    """A page that is not there, and a form with something wrong in it."""
    assert broken_rules(browser, f"{server.address}/nowhere") == []
    assert broken_rules(browser, f"{server.address}/jobs/new", lambda page: page.click("button")) == []


def test_a_fault_would_be_seen(browser, server):
    """The check itself: a picture without a text and a field without a name are found."""
    harm = "document.querySelector('main').innerHTML = '<img src=\"data:,\"><input>'"
    found = broken_rules(browser, f"{server.address}/", lambda page: page.evaluate(harm))

    assert {rule.split(": ")[1] for rule in found} >= {"image-alt", "label"}
