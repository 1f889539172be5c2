"""Records of recorders as files: columns of time, volts and, where there are, amps, in whatever dress.

Columns are parted by comma, semicolon, tab, bar or blanks; numbers have a point or a comma; names, units and remarks
may stand above them; the file may be packed by gzip. Most files are read in one go; only odd ones line by line.
"""

import re
import warnings
import zlib
from dataclasses import dataclass, replace

import numpy as np

from putback.charging.record import Record, make_record
from putback.errors import InputError

LARGEST = 256_000_000  # bytes of text, packed or not
MOST_ROWS = 5_000_000
_HEAD = 400  # lines looked at to find the columns
_LONGEST_LINE = 4_000  # characters
_MARKS = re.compile(rb"(?i)[-+]?(nan|inf(inity)?|ol|o\.l\.?|over|overflow|overrange|n/?a|null|none|-+|\xe2\x88\x9e)?")
_REMARK = re.compile(rb"\s*(#|%|//)\s*")
_POINT = re.compile(rb"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d{1,4})?")
_CLOCK = re.compile(rb"(?:\d{4}-\d\d-\d\d[T ])?(\d{1,2}):(\d\d):(\d\d(?:\.\d*)?)")
# In the order tried: where several fit alike, the first counts.
_DRESSES = ((b"\t", b"."), (b"\t", b","), (b";", b"."), (b";", b","), (b",", b"."), (b"|", b"."), (b"|", b","),
            (None, b"."), (None, b","))  # fmt: skip
_SCALES = {
    "time": {"s": 1.0, "sec": 1.0, "second": 1.0, "seconds": 1.0, "ms": 1e-3, "msec": 1e-3, "us": 1e-6, "µs": 1e-6,
             "μs": 1e-6, "usec": 1e-6, "ns": 1e-9, "min": 60.0},
    "volts": {"v": 1.0, "volt": 1.0, "volts": 1.0, "mv": 1e-3, "uv": 1e-6, "µv": 1e-6, "kv": 1e3},
    "amps": {"a": 1.0, "amp": 1.0, "amps": 1.0, "ampere": 1.0, "ma": 1e-3, "ka": 1e3},
}  # fmt: skip
_TIMES = re.compile(r"time|clock|uhrzeit|date|zeit|temps|tiempo|tempo|tid|t|x|x-axis")
_VOLTS = re.compile(r"volt\w*|voltage|spannung|tension|u|v|y|ch\w*|channel.*|b\+?|battery.*|signal")
_AMPS = re.compile(r"amp\w*|current|strom|courant|corriente|i")
_COUNTS = re.compile(r"sample|samples|index|idx|nr|no|n|#|row|point|points|count")
_RATE = re.compile(r"(?i)(?:sampl\w*[ _-]*(?:rate|frequency|freq)|samples?[ _]per[ _]second|abtastrate)\D{0,20}?"
                   r"([0-9][0-9.]*(?:e[+-]?\d+)?)\s*(k|m)?")  # fmt: skip
_INTERVAL = re.compile(r"(?i)(?:sampl\w*[ _-]*(?:interval|period|time)|x?[ _-]*increment|interval|delta ?t|dt)\D{0,20}?"
                       r"([0-9][0-9.]*(?:e[+-]?\d+)?)\s*(ms|us|µs|ns|s)?")  # fmt: skip
_LIKELY_RATES, _LIKELY_SECONDS = (500.0, 5e6), (2e-3, 60.0)  # of records of this kind


@dataclass(frozen=True)
class _Layout:
    """How a file is laid out: the first line of data, what parts columns and decimals, and each column's head."""

    first: int
    parted: bytes | None
    decimal: bytes
    columns: int
    heads: tuple[str, ...]
    remarks: str

    def fields(self, line: bytes) -> list[bytes]:
        return _fields(line, self.parted)


