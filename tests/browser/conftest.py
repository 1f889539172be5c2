"""What the tests of the pages share: a real server on a free port, and phones that look at it."""

import shutil
from collections.abc import Iterator

import pytest
from phone import CHROMIUM, Phones
from web_server import Served, serving

if shutil.which(CHROMIUM) is None:
    collect_ignore_glob = ["test_*.py"]


def pytest_report_header() -> str:
    """Says so where the tests of the pages are left out."""
    return "" if shutil.which(CHROMIUM) else f"tests/browser: left out, there is no {CHROMIUM} on this machine"


@pytest.fixture(scope="module")
def server(tmp_path_factory) -> Iterator[Served]:
    """A server with the demo areas; each test opens jobs of its own on it."""
    with serving(tmp_path_factory.mktemp("served")) as served:
        yield served


@pytest.fixture(scope="module")
def browser():
    """One browser for the tests of a file; its loop of events must be over before other tests begin one of theirs."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def phones(browser) -> Iterator[Phones]:
    """Phones of this test; whatever went wrong in a page of theirs fails it."""
    phones = Phones(browser)
    yield phones
    phones.put_away()


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_makereport(item, call):
    """Where a test fails, what the server printed is shown with it."""
    report = (yield).get_result()
    server = getattr(item, "funcargs", {}).get("server")
    if report.failed and server is not None:
        report.sections.append(("output of the server", server.output))
