"""What the readings of a job say, in words: verdict, suspects, next test, what lies behind parts, before and after."""


from collections.abc import Iterator

from putback.desk.reading_names import in_words
from putback.desk.weighing import Weighed
from putback.models import Proof
from putback.suspects_text import VERDICTS, answer_json, answer_lines

SHOWN = 5  # suspects told one by one
PASSES = {True: "within", False: "NOT WITHIN", None: "not judged"}


def weighed_lines(found: Weighed) -> Iterator[str]:
    """A job's suspects as lines; after the swap the readings before and after with their limits.

    Parameters
    ----------
    found : Weighed
    """
    yield from answer_lines(found.form, found.answer)
    for name, item in found.behind.items():
        words = found.form.readings[name].what
        yield f"  {words}: measure it at the {item}, behind {', '.join(found.open_first)}, and go on by what it says"
    yield from (f"  left out: {one}" for one in found.odd)
    if found.after:
        yield from ("", "BEFORE AND AFTER")
        for proof in found.proofs:
            what, before, after, stands = proof_words(found, proof)
            yield f"  {what}: {before}, {after}; {stands}"


def verdict_words(found: Weighed) -> str:
    """The verdict in one line.

    Parameters
    ----------
    found : Weighed
    """
    said = found.answer
    share = f", {said.shares[said.action]:.0%} likely" if said.action in said.shares else ""
    return f"{VERDICTS[said.verdict]}: {said.action}{share}"


def reasons(found: Weighed) -> list[str]:
    """What stands against it, in sentences.

    Parameters
    ----------
    found : Weighed
    """
    again = [found.form.readings[name].what for name in found.answer.again]
    more = [f"take again: {', '.join(again)}"] if again else []
    return [*(in_words(found.form, one) for one in found.answer.why), *more]


def suspects(found: Weighed) -> list[tuple[str, float]]:
    """The likeliest faults, and what all others come to together.

    Parameters
    ----------
    found : Weighed
    """
    likely = sorted(found.answer.posterior.items(), key=lambda one: -one[1])
    rest = sum(share for _, share in likely[SHOWN:])
    return [*likely[:SHOWN], (f"{len(likely) - SHOWN} others together", rest)]


def set_words(found: Weighed) -> list[str]:
    """Faults that cannot be told apart, a sentence for each set.

    Parameters
    ----------
    found : Weighed
    """
    return [f"cannot be told apart by what is read: {', '.join(names)}" for names in found.answer.sets]


def next_words(found: Weighed) -> list[tuple[str, str]]:
    """The tests worth doing next: what to do, and why.

    Parameters
    ----------
    found : Weighed
    """
    form = found.form
    return [
        (f"{form.tests[one.test].what} ({_minutes(one)})", f"saves {one.worth:.0f} min on average: {one.why}")
        for one in found.answer.next
    ]


def _minutes(one) -> str:
    return f"{one.minutes:g} min" + (f" + {one.waits:g} min waiting" if one.waits else "")


def proof_words(found: Weighed, proof: Proof) -> tuple[str, str, str, str]:
    """A reading before and after: what, before, after, and how it stands to its limit.

    Parameters
    ----------
    found : Weighed
    proof : Proof
    """
    known = found.form.readings[proof.reading]
    sides = [_value(one.get(proof.reading), known.unit) for one in (found.before, found.after)]
    stands = PASSES[proof.passes] if proof.reading in found.after else "still to be read"
    return known.what, *sides, f"{stands}: {proof.wanted}{f' ({proof.why})' if proof.why else ''}"


def _value(value: float | str | None, unit: str) -> str:
    if value is None:
        return "-"
    return f"{value:g} {unit}".strip() if isinstance(value, float) else value


def weighed_object(found: Weighed) -> dict:
    """A job's suspects as plain JSON values: as `putback suspects` has them, and what is of this job.

    Parameters
    ----------
    found : Weighed
    """
    return answer_json(found.answer) | {
        "model": found.form.name,
        "why": list(found.answer.why),
        "behind": found.behind,
        "open_first": list(found.open_first),
        "left_out": list(found.odd),
        "proof": [vars(one) for one in found.proofs],
    }
