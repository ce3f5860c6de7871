"""What a job is worked on by: its topics in the order of the work, and how far each has come."""

from __future__ import annotations

from enum import StrEnum

from drawerwright.job.file.entry_paths import EntryPath


class Topic(StrEnum):
    """One side of a job, in the order of the work."""

    CUTTER = "cutter"
    STOCK = "stock"
    DRAWERS = "drawers"
    CORNER = "corner"
    TEST_CUT = "trial"
    SHEETS = "sheets"
    RUN = "run"
    PAPERS = "papers"
    FILE = "text"


class Sign(StrEnum):
    """How far something has come. Each has a shape of its own, so that none is told by colour."""

    KNOWN = "known"
    OPEN = "open"
    DOUBTFUL = "doubtful"
    STOP = "stop"


_GRAVEST = (Sign.STOP, Sign.DOUBTFUL, Sign.OPEN, Sign.KNOWN)
_OF_SECTION = {
    "cutter": Topic.CUTTER,
    "cutters": Topic.CUTTER,
    "banks": Topic.DRAWERS,
    "boxes": Topic.DRAWERS,
}


def topic_of(entry: EntryPath) -> Topic:
    """Where an entry of the job file is worked on."""
    return _OF_SECTION.get(str(entry[0]), Topic.STOCK) if entry else Topic.FILE


def gravest(*signs: Sign) -> Sign:
    """The one of several signs that matters most; `KNOWN` of none."""
    return min(signs, key=_GRAVEST.index, default=Sign.KNOWN)
