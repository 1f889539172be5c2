"""What a server is set up with: where the ledger and the area files are, and who may come in."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from putback.job.ledger import Ledger


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
    hosts: tuple[str, ...] = ("127.0.0.1", "localhost", "[::1]")
    lan: bool = False
