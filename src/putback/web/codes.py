"""The code by which a device is let in: eight signs, once, for ten minutes, and not to be guessed."""

import hmac
import secrets
from collections.abc import Callable
from threading import Lock
from typing import NamedTuple

from starlette.exceptions import HTTPException

from putback.web.limits import Tries

SIGNS = "ACDEFGHJKMNPQRTUVWXY34679"  # none that is taken for another: no 0 O, 1 I L, 2 Z, 5 S, 8 B
LENGTH = 8
LIVES = 600.0  # seconds
TRIES_OF_ONE, TRIES_OF_ALL = 5, 30  # within the life of a code
ALL = "all"
WRONG = "this code is not the one that is shown, was used, or is over; look at the shop's computer and type it again"


class Code(NamedTuple):
    """A code, and until when it is good by the clock of `Codes`."""

    text: str
    until: float


class Codes:
    """The one code that is good now.

    Parameters
    ----------
    clock : function
        Seconds that only grow.
    """

    def __init__(self, clock: Callable[[], float]):
        self._clock, self._lock = clock, Lock()
        self._code: Code | None = None
        self._by_one, self._by_all = Tries(TRIES_OF_ONE, LIVES, clock), Tries(TRIES_OF_ALL, LIVES, clock)

    def offer(self) -> Code:
        """A new code; the one before is good no more."""
        with self._lock:
            self._code = Code("".join(secrets.choice(SIGNS) for _ in range(LENGTH)), self._clock() + LIVES)
            return self._code

    def now(self) -> Code | None:
        """The code that is good now, if any is."""
        with self._lock:
            return self._code if self._code and self._clock() < self._code.until else None

    def spend(self, text: str, address: str) -> None:
        """Use the code up.

        Parameters
        ----------
        text : str
            As it was typed: small letters, blanks and dashes do not matter.
        address : str
            Who types.

        Raises
        ------
        HTTPException
            It is not this one, or too much was tried.
        """
        if not (self._by_one.take(address) and self._by_all.take(ALL)):
            raise HTTPException(429, "too many codes were tried; wait ten minutes", {"retry-after": str(int(LIVES))})
        with self._lock:
            code = self._code if self._code and self._clock() < self._code.until else None
            right = hmac.compare_digest(_plain(text), (code.text if code else " " * LENGTH).encode())
            if not (code and right):
                raise HTTPException(403, WRONG)
            self._code = None
        self._by_one.forget(address)


def grouped(code: str) -> str:
    """A code as people read it out.

    Parameters
    ----------
    code : str
    """
    return f"{code[: LENGTH // 2]} {code[LENGTH // 2 :]}"


def _plain(text: str) -> bytes:
    return "".join(sign for sign in text.upper() if sign.isalnum())[: 4 * LENGTH].encode("utf-8", "replace")
