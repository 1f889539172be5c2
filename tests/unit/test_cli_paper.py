"""`putback paper`: what it writes, what it prints, and what it says when it cannot."""

import json

import pytest
from desk_samples import Desk, half_way_on_a
from log import DEMO
from paper_reading import text

from putback.cli import main

AREA = ("--area", str(DEMO / "demo-c.yaml"), "--shop", str(DEMO / "demo-shop.yaml"))


@pytest.fixture(scope="module")
def ledger(tmp_path_factory) -> str:
    """A ledger with demo A half done."""
    folder = tmp_path_factory.mktemp("cli")
    with Desk(folder) as desk:
        desk.open("a", name="alternator low")
        desk.plan()
        half_way_on_a(desk)
    return str(folder / "ledger.db")


def test_all_papers_go_into_a_folder_that_is_made(ledger, tmp_path, capsys):
    """Each with a plain name and its size; the command says where."""
    folder = tmp_path / "new" / "papers"
    assert main(["paper", "all", "--ledger", ledger, "-o", str(folder)]) == 0
    printed = capsys.readouterr().out.splitlines()
    names = sorted(file.name for file in folder.iterdir())
    assert len(names) == len(printed) == 7
    assert names[0] == "alternator-low-estimate.pdf"
    assert all(str(folder) in line and line.endswith(" kB") for line in printed)


def test_a_job_is_meant_by_its_name(ledger, tmp_path):
    """As everywhere; what stood under that name before is written over whole."""
    file = tmp_path / "tag.pdf"
    file.write_bytes(b"old")
    assert main(["paper", "tag", "alternator", "--ledger", ledger, "-o", str(file), "--sheet", "letter"]) == 0
    assert "DO NOT START" in text(file.read_bytes())


def test_json_and_csv_are_printed(ledger, capsys):
    """The same labels in both."""
    assert main(["paper", "labels", "--ledger", ledger, "--json"]) == 0
    labels = json.loads(capsys.readouterr().out)["labels"]
    assert main(["paper", "labels", "--ledger", ledger, "--csv"]) == 0
    rows = capsys.readouterr().out.split("\r\n")
    assert len([row for row in rows if row.startswith("labels,")]) == len(labels)


@pytest.mark.parametrize("kind", ["estimate", "job-sheet", "lay-out", "labels"])
def test_a_plan_is_printed_before_there_is_a_job(kind, tmp_path):
    """From an area and a shop alone."""
    file = tmp_path / f"{kind}.pdf"
    assert main(["paper", kind, *AREA, "-o", str(file)]) == 0
    assert file.read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["estimate"], "say where the paper goes"),
        (["all", "--json"], "all papers go into a folder"),
        (["poster", "-o", "x.pdf"], 'there is no paper "poster"; there are: estimate, job-sheet'),
        (["tag", *AREA, "-o", "x.pdf"], "--area stands in place of a job"),
        (["tag", "-o", "/nowhere/x.pdf"], "/nowhere/x.pdf: cannot be written"),
        (["all", "-o", "/dev/null/x"], "/dev/null/x: this cannot be a folder"),
        (["tag", "-o", "x.pdf", "--language", "xx"], 'there are no papers in "xx"; there are: en'),
        (["tag", "other", "-o", "x.pdf"], 'there is no job "other"'),
    ],
)
def test_what_cannot_be_done_is_one_sentence(ledger, words, sentence, capsys, tmp_path, monkeypatch):
    """And the exit status says that the input was at fault."""
    monkeypatch.chdir(tmp_path)
    assert main(["paper", *words, "--ledger", ledger]) == 2
    told = capsys.readouterr().err
    assert sentence in told and told.count("\n") == 1
