"""The page on quotes teaches what the program reads."""

import re

import pytest
import yaml
from jsonschema import Draft202012Validator

from putback import demo
from putback.area.area_file import read_area
from putback.area.shop_file import read_shop
from putback.estimate.quote import make_quote
from putback.estimate.terms import AGREED, TERMS, read_terms
from putback.estimate.to_order import MOVES, STATUSES
from putback.estimate.while_open import Open
from putback.quote_data import COLUMNS, beside_object, quote_object
from putback.schema import schema
from putback.way.plan import plan
from putback.way.task import make_task


@pytest.fixture(scope="module")
def page(root) -> str:
    return (root / "docs" / "quote.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def terms(page) -> str:
    return re.search(r"^```yaml terms\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)[1]


def test_the_terms_on_the_page_fit_the_demo(terms):
    """The latest agreement counts, and one mount nut is still on its way."""
    area, shop = read_area(demo.text("demo-a.yaml"), "a"), read_shop(demo.text("demo-shop.yaml"), "s")
    task = make_task(area, shop)
    quote = make_quote(task, plan(task), read_terms(terms, "terms.yaml"))

    assert (quote.consent.how, quote.billed.source, quote.bill.deposit) == ("in writing", "own time", 10000)
    assert {one.name: one.missing for one in quote.order}["left mount nuts"] == 1


def test_the_terms_on_the_page_follow_the_schema(terms):
    """As an editor would check them."""
    Draft202012Validator(schema("terms")).validate(yaml.load(terms, yaml.BaseLoader))


def test_every_key_of_the_json_and_column_of_the_csv_is_taught(page):
    """Nobody has to guess what a figure means."""
    task = make_task(read_area(demo.text("demo-d.yaml"), "d"), read_shop(demo.text("demo-shop.yaml"), "s"))
    quote = make_quote(task, plan(task))
    keys = [*quote_object(quote), *beside_object([], Open((), ())), *COLUMNS]

    assert [key for key in keys if f"`{key}`" not in page] == []


def test_every_key_and_status_is_taught(page):
    """In the tables of the page."""
    keys = [key for key in (*TERMS.fields, *AGREED.fields) if key != "terms"]

    assert [key for key in keys if f"`{key}`" not in page and f"`{key}`," not in page] == []
    assert [status for status in STATUSES if f"| {status} |" not in page] == []
    assert set(MOVES) == set(STATUSES)
