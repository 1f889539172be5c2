"""An area file that was edited while a job was open."""

import pytest
from desk_samples import Desk, file

from putback.desk.edited import edited_since

TEXT = file("demo-a.yaml").data.decode()


@pytest.fixture
def view(tmp_path):
    with Desk(tmp_path) as desk:
        desk.open("a")
        yield desk.look()


def test_an_unchanged_file_differs_in_nothing(view):
    """Nor does one in which only a remark was added."""
    assert edited_since(view, TEXT) == []
    assert edited_since(view, "# a remark\n" + TEXT) == []


@pytest.mark.parametrize(
    ("before", "after", "sentence"),
    [
        ("7 x M6x1.0x16", "8 x M6x1.0x16", "short tray screws: count 8"),
        ("14 mm, 43 N·m, left-hand", "14 mm, 45 N·m, left-hand", "idler bolt: torque 45 N·m"),
        ("14 mm, 43 N·m, left-hand", "14 mm, 43 N·m", "idler bolt: left-hand no"),
        ("2 x M14x1.5x112", "2 x M14x1.5", "front subframe bolts: thread M14x1.5"),
        ("6.80 each, front pair", "7.80 each, front pair", ""),  # a price is the quote's business
    ],
)
def test_counts_threads_and_torques_are_told(view, before, after, sentence):
    """Trap 76: what was edited since, and what the job goes on with."""
    told = edited_since(view, TEXT.replace(before, after))
    assert [one.partition(" in the file now, ")[0] for one in told] == ([sentence] if sentence else [])
    assert all(one.endswith(" in this job") for one in told)


def test_the_job_keeps_its_own(view):
    """Telling what differs changes nothing in the job."""
    edited_since(view, TEXT.replace("7 x M6x1.0x16", "8 x M6x1.0x16"))
    assert view.car.fastener("short tray screws").count == 7


def test_names_that_came_and_went_are_told(view):
    """A renamed plug is recognised by its name."""
    told = edited_since(view, TEXT.replace("airflow sensor plug", "air-flow sensor plug"))
    assert "airflow sensor plug: not in the file any more; is it called air-flow sensor plug now?" in told
    assert any(one.startswith("air-flow sensor plug: in the file now, not when the job began") for one in told)


def test_a_file_that_cannot_be_read_now_is_one_sentence(view):
    """With its first fault and the place of it."""
    told = edited_since(view, TEXT.replace("area: 1", "area: 1\nnonsense: 3"), "demo-a.yaml")
    assert len(told) == 1 and told[0].startswith("demo-a.yaml cannot be read as it is now")
    assert "demo-a.yaml:" in told[0][20:]
