"""`putback demo`: an invented job from the first step to the last, and again when the car differs."""

import pytest

from putback.cli import main


@pytest.fixture(scope="module")
def printed() -> str:
    """What the demo prints, once for all tests of this file."""
    import contextlib
    import io

    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        assert main(["demo"]) == 0
    return out.getvalue()


def test_it_says_first_that_everything_is_invented(printed):
    """Nobody shall put one of these torques on a real car."""
    assert printed.startswith("An invented car in an invented shop. No figure here may be used on a real car.\n\n")


def test_no_line_is_longer_than_80_columns(printed):
    """The terminal of a workshop computer."""
    assert [line for line in printed.splitlines() if len(line) > 80] == []


def test_the_job_is_planned_and_proved_both_times(printed):
    """733.27 for the whole job is the sum that tests/reference/test_demo_a.py works out."""
    assert printed.count("Proved: no other way and no other order costs less.") == 2
    assert "733.27, parts and labour, before tax" in printed


def test_when_the_car_differs_the_way_goes_on_from_there(printed):
    """By the wheel arch, without a step of what is off already, and as far as the alternator."""
    _, differs = printed.split("THE CAR DIFFERS")
    assert "way: the wheel arch, drive shaft out" in differs
    assert "undo the lower alternator bolt" not in differs
    assert "remove the alternator" in differs
    assert "refit" not in differs.replace("refit the wheel and lower", "")


def test_the_end_says_how_to_plan_ones_own_files(printed):
    """And where it stands how they are written."""
    assert printed.rstrip().splitlines()[-2:] == [
        "Plan with your own files: putback way AREA --shop SHOP",
        "docs/area-files.md and docs/shop-files.md tell how to write them.",
    ]


def test_there_is_nothing_to_say_to_it(capsys):
    """An argument is one too many, and that is said."""
    assert main(["demo", "more"]) == 2
    assert capsys.readouterr().err == "unrecognized arguments: more; see putback demo --help\n"
