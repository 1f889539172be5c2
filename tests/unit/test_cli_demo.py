"""`putback demo`: an invented job from the first step to the last, and again when the car differs."""

import pytest

from putback.cli import main


@pytest.fixture(scope="module")
def printed(tmp_path_factory) -> str:
    """What the demo prints, once for all tests of this file."""
    import contextlib
    import io

    out, folder = io.StringIO(), tmp_path_factory.mktemp("p")
    with contextlib.redirect_stdout(out), contextlib.chdir(folder):
        assert main(["demo", "--papers", "papers"]) == 0
        assert len(list((folder / "papers").glob("*.pdf"))) == 7
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
    differs = printed.split("THE CAR DIFFERS")[1].partition("THE JOB, AS")[0]
    assert "way: the wheel arch, drive shaft out" in differs
    assert "undo the lower alternator bolt" not in differs
    assert "remove the alternator" in differs
    assert "refit" not in differs.replace("refit the wheel and lower", "")


def test_the_quote_follows_the_plan(printed):
    """Before the car differs: its lines, its totals and how sure they are."""
    plan, _, rest = printed.partition("QUOTE: ALTERNATOR")
    quote = rest.partition("THE CAR DIFFERS")[0]

    assert "LAST" in plan
    assert "to pay                                                               879.92" in quote
    assert "95 of 100" in quote


def test_the_job_is_played_to_its_hand_over(printed):
    """With two differences and one refusal that names the bolt and the way back to it, as user story 5 has it."""
    _, played = printed.split("THE JOB, AS IT IS LOGGED")
    first, second, refused = (played.index(words) for words in ("FIRST DIFFERENCE", "SECOND DIFFERENCE", "REFUSED"))

    assert first < second < refused < played.index("handed over by technician 1 to the customer")
    assert "36 min off + 49 min on" in played[refused:]
    assert "STOP: alternator: control plug" in played


def test_the_end_says_how_to_plan_ones_own_files(printed):
    """And where it stands how they are written."""
    assert printed.rstrip().splitlines()[-2:] == [
        "With your own files: putback way (or putback quote) AREA --shop SHOP",
        "docs/area-files.md and docs/shop-files.md tell how to write them.",
    ]


@pytest.mark.parametrize(
    ("job", "whole", "differs"),
    [
        # The starter comes down past the exhaust, with all-wheel drive up between the banks.
        ("b", ["way: past the exhaust"], ["undo the 10 manifold bolts", "6 clean rags"]),
        # The blower comes out beside the glove box; without training through the cowl, or with one piece not at all.
        ("c", ["way: beside the glove box"], ["way: the cowl", "no safe way to the blower in demo shop", "certificate for airbags"]),
        # The bearing unit is unbolted; with seized bolts it goes to the bench.
        ("d", ["way: in the car"], ["workshop press >= 5000"]),
    ],
)  # fmt: skip
def test_other_jobs_are_shown_by_their_letter(job, whole, differs, capsys):
    """Each with what comes out when the car or the shop differs, proved and in 80 columns."""
    assert main(["demo", job]) == 0
    printed = capsys.readouterr().out
    before, _, after = printed.partition(" DIFFERS")

    assert [line for line in printed.splitlines() if len(line) > 80] == []
    assert before.startswith("An invented car in an invented shop.")
    assert printed.count("Proved: no other way and no other order costs less.") == 2
    assert [words for words in whole if words not in before] == []
    assert [words for words in differs if words not in " ".join(after.split())] == []


def test_a_job_that_is_not_there_is_refused(capsys):
    """With those that are."""
    assert main(["demo", "e"]) == 2
    assert capsys.readouterr().err == 'there is no demo "e"; there are: a, b, c, d\n'
