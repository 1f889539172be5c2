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
THEMES = ("light", "dark")


@pytest.fixture(scope="module")
def job(server) -> str:
    with Device(server.address) as device:
        return half_done(device)


def broken_rules(browser, address: str, theme: str, screen: dict, before=lambda page: None) -> list[str]:
    """What axe-core finds on a page, each with where it stands; and whether the page is wider than the screen."""
    # The page's own policy lets no foreign script in, and axe is one.
    context = browser.new_context(viewport=screen, color_scheme=theme, bypass_csp=True)
    try:
        page = context.new_page()
        page.goto(address)
        before(page)
        page.evaluate(AXE)
        found = page.evaluate("async () => (await axe.run(document)).violations")
        wide = page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth")
    finally:
        context.close()
    told = [f"{one['id']}: {one['help']}: {[node['target'] for node in one['nodes']][:5]}" for one in found]
    return told + (["the page is wider than the screen"] if wide else [])


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("path", pages("JOB"))
def test_every_page_can_be_used_by_all(browser, server, job, path, theme):
    """On a phone; in the light also on a tablet laid across, for what differs there is the place of things."""
    address = server.address + path.replace("JOB", job)
    screens = (SCREEN, WIDE) if theme == "light" else (SCREEN,)

    assert [rule for screen in screens for rule in broken_rules(browser, address, theme, screen)] == []


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("button", ["change", "differs", "people"])
def test_what_opens_over_the_step_can_be_used_by_all(browser, server, job, button, theme):
    """The sheets with their fields and the keypad."""
    found = broken_rules(browser, f"{server.address}/jobs/{job}", theme, SCREEN, lambda page: page.click(f"#{button}"))

    assert found == []


@pytest.mark.parametrize("theme", THEMES)
def test_what_was_understood_can_be_used_by_all(browser, server, theme):
    """The words that somebody says, and what they were understood as, with what is open."""
    with Device(server.address) as device:
        job = device.open("brakes")

    def say(page) -> None:
        page.evaluate("job.person = 'technician 1'")
        page.click("text=Say it in words")
        page.fill("#f-words", "Wheel off, five nuts. Cover off, some screws.")
        page.click("#sheet-buttons .close")
        page.wait_for_selector(".rung")

    assert broken_rules(browser, f"{server.address}/jobs/{job}", theme, SCREEN, say) == []


@pytest.mark.parametrize("theme", THEMES)
def test_pairing_can_be_done_by_all(browser, tmp_path, theme):
    """The code at the computer, the form on the device, and both when something is wrong."""

    def wrong(page):
        for field, text in (("code", "AAAA AAAA"), ("device", "tablet"), ("person", "technician 1")):
            page.fill(f"#{field}", text)
        page.click("button")

    with serving(tmp_path, "--lan") as server:
        found = [
            *broken_rules(browser, f"{server.address}/devices", theme, SCREEN),
            *broken_rules(browser, f"{server.network}/pair", theme, SCREEN),
            *broken_rules(browser, f"{server.network}/pair", theme, SCREEN, wrong),
        ]

    assert found == []


@pytest.mark.parametrize("theme", THEMES)
def test_trouble_can_be_read_by_all(browser, server, theme):
    """A page that is not there, and a form with something wrong in it."""
    assert broken_rules(browser, f"{server.address}/nowhere", theme, SCREEN) == []
    assert broken_rules(browser, f"{server.address}/jobs/new", theme, SCREEN, lambda page: page.click("button")) == []


def test_a_fault_would_be_seen(browser, server):
    """The check itself: a picture without a text and a field without a name are found."""
    harm = "document.querySelector('main').innerHTML = '<img src=\"data:,\"><input>'"
    found = broken_rules(browser, f"{server.address}/", "light", SCREEN, lambda page: page.evaluate(harm))

    assert {rule.partition(":")[0] for rule in found} >= {"image-alt", "label"}
