"""What a part takes of a sheet, in ticks."""

from __future__ import annotations

from drawerwright.sheets.blanks import MatchedSet, PartDemand, StripDemand
from drawerwright.sheets.grid import Grid


def block_width(block: MatchedSet, grid: Grid, kerf: int) -> int:
    """Its parts side by side, one kerf apart."""
    return sum(grid.ticks(width) for width in block.widths) + kerf * (len(block.widths) - 1)


def area_of(part: PartDemand, grid: Grid, kerf: int) -> int:
    """In square ticks, kerfs within a matched set included."""
    if isinstance(part, MatchedSet):
        return grid.ticks(part.length) * block_width(part, grid, kerf)
    across = part.height if isinstance(part, StripDemand) else part.width
    return grid.ticks(part.length) * grid.ticks(across)