def read_record(data: bytes, name: str, rate: float | None = None) -> Record:
    """Read a record.

    Parameters
    ----------
    data : bytes
        What the file holds, packed by gzip or not.
    name : str
        What to call it when something is wrong with it.
    rate : float, optional
        Samples a second, in place of a time column [Hz]

    Returns
    -------
    record : Record

    Raises
    ------
    InputError
        It holds no record that can be read; the text begins with ``file:line:column`` where one place is to blame.
    """
    text = _text(data, name)
    lines = text[: _HEAD * _LONGEST_LINE].split(b"\n", _HEAD)[:_HEAD]
    layout = _layout(lines, name)
    roles = _roles(layout, name)
    columns, skipped = _columns(text, layout, sorted(set(roles.values())), name)
    try:
        times, mended = _times(columns, roles, layout, rate)
        scales = {role: _scale(layout, roles, role) for role in ("volts", "amps")}
        volts, scale_told = _volts(columns[roles["volts"]], scales["volts"])
        amps = columns[roles["amps"]] * (scales["amps"] or 1.0) if "amps" in roles else None
        record = make_record(times, volts, amps)
    except InputError as error:
        raise InputError(f"{name}: {error.message}") from None
    left = _left_out(layout, roles)
    return replace(record, mended=(*mended, *scale_told, *left, *skipped, *record.mended))


# --- text -----------------------------------------------------------------------------------------


def _text(data: bytes, name: str) -> bytes:
    """Plain lines in UTF-8 without marks and quotes."""
    if data[:2] == b"\x1f\x8b":
        data = _unpacked(data, name)
    if len(data) > LARGEST:
        raise InputError(f"{name}: this is larger than {LARGEST // 1_000_000} MB; a second of the record is enough")
    if data[:4] == b"PK\x03\x04":
        raise InputError(f"{name}: this is a zip archive; unpack it and name the CSV file in it")
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        data = data.decode("utf-16", errors="replace").encode("utf-8")
    data = data.removeprefix(b"\xef\xbb\xbf")
    if b"\0" in data[:100_000]:
        raise InputError(f"{name}: this is no text; export the record as CSV")
    for sign, plain in ((b'"', b""), (b"\r\n", b"\n"), (b"\r", b"\n"), (b"\xe2\x88\x92", b"-"), (b"\xc2\xa0", b" ")):
        if sign in data:
            data = data.replace(sign, plain)
    return data


def _unpacked(data: bytes, name: str) -> bytes:
    """The content of a gzip file, never more than LARGEST and a little; members may follow one another."""
    pieces, room = [], LARGEST + 1
    try:
        while data[:2] == b"\x1f\x8b" and room > 0:
            unpacker = zlib.decompressobj(wbits=31)
            pieces.append(unpacker.decompress(data, room))
            room -= len(pieces[-1])
            if room > 0 and not unpacker.eof:
                raise InputError(f"{name}: this gzip file breaks off; copy it again")
            data = unpacker.unused_data
    except zlib.error:
        raise InputError(f"{name}: this gzip file is damaged; copy it again") from None
    return b"".join(pieces)


# --- layout ---------------------------------------------------------------------------------------


def _layout(lines: list[bytes], name: str) -> _Layout:
    """The dress in which most lines hold the most numbers, and what stands above them."""
    found = [(_rows(lines, parted, decimal), parted, decimal) for parted, decimal in _DRESSES]
    rows, parted, decimal = max(found, key=lambda one: (min(len(one[0]), 3), _width(one[0]) > 1, len(one[0])))
    if not rows:
        _refuse_no_rows(lines, name)
    columns = _width(rows)
    first = next(at for at, width in rows.items() if width == columns)
    layout = _Layout(first, parted, decimal, columns, *_above(lines[:first], parted, columns))
    _refuse_commas_for_both(layout, lines, name)
    return layout


def _refuse_no_rows(lines: list[bytes], name: str) -> None:
    if not any(line.strip() for line in lines):
        raise InputError(f"{name}: this file is empty; it should hold lines of time and volts")
    line = next(at for at, line in enumerate(lines, 1) if line.strip())
    raise InputError('there is no line of numbers here; a record is lines such as "0.00002,14.21"', (name, line, 1))


