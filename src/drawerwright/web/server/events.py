"""News for open pages: what changed, sent as server-sent events.

An event says only that something changed and to which version; the page then asks for what it shows. A page
that slept or lost the connection gets the present versions when it comes back, so nothing can be missed.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Callable

from drawerwright.store.records import UnknownJobError

Versions = dict[str, int]
HEARTBEAT_SECONDS = 15.0
"""A comment line now and then, so that both ends notice a connection that has died."""
RETRY_MILLISECONDS = 1000


class Hub:
    """Carries changes to every open page of a job. Changes may be announced from any thread."""

    def __init__(self) -> None:
        self._waiting: dict[int, set[asyncio.Event]] = {}
        self._loop: asyncio.AbstractEventLoop | None = None
        self._closing = False

    def announce(self, job_id: int) -> None:
        """Wake every page that shows this job."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._wake, job_id)

    def announce_all(self) -> None:
        """Wake every open page, for instance when a device may not listen any more."""
        for job_id in list(self._waiting):
            self.announce(job_id)

    def _wake(self, job_id: int) -> None:
        for event in self._waiting.get(job_id, ()):
            event.set()

    def close(self) -> None:
        """End every stream, so that the server can stop."""
        self._closing = True
        for job_id in list(self._waiting):
            self._wake(job_id)

    async def stream(self, job_id: int, versions: Callable[[], Versions | None]) -> AsyncIterator[bytes]:
        """The events of one open page: the present versions at once, then again after each change.

        Of a job that is deleted it says so and listens on: the deletion may be undone. It ends where `versions` has
        none to give, as to a device that is not paired any more.
        """
        self._loop = asyncio.get_running_loop()
        changed = asyncio.Event()
        self._waiting.setdefault(job_id, set()).add(changed)
        try:
            yield f"retry: {RETRY_MILLISECONDS}\n\n".encode()
            while not self._closing:
                changed.clear()
                try:
                    present = await asyncio.to_thread(versions)
                except UnknownJobError:
                    yield b"event: deleted\ndata: {}\n\n"
                else:
                    if present is None:
                        return
                    yield f"event: versions\ndata: {json.dumps(present)}\n\n".encode()
                while not changed.is_set() and not self._closing:
                    try:
                        await asyncio.wait_for(changed.wait(), HEARTBEAT_SECONDS)
                    except TimeoutError:
                        yield b": still here\n\n"
        finally:
            group = self._waiting[job_id]
            group.discard(changed)
            if not group:
                del self._waiting[job_id]
