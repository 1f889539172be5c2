"""`putback quote`: on a terminal, as JSON, as CSV, and what it says where something is missing."""

import csv
import io
import json
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from area_samples import HEAD, SHOP
from quote_samples import RICH, SUBLETS

from putback.cli import main
from putback.estimate.while_open import Besides, Open
from putback.quote_text import while_open_lines

AREA = HEAD.replace("100.00}", "100.00, core deposit: 20.00}") + RICH


@pytest.fixture
def files(tmp_path):
    """An area, a shop and terms on disk; a function that runs the command on them."""
    (tmp_path / "area.yaml").write_text(AREA, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(SHOP + SUBLETS + "tax: 20 %\nrust: usual\n", encoding="utf-8")

    def run(*words: str, shop: str = "shop.yaml", terms: str | None = None) -> int:
        given = ["--shop", str(tmp_path / shop)] if shop else []
        if terms is not None:
            (tmp_path / "terms.yaml").write_text("terms: 1\n" + terms, encoding="utf-8")
            given += ["--terms", str(tmp_path / "terms.yaml")]
        return main(["quote", str(tmp_path / "area.yaml"), *given, *words])

    run.folder = tmp_path
    return run


def test_it_prints_all_of_it_in_80_columns(files, capsys):
    """Costs, spread, risks, the list, what is not covered, what else, and the ways."""
    assert files() == 0
    printed = capsys.readouterr().out.splitlines()
    headings = [line.split("  ")[0] for line in printed if line and line == line.lstrip() and line.split("  ")[0].isupper()]

    assert [line for line in printed if len(line) > 80] == []
    assert headings == [
        "QUOTE: PUMP", "WHAT IT COSTS", "HOW SURE THAT IS", "NAMED RISKS, IF THEY COME", "TO ORDER BEFORE THE CAR IS OPENED",
        "NOT IN THIS QUOTE", "WHILE IT IS OPEN", "WAYS SIDE BY SIDE",
    ]  # fmt: skip


def test_what_has_no_price_is_said_to_be_in_no_total(files, capsys):
    """The bolts are listed all the same."""
    files("--short")
    printed = " ".join(capsys.readouterr().out.split())

    assert "2 x pump bolts, M8x30 bolt, class 8.8 not known" in printed
    assert "pump bolts: the price is not known, and is in no total" in printed


def test_the_shown_lines_add_up_everywhere(files, capsys):
    """On the terminal, in JSON and in CSV the lines make the same total, tax is a fifth of it."""
    assert files("--json", "--short") == 0
    told = json.loads(capsys.readouterr().out)
    assert files("--csv") == 0
    text = capsys.readouterr().out
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert files("--short") == 0
    printed = capsys.readouterr().out.splitlines()

    by_csv = sum(Decimal(row["money"]) for row in rows if row["section"] == "line" and row["money"])
    by_json = sum(Decimal(str(line["money"])) for line in told["lines"] if line["money"] is not None)
    shown = printed[printed.index("WHAT IT COSTS") + 1 : printed.index(next(line for line in printed if line.endswith("---")))]
    by_text = sum(Decimal(line.split()[-1]) for line in shown if line.split()[-1] != "known")
    totals = {row["name"]: Decimal(row["money"]) for row in rows if row["section"] == "total"}

    assert by_csv == by_json == by_text == totals["before tax"] == Decimal(str(told["before_tax"]))
    assert totals["to pay"] == totals["before tax"] + totals["tax"] == Decimal(str(told["to_pay"]))
    assert text.endswith("\r\n") and text.count("\r\n") == len(rows) + 1


def test_csv_keeps_whatever_a_name_holds(files, capsys):
    """Commas and quotation marks stand within quotation marks (RFC 4180, section 2, rules 6 and 7)."""
    path = files.folder / "area.yaml"
    path.write_text(AREA.replace("is: gear pump", "is: 'gear pump, 1/2\" ports'"), encoding="utf-8")
    files("--csv")
    text = capsys.readouterr().out

    assert 'line,parts,pump,"gear pump, 1/2"" ports",1,,100.00,\r\n' in text


def test_json_holds_the_whole_quote(files, capsys):
    """Time, the list with its status, what is agreed, the other parts and the ways."""
    assert files("--json", terms="agreed: {most: 200.00, by: the owner, at: 2026-11-25 09:10, how: by phone}\nparts: {pump: here}\n") == 0
    told = json.loads(capsys.readouterr().out)

    assert told["agreed"]["by"] == "the owner"
    assert told["agreed"]["left"] == pytest.approx(200 - told["before_tax"])
    assert {one["name"]: one["status"] for one in told["to_order"]}["pump"] == "here"
    assert (told["all_here"], told["core_deposit"]) == (False, 20.0)
    assert [one["jobs"] for one in told["of_100"]] == [50, 80, 95]
    assert told["least"]["minutes"] < told["likely"]["minutes"] < told["time"]["planned"] < told["most"]["minutes"]
    assert told["least"]["before_tax"] < told["most"]["before_tax"]
    assert [one["name"] for one in told["ways"]] == ["as planned"]
    assert {one["name"] for one in told["while_open"]} >= {"hose"}


def test_without_a_shop_it_is_a_clean_car_in_a_full_shop(files, capsys):
    """No labour then, and nothing is seized; it is said."""
    assert files("--short", shop="") == 0
    printed = " ".join(capsys.readouterr().out.split())

    assert "Clean car, full shop: neither the car's rust nor the shop's equipment is given." in printed
    assert "labour: no shop is given that says what an hour costs" in printed
    assert "NAMED RISKS" not in printed


@pytest.mark.parametrize(
    ("without", "said"),
    [
        (("rust: usual\n",), "Clean car: its rust is not given"),
        (("equipment: {two-post lift: 1}\n", "tools:\n  sockets: 6-32 mm\n"), "Full shop: its equipment is not given"),
        (("equipment: {two-post lift: 1}\n",), None),
    ],
)
def test_what_nobody_has_said_is_taken_for_granted_aloud(files, capsys, without, said):
    """Rust, or all equipment and tools; a shop that lists some things is taken at its word."""
    path = files.folder / "shop.yaml"
    text = path.read_text(encoding="utf-8")
    for lines in without:
        assert lines in text
        text = text.replace(lines, "")
    path.write_text(text, encoding="utf-8")
    files("--short")
    printed = capsys.readouterr().out

    assert said in printed if said else "not given" not in printed


def test_rust_on_the_command_line_is_rust_that_is_given(files, capsys):
    """Twice as likely when heavy."""
    path = files.folder / "shop.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("rust: usual\n", ""), encoding="utf-8")
    files("--short", "--rust", "heavy")
    printed = capsys.readouterr().out

    assert "Clean car" not in printed
    assert "bolt shears, 40 in 100" in printed


def test_hours_and_cap_may_stand_on_the_command_line(files, capsys):
    """A number alone is hours; above the cap somebody must agree."""
    files("--short", "--hours", "2", "--cap", "10.00")
    printed = " ".join(capsys.readouterr().out.split())

    assert "labour, as billed, 2 h at 60.00 per hour 120.00" in printed
    assert "at most 10.00 before tax" in printed
    assert "above that: somebody must agree before the work begins" in printed


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("pomp",), 'there is no "pomp" in sample'),
        (("--hours", "soon"), '"soon" is no time; write it as "4.5 h" or "270 min", and behind a comma where it is from'),
        (("--cap", "-5"), '"-5" is no amount of money; write "760.00 before tax" or "912.00 with tax"'),
        (("--terms", "gone.yaml"), "gone.yaml: there is no such file"),
        (("--json", "--csv"), "argument --csv: not allowed with argument --json; see putback quote --help"),
        (("--seconds", "0"), "--seconds 0: give a time above 0"),
    ],
)  # fmt: skip
def test_what_cannot_be_used_ends_in_one_sentence(files, capsys, words, message):
    """On the standard error stream, with exit status 2."""
    assert files(*words) == 2
    shown = capsys.readouterr().err

    assert shown.startswith(message)
    assert shown.count("\n") == 1


