"""What can be read out of a chart, for its tests."""

import re
from itertools import combinations
from xml.etree import ElementTree

from putback.chart import chart_svg
from putback.chart.text import text_width

SVG = "{http://www.w3.org/2000/svg}"


def drawn(sheet, **options) -> ElementTree.Element:
    return ElementTree.fromstring(chart_svg(sheet, **options))


def told(chart: ElementTree.Element) -> str:
    """The text in place of the picture."""
    return chart.findtext(f"{SVG}desc")


def group(chart: ElementTree.Element, kind: str) -> list[ElementTree.Element]:
    """What a group holds; nothing if there is no such group."""
    found = chart.find(f"{SVG}g[@class='{kind}']")
    return [] if found is None else list(found)


def texts(chart: ElementTree.Element, kind: str) -> list[str]:
    return [one.text for one in group(chart, kind)]


def arcs(chart: ElementTree.Element) -> dict[str, ElementTree.Element]:
    """The arcs by the names of their parts."""
    named = {path.findtext(f"{SVG}title"): path for path in group(chart, "arcs")}
    return {title.rpartition(":")[0]: path for title, path in named.items() if title}


def dashed(chart: ElementTree.Element) -> list[str]:
    """The parts whose arcs are heavy and dashed, by name."""
    return sorted(name for name, path in arcs(chart).items() if path.get("stroke-dasharray"))


def numbers(path: ElementTree.Element) -> list[float]:
    """Of an arc: where it begins (x, y), its half width and half height, three flags, and where it ends (x, y)."""
    return [float(one) for one in re.findall(r"-?[\d.]+", path.get("d"))]


def boxes(chart: ElementTree.Element) -> list[tuple[str, float, float, float, float]]:
    """Every text with the room it may take: left, top, right, bottom."""
    found = []
    for parent in [chart, *chart.iter(f"{SVG}g")]:
        for one in parent.findall(f"{SVG}text"):
            size = float(one.get("font-size", 12))
            wide = text_width(one.text or "", size, one.get("font-weight") == "bold")
            x, y = float(one.get("x")), float(one.get("y"))
            left = x - wide if parent.get("text-anchor") == "end" else x
            found.append((one.text, left, y - 0.76 * size, left + wide, y + 0.24 * size))
    return found


def outside(chart: ElementTree.Element) -> list[str]:
    """The texts that may not fit in the picture."""
    wide, high = (float(chart.get(name)) + 0.1 for name in ("width", "height"))
    return [
        text
        for text, left, top, right, bottom in boxes(chart)
        if left < -0.1 or top < 0 or right > wide or bottom > high
    ]


def overlapping(chart: ElementTree.Element) -> list[tuple[str, str]]:
    """Pairs of texts that may overlap."""
    return [
        (one, two)
        for (one, left, top, right, bottom), (two, left_2, top_2, right_2, bottom_2) in combinations(boxes(chart), 2)
        if left < right_2 and left_2 < right and top < bottom_2 and top_2 < bottom
    ]
