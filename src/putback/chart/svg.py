"""SVG by hand: elements as text, with numbers that are the same on every machine."""

from collections.abc import Iterable, Iterator
from xml.sax.saxutils import escape, quoteattr

from putback.chart.text import clean


def number(value: float) -> str:
    """A length to a tenth of a pixel, without needless signs.

    Examples
    --------
    >>> number(12.04), number(-0.01), number(7.25)
    ('12', '0', '7.2')
    """
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def element(name: str, inside: str = "", **look) -> str:
    """One element; underlines in the names of attributes stand for hyphens, numbers are lengths.

    Parameters
    ----------
    name : str
    inside : str
        What stands in it, as markup already.
    look
        Its attributes.
    """
    return f"{_opening(name, look)}>{inside}</{name}>" if inside else f"{_opening(name, look)}/>"


def words(name: str, text: str, **look) -> str:
    """One element that holds text.

    Parameters
    ----------
    name : str
    text : str
    look
        Its attributes.
    """
    return element(name, escape(clean(text)), **look)


def group(kind: str, inside: Iterable[str], **look) -> Iterator[str]:
    """The lines of a group, none if there is nothing in it.

    Parameters
    ----------
    kind : str
        What is in it.
    inside : iterable of str
    look
        What its members have in common.
    """
    lines = list(inside)
    if lines:
        yield f"{_opening('g', {'class': kind} | look)}>"
        yield from (f"  {line}" for line in lines)
        yield "</g>"


def _opening(name: str, look: dict) -> str:
    return " ".join(
        [f"<{name}", *(f"{key.replace('_', '-')}={quoteattr(_value(value))}" for key, value in look.items())]
    )


def _value(value) -> str:
    return value if isinstance(value, str) else number(value)


def document(lines: Iterable[str], *, width: float, height: float, **look) -> str:
    """A whole drawing, which scales with the place it is put in.

    Parameters
    ----------
    lines : iterable of str
        Its elements.
    width, height : float
        Its size [CSS px].
    look
        What all of it has in common.
    """
    size = f"{number(width)} {number(height)}"
    root = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {size}",
        "width": width,
        "height": height,
        "role": "img",
    }
    inside = "\n".join(f"  {line}" for line in lines)
    return f"{_opening('svg', root | look)}>\n{inside}\n</svg>\n"
