"""The seconds that a search counts."""

from __future__ import annotations

import time


def now() -> float:
    """A reading of the search's own clock: seconds that the processor has worked for this thread.

    Whatever else keeps the machine busy does not tell: the same limit finds the same plan.
    """
    return time.thread_time()
