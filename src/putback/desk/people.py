"""Who works here: the persons that the ledger has heard of."""

from putback.job.ledger import JobRow, Ledger

LATEST = 20  # jobs looked through; who has not been seen since types his name again


def known_people(ledger: Ledger, besides: str = "") -> list[str]:
    """The persons seen in the latest jobs, by name.

    Parameters
    ----------
    ledger : Ledger
    besides : str
        One who may not have said anything yet.
    """
    seen = {person for row in ledger.jobs()[:LATEST] for person in _of_job(ledger, row)}
    return sorted(seen | ({besides} if besides else set()))


# Who spoke in a job changes with its log only; the last hash stands for the whole log.
_KNOWN: dict[str, frozenset[str]] = {}
_MOST_KNOWN = 1000


def _of_job(ledger: Ledger, row: JobRow) -> frozenset[str]:
    if row.last_hash not in _KNOWN:
        if len(_KNOWN) >= _MOST_KNOWN:
            _KNOWN.clear()
        _KNOWN[row.last_hash] = frozenset(logged.event.person for logged in ledger.events(row.id))
    return _KNOWN[row.last_hash]
