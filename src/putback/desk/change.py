"""What a new plan changes: minutes and money, what is still to do and the whole job, and which steps came and went."""

from dataclasses import dataclass
from fractions import Fraction

from putback.area.model import OUT
from putback.desk.planning import Total, exact, spent_by, total
from putback.job.audit_work import most_agreed
from putback.job.state import JobState
from putback.way.sheet import Sheet


@dataclass(frozen=True)
class Opened:
    """A part that has to be opened, and the minutes that this takes with all that holds it; None where nobody knows."""

    part: str
    minutes: Fraction | None


@dataclass(frozen=True)
class Consent:
    """What the job comes to now, and the most that was agreed to, both before tax in cents."""

    total: Fraction
    agreed: Fraction


@dataclass(frozen=True)
class Change:
    """Two plans from one state: as it was foreseen, and as it is now.

    Attributes
    ----------
    before, after : Total
        What is still to do; `before` is None where there was no way before either.
    spent : Total or None
        What had been done by then; None where that is not known.
    new_steps, gone_steps : tuple of str
        In words, in the order of their plans.
    opens : tuple of Opened
        What has to be opened besides what was foreseen.
    owed : tuple of (str, Fraction)
        Follow-ups that fall due besides, with their minutes.
    consent : Consent or None
        What the customer has to agree to first; None where that is not needed.
    """

    before: Total | None
    after: Total
    spent: Total | None
    new_steps: tuple[str, ...]
    gone_steps: tuple[str, ...]
    opens: tuple[Opened, ...]
    owed: tuple[tuple[str, Fraction], ...]
    consent: Consent | None

    @property
    def whole_before(self) -> Total | None:
        """The whole job as it was foreseen."""
        return None if self.before is None or self.spent is None else self.spent + self.before

    @property
    def whole_after(self) -> Total | None:
        """The whole job as it is now."""
        return None if self.spent is None else self.spent + self.after


def change(before: Sheet | None, after: Sheet, state: JobState) -> Change:
    """What changes from one plan to the other.

    Parameters
    ----------
    before : Sheet or None
        From the same state, had nothing differed.
    after : Sheet
    state : JobState
        As it was when the plan before was in force.
    """
    was, spent = before and total(before), spent_by(state, before or after)
    foreseen = {one.part for one in opened(before)} if before else set()
    return Change(
        before=was,
        after=total(after),
        spent=spent,
        new_steps=_besides(after, before),
        gone_steps=_besides(before, after) if before else (),
        opens=tuple(one for one in opened(after) if one.part not in foreseen),
        owed=tuple(one for one in after.due if before is None or one[0] not in dict(before.due)),
        consent=_consent(state, total(after), spent),
    )


def _besides(one: Sheet | None, other: Sheet | None) -> tuple[str, ...]:
    known = {step.id for step in other.steps} if other else set()
    return tuple(step.text for step in one.steps if step.id not in known)


def opened(sheet: Sheet) -> tuple[Opened, ...]:
    """The parts that a plan still opens, the targets themselves apart.

    Parameters
    ----------
    sheet : Sheet
    """
    minutes: dict[str, Fraction] = {}
    for step in sheet.moves(OUT):
        part = step.operation.part
        if part not in sheet.targets:
            minutes[part] = minutes.get(part, Fraction(0)) + step.way.minutes.likely
    return tuple(Opened(part, time) for part, time in minutes.items())


def _consent(state: JobState, after: Total, spent: Total | None) -> Consent | None:
    if state.cap is None or after.money is None:
        return None
    agreed = most_agreed(state)
    whole = after.money + (spent.money or 0 if spent else 0)
    return Consent(whole, exact(agreed)) if whole > exact(agreed) else None
