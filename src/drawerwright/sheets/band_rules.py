"""What the router table asks of the bands that are cut from a sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from drawerwright.basics.lengths import Mm

BOTH_ENDS: Final = 2
"""So many ends of a routed edge get a strip, where nothing is said."""


@dataclass(frozen=True, slots=True)
class BandRules:
    """What the router table asks of a band.

    `sacrificial_strip` is the width of the strip that takes the tear-out, `sacrificial_ends` at how many ends
    of the routed edge (the exit end of the first edge is the entry end of the second, so 2 protects both).
    `shortest_piece` is the least routed length that is safe to hold; `longest_band` the most that the table
    carries (None: no limit). How tall a band may stand is a property of the part, checked before planning.
    """

    sacrificial_strip: Mm = 0.0
    sacrificial_ends: int = BOTH_ENDS
    shortest_piece: Mm = 0.0
    longest_band: Mm | None = None
