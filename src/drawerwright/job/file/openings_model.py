"""What a job file says of openings: a whole carcase, or one of the openings of a divided one; dividers and frames."""

from __future__ import annotations

from typing import Annotated, Any, TypeAlias

from pydantic import Discriminator, Field, Tag

from drawerwright.job.file.entry_types import Entries, Length, PositiveLength

MOST_DIVISIONS = 40
"""Columns or rows of one carcase: more than any wall holds."""


class OpeningReadingsEntry(Entries):
    """Readings of an opening; the smallest rules the box."""

    front_above: PositiveLength | None = None
    """Width at the front, above."""
    front_below: PositiveLength | None = None
    """Width at the front, below."""
    back_above: PositiveLength | None = None
    """Width at the back, above."""
    back_below: PositiveLength | None = None
    """Width at the back, below."""
    left: PositiveLength | None = None
    """Height on the left."""
    right: PositiveLength | None = None
    """Height on the right."""
    diagonal_up: PositiveLength | None = None
    """From the lower left corner to the upper right one, at the front."""
    diagonal_down: PositiveLength | None = None
    """From the upper left corner to the lower right one, at the front."""


class OpeningEntry(Entries):
    width: PositiveLength
    """Inside width of the carcase."""
    height: PositiveLength
    """Inside height."""
    depth: PositiveLength
    """Inside depth."""
    measured: OpeningReadingsEntry | None = None
    """Several readings of it, which overrule width and height."""


class PartOpeningEntry(Entries):
    """One of the openings of a divided carcase."""

    of: str
    """The carcase, an entry of `openings`, by its name."""
    column: int = Field(default=1, ge=1, le=MOST_DIVISIONS)
    """Its column from the left."""
    row: int = Field(default=1, ge=1, le=MOST_DIVISIONS)
    """Its row from the top."""
    measured: OpeningReadingsEntry | None = None
    """Several readings of it, which overrule what follows from the division."""


def _part_or_whole(value: Any) -> str:
    is_part = "of" in value if isinstance(value, dict) else isinstance(value, PartOpeningEntry)
    return "part" if is_part else "whole"


AnyOpening: TypeAlias = Annotated[
    Annotated[OpeningEntry, Tag("whole")] | Annotated[PartOpeningEntry, Tag("part")],
    Discriminator(_part_or_whole),
]
"""A carcase of its own, or one of the openings of a divided one."""


class DividersEntry(Entries):
    thickness: PositiveLength
    """Thickness of the dividers."""
    columns: int | None = Field(default=None, ge=1, le=MOST_DIVISIONS)
    """Number of equal columns; or give `vertical`."""
    rows: int | None = Field(default=None, ge=1, le=MOST_DIVISIONS)
    """Number of equal rows; or give `horizontal`."""
    vertical: tuple[PositiveLength, ...] = Field(default=(), max_length=MOST_DIVISIONS - 1)
    """Left face of each upright divider, from the left edge inside."""
    horizontal: tuple[PositiveLength, ...] = Field(default=(), max_length=MOST_DIVISIONS - 1)
    """Lower face of each level divider, from the lower edge inside."""


class FaceFrameEntry(Entries):
    """A frame on the carcase's front edges; `board` or `reveal` says where it sits before them."""

    stile: PositiveLength
    """Width of the outer stiles."""
    rail: PositiveLength
    """Width of the rails above and below."""
    board: PositiveLength | None = None
    """Thickness of the carcase behind it; the two are flush outside. Where the frame is wider, it stands into
    the opening, with spacers behind.
    """
    reveal: Length | None = None
    """Instead of `board`: how far its inner edges stand inside the carcase all round, whatever shows outside; minus
    where the carcase shows inside the frame.
    """
    mid_stile: PositiveLength | None = None
    """Width of the stiles in front of dividers; by default as the outer ones."""
    mid_rail: PositiveLength | None = None
    """Width of the rails in front of dividers; by default as the outer ones."""


class DividedEntry(Entries):
    """A carcase with dividers, or with a face frame."""

    name: str = Field(min_length=1, max_length=80)
    """Its name; banks say which opening of it they close."""
    opening: AnyOpening
    """Its clear size, or which opening of another one it divides further."""
    dividers: DividersEntry | None = None
    """Boards between its openings."""
    frame: FaceFrameEntry | None = None
    """A face frame in front of it."""
