"""How far long work is, said on standard error: at once on a terminal, now and then where a file or a pipe listens."""

from __future__ import annotations

import sys
import time

PATIENCE = 1.0
"""Seconds before a search says on a terminal how far it is."""
BETWEEN_LINES = 5.0
"""Seconds between two lines where nobody watches: a log stays short, and yet shows that work goes on."""


class ProgressLines:
    """Lines about one command's work."""

    def __init__(self) -> None:
        self._said_at = time.monotonic()

    def search(self, name: str, best: float | None, bound: float, seconds: float) -> None:
        """Say what a search for sheets has found so far.

        Args:
            name: what sheets are searched for.
            best: cost of the best sheets so far, None before there are any.
            bound: a cost that none can undercut.
            seconds: since the search began.
        """
        if seconds > PATIENCE:
            found = "none yet" if best is None else f"{best:g}"
            hint = " (Ctrl-C to stop and use the best so far)" if sys.stderr.isatty() else ""
            self._say(f"{name}: best {found}, at least {bound:g}, {seconds:.0f} s{hint}")

    def step(self, done: int, count: int) -> None:
        """Say how many questions are answered, and of how many at the most."""
        self._say(f"{done} of {count} questions answered")

    def _say(self, line: str) -> None:
        now = time.monotonic()
        if sys.stderr.isatty() or now - self._said_at >= BETWEEN_LINES:
            self._said_at = now
            print(line, file=sys.stderr, flush=True)
