"""A record as a picture: volts over time, and its spectrum with the orders marked.

Ink on white, one trace in each half. Nothing is told by colour, and all of it stands in words below.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from putback.chart import svg
from putback.chart.text import wrapped
from putback.charging.evidence import Evidence
from putback.charging.spectrum import spectrum
from putback.units import show_number

WIDTH = 360  # CSS px, that of a phone
_LEFT, _RIGHT, _HEIGHT, _LINE, _SIZE, _SMALL = 48, 12, 170, 18, 13, 11
_INK, _PAPER, _FAINT = "#000", "#fff", "#999"
_COLUMNS = WIDTH - _LEFT - _RIGHT  # px; a trace has its lowest and its highest value in each
_SHOWN = 12  # periods of the alternator that are drawn of a running record
_MOST_SECONDS = 0.04  # that are drawn of one without a frequency
_DECADES = 4  # of the spectrum
_ORDERS = (1, 2, 3, 6, 12)  # that are marked
_TOP_HERTZ = 5_000.0  # of a spectrum without orders


@dataclass(frozen=True)
class _Axis:
    """From values to pixels."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value):
        return self.start + (value - self.low) * (self.end - self.start) / (self.high - self.low)

    def ticks(self) -> list[float]:
        """Round values along it, some four."""
        rough = (self.high - self.low) / 4
        steps = (base * 10.0 ** np.floor(np.log10(rough)) for base in (1, 2, 5, 10))
        step = min(steps, key=lambda one: abs(one - rough))
        return [float(n * step) for n in range(int(np.ceil(self.low / step)), int(np.floor(self.high / step)) + 1)]


def evidence_svg(evidence: Evidence, name: str) -> str:
    """The picture of a record that was judged.

    Parameters
    ----------
    evidence : Evidence
    name : str
        What to call the record

    Returns
    -------
    text : str
        One SVG element with a title and a description.
    """
    head = wrapped(f"{name}: {evidence.said.verdict}", _SIZE, WIDTH - 16, bold=True, most=3)
    top = 14 + _LINE * len(head)
    below = top + _HEIGHT + 2.6 * _LINE
    cranked = evidence.cranking is not None
    under = (top if cranked else below) + _HEIGHT + 3.2 * _LINE
    legend = wrapped(_legend(evidence), _SIZE, WIDTH - 16, most=12)
    height = under + _LINE * len(legend)
    lines = [
        svg.words("title", f"{name}: {evidence.said.verdict}"),
        svg.words("desc", _legend(evidence)),
        svg.element("rect", width=WIDTH, height=height, fill=_PAPER),
        *(svg.words("text", line, x=8, y=20 + _LINE * n, font_weight="bold") for n, line in enumerate(head)),
        *svg.group("record", _record(evidence, top)),
        *([] if cranked else svg.group("spectrum", _spectrum(evidence, below))),
        *svg.group("words", (svg.words("text", line, x=8, y=under + _LINE * n) for n, line in enumerate(legend))),
    ]
    return svg.document(lines, width=WIDTH, height=height, font_family="sans-serif", font_size=_SIZE, fill=_INK)


def _legend(evidence: Evidence) -> str:
    said = evidence.said
    beside = f" Not told apart: {', '.join(said.cannot_separate)}." if said.cannot_separate else ""
    return f"{100 * said.confidence:.0f} % sure: {said.why}.{beside} Mean {evidence.record.mean:.2f} V."


# --- volts over time ------------------------------------------------------------------------------


def _record(evidence: Evidence, top: float) -> Iterator[str]:
    volts, unit, scale = _piece(evidence)
    seconds = len(volts) / evidence.record.rate
    across = _Axis(0.0, seconds * scale, _LEFT, WIDTH - _RIGHT)
    room = 0.06 * max(float(np.ptp(volts)), 1e-3)
    up = _Axis(float(volts.min()) - room, float(volts.max()) + room, top + _HEIGHT, top)
    yield from _frame(across, up, f"time, {unit}", "V", top)
    yield _trace(np.linspace(across.low, across.high, len(volts)), volts, across, up)


