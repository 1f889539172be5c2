"""Small quotes for the tests; every figure is invented."""

from area_samples import HEAD, PUMP, area, shop

from putback.estimate.quote import Quote, make_quote
from putback.estimate.terms import NO_TERMS, Terms, read_terms
from putback.way.plan import plan
from putback.way.task import Task, make_task

# The pump holds a risk, a one-time bolt without a price, oil and a follow-up that is given out.
RICH = """\
parts:
  pump:
    is: gear pump
    from: top
    minutes: 4-5-8 off, 6 on
    loses: 0.5 l oil, 6.00
    new parts: {gasket: 2 x 1.25}
    held by:
      pump bolts: {is: "2 x M8x30, class 8.8, 13 mm, 22 N·m, one-time", risk: "20 % x 30 min, bolt shears"}
    follow-ups: [set the pressure, look at it after a week]
  guard:
    from: top
    minutes: 1 off, 1 on
  hose:
    from: top
    behind: [pump]
    minutes: 2 off, 2 on
follow-ups:
  set the pressure: sublet pressure test
  look at it after a week: at hand-over
job work:
  after: {try it out: 3-5-9 min}
match: {ports: 2}
"""
SUBLETS = "sublets: {pressure test: 15.00}\n"


def job(text: str = PUMP, more: str = "", head: str = HEAD, **options) -> tuple[Task, object]:
    """A task in the sample shop, with some more lines in the shop's file, and its plan."""
    task = make_task(area(text, head), shop(more), **options)
    return task, plan(task)


def quoted(text: str = PUMP, more: str = "", terms: Terms = NO_TERMS, **options) -> Quote:
    """The quote of such a job."""
    return make_quote(*job(text, more, **options), terms)


def rich(more: str = "", terms: Terms = NO_TERMS, **options) -> Quote:
    """The quote of the rich pump."""
    return quoted(RICH, SUBLETS + more, terms, head=HEAD.replace("100.00}", "100.00, core deposit: 20.00}"), **options)


def terms_of(text: str) -> Terms:
    """The terms that some lines of a file give."""
    return read_terms("terms: 1\n" + text, "terms.yaml")
