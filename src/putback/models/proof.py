"""After the repair: whether the readings lie where a mended car has them. Limits for proof, not for suspicion."""

from collections.abc import Mapping
from dataclasses import dataclass

from putback.models.form import NOT_FITTED, Form, Limit
from putback.models.judge import holds, number


@dataclass(frozen=True)
class Proof:
    """One reading after the repair, against its limit for proof.

    Attributes
    ----------
    reading : str
    value : float, str or None
        None where it was not read.
    wanted : str
        In plain words.
    passes : bool or None
        None where it was not read, or does not count.
    why : str
        Why it does not count; empty where it does.
    """

    reading: str
    value: float | str | None
    wanted: str
    passes: bool | None
    why: str = ""


def proved(form: Form, readings: Mapping[str, object], action: str | None = None) -> list[Proof]:
    """Each reading that has a limit for proof, against it.

    Parameters
    ----------
    form : Form
    readings : dict of str to number or str
        Taken after the repair.
    action : str, optional
        What was done; some limits hold only after some actions.
    """
    limits = (limit for limit in form.limits if not limit.only_for or action in limit.only_for)
    return [_proof(limit, readings) for limit in limits if readings.get(limit.reading) != NOT_FITTED]


def _proof(limit: Limit, readings: Mapping[str, object]) -> Proof:
    value, judged = readings.get(limit.reading), number(limit.source, readings)
    if value is None or judged is None:
        return Proof(limit.reading, None, limit.says, None)
    if not holds(limit.condition, readings):
        return Proof(limit.reading, value, limit.says, None, limit.condition.otherwise)
    return Proof(limit.reading, value, limit.says, _within(limit, judged))


def _within(limit: Limit, value: float | str) -> bool:
    if limit.words:
        return value in limit.words
    return isinstance(value, float) and limit.low - 1e-9 <= value <= limit.high + 1e-9
