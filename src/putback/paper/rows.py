"""The values of a paper as rows: one section after another, one column for each name that occurs."""

import csv
import io
from collections.abc import Iterator, Mapping
from typing import Any

SECTION, TEXT = "section", "text"
_RISKY = ("=", "+", "-", "@", "\t")


def paper_csv(data: Mapping[str, Any]) -> str:
    """All values as CSV; each row ends in CR LF, the first names the columns.

    Parameters
    ----------
    data : mapping
        As `putback.paper.kinds.made` gives it. Values that stand alone make up one row, `about`; lists within a row are
        joined. A text that a spreadsheet would take for a formula gets an apostrophe ahead.

    References
    ----------
    .. [1] RFC 4180, section 2.
    """
    rows = list(_rows(data))
    columns = list(dict.fromkeys([SECTION, *(name for row in rows for name in row)]))
    text = io.StringIO(newline="")
    table = csv.DictWriter(text, columns, restval="", lineterminator="\r\n")
    table.writeheader()
    table.writerows({name: _safe(value) for name, value in row.items()} for row in rows)
    return text.getvalue()


def _rows(data: Mapping[str, Any]) -> Iterator[dict]:
    alone = {name: value for name, value in data.items() if not isinstance(value, list | dict)}
    yield {SECTION: "about"} | alone
    for name, value in data.items():
        if isinstance(value, dict):
            yield {SECTION: name} | {key: _cell(one) for key, one in value.items()}
        elif isinstance(value, list):
            yield from ({SECTION: name} | row for one in value for row in _inner(one))


def _inner(one: Any) -> Iterator[dict]:
    """The rows of one entry; a list of mappings inside it makes a row of each, with the rest in front."""
    if not isinstance(one, dict):
        yield {TEXT: _cell(one)}
        return
    nested = next((name for name, value in one.items() if _is_table(value)), None)
    rest = {name: _cell(value) for name, value in one.items() if name != nested}
    if nested is None:
        yield rest
        return
    yield from (rest | row for each in one[nested] for row in _inner(each))


def _is_table(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def _cell(value: Any) -> Any:
    if isinstance(value, list):
        return "; ".join(str(_cell(one)) for one in value)
    if isinstance(value, dict):
        return "; ".join(f"{name}: {_cell(one)}" for name, one in value.items())
    return value


def _safe(value: Any) -> Any:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if value is None or is_number:
        return "" if value is None else value
    text = {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)
    return f"'{text}" if text.startswith(_RISKY) else text
