"""`putback check` and `putback schema`."""

import json
import re

import jsonschema
import pytest
import yaml
from area_samples import HEAD, PUMP, SHOP

from putback import demo
from putback.cli import main
from putback.schema import KINDS, schema, text


@pytest.fixture
def files(tmp_path, monkeypatch):
    """A folder with a sound area and a sound shop, which is the working folder."""
    (tmp_path / "area.yaml").write_text(HEAD + PUMP, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_clean_files_end_in_one_line(files, capsys):
    """And in exit status 0."""
    assert main(["check", "area.yaml", "--shop", "shop.yaml"]) == 0
    assert capsys.readouterr().out == "2 files checked, nothing wrong\n"


def test_findings_stand_one_to_a_line(files, capsys):
    """With file, line and column; exit status 1."""
    (files / "area.yaml").write_text((HEAD + PUMP).replace("22 N·m", "22 lb"), encoding="utf-8")

    assert main(["check", "area.yaml"]) == 1
    assert capsys.readouterr().out == (
        'area.yaml:15:19: torque "22 lb" has no clear unit; write "22 ft-lb" or "22 in-lb"\n'
    )


def test_a_file_that_is_not_there_is_told(files, capsys):
    """Exit status 2: the input cannot be used."""
    assert main(["check", "no.yaml"]) == 2
    assert capsys.readouterr().err == "no.yaml: there is no such file\n"


def test_a_huge_file_is_not_read_whole(files, capsys):
    """One sentence at once."""
    with (files / "huge.yaml").open("wb") as file:
        file.truncate(60_000_000)

    assert main(["check", "huge.yaml"]) == 1
    assert capsys.readouterr().out == "huge.yaml: the file is larger than 500 kB; no description needs that much\n"


@pytest.mark.parametrize("kind", KINDS)
def test_the_schema_is_printed_and_published(kind, root, capsys):
    """Both are the same; `putback schema KIND > schema/KIND.json` renews the published one."""
    assert main(["schema", kind]) == 0
    printed = capsys.readouterr().out

    assert printed == text(kind) == (root / "schema" / f"{kind}.json").read_text(encoding="utf-8")
    jsonschema.Draft202012Validator.check_schema(json.loads(printed))


class Core(yaml.SafeLoader):
    """YAML 1.2 core as other programs read it: numbers are numbers, `on` and `yes` are words."""

    yaml_implicit_resolvers: dict = {}  # noqa: RUF012


Core.add_implicit_resolver("tag:yaml.org,2002:int", re.compile(r"[-+]?[0-9]+$"), list("-+0123456789"))
Core.add_implicit_resolver("tag:yaml.org,2002:float", re.compile(r"[-+]?[0-9]+\.[0-9]+$"), list("-+0123456789"))


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        *(("area", f"demo-{letter}.yaml") for letter in "abcd"),
        ("shop", "demo-shop.yaml"),
        ("drive", "demo-a-drive.yaml"),
        ("state", "demo-a-mount-nut-seized.yaml"),
        ("state", "demo-d-hub-bolts-seized.yaml"),
    ],
)
def test_the_demo_files_follow_the_schema(kind, name):
    """By a validator of others."""
    jsonschema.validate(yaml.load(demo.text(name), Core), schema(kind))


def test_the_schema_knows_wrong_keys():
    """It is not so wide that everything fits."""
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(
            {"area": 1, "name": "x", "work from": {}, "targets": {}, "parts": {}, "colour": 1}, schema("area")
        )
