"""How long the server waits for somebody who says nothing, or says it slowly."""

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

LONGEST_HEAD = 20.0  # seconds for a request's first lines, after which the connection is closed


class Patient(H11Protocol):
    """HTTP as the server speaks it, but nobody holds a connection open by half a request."""

    def connection_made(self, transport) -> None:
        """Somebody calls."""
        super().connection_made(transport)
        self._waiting = None
        self._watch()

    def data_received(self, data: bytes) -> None:
        """Somebody goes on."""
        super().data_received(data)
        self._watch()

    def connection_lost(self, exc: Exception | None) -> None:
        """Somebody hung up."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _watch(self) -> None:
        """Wait from the first sign of a request until its head is whole; between two requests others keep the time."""
        if self.conn.their_state is not h11.IDLE or self.transport.is_closing():
            self._stop_waiting()
        elif self._waiting is None:
            self._waiting = self.loop.call_later(LONGEST_HEAD, self.transport.close)

    def _stop_waiting(self) -> None:
        if self._waiting is not None:
            self._waiting.cancel()
            self._waiting = None
