"""Everything Drawerwright raises on purpose.

One root, so that an interface catches one class; each leaf also derives from the built-in that a caller
who does not know us would catch.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from dataclasses import field as declared

from drawerwright.basics.phrases import Reader, plural, said


class DrawerwrightError(Exception):
    """Root of all errors raised on purpose. The text is meant for the person at the bench."""


class InvalidValueError(DrawerwrightError, ValueError):
    """A value that cannot be meant: the text says what is wrong, the value, the limit and the remedy.

    `entry` names the one to blame of several values that were given together, from the outside in (`opening`, `width`);
    empty where it is all of them, or nobody knows.
    """

    def __init__(self, text: str = "", *, entry: tuple[str, ...] = ()) -> None:
        super().__init__(text)
        self.entry = entry


class NoPlanError(DrawerwrightError, ValueError):
    """What was asked for cannot be made at all: the text says which part, why, and what would allow it; `keys` are
    the parts that are in the way, where only some are."""

    def __init__(self, text: str = "", keys: Iterable[str] = ()) -> None:
        super().__init__(text)
        self.keys = tuple(keys)


class MissingLibraryError(DrawerwrightError, ImportError):
    """What was asked for needs a library that is not part of every installation: the text says how to get it."""


class SolverError(DrawerwrightError, RuntimeError):
    """The solver answered with a status that its caller did not allow for."""


MOST_TOLD = 100
"""Faults of one file that are told one by one."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a file or form: where it stands and what to change.

    `field` is the path of the entry, written as in the file (`stock.birch.measured[2]`); `line` counts
    from 1 and is None where the text has no lines (a form). `shown_for`: who reads the file, in its unit of length.
    """

    field: str
    message: str
    line: int | None = None
    file: str | None = None
    shown_for: Reader | None = declared(default=None, compare=False)

    def __str__(self) -> str:
        place = ":".join(str(bit) for bit in (self.file, self.line) if bit is not None)
        message = self.message if self.shown_for is None else said(self.message, self.shown_for)
        return ": ".join(bit for bit in (place, self.field, message) if bit)


class FaultyInputError(DrawerwrightError, ValueError):
    """A file or form with at least one fault. They are in `faults`, in the order of the file; of very many the first,
    and how many more there are. `found` has every one.

    `locations` names the faulty entries from the outside in, where the reader knows them.
    """

    def __init__(self, faults: tuple[Fault, ...], locations: tuple[tuple[str | int, ...], ...] = ()) -> None:
        if not faults:
            raise ValueError("FaultyInputError needs at least one fault")
        self.found = faults
        self.faults = told_of(faults)
        self.locations = locations
        super().__init__("\n".join(str(fault) for fault in self.faults))


def told_of(faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    """The faults that are told: nobody mends more at once, and a page of thousands would be of no use."""
    more = len(faults) - MOST_TOLD
    if more <= 0:
        return faults
    words = plural("and {count:,} more fault", "and {count:,} more faults", more)
    return (*faults[:MOST_TOLD], Fault("", words, None, faults[0].file))
