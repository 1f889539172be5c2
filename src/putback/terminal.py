"""What a terminal or a pipe can take: text never fails for want of a sign, and a closed end is no disaster."""

import codecs
import os
import re
import sys

# How to write signs of the trade where the encoding lacks them.
PLAIN = {
    "·": ".", "×": "x", "−": "-", "–": "-", "—": "-", "…": "...", "→": "->", "←": "<-", "≥": ">=", "≤": "<=",
    "≈": "~", "±": "+/-", "°": " deg", "µ": "u", "μ": "u", "Ω": "ohm", "½": "1/2", "Ø": "dia. ", "²": "2",
    "“": '"', "”": '"', "„": '"', "’": "'", "‘": "'", "\u00a0": " ", "\u202f": " ",
}  # fmt: skip

# What a terminal obeys or hides in place of showing it: controls, marks of direction, signs without width. Line ends stay.
_UNSEEN = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\U000e0000-\U000e007f]"
)


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
        print(visible(text), file=sys.stderr, flush=True)
    except OSError:
        pass


def print_json(value) -> None:
    """Print a value as JSON that people can read, and that no terminal obeys."""
    import json

    print(visible(json.dumps(value, ensure_ascii=False, indent=1)))


def visible(text: str) -> str:
    """A text that does nothing to a terminal but stand there: what cannot be seen is written as in ``\\u001b``.

    JSON stays JSON, with the same meaning.
    """
    return _UNSEEN.sub(_escaped, text)


def _escaped(found: re.Match) -> str:
    pairs = found[0].encode("utf-16-be")
    return "".join(f"\\u{pairs[at : at + 2].hex()}" for at in range(0, len(pairs), 2))


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
