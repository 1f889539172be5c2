"""The API gives the same JSON as the command line."""

import json

import pytest
from desk_samples import Desk, half_way_on_a
from web_samples import Web, areas_folder

from putback.cli import main


@pytest.fixture(scope="module")
def web(tmp_path_factory):
    """A job on demo A that stands half way."""
    folder = tmp_path_factory.mktemp("same")
    with Desk(folder) as desk:
        desk.open("a", vehicle="AB 1234")
        desk.plan()
        half_way_on_a(desk)
        yield Web(desk, areas_folder(folder))


@pytest.mark.parametrize(
    ("words", "path"),
    [
        (["list"], "/api/jobs"),
        (["show"], "/api/jobs/JOB"),
        (["log"], "/api/jobs/JOB/events"),
        (["audit", "--fast"], "/api/jobs/JOB/points?fast=1"),
        (["safe", "--rolled"], "/api/jobs/JOB/safe?rolled=1"),
        (["whose", "M10"], "/api/jobs/JOB/whose?seen=M10"),
        (["record"], "/api/jobs/JOB/record"),
        (["history", "1234"], "/api/history?vehicle=1234"),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else "",
)
def test_a_call_gives_what_the_word_of_the_same_name_prints(web, capsys, words, path):
    """Value for value; that the order of an object's names differs means nothing in JSON (RFC 8259)."""
    main(["job", *words, "--ledger", web.desk.ledger.place, "--json"])

    assert web.get(path.replace("JOB", web.desk.job)).json() == json.loads(capsys.readouterr().out)
