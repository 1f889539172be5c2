"""What a terminal or a pipe can take: text never fails for want of a sign, and a closed end is no disaster."""

import codecs
import os
import sys

# How to write signs of the trade where the encoding lacks them.
PLAIN = {
    "·": ".", "×": "x", "−": "-", "–": "-", "—": "-", "…": "...", "→": "->", "←": "<-", "≥": ">=", "≤": "<=",
    "≈": "~", "±": "+/-", "°": " deg", "µ": "u", "μ": "u", "Ω": "ohm", "½": "1/2", "Ø": "dia. ", "²": "2",
    "“": '"', "”": '"', "„": '"', "’": "'", "‘": "'", "\u00a0": " ", "\u202f": " ",
}  # fmt: skip


def prepare() -> None:
    """Let stdout and stderr write a plain stand-in for a sign that their encoding lacks."""
    codecs.register_error("putback.plain", _plain)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="putback.plain")


def finish() -> None:
    """Write out what is still held back, while a failure to do so can still be told."""
    if sys.stdout is not None:
        sys.stdout.flush()


def complain(text: str) -> None:
    """Write `text` to stderr, if there is anybody to read it."""
    try:
        print(text, file=sys.stderr, flush=True)
    except OSError:
        pass


def silence() -> None:
    """Send stdout nowhere from now on, so that what it still holds cannot fail once more at exit."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError, AttributeError):
        pass


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(PLAIN.get(sign, "?") for sign in lacking), error.end
