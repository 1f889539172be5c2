"""What the desk answers, as plain JSON values."""

from fractions import Fraction
from typing import Any

from putback.desk.change import Change
from putback.desk.differs import Differs
from putback.desk.ladder import Ladder
from putback.desk.planning import Total
from putback.desk.reach import Reach
from putback.desk.safe import Safe
from putback.desk_text import cautions, change_sentences, rung_words, variant_words


def differs_object(told: Differs) -> dict[str, Any]:
    """What a difference means.

    Parameters
    ----------
    told : Differs
    """
    return {
        "job": told.view.id,
        "last": told.view.state.last,
        "sentences": list(told.sentences),
        "ladder": ladder_object(told.ladder) if told.ladder else None,
        "change": change_object(told.change) if told.change else None,
        "no_way": str(told.no_way) if told.no_way else None,
        "meanwhile": safe_object(told.meanwhile) if told.meanwhile else None,
        "variants": [
            {"variant": one.variant, "to_do": total_object(one.to_do), "words": variant_words(one)} for one in told.variants
        ],
    }


def ladder_object(ladder: Ladder) -> dict[str, Any]:
    """The means to free something stuck.

    Parameters
    ----------
    ladder : Ladder
    """
    return {
        "rungs": [
            {
                "name": rung.name,
                "minutes": _number(rung.means.minutes) if rung.means else None,
                "chance": float(rung.means.chance) if rung.means else None,
                "expected": total_object(rung.expected),
                "then": rung.then,
                "words": rung_words(rung),
            }
            for rung in ladder.rungs
        ],
        "left_out": [{"name": name, "why": why} for name, why in ladder.left_out],
        "cautions": cautions(ladder),
        "source": ladder.source,
    }


def change_object(change: Change) -> dict[str, Any]:
    """What a new plan changes.

    Parameters
    ----------
    change : Change
    """
    consent = change.consent
    return {
        "sentences": list(change_sentences(change)),
        "to_do": {"before": total_object(change.before), "after": total_object(change.after)},
        "whole": {"before": total_object(change.whole_before), "after": total_object(change.whole_after)},
        "new_steps": list(change.new_steps),
        "gone_steps": list(change.gone_steps),
        "opens": [{"part": one.part, "minutes": _number(one.minutes)} for one in change.opens],
        "owed": [{"name": name, "minutes": _number(minutes)} for name, minutes in change.owed],
        "consent": {"total": _money(consent.total), "agreed": _money(consent.agreed)} if consent else None,
    }


def safe_object(safe: Safe) -> dict[str, Any]:
    """How the car is made safe.

    Parameters
    ----------
    safe : Safe
    """
    return {
        "steps": list(safe.steps),
        "minutes": None if safe.minutes is None else _number(safe.minutes),
        "stays": list(safe.stays),
        "cautions": list(safe.cautions),
        "no_way": str(safe.no_way) if safe.no_way else None,
    }


def reach_object(reach: Reach) -> dict[str, Any]:
    """What it costs to get at something again.

    Parameters
    ----------
    reach : Reach
    """
    return {
        "words": reach.words,
        "parts": [one.part for one in reach.parts],
        "minutes_off": None if reach.off is None else _number(reach.off),
        "minutes_on": None if reach.on is None else _number(reach.on),
        "cost": total_object(reach.cost),
        "guessed": reach.guessed,
        "cautions": list(reach.cautions),
    }


def total_object(total: Total | None) -> dict[str, Any] | None:
    """Minutes and money.

    Parameters
    ----------
    total : Total or None
    """
    if total is None:
        return None
    return {"minutes": _number(total.minutes), "money": None if total.money is None else _money(total.money)}


def _money(cents: Fraction) -> float:
    return round(float(cents) / 100, 2)


def _number(value: Fraction) -> float:
    return round(float(value), 2)
