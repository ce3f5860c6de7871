"""How hard a loaded bottom presses on the lower cheeks of its grooves."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bottom import Bottom
from drawerwright.strength.bottom_load import LASTING, LoadedBottom
from drawerwright.wood.sourced import Provenance, Source, sourced_rows
from drawerwright.wood.stock import Stock


@dataclass(frozen=True, slots=True)
class GrooveBearing:
    """The pressure on the cheek where it is greatest, and what the wood of the sides may bear for years (N/mm²).

    `reach`: how far the bottom lies in the groove when it is pushed to the other side (mm).
    """

    pressure: float
    limit: float
    reach: Mm
    source: Source

    @property
    def holds(self) -> bool:
        """Whether the cheek bears it."""
        return self.pressure <= self.limit


def groove_bearing(loaded: LoadedBottom, bottom: Bottom, side: Stock) -> GrooveBearing | None:
    """How a bottom presses on its grooves; None where it has none, or does not reach into them."""
    reach = bottom.groove_depth - bottom.clearance
    if bottom.groove is None or reach <= 0:
        return None
    strength, source = _across(side)
    return GrooveBearing(loaded.edge_force / reach, LASTING * strength, reach, source)


def _across(side: Stock) -> tuple[float, Source]:
    """What the sides' wood bears pressed across its grain (N/mm²); of other stock, the softest species of the table."""
    row = None if side.species is None else side.species.row("mechanical")
    strength = None if row is None else row["compression_across"]
    if row is not None and strength is not None:
        return strength / 1000, row.source
    softest = min(value for each in sourced_rows("mechanical") if (value := each["compression_across"]))
    return softest / 1000, Source(phrase("sides taken as the softest wood of the table"), Provenance.ASSUMED)
