"""How far long work is, said on standard error: at once on a terminal, now and then where a file or a pipe listens."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

PATIENCE = 1.0
"""Seconds before a search says on a terminal how far it is."""
BETWEEN_LINES = 5.0
"""Seconds between two lines where nobody watches, or where there is nothing new: a log stays short, and yet shows that
work goes on."""


class ProgressLines:
    """Lines about one command's work."""

    def __init__(self) -> None:
        self._said_at = time.monotonic()
        self._known: tuple[str, float | None, float] | None = None
        self._began = self._said_at
        self._is_new = False

    def search(self, name: str, best: float | None, bound: float, seconds: float) -> None:
        """Say what a search for sheets has found so far, or keep it for `asking` while the search is young.

        Args:
            name: what sheets are searched for.
            best: cost of the best sheets so far, None before there are any.
            bound: a cost that none can undercut.
            seconds: since the search began.
        """
        self._known, self._is_new = (name, best, bound), True
        self._began = time.monotonic() - seconds
        self._tell()

    def asking(self, cancelled: Callable[[], bool]) -> Callable[[], bool]:
        """`cancelled`, which a search asks all the time: each time it is seen whether there is something to say."""

        def asked() -> bool:
            self._tell()
            return cancelled()

        return asked

    def _tell(self) -> None:
        now = time.monotonic()
        seconds = now - self._began
        if (
            self._known is None
            or seconds <= PATIENCE
            or not (self._is_new or now - self._said_at >= BETWEEN_LINES)
        ):
            return
        name, best, bound = self._known
        found = "none yet" if best is None else f"{best:g}"
        hint = " (Ctrl-C to stop and use the best so far)" if sys.stderr.isatty() else ""
        self._say(f"{name}: best {found}, at least {bound:g}, {seconds:.0f} s{hint}")
        self._is_new = False

    def step(self, done: int, count: int) -> None:
        """Say how many plans are tried, and of how many at the most."""
        self._known = None
        self._say(f"{done} of {count} plans tried")

    def _say(self, line: str) -> None:
        now = time.monotonic()
        if sys.stderr.isatty() or now - self._said_at >= BETWEEN_LINES:
            self._said_at = now
            print(line, file=sys.stderr, flush=True)
