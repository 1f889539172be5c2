"""The page on suspects teaches what the program reads."""

import json
import re

import pytest

from putback.charging.quantities import QUANTITIES
from putback.cli import main
from putback.models import answer, load
from putback.models.model_file import MODEL, RULE, TEST, read_model


@pytest.fixture(scope="module")
def page(root) -> str:
    return (root / "docs" / "suspects.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def example(page) -> str:
    return re.search(r"^```yaml model\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)[1]


def test_the_model_on_the_page_is_read_and_weighs(example):
    """Voltage and a fine ground condemn the horn; no voltage clears it."""
    form = read_model(example, "horn.yaml")

    assert answer(form, {"plug_v": 12.4, "ground_drop_v": 0.02}).verdict == "go"
    assert answer(form, {"plug_v": 0.1}).action == "feed"


def test_every_key_of_a_model_is_taught(page):
    """In the tables below the example, or in it."""
    keys = [*MODEL.fields, *TEST.fields, *RULE.fields]
    assert [key for key in keys if f"`{key}`" not in page and f"{key}:" not in page] == []


def test_every_quantity_is_named(page):
    """On lines that may break within a name."""
    text = " ".join(page.split())
    assert [name for name in QUANTITIES if f"`{name}`" not in text] == []


def test_the_keys_of_an_answer_are_those_of_the_page(page, root, capsys):
    """As printed with --json, one object a line."""
    assert main(["suspects", "--json", "--readings", str(root / "docs" / "examples" / "alternator-readings.yaml")]) == 0
    printed = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    table = page.split("Each object has these keys.")[1].split("##")[0]

    assert len(printed) == 3
    assert [*printed[0]] == re.findall(r"^\| `(\w+)` \|", table, re.MULTILINE)


@pytest.mark.parametrize(
    ("reading", "quantity", "proof"),
    [
        ("ripple_mv_2000", (75, 130), (float("-inf"), 90)),
        ("positive_drop_v", (4, 7), (float("-inf"), 0.20)),
        ("stud_v_2000_loaded", (-0.75, -0.3, 0.4), (-0.2, 0.3)),
    ],
)
def test_limits_for_suspicion_and_for_proof_are_those_of_the_page(reading, quantity, proof):
    """The model has both, and they differ."""
    form = load("charging")
    test = next(one for one in form.tests.values() if one.asks == (reading,))
    limit = next(one for one in form.limits if one.reading == reading)

    assert set(quantity) <= {*test.rules[0].limits}
    assert (limit.low, limit.high) == proof
