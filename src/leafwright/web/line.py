"""How long a line from a browser is kept open for one that says nothing, and how many there are."""

from __future__ import annotations

import asyncio

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from leafwright.web.guard import is_loopback

#: How long whoever opened a line may take until all of a request but its body is there [s].
HEAD_SECONDS = 15.0
#: Lines that one other device may hold, that all of them may hold, and that there are at all: the
#: rest is for this machine, which nobody is to keep out of its own jobs.
MOST_OF_ONE, MOST_OF_OTHERS, MOST = 32, 160, 256


class Line(H11Protocol):
    """One line to the server: cut where it is held without asking anything."""

    head_seconds = HEAD_SECONDS
    _waiting: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take a line, unless too many are held already."""
        super().connection_made(transport)
        held = [_from(line) for line in self.connections if not is_loopback(_from(line))]
        mine = _from(self)
        if not is_loopback(mine) and (held.count(mine) > MOST_OF_ONE or len(held) > MOST_OF_OTHERS):
            transport.abort()
            return
        self._watch()

    def data_received(self, data: bytes) -> None:
        """Take what came in; the time for the head of a request does not begin anew with it."""
        super().data_received(data)
        self._watch()

    def connection_lost(self, exc: Exception | None) -> None:
        """Let the line go."""
        self._rest()
        super().connection_lost(exc)

    def _watch(self) -> None:
        """Count the time while a request is wanted, and only then."""
        if self.conn.their_state is not h11.IDLE or self.transport.is_closing():
            self._rest()
        elif self._waiting is None:
            self._waiting = self.loop.call_later(self.head_seconds, self.transport.abort)

    def _rest(self) -> None:
        if self._waiting is not None:
            self._waiting.cancel()
            self._waiting = None


def _from(line: object) -> str:
    client = getattr(line, "client", None)
    return str(client[0]) if client else ""