def _rows(lines: list[bytes], parted: bytes | None, decimal: bytes) -> dict[int, int]:
    """The lines that hold nothing but numbers in this dress, each with how many."""
    rows = {}
    for at, line in enumerate(lines):
        fields = _fields(line[:_LONGEST_LINE], parted)
        while len(fields) > 1 and not fields[-1].strip():
            fields.pop()
        values = [_is_value(field, decimal) for field in fields]
        if fields and None not in values and any(values):
            rows[at] = len(fields)
    return rows


def _width(rows: dict[int, int]) -> int:
    """How many columns most rows have."""
    widths = list(rows.values())
    return max(sorted(set(widths)), key=widths.count) if widths else 0


def _fields(line: bytes, parted: bytes | None) -> list[bytes]:
    return line.split(parted)


def _is_value(field: bytes, decimal: bytes) -> bool | None:
    """True for a number or a time of day, False for nothing or a mark of no value, None for anything else."""
    field = field.strip()
    if decimal == b",":
        field = b"x" if b"." in field else field.replace(b",", b".", 1)
    if _POINT.fullmatch(field) or _CLOCK.fullmatch(field):
        return True
    return False if _MARKS.fullmatch(field) else None


def _above(lines: list[bytes], parted: bytes | None, columns: int) -> tuple[tuple[str, ...], str]:
    """The heads of the columns, put together from the lines that have as many fields, and all the rest as remarks."""
    heads, remarks = [""] * columns, []
    for line in lines:
        fields = [_decoded(field).strip() for field in _fields(_bare(line), parted)]
        while len(fields) > columns and not fields[-1]:
            fields.pop()
        if len(fields) == columns and (columns > 1 or len(line) < 40) and ":" not in fields[0]:
            heads = [f"{head} {field}".strip()[-80:] for head, field in zip(heads, fields, strict=True)]
        remarks.append(_decoded(line))
    return tuple(heads), "\n".join(remarks)


def _bare(line: bytes) -> bytes:
    """A line without the sign that makes it a remark."""
    found = _REMARK.match(line)
    return line[found.end() :] if found else line


def _decoded(text: bytes) -> str:
    try:
        return text.decode("utf-8")
    except UnicodeDecodeError:
        return text.decode("latin-1")


def _refuse_commas_for_both(layout: _Layout, lines: list[bytes], name: str) -> None:
    """"0,001,14,2" may be many things."""
    wholes = layout.parted == b"," and layout.columns in (4, 6) and b"." not in lines[layout.first]
    if wholes and not all(layout.heads):
        raise InputError(
            "commas seem to part both the columns and the decimals; export with semicolons or with decimal points",
            (name, layout.first + 1, 1),
        )


# --- which column is what -------------------------------------------------------------------------


def _roles(layout: _Layout, name: str) -> dict[str, int]:
    """The columns of time, volts and amps, by their heads and units, else by their order."""
    by_unit = [_role(head) for head in layout.heads]
    roles = {role: by_unit.index(role) for role in ("time", "volts", "amps") if role in by_unit}
    free = [at for at, role in enumerate(by_unit) if role is None]
    if layout.columns == 1:
        return {"volts": 0}
    if "time" not in roles and "count" not in by_unit and free and free[0] == 0 and not layout.heads[0].strip():
        roles["time"] = free.pop(0)
    if "volts" not in roles and free and not layout.heads[free[0]].strip():
        roles["volts"] = free.pop(0)
    if "amps" not in roles and not any(layout.heads) and free:
        roles["amps"] = free.pop(0)
    if "volts" not in roles:
        heads = ", ".join(head or "(none)" for head in layout.heads)[:200]
        raise InputError(f"no column of volts is named here, only: {heads}", (name, max(layout.first, 1), 1))
    return roles


def _role(head: str) -> str | None:
    """What a column is by its head: its unit counts before its name."""
    unit, word = _unit(head), re.split(r"[\s_\[(/,]", head.strip().lower(), maxsplit=1)[0]
    for role, scales in _SCALES.items():
        if unit in scales:
            return role
    for role, names in (("count", _COUNTS), ("time", _TIMES), ("amps", _AMPS), ("volts", _VOLTS)):
        if word and names.fullmatch(word):
            return role
    return None


