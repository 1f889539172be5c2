"""Jobs as they were looked at last: events are only ever added, so that only those since then have to be read."""

from collections import OrderedDict
from threading import Lock

from putback.desk.view import View, look, view_of
from putback.job.ledger import Ledger

MOST = 100  # jobs that are remembered


class Views:
    """The jobs of a ledger, looked at again and again.

    Parameters
    ----------
    ledger : Ledger
    """

    def __init__(self, ledger: Ledger):
        self._ledger = ledger
        self._seen: OrderedDict[str, View] = OrderedDict()
        self._lock = Lock()

    def look(self, job: str) -> View:
        """A job as it stands now, the same as `putback.desk.view.look` gives; nobody may change what is in it.

        Parameters
        ----------
        job : str
            Its id.

        Raises
        ------
        InputError
            There is no such job.
        """
        known = self._seen.get(job)
        if known is None:
            return self._remember(look(self._ledger, job))
        fresh = self._ledger.events(job, known.logged[-1].number)
        return self._remember(view_of(self._ledger, job, [*known.logged, *fresh]) if fresh else known)

    def _remember(self, view: View) -> View:
        with self._lock:
            self._seen[view.id] = view
            self._seen.move_to_end(view.id)
            if len(self._seen) > MOST:
                self._seen.popitem(last=False)
        return view
