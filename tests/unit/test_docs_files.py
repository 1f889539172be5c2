"""The pages on area and shop files teach what the program reads."""

import re

import pytest
import yaml

from putback import check
from putback.area import area_shapes
from putback.area.area_file import read_area
from putback.area.fastener import FLAGS, PATTERNS
from putback.area.hazards import hazards
from putback.area.shape import Either, Names, NamesOrList, Record, Several
from putback.area.shop_file import SHOP
from putback.area.state_file import STATE, read_state
from putback.way.from_area import core_problem


def blocks(page: str, mark: str) -> list[str]:
    """The blocks of a page with a mark."""
    return re.findall(rf"^```yaml {mark}\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)


@pytest.fixture(scope="module")
def page(root) -> str:
    return (root / "docs" / "area-files.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def shop_page(root) -> str:
    return (root / "docs" / "shop-files.md").read_text(encoding="utf-8")


def stages(page: str) -> list[str]:
    """The growing example: each piece added to those above it."""
    grown: dict = {}
    texts = []
    for block in blocks(page, "stage"):
        _add(grown, yaml.load(block, yaml.BaseLoader))
        texts.append(yaml.safe_dump(grown, allow_unicode=True, sort_keys=False))
    return texts


def _add(grown: dict, piece: dict) -> None:
    for key, value in piece.items():
        if isinstance(value, dict) and isinstance(grown.get(key), dict):
            _add(grown[key], value)
        else:
            grown[key] = value


def test_every_stage_of_the_example_is_clean(page):
    """Each of them is a file of its own."""
    texts = stages(page)

    assert len(texts) >= 6
    for text in texts:
        assert check.check_area(text, "stage.yaml")[1] == []


def test_the_whole_example_can_be_planned_in_the_shop_of_the_other_page(page, shop_page):
    """Either way out of the horn exists there."""
    area = read_area(stages(page)[-1], "stage.yaml")
    shop, findings = check.check_shop(blocks(shop_page, "shop")[0], "shop.yaml")
    translated = core_problem(area, shop)

    assert findings == []
    assert len(translated.operations["horn: remove"].ways) == 2


def test_the_job_under_way_fits_the_example(page):
    """And is a state of it."""
    area = read_area(stages(page)[-1], "stage.yaml")

    assert read_state(blocks(page, "state")[0], "state.yaml", area).tool == "T25 bit"


def keys(shape, seen=None) -> set[str]:
    """Every key of a form, however deep."""
    seen = set() if seen is None else seen
    match shape:
        case Record() if id(shape) not in seen:
            seen.add(id(shape))
            return set(shape.fields).union(*(keys(field, seen) for field in shape.fields.values()))
        case Either():
            return keys(shape.word, seen) | keys(shape.other, seen)
        case Names() | NamesOrList() | Several():
            return keys(shape.shape, seen)
    return set()


def _told(page: str, words) -> list[str]:
    """The words that a page does not have."""
    return [word for word in words if not re.search(rf"(^|[\s`{{]){re.escape(word)}(:|`|,|\s)", page, re.MULTILINE)]


@pytest.mark.parametrize("words", [FLAGS, PATTERNS[:3], hazards()], ids=["flags", "patterns", "hazards"])
def test_every_word_is_taught(page, words):
    """Flags, patterns and hazard tags stand on the page."""
    assert _told(page, words) == []


def test_every_key_is_taught(page, shop_page):
    """Nobody has to read the schema to find one."""
    assert _told(page, sorted(keys(area_shapes.AREA) | keys(STATE))) == []
    assert _told(shop_page, sorted(keys(SHOP))) == []
