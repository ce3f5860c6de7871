"""One-time codes that let a phone in the shop use the app."""

from __future__ import annotations

import secrets
import threading
import time
from collections import deque
from collections.abc import Callable
from enum import Enum

ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""No 0 and O, 1, I and L: they are mistaken for one another on a dusty screen."""
CODE_LENGTH = 8
CODE_SECONDS = 600.0
"""A code expires after ten minutes, used or not."""
GUESS_SECONDS = 60.0
GUESSES_PER_ADDRESS = 5
"""Tries in GUESS_SECONDS. Each address has its own, so that wrong codes of one device never shut out another. All 254
of a network at five a minute try 12,700 of 31**8 (8.5e11) codes in the ten minutes of one."""
MOST_REMEMBERED = 10_000
"""Guesses; only who has thousands of addresses makes more in a minute."""


class Answer(Enum):
    """What became of a guess."""

    ACCEPTED = "accepted"
    WRONG = "wrong"
    TOO_MANY = "too many"


class PairingCodes:
    """The code that is valid just now, if any, and how often it has been guessed at."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._code: str | None = None
        self._expires = 0.0
        self._guesses: deque[tuple[float, str]] = deque(maxlen=MOST_REMEMBERED)

    def issue(self) -> str:
        """A new code; the one before it is void."""
        with self._lock:
            self._code = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
            self._expires = self._clock() + CODE_SECONDS
            return self._code

    def try_code(self, typed: str, address: str) -> Answer:
        """Try a code from `address`. An accepted code is spent."""
        with self._lock:
            moment = self._clock()
            while self._guesses and self._guesses[0][0] <= moment - GUESS_SECONDS:
                self._guesses.popleft()
            from_here = sum(1 for _, place in self._guesses if place == address)
            if from_here >= GUESSES_PER_ADDRESS:
                return Answer.TOO_MANY
            self._guesses.append((moment, address))
            code, is_live = self._code, moment < self._expires
            plain = "".join(typed.upper().split()).replace("-", "")
            if code is None or not is_live or not secrets.compare_digest(plain.encode(), code.encode()):
                return Answer.WRONG
            self._code = None
            return Answer.ACCEPTED


def spaced(code: str) -> str:
    """A code in two groups, as it is shown.

    >>> spaced("ABCD2345")
    'ABCD 2345'
    """
    half = len(code) // 2
    return f"{code[:half]} {code[half:]}"
