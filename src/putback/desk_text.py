"""What the desk answers, in words: what a difference changes, how the car is made safe."""

from collections.abc import Iterator
from fractions import Fraction

from putback.desk.change import Change
from putback.desk.differs import Differs
from putback.desk.ladder import Ladder, Rung
from putback.desk.planning import Total
from putback.desk.safe import Safe
from putback.desk.variants import AsVariant


def total_words(total: Total | None) -> str:
    """Minutes and money, as far as they are known.

    Parameters
    ----------
    total : Total or None
    """
    if total is None:
        return "not known"
    money = "" if total.money is None else f", {money_words(total.money)}"
    return f"{float(total.minutes):.0f} min{money}"


def money_words(cents: Fraction) -> str:
    """An amount as a shop writes it, before tax.

    Parameters
    ----------
    cents : Fraction
    """
    return f"{float(cents) / 100:.2f} before tax"


def change_sentences(change: Change) -> Iterator[str]:
    """What a new plan changes, each in one sentence.

    Parameters
    ----------
    change : Change
    """
    was = f" (foreseen: {total_words(change.before)})" if change.before else ""
    yield f"still to do: {total_words(change.after)}{was}"
    if change.whole_after:
        before = f" (foreseen: {total_words(change.whole_before)})" if change.whole_before else ""
        yield f"the whole job: {total_words(change.whole_after)}{before}"
    if change.opens:
        parts = ", ".join(f"{one.part} {float(one.minutes):.0f} min" for one in change.opens)
        yield f"to be opened besides: {parts}"
    for name, minutes in change.owed:
        yield f"owed besides: {name}, {float(minutes):.0f} min"
    if change.consent:
        more, agreed = change.consent.total, change.consent.agreed
        yield f"ASK FIRST: the customer agreed to {money_words(agreed)}, and the job comes to {money_words(more)} now"


def rung_words(rung: Rung) -> str:
    """One means to free something stuck, or another way, in one line.

    Parameters
    ----------
    rung : Rung
    """
    if rung.means is None:
        return f"{rung.name}: {total_words(rung.expected)}"
    own = f"{float(rung.means.minutes):.0f} min, helps in {float(rung.means.chance * 100):.0f} of 100"
    follows = f"; expected {total_words(rung.expected)}" if rung.expected else ""
    then = f", with {rung.then} where it fails" if rung.then else ""
    return f"{rung.name}: {own}{follows}{then}"


def differs_sentences(told: Differs) -> list[str]:
    """All that a difference means, without the ladder, each in one sentence.

    Parameters
    ----------
    told : Differs
    """
    return [*told.sentences, *(change_sentences(told.change) if told.change else ())]


def variant_words(one: AsVariant) -> str:
    """What is still to do if the car is another variant, in one sentence.

    Parameters
    ----------
    one : AsVariant
    """
    return f"if this car has {one.variant}, there is a way: {total_words(one.to_do)} still to do"


def ladder_lines(ladder: Ladder) -> Iterator[str]:
    """The means to free something stuck beside another way, as the ladder has them.

    Parameters
    ----------
    ladder : Ladder
    """
    yield from (rung_words(rung) for rung in ladder.rungs)
    yield from (f"not offered: {name}, {why}" for name, why in ladder.left_out)
    yield from (f"! {caution}" for caution in cautions(ladder))


def cautions(ladder: Ladder) -> list[str]:
    """The cautions of all its means, each once.

    Parameters
    ----------
    ladder : Ladder
    """
    return list(dict.fromkeys(caution for rung in ladder.rungs if rung.means for caution in rung.means.cautions))


def safe_lines(safe: Safe) -> Iterator[str]:
    """How the car is made safe, in lines.

    Parameters
    ----------
    safe : Safe
    """
    if safe.no_way:
        yield f"there is no way to lower it from here: {safe.no_way}"
    elif not safe.steps:
        yield "the car can be lowered as it stands"
    else:
        minutes = f", {float(safe.minutes):.0f} min in all" if safe.minutes is not None else ""
        yield f"{len(safe.steps)} steps{minutes}:"
    yield from (f"{number:3} {text}" for number, text in enumerate(safe.steps, 1))
    yield from (f"stays: {text}" for text in safe.stays)
    yield from (f"! {text}" for text in safe.cautions)
