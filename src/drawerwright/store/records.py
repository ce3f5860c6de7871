"""What the shop keeps, as values: jobs with their revisions, things on the shelf, and what refuses a save."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase

Record = TypeVar("Record")


class StoreError(DrawerwrightError, RuntimeError):
    """The data file cannot be read or written just now. `is_busy` where another program holds it, and it will pass."""

    def __init__(self, text: Phrase, *, is_busy: bool = False) -> None:
        super().__init__(text)
        self.is_busy = is_busy


class UnknownRecordError(DrawerwrightError, KeyError):
    """There is none, or it has been deleted."""

    def __str__(self) -> str:
        return str(self.args[0])


class ChangedMeanwhileError(DrawerwrightError, RuntimeError, Generic[Record]):
    """Somebody else saved in between. Nothing was written; `mine` is the text, `theirs` what stands there now."""

    def __init__(self, mine: str, theirs: Record, message: Phrase) -> None:
        self.mine = mine
        self.theirs = theirs
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Revision:
    """One saved state of a job's text. `number` counts from 1 within the job; `note` says what the save did."""

    number: int
    text: str
    note: str
    saved_at: str
    parent: int | None


@dataclass(frozen=True, slots=True)
class JobRecord:
    """A job at its head revision."""

    id: int
    title: str
    revision: Revision
    can_undo: bool
    can_redo: bool

    @property
    def text(self) -> str:
        """The text of the job file."""
        return self.revision.text


@dataclass(frozen=True, slots=True)
class JobSummary:
    """What a list of jobs shows."""

    id: int
    title: str
    revision: int
    saved_at: str


class UnknownJobError(UnknownRecordError):
    """There is no such job or revision, or the job has been deleted."""


class ConflictError(ChangedMeanwhileError[Revision]):
    """Somebody else saved the job in between."""

    def __init__(self, mine: str, theirs: Revision) -> None:
        super().__init__(
            mine,
            theirs,
            phrase(
                "the job has changed meanwhile (revision {number}): compare both texts and choose",
                number=theirs.number,
            ),
        )


class ShelfKind(StrEnum):
    """What stands on the shelf."""

    CUTTER = "cutter"
    MACHINE = "machine"
    STOCK = "stock"
    RUNNERS = "runners"
    TRIAL_CUT = "trial-cut"
    SCANNER = "scanner"


@dataclass(frozen=True, slots=True)
class ShelfEntry:
    """One thing on the shelf; `version` grows with each save."""

    id: int
    kind: ShelfKind
    name: str
    text: str
    version: int
    saved_at: str


@dataclass(frozen=True, slots=True)
class KeptPicture:
    """A picture of a test cut's piece: its number, the cut that it belongs to, and what its file was called."""

    id: int
    entry_id: int
    name: str


class UnknownEntryError(UnknownRecordError):
    """There is no such entry on the shelf, or it has been deleted."""


class StaleEntryError(ChangedMeanwhileError[ShelfEntry]):
    """Somebody else saved the entry in between."""

    def __init__(self, mine: str, theirs: ShelfEntry) -> None:
        super().__init__(
            mine,
            theirs,
            phrase("{name!r} has changed meanwhile: compare both texts and choose", name=theirs.name),
        )


@dataclass(frozen=True, slots=True)
class RackPiece:
    """Sheets or offcuts of one size: the stock, what the size is called, its length and width as the job file has them
    (mm), how many."""

    stock: str
    label: str
    length: Mm
    width: Mm
    count: int = 1
    is_offcut: bool = False


@dataclass(frozen=True, slots=True)
class Claim:
    """What a job that is not cut yet plans to take: the job with its title, and so many of a size."""

    job_id: int
    title: str
    stock: str
    label: str
    count: int


@dataclass(frozen=True, slots=True)
class FinishedRun:
    """A run that was cut: what it took from the rack and what it left there, for one day of a job that is split."""

    id: int
    job_id: int
    day: int | None
    took: tuple[RackPiece, ...]
    left: tuple[RackPiece, ...]
    booked_at: str