def _unit(head: str) -> str:
    """The unit in a head: "Time (ms)", "U [mV]", "time_s", "t / ms", "Volt"; without one, nothing."""
    head = head.strip().lower()
    inside = re.findall(r"[\[(]\s*([^\])]*?)\s*[\])]", head)
    words = [*reversed(inside), re.split(r"[\s_/,]+|\bin\b", head)[-1] if re.search(r"[\s_/,]", head) else "", head]
    known = {unit for scales in _SCALES.values() for unit in scales}
    return next((word for word in words if word in known and not (word == head and len(word) == 1)), "")


def _scale(layout: _Layout, roles: dict[str, int], role: str) -> float | None:
    """What to multiply a column with, None where its head names no unit."""
    return _SCALES[role].get(_unit(layout.heads[roles[role]])) if role in roles else None


def _left_out(layout: _Layout, roles: dict[str, int]) -> tuple[str, ...]:
    others = [head or f"column {at + 1}" for at, head in enumerate(layout.heads) if at not in roles.values()]
    others = [head for head in others if _role(head) != "count"]
    return (f"left unread: {', '.join(others)[:120]}",) if others else ()


def _times(columns: dict, roles: dict[str, int], layout: _Layout, rate: float | None) -> tuple[np.ndarray, tuple]:
    """Times in seconds, and how their unit was found where it was not named."""
    count = len(columns[roles["volts"]])
    rate = rate or (None if "time" in roles else _rate_told(layout.remarks))
    if rate:
        return np.arange(count) / rate, ()
    if "time" not in roles:
        raise InputError("there is no column of time; say how often was sampled, as in --rate 50000")
    times, scale = columns[roles["time"]], _scale(layout, roles, "time")
    if scale:
        return times * scale, ()
    return _likely_times(times)


def _likely_times(times: np.ndarray) -> tuple[np.ndarray, tuple[str, ...]]:
    """Times whose unit nobody named: seconds, unless only a smaller unit makes a record of this kind."""
    with np.errstate(invalid="ignore", over="ignore"):
        span = float(np.nanmax(times) - np.nanmin(times)) if np.isfinite(times).any() else 0.0
    if not 0 < span < np.inf:
        return times, ()
    if np.array_equal(times[:1000], times[0] + np.arange(len(times[:1000]))) and len(times) > _LIKELY_SECONDS[1]:
        raise InputError("the column of time counts samples; say how often was sampled, as in --rate 50000")
    for scale, word in ((1.0, ""), (1e-3, "milliseconds"), (1e-6, "microseconds")):
        seconds = span * scale
        if _within(len(times) / seconds, _LIKELY_RATES) and _within(seconds, _LIKELY_SECONDS):
            return times * scale, (f"times are taken as {word}",) if word else ()
    return times, ()


def _within(value: float, limits: tuple[float, float]) -> bool:
    return limits[0] <= value <= limits[1]


def _rate_told(remarks: str) -> float | None:
    """A rate or an interval that stands above the columns [Hz]."""
    if found := _RATE.search(remarks):
        return _positive(found[1], {"k": 1e3, "m": 1e6}.get((found[2] or "").lower(), 1.0))
    if found := _INTERVAL.search(remarks):
        interval = _positive(found[1], _SCALES["time"].get((found[2] or "s").lower(), 1.0))
        return 1 / interval if interval else None
    return None


def _positive(text: str, scale: float) -> float | None:
    try:
        value = float(text) * scale
    except ValueError:
        return None
    return value if 1e-9 < value < 1e9 else None


def _volts(values: np.ndarray, scale: float | None) -> tuple[np.ndarray, tuple[str, ...]]:
    """Volts, and how their unit was found where it was not named: no car has 1000 V at its battery."""
    finite = np.abs(values[:100_000][np.isfinite(values[:100_000])])
    if scale is None and len(finite) and 1e3 < np.median(finite) < 1e5:
        return values * 1e-3, ("volts are taken as millivolts",)
    return values * (scale or 1.0), ()


