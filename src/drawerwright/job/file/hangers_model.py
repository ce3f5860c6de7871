"""What a job file says of rails that folders hang on."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from drawerwright.drawers.hangers import USUAL_RAILS
from drawerwright.job.file.entry_types import Clearance, Entries, PositiveLength, Usual


class HangersEntry(Entries):
    """Rails for hanging folders. Measure your folders; the figures that may be left out are from memory."""

    span: PositiveLength
    """From the middle of one rail to that of the other, as the folders' hooks reach."""
    rail: Annotated[PositiveLength | None, Usual(USUAL_RAILS["mm"].rail)] = None
    """Thickness of each rail; 1/8 in by default where `shown` is in inches."""
    below: Annotated[PositiveLength | None, Usual(USUAL_RAILS["mm"].below)] = None
    """How far a folder hangs below the rails' upper edges; 9 1/2 in by default where `shown` is in inches."""
    drop: Annotated[Clearance | None, Usual(USUAL_RAILS["mm"].drop)] = None
    """How far these lie below the sides' upper edges, so that hooks and tabs stay in the drawer; 1/2 in by default
    where `shown` is in inches.
    """
    direction: Literal["across", "along"] = "across"
    """`across`: folders hang from side to side, the rails on the sides; `along`: from front to back, the rails on the
    front and the back of the box.
    """


class BankHangersEntry(HangersEntry):
    """The same in the drawers of a bank."""

    drawers: tuple[Annotated[int, Field(ge=1, le=60)], ...] = Field(default=(), max_length=60)
    """Only in these drawers, by their numbers from the top; by default in all."""
