"""The saw: what it takes of a sheet. Here the kerf enters; the planner counts it between any two neighbours."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import Mm


@dataclass(frozen=True, slots=True)
class Saw:
    """What the saw and the first cuts take: kerf between neighbours, trim off every edge of a new sheet."""

    kerf: Mm
    trim: Mm = 0.0
