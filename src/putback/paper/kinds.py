"""The papers there are: what each is called, where its values come from, and what sets it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from putback.desk.view import View
from putback.errors import InputError
from putback.estimate.quote import Quote
from putback.paper.estimate_data import estimate_data
from putback.paper.hand_on_data import hand_on_data, tag_data
from putback.paper.job_sheet_data import Made, job_sheet
from putback.paper.labels_data import labels_of
from putback.paper.lay_out_data import lay_out_data
from putback.paper.look import Look
from putback.paper.record_data import record_paper
from putback.paper.typeset import typeset


@dataclass(frozen=True)
class Matter:
    """What papers are made of.

    Attributes
    ----------
    view : View
        The job; one that is only planned has no events.
    look : Look
    now : str
        The time in UTC, for what is running or waited for.
    quote : function
        Gives the quote; only an estimate asks for it.
    file : function
        Gives the content of a file of the ledger by its hash; only a record asks for it.
    """

    view: View
    look: Look
    now: str
    quote: Callable[[], Quote]
    file: Callable[[str], bytes]


class Paper(NamedTuple):
    """One kind of paper: what it is called, what it is for, what makes its values; whether it takes a log, a plan."""

    title: str
    words: str
    made: Callable[[Matter], Made]
    logged: bool = False
    planned: bool = False


def _estimate(of: Matter) -> Made:
    return Made(estimate_data(of.view, of.look, of.quote()), {})


def _job_sheet(of: Matter) -> Made:
    return job_sheet(of.view, of.look)


def _lay_out(of: Matter) -> Made:
    return Made(lay_out_data(of.view, of.look), {})


def _labels(of: Matter) -> Made:
    return labels_of(of.view, of.look)


def _hand_on(of: Matter) -> Made:
    return Made(hand_on_data(of.view, of.look, of.now), {})


def _tag(of: Matter) -> Made:
    return Made(tag_data(of.view, of.look, of.now), {})


def _record(of: Matter) -> Made:
    return record_paper(of.view, of.look, of.file)


PAPERS = {
    "estimate": Paper(
        "Estimate", "for the customer: what, why, time and money with their spread", _estimate, planned=True
    ),
    "job-sheet": Paper("Job sheet", "every step out and back, with boxes to tick", _job_sheet, planned=True),
    "lay-out": Paper(
        "Lay-out list", "tools, wrenches, parts, equipment, and what soaks overnight", _lay_out, planned=True
    ),
    "labels": Paper("Tray and bag labels", "each with its fastener drawn in its own size", _labels),
    "hand-on": Paper("Sheet for a colleague", "what is off, loose, live and owed", _hand_on, logged=True),
    "tag": Paper("Vehicle tag", "do not start, do not lower, and who is under the car", _tag, logged=True),
    "record": Paper("Job record", "what was opened, how it was closed, and what proves it", _record, logged=True),
}


def paper(kind: str) -> Paper:
    """A kind of paper by its name.

    Parameters
    ----------
    kind : str

    Raises
    ------
    InputError
        There is no such paper.
    """
    if kind not in PAPERS:
        raise InputError(f'there is no paper "{kind}"; there are: {", ".join(PAPERS)}')
    return PAPERS[kind]


def made(kind: str, matter: Matter) -> Made:
    """The values of a paper with its pictures.

    Parameters
    ----------
    kind : str
        One of `PAPERS`.
    matter : Matter

    Raises
    ------
    InputError
        There is no such paper, or what it tells of is not there yet.
    """
    return paper(kind).made(matter)


def pdf(kind: str, matter: Matter) -> bytes:
    """A paper as PDF.

    Parameters
    ----------
    kind : str
        One of `PAPERS`.
    matter : Matter

    Raises
    ------
    InputError
        There is no such paper, or what it tells of is not there yet.
    """
    found = made(kind, matter)
    at = matter.now if kind in ("hand-on", "tag") else matter.view.state.last_at
    return typeset(kind, found.data, matter.look, at, found.files)
