"""One whole job made, logged, and held against the audit; and many of them, counted by kind."""

from collections import Counter
from dataclasses import dataclass, field
from random import Random

from jobs.besides import add_besides
from jobs.described import demo_course, random_course
from jobs.omissions import OMISSIONS, leave_out
from jobs.scene import Record
from jobs.telling import Row, tell
from jobs.undescribed import undescribed_course
from putback.job.audit import audit, bars
from putback.job.fold import fold
from putback.job.points import Point

SORTS = {"demo": demo_course, "random": random_course, "undescribed": undescribed_course}


@dataclass
class Job:
    """A job as it was made: what was left out, and what was logged."""

    sort: str
    seed: int
    course: object
    records: list[Record]
    rows: list[Row]


@dataclass
class Outcome:
    """What the audit said of a job."""

    job: Job
    missed: list[Record]
    false: list[Point]


def make(sort: str, seed: int, omissions: int | None = None) -> Job:
    """A job of one sort; of three one is clean, the others have one to five omissions."""
    rng = Random(f"{sort} {seed}")
    course = SORTS[sort](rng)
    add_besides(course, rng)
    wanted = (0 if seed % 3 == 0 else rng.randint(1, 5)) if omissions is None else omissions
    records = leave_out(course, rng, wanted)
    return Job(sort, seed, course, records, tell(course, rng))


def outcome(job: Job) -> Outcome:
    """What is not named that was left out, and what bars the hand-over though nothing was."""
    points = [
        point for point in audit(fold(job.rows, job.course.area), job.course.area, job.course.shop) if bars(point)
    ]
    named = {(point.kind, point.item) for point in points}
    allowed = set().union(*(record.allowed for record in job.records))
    missed = [record for record in job.records if not all(one & named for one in record.must)]
    return Outcome(job, missed, [point for point in points if (point.kind, point.item) not in allowed])


@dataclass
class Tally:
    """Many jobs together."""

    jobs: Counter = field(default_factory=Counter)
    clean: int = 0
    events: int = 0
    planted: Counter = field(default_factory=Counter)
    missed: Counter = field(default_factory=Counter)
    failures: list[Outcome] = field(default_factory=list)
    false: int = 0

    def add(self, found: Outcome) -> None:
        """Count one job."""
        job = found.job
        self.jobs[job.sort] += 1
        self.clean += not job.records
        self.events += len(job.rows)
        self.planted.update(record.kind for record in job.records)
        self.missed.update(record.kind for record in found.missed)
        self.false += len(found.false)
        if found.missed or found.false:
            self.failures.append(found)

    def lines(self):
        """The table: each kind with how many were found of how many."""
        for kind in OMISSIONS:
            yield f"{kind:45} {self.planted[kind] - self.missed[kind]:6} of {self.planted[kind]:6}"
        total = self.planted.total()
        yield f"{'all':45} {total - self.missed.total():6} of {total:6}"
        sorts = ", ".join(f"{count} {sort}" for sort, count in self.jobs.items())
        jobs = f"{self.jobs.total()} jobs ({sorts}), {self.clean} of them clean, {self.events} events"
        yield f"{jobs}; false refusals: {self.false}"
        for found in self.failures[:20]:
            words = [f"missed {one.kind}: {one.item}" for one in found.missed] + [
                f"false: {one.text}" for one in found.false
            ]
            yield f"{found.job.sort} {found.job.seed}: {'; '.join(words)}"


def many(count: int, first: int = 0) -> Tally:
    """So many jobs, of the three sorts in turn."""
    tally, sorts = Tally(), list(SORTS)
    for number in range(count):
        tally.add(outcome(make(sorts[number % 3], first + number // 3)))
    return tally
