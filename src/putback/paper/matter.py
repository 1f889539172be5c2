"""Where the values of papers come from: a job of the ledger, or a plan before there is a job."""

import re
import unicodedata

from putback.desk.planning import Thinking
from putback.desk.quoted import quote_of
from putback.desk.view import View, look
from putback.errors import InputError
from putback.estimate.quote import make_quote
from putback.job.ledger import Ledger
from putback.job.state import JobState
from putback.paper.kinds import Matter
from putback.paper.look import Look
from putback.plan_json import plan_object
from putback.way.plan import plan
from putback.way.task import Task

_LONGEST = 40  # signs of a job's name in the name of a file


def matter_of(ledger: Ledger, job: str, wishes: Look, now: str, thinking: Thinking, view: View | None = None) -> Matter:
    """What papers of a job are made of.

    Parameters
    ----------
    ledger : Ledger
    job : str
        Its id.
    wishes : Look
    now : str
        The time in UTC.
    thinking : Thinking
    view : View, optional
        The job as it stands, where somebody has looked already.

    Raises
    ------
    InputError
        There is no such job.
    """
    seen = view or look(ledger, job)
    return Matter(seen, wishes, now, lambda: quote_of(ledger, seen, thinking), ledger.file)


def matter_planned(task: Task, wishes: Look, thinking: Thinking, assumed: str = "") -> Matter:
    """What papers of a plan are made of, before there is a job.

    Parameters
    ----------
    task : Task
    wishes : Look
    thinking : Thinking
    assumed : str
        What was taken for granted, in a sentence.

    Raises
    ------
    NoWay
        There is none with what the shop has.
    """
    sheet = plan(task, clock=thinking.clock, seconds=thinking.seconds)
    variants = task.state.variants if task.state else ()
    state = JobState(name=task.area.name, targets=sheet.targets, variants=tuple(variants))
    view = View("", [], state, task.area, task.shop, plan_object(sheet))
    return Matter(view, wishes, "", lambda: make_quote(task, sheet, assumed=assumed), _no_file)


def _no_file(hash: str) -> bytes:
    raise InputError(f"there is no file {hash[:12]} without a job")


def file_name(kind: str, view: View, ending: str = "pdf") -> str:
    """What the file of a paper is called, in plain signs: `alternator-low-estimate.pdf`.

    Parameters
    ----------
    kind : str
    view : View
    ending : str
        Of the name
    """
    plain = unicodedata.normalize("NFKD", view.state.name).encode("ascii", "ignore").decode().lower()
    name = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_LONGEST].strip("-")
    return f"{name or 'job'}-{kind}.{ending}"
