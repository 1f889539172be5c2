"""A job is opened with what it was told that day."""

import pytest
from desk_samples import Desk, File, file

from putback.errors import InputError, PutbackError


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        yield desk


def test_a_job_keeps_the_files_that_it_was_opened_with(desk):
    """Trap 76: they are in the ledger, byte for byte, under their hashes."""
    desk.open("a", vehicle="demo car A", cap=76000.0)
    view = desk.look()

    assert desk.ledger.file(view.state.area_file) == file("demo-a.yaml").data
    assert view.state.files == {"area": "demo-a.yaml", "shop": "demo-shop.yaml"}
    assert view.state.targets == ("alternator",) and view.state.cap == 76000
    assert view.car.items["belt"].kind == "belt"


def test_a_car_that_nobody_described_is_opened_as_well(desk):
    """There is then no plan to be had, and a sentence says what leads the way back."""
    desk.open(name="old tractor")
    view = desk.look()
    assert view.area is None and view.plan is None and view.points == []


def test_an_area_without_a_shop_is_refused(desk):
    """A plan takes both."""
    with pytest.raises(InputError, match="with neither"):
        desk.open(area=file("demo-a.yaml"))


def test_wrong_names_are_refused_before_anything_is_logged(desk):
    """A slip in a target or a variant must not become a job."""
    with pytest.raises(PutbackError, match="alternater"):
        desk.open("a", targets=["alternater"])
    with pytest.raises(PutbackError, match="no variant"):
        desk.open("b", variants=["four-wheel"])
    with pytest.raises(PutbackError, match="area.yaml"):
        desk.open(area=File("area.yaml", b"area: 1\nnme: x\n"), shop=file("demo-shop.yaml"))
    assert desk.ledger.jobs() == []
