"""How long a connection may keep the app waiting, and how many of them there may be.

Whoever holds connections open and says nothing holds nobody else up: a head must come within seconds, one address has
only so many connections, and this computer always has some left.
"""

from __future__ import annotations

import asyncio
import logging
import time
from collections import deque
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_SECONDS = 10.0
"""From the first moment of a connection, or the first sign of a request, to the end of its head."""
MOST_OF_ONE_ADDRESS = 40
"""A browser has six to one host, and one more for each page that listens to news."""
MOST_IN_ALL = 200
KEPT_FOR_THE_DESK = 60
"""Of all connections: what others cannot take."""
LINES_A_MINUTE = 20
"""Of the log about broken requests: a log that somebody else can fill fills the disk."""


class PatientProtocol(H11Protocol):
    """A connection with a limit to its silence, refused where there are too many."""

    def __init__(self, *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        self._until_head: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        if not _has_room(
            self.client, [getattr(each, "client", None) for each in self.connections if each is not self]
        ):
            self.connections.discard(self)
            transport.abort()
            return
        self._wait_for_head()

    def data_received(self, data: bytes) -> None:
        super().data_received(data)
        is_head_due = self.cycle is None or self.cycle.response_complete
        if not is_head_due:
            self._head_is_there()
        elif self._until_head is None:
            self._wait_for_head()

    def connection_lost(self, exc: Exception | None) -> None:
        self._head_is_there()
        super().connection_lost(exc)

    def _wait_for_head(self) -> None:
        self._until_head = self.loop.call_later(HEAD_SECONDS, self._give_up)

    def _head_is_there(self) -> None:
        if self._until_head is not None:
            self._until_head.cancel()
            self._until_head = None

    def _give_up(self) -> None:
        self._until_head = None
        if self.transport is not None and not self.transport.is_closing():
            self.transport.abort()


Place = tuple[str, int] | None


def _has_room(client: Place, others: list[Place]) -> bool:
    """Whether one more connection from `client` may stand beside the `others`."""
    if len(others) >= MOST_IN_ALL:
        return False
    here = client[0] if client else ""
    if sum(1 for other in others if other and other[0] == here) >= MOST_OF_ONE_ADDRESS:
        return False
    if here in ("127.0.0.1", "::1"):
        return True
    from_elsewhere = sum(1 for other in others if other and other[0] not in ("127.0.0.1", "::1"))
    return from_elsewhere < MOST_IN_ALL - KEPT_FOR_THE_DESK


class FewLines(logging.Filter):
    """Lets so many lines a minute into the log; of the others it says once that there are more."""

    def __init__(self) -> None:
        super().__init__()
        self._written: deque[float] = deque()
        self._is_told = False

    def filter(self, record: logging.LogRecord) -> bool:
        now = time.monotonic()
        while self._written and self._written[0] <= now - 60:
            self._written.popleft()
            self._is_told = False
        if len(self._written) < LINES_A_MINUTE:
            self._written.append(now)
            return True
        if not self._is_told:
            self._is_told = True
            record.msg, record.args, record.exc_info = "more of the like within this minute", (), None
            return True
        return False
