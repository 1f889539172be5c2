"""The estimate as plain values: what is done and why, what it costs, how sure that is, what was agreed."""

from collections.abc import Iterator
from typing import Any

from putback.area.model import MARKS, OUT, PUT_IN
from putback.desk.view import View
from putback.estimate.quote import Quote
from putback.job.audit_work import most_agreed
from putback.job.state import JobState, whole_job
from putback.paper.head import head_of
from putback.paper.look import Look
from putback.paper.words import words
from putback.quote_data import quote_object
from putback.way.no_way import ways_taken


def estimate_data(view: View, look: Look, quote: Quote) -> dict[str, Any]:
    """All that an estimate says.

    Parameters
    ----------
    view : View
    look : Look
    quote : Quote
        Of its first plan.
    """
    told = quote_object(quote)
    return {
        "head": head_of(view, look),
        "what": words(look.language)["estimate_title"].format(parts=", ".join(quote.sheet.targets)),
        "targets": list(quote.sheet.targets),
        "opened": _opened(quote),
        "ways": ways_taken(quote.sheet),
        "currency": told["currency"],
        "lines": [
            {"what": ", ".join(filter(None, (one["name"], one["about"]))), "count": one["count"], "money": one["money"]}
            for one in told["lines"]
        ],
        **{name: told[name] for name in ("before_tax", "tax", "to_pay", "deposit", "core_deposit")},
        "tax_percent": f"{100 * told['tax_rate']:g}",
        "spread": list(_spread(told)),
        "risks": [_risk(one, quote) for one in told["risks"]],
        "assumed": quote.assumed,
        "not_covered": told["not_covered"],
        "cap": _cap(view.state),
        "since": [_plan(one, view) for one in view.state.plans[1:]],
        "consents": [_consent(one) for one in view.state.consents],
    }


def _opened(quote: Quote) -> list[str]:
    """The parts that are moved to reach the target, in the order of the way."""
    items = quote.sheet.area.items
    parts = dict.fromkeys(step.operation.part for step in quote.sheet.moves(OUT))
    return [part for part in parts if part not in quote.sheet.targets and items[part].kind not in (PUT_IN, MARKS)]


def _spread(told: dict) -> Iterator[dict]:
    yield _row("at_best", told["least"])
    yield _row("if_no_risk", told["likely"])
    yield from (_row("of_100", one, one["jobs"]) for one in told["of_100"])
    yield _row("at_worst", told["most"])


def _row(words: str, at: dict, jobs: int = 0) -> dict:
    return {
        "words": words,
        "jobs": jobs,
        "minutes": at["minutes"],
        "before_tax": at["before_tax"],
        "to_pay": at["to_pay"],
    }


def _risk(one: dict, quote: Quote) -> dict:
    rate = quote.sheet.shop.labour
    money = round(one["minutes"] * float(rate) / 6000, 2) if rate and not quote.billed else None
    return {"what": one["what"], "in_100": f"{100 * one['probability']:g}", "minutes": one["minutes"], "money": money}


def _cap(state: JobState) -> float | None:
    most = most_agreed(state)
    return None if most is None else most / 100


def _plan(one: dict, view: View) -> dict:
    """A later plan: when, why, and what the whole job then comes to."""
    at, cents = view.logged[one["number"] - 1].event.at, whole_job(one, "money")
    return {
        "at": at,
        "why": one.get("why") or "",
        "minutes": whole_job(one, "minutes"),
        "money": None if cents is None else round(cents / 100, 2),
    }


def _consent(one: dict) -> dict:
    total = one.get("total")
    return {"at": one["at"], "by": one["by"], "what": one["to what"], "total": None if total is None else total / 100}
