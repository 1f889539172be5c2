"""A phone at the car: a page in a browser, and what a thumb does to it."""

import time
from collections.abc import Callable
from contextlib import contextmanager

CHROMIUM = "/usr/bin/chromium"
SCREEN = {"width": 390, "height": 844}
PATIENCE = 15_000  # ms


class Phone:
    """One page that is open on one device.

    Parameters
    ----------
    context : BrowserContext
        What the device keeps.
    address : str
        Of the server.
    job : str
        The job that the page is of.
    """

    def __init__(self, context, address: str, job: str):
        self.context, self.address, self.job = context, address, job
        self.taps = 0
        self.page = context.new_page()
        self.page.set_default_timeout(PATIENCE)
        self.page.goto(f"{address}/jobs/{job}")

    @property
    def step(self) -> str:
        """The step now, as it is read."""
        return self.page.locator("#step h1").text_content()

    @property
    def screen(self) -> str:
        """All that can be read of the step now."""
        return self.page.inner_text("#step")

    @property
    def sent(self) -> str:
        """What is said of what is not sent yet."""
        return self.page.inner_text("#sent")

    def tap(self, where: str) -> None:
        """Touch something."""
        self.taps += 1
        self.page.tap(where)

    def done(self) -> None:
        """Close the step now by its button; where the step has just changed by itself, look at it first."""
        self.page.wait_for_selector("#buttons:not(.calm)")
        self.tap("#done")

    def button(self, words: str) -> None:
        """Touch a button of the sheet, or of the page where no sheet is open."""
        self.taps += 1
        inside = self.page.locator("dialog[open]")
        place = inside if inside.count() else self.page.locator("main")
        place.get_by_role("button", name=words, exact=True).first.tap()

    def keys(self, field: str, figures: str) -> None:
        """Type figures with the keypad of the page, and with nothing else."""
        self.page.tap(f"#f-{field}")
        for sign in figures:
            name = "point" if sign == "." else sign
            self.page.locator(".keypad").get_by_role("button", name=name, exact=True).tap()

    def write(self, field: str, text: str) -> None:
        """Write words with the keyboard."""
        self.page.fill(f"#f-{field}", text)

    def choose(self, words: str) -> None:
        """Touch one of several choices."""
        self.page.locator("dialog[open]").get_by_label(words, exact=True).tap()

    def until(self, what: Callable[[], bool], words: str = "", seconds: float = 15.0) -> None:
        """Wait until something is so."""
        end = time.monotonic() + seconds
        while not what():
            if time.monotonic() > end:
                raise AssertionError(f"it never was so: {words}; the page reads: {self.page.inner_text('main')}")
            self.page.wait_for_timeout(20)

    def all_sent(self) -> None:
        """Wait until the server has everything."""
        self.until(lambda: self.sent == "All sent", "all sent")

    def is_calm(self) -> bool:
        """Whether nothing was taken back and nothing is asked."""
        return self.page.locator("#aside > *, #held > *, dialog[open]").count() == 0


class Phones:
    """All devices of one test."""

    def __init__(self, browser):
        self.browser, self.contexts, self.faults = browser, [], []

    def device(self, scheme: str = "light", screen: dict | None = None, person: str = "technician 1", address: str = ""):
        """Another device, in somebody's hands."""
        context = self.browser.new_context(
            viewport=screen or SCREEN, has_touch=True, is_mobile=True, device_scale_factor=2, color_scheme=scheme
        )
        context.on("weberror", lambda fault: self.faults.append(str(fault.error)))
        if person and address:
            context.add_cookies([{"name": "putback-person", "value": person.replace(" ", "%20"), "url": address}])
        self.contexts.append(context)
        return context

    def open(self, address: str, job: str, **more) -> Phone:
        """A job on a new device."""
        return Phone(self.device(address=address, **more), address, job)

    @contextmanager
    def faults_expected(self):
        """For a test that makes the page fail on purpose."""
        yield
        self.faults.clear()

    def put_away(self) -> None:
        """Close them; a fault in a page is a fault of the test."""
        for context in self.contexts:
            context.close()
        assert self.faults == []
