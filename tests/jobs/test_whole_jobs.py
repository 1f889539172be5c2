"""A sample of whole jobs with omissions; `scripts/try-jobs` runs thousands."""

from random import Random

import pytest
from log import DEMO, Row

from jobs.besides import add_besides
from jobs.hand_over import SORTS, Job, make, outcome
from jobs.omissions import OMISSIONS
from jobs.scene import Scene
from jobs.telling import JOB, tell
from putback.desk.view import look
from putback.job.audit import audit, bars
from putback.job.events import from_json, to_json
from putback.job.fold import fold
from putback.job.ledger import open_ledger


@pytest.mark.parametrize("sort", SORTS)
def test_every_omission_is_named_and_nothing_else(sort):
    """One job in three is clean and must be let go; of the others each omission bars the hand-over by its name."""
    for seed in range(15):
        found = outcome(make(sort, seed))
        assert not found.missed, f"{sort} {seed}"
        assert not found.false, f"{sort} {seed}"


@pytest.mark.parametrize("kind", OMISSIONS)
def test_each_kind_of_omission_is_named_where_it_stands_alone(kind):
    """In the first job that has something for it, whatever else happens on that job."""
    job = next(job for seed in range(60) for sort in SORTS if (job := _with(kind, sort, seed)))
    found = outcome(job)
    assert not found.missed and not found.false


def _with(kind: str, sort: str, seed: int) -> Job | None:
    rng = Random(f"{kind} {sort} {seed}")
    course = SORTS[sort](rng)
    add_besides(course, rng)
    record = OMISSIONS[kind](Scene(course, rng))
    if record is None:
        return None
    record.kind = kind
    return Job(sort, seed, course, [record], tell(course, rng))


@pytest.mark.parametrize("sort", ["demo", "undescribed"])
def test_a_ledger_makes_no_difference(sort, tmp_path):
    """Appended in pieces, some of them sent twice, and read again: the same state, and the same stands open."""
    for seed in range(4):
        job, rng = make(sort, seed), Random(seed)
        with open_ledger(str(tmp_path / f"{seed}.ledger")) as ledger:
            _freeze(ledger, job.course)
            job.rows = tell(job.course, rng)
            _send(ledger, [row.event for row in job.rows], rng)
            view = look(ledger, JOB)
            assert ledger.verify(JOB) is None
        rows = [Row(number, from_json(to_json(row.event))) for number, row in enumerate(job.rows, 1)]
        folded = fold(rows, job.course.area)

        assert repr(view.state) == repr(folded)
        assert view.points == audit(folded, job.course.area, job.course.shop)
        assert any(map(bars, view.points)) is bool(job.records)


def _freeze(ledger, course) -> None:
    """Files go into the ledger, and the events name them by their content."""
    for act in course.acts:
        if act.kind == "plan made":
            act.data["plan"] = ledger.put_file(b"{}")
    if course.area:
        area, shop = DEMO / course.area.file, DEMO / "demo-shop.yaml"
        course.opened |= {"area": ledger.put_file(area.read_bytes()), "area file": area.name}
        course.opened |= {"shop": ledger.put_file(shop.read_bytes()), "shop file": shop.name}


def _send(ledger, events: list, rng: Random) -> None:
    begin = 0
    while begin < len(events):
        end = begin + rng.randint(1, 9)
        ledger.append(events[max(0, begin - rng.randint(0, 3)) : end])
        begin = end
