"""What the measuring of the pages rests on: a ledger full of jobs, and devices whose taps are all counted."""

from pathlib import Path

import pytest
from bench.web import fill, load, row

from putback.desk.view import look
from putback.job.ledger import open_ledger
from web_server import Device, serving


def test_a_row_tells_how_many_failed_and_how_long_the_others_took():
    """By hand: of 1 to 20 ms the middle is 10.5, and 95 in 100 took no longer than 20 (the 20th of 20)."""
    taps = [(float(n), True) for n in range(1, 21)] + [(0.0, False)]

    assert row(taps) == ["21", "1", "10.5", "20.0", "20.0"]


@pytest.mark.slow
def test_every_tap_of_a_load_is_in_the_ledger(tmp_path):
    """Four devices on two cars for two seconds; the jobs have gone as far as they should."""
    jobs = fill(Path(tmp_path), 4)
    with open_ledger(str(tmp_path / "ledger.db")) as ledger:
        before = [len(look(ledger, job).logged) for job in jobs]
        assert before[0] < before[3]
    with serving(tmp_path) as server, Device(server.address) as device:
        taps = load(server.address, jobs, 4, 2, whole_page=True)
        logged = [len(device.log(job)["events"]) for job in jobs]

    assert [good for _, good in taps] == [True] * 8
    assert [now - then for now, then in zip(logged, before, strict=True)] == [4, 4, 0, 0]
