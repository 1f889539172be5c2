"""A fault in the program itself: one sentence for whoever met it, and a file for whoever mends it."""

import platform
import tempfile
import traceback

from putback import __version__

AGAIN = "run it again with PUTBACK_DEBUG=1 to see where"


def sentence(error: BaseException, words: list[str]) -> str:
    """What to tell: that it is our fault, what it was, and which file to send along.

    Parameters
    ----------
    error : exception
        What nobody had foreseen.
    words : list of str
        The command line that led to it.
    """
    what = traceback.format_exception_only(error)[-1].strip().splitlines()[0]
    return f"putback has a fault of its own ({what}); please report it: {_where(error, words)}"


def _where(error: BaseException, words: list[str]) -> str:
    try:
        with tempfile.NamedTemporaryFile(
            "w", prefix="putback-fault-", suffix=".txt", delete=False, encoding="utf-8", errors="backslashreplace"
        ) as file:
            file.write(_report(error, words))
    except OSError:
        return AGAIN
    return f"the details are in {file.name}"


def _report(error: BaseException, words: list[str]) -> str:
    head = [
        f"putback {__version__}",
        f"Python {platform.python_version()} on {platform.platform()}",
        f"arguments: {words!r}",
    ]
    return "\n".join([*head, "", *traceback.format_exception(error)])
