"""The page on belt drives teaches what the program reads."""

import re

import pytest
import yaml
from jsonschema import Draft202012Validator

from putback.belt.judge import judge_route
from putback.belt.tables import table
from putback.drive_file import BELT, DRIVE, PULLEY, TENSIONER, read_drive
from putback.schema import schema


@pytest.fixture(scope="module")
def page(root) -> str:
    return (root / "docs" / "belt.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def example(page) -> str:
    return re.search(r"^```yaml drive\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)[1]


def test_the_drive_on_the_page_is_read(example):
    """Its route is right, and how it is laid is wrong for two reasons."""
    drive = read_drive(example, "drive.yaml")

    assert judge_route(drive, drive.route) == ()
    assert {"side", "rib off"} <= {one.code for one in judge_route(drive, drive.laid)}


def test_the_drive_on_the_page_follows_the_schema(example):
    """As an editor would check it."""
    Draft202012Validator(schema("drive")).validate(yaml.load(example, yaml.BaseLoader))


def test_every_key_is_taught(page, example):
    """In the table, and in the example."""
    keys = [*DRIVE.fields, *PULLEY.fields, *BELT.fields, *TENSIONER.fields]

    assert [key for key in keys if f"`{key}`" not in page] == []
    assert [key for key in keys if f"{key}:" not in example] == []


def test_the_limits_of_wrap_on_the_page_are_those_that_count(page):
    """As the table of the program has them."""
    limits = table("wrap-common-practice")
    told = [f"{limits[kind]['least']:.0f}°, {limits[kind]['usual']:.0f}°" for kind in ("driver", "driven", "idler")]

    assert [one for one in told if one not in page] == []


def test_every_code_is_taught(page, root):
    """Nobody has to read the source for what a finding means."""
    source = (root / "src" / "putback" / "belt" / "judge.py").read_text(encoding="utf-8")
    codes = set(re.findall(r'Finding\(\s*"([a-z ]+)"', source))

    assert len(codes) > 8
    assert [code for code in sorted(codes) if f"| {code} |" not in page] == []
