"""What a drawer weighs, empty and full, what its bottom carries, and what its runners and its carcase have to bear."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from drawerwright.basics.lengths import Mm
from drawerwright.basics.loads import Kg
from drawerwright.drawers.assembly import AssembledDrawer, assemble
from drawerwright.drawers.bottom import Bottom, BottomStyle
from drawerwright.drawers.parts import Part
from drawerwright.drawers.seasons import YearsMoisture
from drawerwright.strength.bottom_load import LoadedBottom
from drawerwright.strength.plate import Supports
from drawerwright.strength.sag_limit import SagLimit
from drawerwright.wood.board import BoardDensity, board_bending, board_density
from drawerwright.wood.moisture import Climate
from drawerwright.wood.stock import Grain, Stock

MM3_PER_M3 = 1e9
HALF = 0.5
"""An open drawer's weight acts at half its depth before the carcase, the carcase's own at half its depth behind."""


@lru_cache  # every part of a job asks for one of a few
def stock_density(stock: Stock, climate: Climate) -> BoardDensity:
    """What a stock weighs at today's moisture (kg/m³)."""
    moisture = YearsMoisture.of(stock, climate).today
    return board_density(stock.panel, stock.thickness.value, stock.species, moisture)


def part_mass(part: Part, climate: Climate) -> Kg:
    """What a part weighs: its outer size, nothing taken off for joints and grooves."""
    volume = part.length * part.width * part.thickness
    return stock_density(part.stock, climate).value * volume / MM3_PER_M3


@dataclass(frozen=True, slots=True)
class DrawerLoad:
    """One drawer with what lies in it."""

    drawer: AssembledDrawer

    @property
    def empty(self) -> Kg:
        """What the drawer itself weighs."""
        return sum(part_mass(part, self.drawer.box.duty.climate) for part in self.drawer.parts)

    @property
    def volume(self) -> float:
        """What it holds when filled to the top of its sides (mm³)."""
        box, bottom = self.drawer.box, self.drawer.box.bottom
        floor = 0.0 if bottom is None else bottom.level + bottom.stock.thickness.value
        return box.inside_width * box.inside_depth * max(box.height - floor, 0.0)

    @property
    def trays(self) -> tuple[DrawerLoad, ...]:
        """The trays that lie in it, each with what lies in that; put together by the law, whatever height is dialled
        in."""
        return tuple(DrawerLoad(assemble(tray)) for tray in self.drawer.box.trays)

    @property
    def contents(self) -> Kg | None:
        """What lies in it, trays and what lies in those too; None where nobody has said.

        What fills a drawer fills what its trays leave of it.
        """
        box, trays = self.drawer.box, self.trays
        taken = sum(tray.width * tray.depth * tray.height for tray in box.trays)
        own = box.duty.carried(max(self.volume - taken, 0.0))
        if own is None and all(tray.full is None for tray in trays):
            return None
        return (own or 0.0) + sum(tray.empty if tray.full is None else tray.full for tray in trays)

    @property
    def full(self) -> Kg | None:
        """Drawer and contents together: what its runners carry."""
        return None if self.contents is None else self.empty + self.contents

    def bottom(self, limit: SagLimit) -> LoadedBottom | None:
        """Its bottom under its contents; None where there is none, or load or board are not known."""
        bottom = self.drawer.box.bottom
        return None if bottom is None else self.bottom_of(bottom.stock, limit)

    def bottom_of(self, stock: Stock, limit: SagLimit) -> LoadedBottom | None:
        """The bottom if it were of another stock, in the damp season, when wood is weakest."""
        box, bottom = self.drawer.box, self.drawer.box.bottom
        thickness = stock.thickness.value
        damp = YearsMoisture.of(stock, box.duty.climate).damp
        board = board_bending(stock.panel, thickness, stock.species, stock.sawn, damp)
        if bottom is None or board is None or self.contents is None:
            return None
        loaded = LoadedBottom(
            box.inside_width,
            box.inside_depth,
            thickness,
            board,
            self.contents,
            supports=bottom_supports(bottom),
            limit=limit,
        )
        if stock.grain is not Grain.NONE:
            return loaded
        # Nobody has said which way its grain runs: it is judged by the worse.
        return max(loaded, replace(loaded, lengthwise=True), key=lambda one: one.deflection)


def bottom_supports(bottom: Bottom) -> Supports:
    """On how many edges it lies: one that is slid in hangs on its screws at the back, which are not counted on."""
    return Supports.THREE if bottom.style is BottomStyle.SLID else Supports.FOUR


def least_carcase(loads: Sequence[DrawerLoad], depth: Mm) -> Kg | None:
    """What a carcase so deep (mm) must weigh not to tip over its front edge with all of its drawers pulled right out;
    None where nobody has said what lies in any. One whose contents are not known counts empty."""
    if all(load.full is None for load in loads):
        return None
    moments = sum(
        (load.empty if load.full is None else load.full) * HALF * load.drawer.box.depth for load in loads
    )
    return moments / (HALF * depth)
