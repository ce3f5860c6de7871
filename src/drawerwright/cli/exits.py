"""Exit codes, and what Ctrl-C means during long work."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drawerwright.basics.findings import Finding

DONE = 0
BAD_INPUT = 2
"""What was given cannot be used: arguments, a file's entries, a folder that cannot be written."""
STOP_STANDS = 3
"""Done, all output complete, but a finding says that nothing should be cut before it is settled."""
OWN_FAULT = 70
"""Drawerwright itself is at fault (EX_SOFTWARE of BSD's sysexits)."""
INTERRUPTED = 130
"""Of a command that was ended before it had shown all: 128 and the number of the signal, as shells have it."""
NOBODY_READS = 141
"""Whoever read the output has gone (128 and SIGPIPE): nothing more is said."""

IN_ORDER = (INTERRUPTED, NOBODY_READS, OWN_FAULT, BAD_INPUT, STOP_STANDS, DONE)
"""Where more than one code holds, the first of these is given."""


def first_of(one: int, other: int) -> int:
    """The code of a command of which both hold."""
    return min(one, other, key=IN_ORDER.index)


def done_with(findings: Iterable[Finding]) -> int:
    """The code of a command that is done and has found this."""
    return STOP_STANDS if any(finding.stops for finding in findings) else DONE


@contextmanager
def interruptible() -> Iterator[Callable[[], bool]]:
    """Inside, the first Ctrl-C asks the work to stop with the best it has; a second one ends the program.

    Yields a function that tells whether it was pressed.
    """
    pressed = False

    def remember(_number: int, _frame: FrameType | None) -> None:
        nonlocal pressed
        pressed = True
        signal.signal(signal.SIGINT, before)

    try:
        before = signal.signal(signal.SIGINT, remember)
    except ValueError:  # only the main thread may take signals
        yield lambda: False
        return
    try:
        yield lambda: pressed
    finally:
        signal.signal(signal.SIGINT, before)
