"""Everything besides the step now: one page that leads to all others of a job."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from putback.desk.jobs import where
from putback.job.audit import bars
from putback.web.asked import view
from putback.web.pages_belt import is_for
from putback.web.render import page

# Address: what the page is called, and what it is for.
PAGES = {
    "readings": ("Readings", "the suspects, the next test, before and after"),
    "off": ("Off the car", "everything that is out, by tray; whose bolt is this?"),
    "way": ("The way", "in and back, and why"),
    "belt": ("Belt", "how it runs, is it laid right, will another do, is it worn"),
    "order": ("Parts", "to order, ordered, here, wrong"),
    "match": ("Old and new", "the new part beside the old one"),
    "hand-on": ("Hand to a colleague", "what is off, loose, drained and live; pause and take over"),
    "safe": ("Make safe", "the shortest way to a car that can be lowered"),
    "hand-over": ("Hand over", "everything that stands open, then the signature"),
    "record": ("Record", "what is left when the car is gone"),
    "papers": ("Papers", "estimate, job sheet, labels, tag and others to print"),
    "history": ("This car before", "its other jobs"),
    "found": ("Found on this car", "what the area file does not know"),
    "log": ("Log", "all that was said, and by whom"),
}


def menu(request: Request) -> Response:
    """Where the job stands, and the other pages."""
    seen = view(request)
    open_ones = sum(1 for point in seen.points if bars(point))
    pages = {name: words for name, words in PAGES.items() if name != "belt" or is_for(seen)}
    return page("menu.html", job=seen.id, name=seen.state.name, where=where(seen.state), open_ones=open_ones, pages=pages)


ROUTES = [Route("/jobs/{job}/menu", menu)]
