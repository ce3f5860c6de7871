"""How long a text may take at a door, and how much memory."""

from __future__ import annotations

import resource
import signal
import time
from collections.abc import Callable

Check = Callable[[str], object]
MOST_SECONDS = 2.0
"""Of the processor, for one text."""
GIVEN_UP = 20.0
"""Then nobody waits any longer."""
MOST_BYTES = 500 * 2**20


class SlowError(AssertionError):
    """A text that takes too long."""


class HeavyError(AssertionError):
    """A text that takes too much memory."""


def peak() -> int:
    """The most memory that this process ever had (bytes)."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def watched(check: Check) -> Check:
    """`check`, failing where it takes too much memory, or too long also when all that it needs is loaded."""

    def give_up(_number: int, _frame: object) -> None:
        raise SlowError(f"no answer in {GIVEN_UP:.0f} s")

    def seconds_for(text: str) -> float:
        signal.signal(signal.SIGPROF, give_up)
        signal.setitimer(signal.ITIMER_PROF, GIVEN_UP)
        try:
            began = time.process_time()
            check(text)
            return time.process_time() - began
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)

    def measured(text: str) -> None:
        before = peak()
        if seconds_for(text) > MOST_SECONDS and (seconds := seconds_for(text)) > MOST_SECONDS:
            raise SlowError(f"{seconds:.1f} s")
        if (more := peak() - before) > MOST_BYTES:
            raise HeavyError(f"{more / 2**20:.0f} MB")

    return measured
