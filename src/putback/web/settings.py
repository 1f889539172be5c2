"""What a server is set up with: where the ledger and the area files are, and who may come in."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from time import monotonic

from putback.job.ledger import Ledger
from putback.web.access import Access
from putback.web.codes import Codes
from putback.web.limits import Tries

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True)
class Settings:
    """How one server is set up.

    Attributes
    ----------
    ledger : Ledger
    areas : Path
        The folder with the shop's area files and its shop file.
    clock : function
        The time now; it must know its zone.
    new_id : function
        A new id each time: 26 or 32 letters and digits.
    seconds : function
        Seconds that only grow, for the planner.
    hosts : tuple of str
        The names under which this server answers; any other is refused, so that no page from elsewhere can reach it
        under a name of its own.
    lan : bool
        Whether devices of the shop's network may come in; each has to be paired once.
    """

    ledger: Ledger
    areas: Path
    clock: Callable[[], datetime]
    new_id: Callable[[], str]
    seconds: Callable[[], float]
    hosts: tuple[str, ...] = LOOPBACK
    lan: bool = False
    address: str = ""
    access: Access | None = None
    codes: Codes = field(default_factory=lambda: Codes(monotonic))
    pins: Tries = field(default_factory=lambda: Tries(5, 900.0, monotonic))
