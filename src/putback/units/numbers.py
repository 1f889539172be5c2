"""Numbers as people write them: decimal point or comma, halves and quarters, blanks and dashes of any kind."""

import re
import unicodedata

from putback.errors import InputError

# The most digits that anybody means; longer ones are slips, and could run out of what a float holds.
FRACTION = r"[1357]/[248]"
NUMBER = rf"(?:[0-9]{{1,7}}[ -]{FRACTION}|[0-9]{{1,7}}(?:[.,][0-9]{{1,9}})?)(?![0-9])"

_SIGNS = str.maketrans(
    {
        **dict.fromkeys("⋅∙•‧*⋆", "·"),
        **dict.fromkeys("‐‑‒–—−", "-"),
        **dict.fromkeys("º˚", "°"),
        **dict.fromkeys("\u200b\u200c\u200d\u2060\ufeff"),  # marks without width
        "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⁄": "/", "＋": "+", "％": "%",
    }
)  # fmt: skip


def plain(text: str) -> str:
    """Text with one kind of blank, dash and dot, and with fractions spelt out.

    Examples
    --------
    >>> plain("7½\u202fN⋅m")
    '7 1/2 N·m'
    """
    blanks = "".join(" " if unicodedata.category(sign) == "Zs" else sign for sign in text.replace("+/-", "±"))
    return " ".join(blanks.translate(_SIGNS).split())


def number(text: str) -> float:
    """Read a number.

    Parameters
    ----------
    text : str
        ``12.5``, ``12,5``, ``7 1/2``.

    Returns
    -------
    value : float
        Not below 0.

    Raises
    ------
    InputError
        No number, or one whose comma may part thousands as well as decimals.

    Examples
    --------
    >>> number("12,5")
    12.5
    """
    text = plain(text)
    if not re.fullmatch(f"{NUMBER}|{FRACTION}", text):
        raise InputError(f'"{text}" is no number; write it as in 12.5')
    if "/" in text:
        return _mixed(text)
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", text):
        decimal, whole = text.replace(",", ".").rstrip("0").rstrip("."), text.replace(",", "")
        raise InputError(f'"{text}" may be {decimal} or {whole}; write it without the comma')
    return float(text.replace(",", "."))


def _mixed(text: str) -> float:
    whole, _, part = text.replace("-", " ").rpartition(" ")
    upper, lower = part.split("/")
    return float(whole or 0) + int(upper) / int(lower)


def show_number(value: float, digits: int = 4) -> str:
    """A number as people write it: no tail of zeros, `digits` figures that count."""
    return f"{float(f'{value:.{digits}g}'):.10g}"
