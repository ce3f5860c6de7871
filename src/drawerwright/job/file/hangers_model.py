"""What a job file says of rails that folders hang on."""

from __future__ import annotations

from typing import Literal

from drawerwright.job.file.entry_types import Clearance, Entries, PositiveLength


class HangersEntry(Entries):
    """Rails for hanging folders. Measure your folders; the figures that may be left out are from memory."""

    span: PositiveLength
    """From the middle of one rail to that of the other, as the folders' hooks reach."""
    rail: PositiveLength = 3.0
    """Thickness of each rail."""
    below: PositiveLength = 240.0
    """How far a folder hangs below the rails' upper edges."""
    drop: Clearance = 12.0
    """How far these lie below the sides' upper edges, so that hooks and tabs stay in the drawer."""
    direction: Literal["across", "along"] = "across"
    """`across`: folders hang from side to side, the rails on the sides; `along`: from front to back, the rails on the
    front and the back of the box.
    """