def _piece(evidence: Evidence) -> tuple[np.ndarray, str, float]:
    """What is drawn: all of a cranking record, of a running one as much as can be read; with the unit of time."""
    record = evidence.record
    if evidence.cranking:
        return record.volts, "s", 1.0
    electrical = evidence.ripple.electrical
    seconds = _SHOWN / electrical if electrical else _MOST_SECONDS
    return record.volts[: max(int(seconds * record.rate), 50)], "ms", 1e3


def _trace(x: np.ndarray, y: np.ndarray, across: _Axis, up: _Axis) -> str:
    """One line; where there are more values than pixels, each column from its lowest to its highest."""
    if len(x) > 2 * _COLUMNS:
        size = len(x) // _COLUMNS
        count = len(x) // size
        blocks = y[: count * size].reshape(count, size)
        x = np.repeat(x[: count * size : size], 2)
        y = np.stack([blocks.min(axis=1), blocks.max(axis=1)], axis=1).ravel()
    points = zip(across.at(x), up.at(np.clip(y, up.low, up.high)), strict=True)
    path = " ".join(f"{svg.number(float(px))},{svg.number(float(py))}" for px, py in points)
    return svg.element("polyline", points=path, fill="none", stroke=_INK, stroke_width="1")


def _frame(across: _Axis, up: _Axis, x_title: str, y_title: str, top: float, y_text=show_number) -> Iterator[str]:
    """Both axes with their values and units."""
    bottom = top + _HEIGHT
    yield svg.element("rect", x=_LEFT, y=top, width=_COLUMNS, height=_HEIGHT, fill="none", stroke=_INK)
    for value in up.ticks():
        y = up.at(value)
        if y < top + _SMALL + 8:  # the unit stands there
            continue
        yield svg.element("line", x1=_LEFT - 4, x2=_LEFT, y1=y, y2=y, stroke=_INK)
        yield svg.words("text", y_text(value), x=_LEFT - 6, y=y + 4, text_anchor="end", font_size=_SMALL)
    for value in across.ticks():
        x = across.at(value)
        yield svg.element("line", x1=x, x2=x, y1=bottom, y2=bottom + 4, stroke=_INK)
        yield svg.words("text", show_number(value), x=x, y=bottom + 16, text_anchor="middle", font_size=_SMALL)
    yield svg.words("text", x_title, x=WIDTH - _RIGHT, y=bottom + 31, text_anchor="end", font_size=_SMALL)
    yield svg.words("text", y_title, x=_LEFT - 6, y=top + 9, text_anchor="end", font_size=_SMALL)


# --- spectrum -------------------------------------------------------------------------------------


def _spectrum(evidence: Evidence, top: float) -> Iterator[str]:
    record, electrical = evidence.record, evidence.ripple.electrical
    found = spectrum(record.volts, record.rate)
    highest = min(13 * electrical if electrical else _TOP_HERTZ, record.rate / 2)
    count = max(int(highest / found.bin), 10)
    size = np.log10(np.sqrt(3 * np.maximum(found.power[:count], 1e-16)) * 1e3)  # of a line, through the window
    hertz = np.arange(count) * found.bin
    high = float(np.ceil(size[1:].max() * 2) / 2) + 0.5
    across = _Axis(0.0, highest, _LEFT, WIDTH - _RIGHT)
    up = _Axis(high - _DECADES, high, top + _HEIGHT, top)
    if electrical:
        yield from _marks(electrical, across, top)
    yield from _frame(across, up, "frequency, Hz", "mV", top, lambda value: show_number(10.0**value))
    yield _trace(hertz[1:], size[1:], across, up)


def _marks(electrical: float, across: _Axis, top: float) -> Iterator[str]:
    """Where orders stand, each with its number."""
    for order in _ORDERS:
        if order * electrical < across.high:
            x = across.at(order * electrical)
            yield svg.element("line", x1=x, x2=x, y1=top, y2=top + _HEIGHT, stroke=_FAINT, stroke_dasharray="2 3")
            look = {"text_anchor": "middle", "font_weight": "bold", "font_size": _SMALL}
            yield svg.words("text", str(order), x=x, y=top - 4, **look)
    yield svg.words("text", "order", x=_LEFT - 4, y=top - 4, text_anchor="end", font_size=_SMALL)
