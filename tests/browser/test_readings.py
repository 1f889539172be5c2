"""Readings at the car: typed on the page's keypad, weighed at once, held against the limits after the swap."""

import pytest
from phone import SCREEN
from web_server import Device

pytestmark = pytest.mark.slow

READ = {
    "stud_v_engine_off": "12.46", "stud_v_2000_loaded": "13.62", "charge_v_2000_loaded": "13.51",
    "positive_drop_v": "0.07", "ground_drop_v": "0.04", "output_a_2000": "41", "command_v": "14.4",
    "ripple_mv_2000": "412",
}  # fmt: skip


def keys(page, name: str, figures: str) -> None:
    """Touch a field, then the keys of the page's own pad."""
    page.tap(f'[name="read: {name}"]')
    for figure in figures:
        page.get_by_role("button", name={".": "point"}.get(figure, figure), exact=True).tap()


def keep(page) -> None:
    """Close the page by its large button."""
    with page.expect_navigation():
        page.get_by_role("button", name="Keep these readings").tap()


def test_readings_by_thumb_condemn_the_part_and_then_prove_the_repair(browser, server):
    """The verdict changes with what is typed; afterwards a reading out of its limit bars the hand-over."""
    with Device(server.address) as device:
        job = device.open("alternator", area="demo-a.yaml", shop="demo-shop.yaml")
        page = browser.new_context(viewport=SCREEN, has_touch=True, is_mobile=True).new_page()
        page.goto(f"{server.address}/jobs/{job}/menu")
        page.get_by_text("Readings").first.tap()
        assert "NOT YET" in page.inner_text("main")
        assert page.evaluate("document.documentElement.scrollWidth") <= SCREEN["width"]

        page.get_by_text("All other readings").tap()
        keys(page, "rest_v", "12.48")
        assert page.evaluate("document.activeElement.inputMode") == "none"  # our keypad in place of the keyboard
        for name, figure in READ.items():
            page.fill(f'[name="read: {name}"]', figure)
        page.select_option('[name="read: belt"]', "good")
        keep(page)
        assert "GO: alternator" in page.inner_text("main")

        device.say(job, device.event(job, "part swapped", part="alternator"))
        page.reload()
        page.get_by_text("All other readings").tap()
        for name, figure in READ.items():
            page.fill(f'[name="read: {name}"]', figure)
        page.fill('[name="read: ripple_mv_2000"]', "40")
        page.fill('[name="read: positive_drop_v"]', "0.31")
        page.fill('[name="read: output_a_2000"]', "66")
        keep(page)
        assert "NOT WITHIN" in page.inner_text("main")
        page.goto(f"{server.address}/jobs/{job}/hand-over")
        assert "failing: drop from the stud" in page.inner_text("main")
        page.context.close()


def test_a_reading_behind_parts_is_a_step_that_leads_to_the_readings(browser, server):
    """Demo B: what lies before the starter's cable comes off first, then the step says where to measure."""
    with Device(server.address) as device:
        job = device.open("starter", area="demo-b.yaml", shop="demo-shop.yaml")
        device.say(job, device.event(job, "reading taken", what="battery at rest", value=12.4, unit="V"))
        steps = device.asking.get(f"/api/jobs/{job}").json()["steps"]
        measure = next(step for step in steps if step["key"].startswith("measure: "))
        assert measure["text"].endswith("the order waits")
        page = browser.new_context(viewport=SCREEN, has_touch=True, is_mobile=True).new_page()
        page.goto(f"{server.address}/jobs/{job}")
        page.get_by_role("button", name="Later").tap()  # the intake
        page.get_by_role("button", name="Readings").wait_for()
        page.context.close()
