"""The ledger against a plain model of it, for any batches; and any change of a row shows."""

import sqlite3
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ledger_samples import JOB, OTHER, event, opened

from putback.errors import InputError, PutbackError
from putback.job.events import to_json
from putback.job.ledger import open_ledger

# Few ids, jobs and contents, so that the same id often comes again, as it was or otherwise.
EVENTS = st.builds(
    lambda number, job, at, x: opened(number, job, at=at) if x is None else event(number, job, at=at, x=x),
    st.integers(1, 12), st.sampled_from([JOB, OTHER]), st.integers(0, 1), st.sampled_from([None, 1, 1.0]),
)  # fmt: skip
BATCHES = st.lists(st.lists(EVENTS, max_size=5), max_size=6)


class Model:
    """What a ledger should hold, in plain lists."""

    def __init__(self):
        self.logs = {JOB: [], OTHER: []}

    def append(self, batch) -> list[int] | None:
        """The numbers that the events get; None where the batch must be refused."""
        logs = {job: list(log) for job, log in self.logs.items()}
        numbers = [self._number(logs, one) for one in batch]
        if None in numbers:
            return None
        self.logs = logs
        return numbers

    def _number(self, logs, one) -> int | None:
        before = [old for log in logs.values() for old in log if old.id == one.id]
        if not before:
            logs[one.job].append(one)
        elif to_json(before[0]) != to_json(one):
            return None
        return next(n for n, old in enumerate(logs[one.job], 1) if old.id == one.id)


@settings(max_examples=60)
@given(BATCHES)
def test_a_ledger_holds_what_a_plain_list_would(batches):
    """Numbers, refusals of whole batches, logs, chains, and which jobs are listed with how many events."""
    model = Model()
    with tempfile.TemporaryDirectory() as folder, open_ledger(f"{folder}/ledger.db") as ledger:
        for batch in batches:
            expected = model.append(batch)
            if expected is None:
                with pytest.raises(InputError, match="with other content"):
                    ledger.append(batch)
            else:
                assert [one.number for one in ledger.append(batch)] == expected
        for job, log in model.logs.items():
            assert [one.event for one in ledger.events(job)] == log
            assert ledger.verify(job) is None
        listed = {row.id: row.last_number for row in ledger.jobs()}
        assert listed == {job: len(log) for job, log in model.logs.items() if log}


@pytest.fixture(scope="module")
def kept() -> Path:
    """A file with a log of five events."""
    with tempfile.TemporaryDirectory() as folder:
        with open_ledger(f"{folder}/ledger.db") as ledger:
            ledger.append([opened(1), *(event(n, x=[1.5, "Öl"]) for n in range(2, 6))])
        yield Path(folder, "ledger.db")


@given(st.integers(1, 5), st.sampled_from(["content", "hash", "id", "job"]), st.integers(0), st.characters(codec="utf-8"))
def test_any_other_sign_in_a_row_shows(kept, number, column, at, sign):
    """The number of that very event is told; reading ends well or in one sentence."""
    with sqlite3.connect(kept) as connection:
        text = connection.execute(f"SELECT {column} FROM ledger_events WHERE number = ?", [number]).fetchone()[0]
        at %= len(text)
        changed = text[:at] + sign + text[at + 1 :]
        connection.execute(f"UPDATE ledger_events SET {column} = ? WHERE number = ?", [changed, number])
    try:
        with open_ledger(str(kept), create=False) as ledger:
            assert ledger.verify(JOB) == (None if changed == text else number)
            assert readable(ledger) in (4, 5, None)
    finally:
        with connection:
            connection.execute(f"UPDATE ledger_events SET {column} = ? WHERE number = ?", [text, number])
        connection.close()


def readable(ledger) -> int | None:
    try:
        return len(ledger.events(JOB))
    except PutbackError:
        return None
