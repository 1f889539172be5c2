"""What a look at a drive brought up."""

from collections.abc import Iterable
from typing import NamedTuple

# From best to worst. "fine" is a remark; "ask" wants an answer first; "stop" means that no engine is started like this.
VERDICTS = ("fine", "ask", "stop")


class Finding(NamedTuple):
    """One thing brought up.

    `code` is a short name that stays the same, `verdict` one of `VERDICTS`, `words` a sentence to read; `pulley` is
    the one that it is about, if it is about one.
    """

    code: str
    verdict: str
    words: str
    pulley: str | None = None


def worst(findings: Iterable[Finding]) -> str:
    """The verdict over several findings: the worst of them, "fine" when there are none.

    Parameters
    ----------
    findings : iterable of Finding
    """
    return max((one.verdict for one in findings), key=VERDICTS.index, default="fine")
