"""Two devices on one car: each sees what the other logs, and neither overwrites anything."""

import time

import pytest
from web_server import Device

pytestmark = pytest.mark.slow


@pytest.fixture
def pair(server, phones):
    """Two phones of two people on demo A."""
    with Device(server.address) as other:
        job = other.open("alternator", area="demo-a.yaml", shop="demo-shop.yaml", complaint="lamp on")
    return phones.open(server.address, job), phones.open(server.address, job, person="technician 2")


def test_each_sees_the_work_of_the_other_within_two_seconds(pair):
    """Both ways, while both are connected."""
    for one, other in (pair, pair[::-1]):
        one.all_sent()
        one.done()
        begun = time.monotonic()
        other.until(lambda one=one, other=other: other.step == one.step, "the other follows", 5)
        assert time.monotonic() - begun < 2.0


def test_what_one_logged_without_a_connection_is_laid_over_what_the_other_did(server, pair):
    """Both worked on; when the connection is back all of it stands in the log, and both show the same step."""
    one, other = pair
    one.all_sent()
    one.context.set_offline(True)
    steps = [one.step for _ in range(3) if one.done() is None]
    other.done()
    other.all_sent()
    one.until(lambda: "no connection" in one.sent, "off")
    assert one.step not in steps[:2]
    one.context.set_offline(False)
    one.all_sent()
    other.until(lambda: other.step == one.step, "the same step", 5)
    with Device(server.address) as third:
        rows = third.log(one.job)["events"]

    assert {row["person"] for row in rows} >= {"technician 1", "technician 2"}
    assert len({row["id"] for row in rows}) == len(rows)
