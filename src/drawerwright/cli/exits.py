"""Exit codes, how arguments become values, and what Ctrl-C means during long work."""

from __future__ import annotations

import argparse
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

DONE = 0
BAD_INPUT = 2
INTERRUPTED = 130
"""Of a command that was ended before it had anything to show: 128 and the number of the signal, as shells have it."""


def length(text: str) -> float:
    """argparse type of a length argument."""
    from drawerwright.basics.errors import InvalidValueError
    from drawerwright.basics.lengths import parse_length

    try:
        return parse_length(text)
    except InvalidValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


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