# --- numbers --------------------------------------------------------------------------------------


def _columns(text: bytes, layout: _Layout, wanted: list[int], name: str) -> tuple[dict, tuple[str, ...]]:
    """The columns wanted, each as an array, and what was left out."""
    body = text.split(b"\n", layout.first)[layout.first] if layout.first else text
    if body.count(b"\n") > MOST_ROWS:
        raise InputError(f"{name}: more than {MOST_ROWS:,} rows; a second of the record is enough")
    table = _in_one_go(body, layout)
    if table is not None:
        return {at: table[:, at] for at in wanted}, ()
    return _line_by_line(body, layout, wanted, name)


def _in_one_go(body: bytes, layout: _Layout) -> np.ndarray | None:
    """All numbers at once, if every line has all of its columns and nothing else."""
    if layout.parted is not None and not _is_regular(body, layout.parted, layout.columns):
        return None
    if layout.decimal == b",":
        body = body.replace(b",", b".")
    if layout.parted is not None:
        body = body.replace(layout.parted, b" ")
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            values = np.fromstring(body, sep=" ")
        except (DeprecationWarning, ValueError):
            return None
    rows = body.rstrip(b"\n").count(b"\n") + 1
    return values.reshape(rows, layout.columns) if len(values) == rows * layout.columns else None


def _is_regular(body: bytes, parted: bytes, columns: int) -> bool:
    """Whether each line has as many signs between columns as it should, and no column is empty."""
    signs = np.frombuffer(body.rstrip(b"\n") + b"\n", np.uint8)
    marks = np.flatnonzero((signs == parted[0]) | (signs == 10))
    if len(marks) % columns or (np.diff(marks) < 2).any() or marks[0] == 0:
        return False
    ends = signs[marks].reshape(-1, columns) == 10
    return bool(ends[:, -1].all() and not ends[:, :-1].any())


def _line_by_line(body: bytes, layout: _Layout, wanted: list[int], name: str) -> tuple[dict, tuple[str, ...]]:
    """The careful way: remarks and empty lines are left out, marks of no value are NaN, anything else has its place."""
    rows, odd = [], 0
    for line, row in enumerate(body.split(b"\n"), layout.first + 1):
        if not row.strip() or _REMARK.match(row):
            continue
        fields = layout.fields(row)
        if len(fields) <= wanted[-1]:
            odd += 1
            rows.append([_cell(field, layout.decimal) for field in fields] + [np.nan] * (wanted[-1] + 1 - len(fields)))
            rows[-1] = [np.nan if value is None else value for value in rows[-1]]
            rows[-1] = [rows[-1][at] for at in wanted]
            continue
        values = [_cell(fields[at], layout.decimal) for at in wanted]
        if None in values:
            at = wanted[values.index(None)]
            raise _no_number(fields, at, layout, (name, line))
        rows.append(values)
    table = np.array(rows, float).reshape(len(rows), len(wanted))
    told = (f"{odd} lines are too short",) if odd else ()
    return {at: table[:, n] for n, at in enumerate(wanted)}, told


def _cell(field: bytes, decimal: bytes) -> float | None:
    """A number, NaN for none, None for what is not to be read."""
    kind = _is_value(field, decimal)
    if not kind:
        return None if kind is None else np.nan
    field = field.strip().replace(b",", b".")
    if found := _CLOCK.fullmatch(field):
        return int(found[1]) * 3600 + int(found[2]) * 60 + float(found[3])
    return float(field)


def _no_number(fields: list[bytes], at: int, layout: _Layout, place: tuple[str, int]) -> InputError:
    column = sum(len(field) + 1 for field in fields[:at]) + 1
    shown = _decoded(fields[at].strip())[:40]
    return InputError(f'"{shown}" is no number; expected one in column {at + 1} of {layout.columns}', (*place, column))