def test_an_area_is_asked_for(capsys):
    """By its file."""
    assert main(["quote"]) == 2
    assert capsys.readouterr().err == "name an area file, as in: putback quote my-area.yaml --shop my-shop.yaml\n"


def test_cap_and_terms_do_not_speak_at_once(files, capsys):
    """Only one of them says what was agreed."""
    assert files("--cap", "10.00", terms="agreed: {most: 5, by: me, at: 2026-11-25 09:10, how: by phone}\n") == 2
    assert capsys.readouterr().err == "--cap says what the terms file says under agreed; leave one of them out\n"


def test_where_there_is_no_way_there_is_no_quote(files, capsys):
    """An honest no, with what would open a way."""
    assert files("--without", "13 mm socket") == 1
    assert "a way would open with" in capsys.readouterr().err


def test_the_same_job_gives_the_same_quote(files, capsys):
    """To the byte."""
    files("--short")
    first = capsys.readouterr().out
    files("--short")

    assert capsys.readouterr().out == first


def test_minutes_that_another_way_saves_stand_below_nought():
    """Minus a half is not minus one and a half."""
    one = Besides("hose", Fraction("-0.5"), 1200, None, False, True, True, "the top")
    printed = list(while_open_lines(Open((replace(one, alone=(Fraction(19), 2700)),), ("guard",))))
    assert printed[2].split() == ["hose", "12.00", "-0.5", "27.00", "19.0"]
    assert printed[3:] == ["       another way then: the top", "     no time was left to look at: guard"]
