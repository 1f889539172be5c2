"""`putback suspects` as it is typed."""

import json

import pytest

from putback.cli import main


@pytest.fixture()
def readings(tmp_path):
    """A file of readings of a starter that draws nothing."""
    path = tmp_path / "readings.yaml"
    path.write_text("starter_a: 0\nturns: no\n", encoding="utf-8")
    return str(path)


def test_sentences_of_at_most_80_columns(readings, capsys):
    """The answer, what is possible, what to read next, what is missing."""
    assert main(["suspects", "--model", "starter", "--readings", readings]) == 0
    text = capsys.readouterr().out

    assert text.startswith("NOT YET: ")
    assert "READ NEXT" in text and "MISSING" in text and max(map(len, text.splitlines())) <= 80


def test_one_object_a_line(tmp_path, capsys):
    """In the order of the file; a single set is one line as well."""
    path = tmp_path / "many.yaml"
    path.write_text("- {rest_v: 12.6}\n- {rest_v: 12.5, cca_measured: 200, cca_rated: 640}\n" * 40, encoding="utf-8")
    assert main(["suspects", "--json", "--readings", str(path)]) == 0
    found = [json.loads(line) for line in capsys.readouterr().out.splitlines()]

    assert len(found) == 80
    assert found[1]["action"] == "battery" and found[1] == found[3]
    assert all(sum(one["posterior"].values()) == pytest.approx(1, abs=1e-4) for one in found)


def test_a_car_and_a_shop_may_be_named(root, capsys):
    """With an area the same verdicts, priced for this car and shop."""
    demo, shop = (str(root / "src/putback/demo" / name) for name in ("demo-a.yaml", "demo-shop.yaml"))
    words = ["suspects", "--json", "--readings", str(root / "docs/examples/alternator-readings.yaml")]
    assert main([*words, "--area", demo, "--shop", shop, "--target", "alternator"]) == 0
    found = [json.loads(line) for line in capsys.readouterr().out.splitlines()]

    assert [one["verdict"] for one in found] == ["go", "not this part", "not yet"]


def test_names_are_told_with_units_and_words(capsys):
    """As a list, and as one JSON object."""
    assert main(["suspects", "--names"]) == 0
    assert "crank_sound           how it cranks [normal / slow / click only]" in capsys.readouterr().out
    assert main(["suspects", "--names", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["rest_v"]["unit"] == "V"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "name what was read"),
        (["--readings", "nowhere.yaml"], "nowhere.yaml: there is no such file"),
        (["--model", "flux", "--names"], 'there is no model "flux"'),
        (["--readings", "READINGS", "--model", "starter", "--target", "horn"], 'has no action "horn"'),
        (["--readings", "READINGS", "--model", "starter", "--shop", "s.yaml"], "--shop is about a car"),
        (["--readings", "READINGS"], 'has no reading "starter_a"'),
    ],
)
def test_what_is_wrong_is_one_sentence(words, said, readings, capsys):
    """And an exit status of 2."""
    assert main(["suspects", *(readings if word == "READINGS" else word for word in words)]) == 2
    assert said in capsys.readouterr().err
