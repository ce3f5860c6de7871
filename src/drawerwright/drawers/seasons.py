"""How far the parts of a drawer move over a year, from what their wood is at today."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.assembly import AssembledDrawer, PlacedPart
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.placement import BACK, Direction
from drawerwright.wood.moisture import FIBRE_SATURATION, Climate
from drawerwright.wood.movement import (
    PLYWOOD_IN_PLANE,
    PLYWOOD_THICKNESS,
    Swelling,
    likely_swelling,
    usual_swelling,
)
from drawerwright.wood.sourced import Source
from drawerwright.wood.stock import Stock
from drawerwright.wood.thickness import Panel

PLYWOODS = (Panel.BIRCH_PLYWOOD, Panel.PLYWOOD, Panel.US_PLYWOOD, Panel.HARDWOOD_PLYWOOD)


@dataclass(frozen=True, slots=True)
class YearsMoisture:
    """The moisture of a stock's wood (%): today, and at the dry and the damp end of its climate's year."""

    today: float
    dry: float
    damp: float
    is_read: bool
    """Whether a meter has read today's; else it is half-way between the ends."""

    @classmethod
    def of(cls, stock: Stock, climate: Climate) -> YearsMoisture:
        """Of a stock in a climate; above fibre saturation nothing moves, so nothing is told apart."""
        dry, damp = (min(end, FIBRE_SATURATION) for end in climate.range)
        if stock.moisture is not None:
            return cls(stock.moisture, dry, damp, is_read=True)
        return cls((dry + damp) / 2, dry, damp, is_read=False)


@dataclass(frozen=True, slots=True)
class YearsMovement:
    """What becomes of a size (mm) in a year: by how much it is greater than today at the dry end, most often a negative
    figure, and at the damp end."""

    size: Mm
    at_dry: Mm
    at_damp: Mm
    moisture: YearsMoisture
    sources: tuple[Source, ...]

    @property
    def range(self) -> Mm:
        """From the dry end to the damp end (mm)."""
        return self.at_damp - self.at_dry

    @property
    def source_words(self) -> Phrase:
        """The figure that says how far the wood moves, the last of the sources."""
        return self.sources[-1].words


def across_movement(stock: Stock, size: Mm, climate: Climate) -> YearsMovement | None:
    """How far a size across the grain of a stock's face moves; None where nothing is known of its kind."""
    if stock.panel in PLYWOODS:
        return _moved(PLYWOOD_IN_PLANE, stock, size, climate)
    if stock.panel is not Panel.SOLID:
        return None
    return _moved(_swelling(stock, thickness=False), stock, size, climate)


def thickness_movement(stock: Stock, climate: Climate) -> YearsMovement | None:
    """How far the thickness of a stock moves; None where nothing is known of its kind."""
    size = stock.thickness.value
    if stock.panel in PLYWOODS:
        return _moved(PLYWOOD_THICKNESS, stock, size, climate)
    if stock.panel is not Panel.SOLID:
        return None
    return _moved(_swelling(stock, thickness=True), stock, size, climate)


def movement_along(placed: PlacedPart, direction: Direction, climate: Climate) -> YearsMovement | None:
    """How far a part of an assembled drawer moves in one direction of the drawer; None where it keeps its size, or
    nothing is known."""
    part, place = placed.part, placed.place
    turned = tuple(-step for step in direction)
    if place.across in (direction, turned):
        return across_movement(part.stock, part.width, climate)
    if place.through in (direction, turned):
        return thickness_movement(part.stock, climate)
    if part.stock.panel in PLYWOODS:
        return across_movement(part.stock, part.length, climate)
    return None


def slid_bottom_movement(drawer: AssembledDrawer) -> YearsMovement | None:
    """How far a bottom that is slid in moves at its back, where it is screwed: its front stays in its groove. None
    where there is no such bottom, or nothing is known."""
    bottom, placed = drawer.box.bottom, drawer.find(PartKind.BOTTOM)
    if bottom is None or placed is None or bottom.style is not BottomStyle.SLID:
        return None
    return movement_along(placed, BACK, drawer.box.duty.climate)


def moisture_words(moved: YearsMovement) -> Phrase:
    """From what to what the wood goes, and whether anybody has read where it is today."""
    moisture = moved.moisture
    figures = {"dry": moisture.dry, "damp": moisture.damp, "today": moisture.today}
    if moisture.is_read:
        return phrase("{dry:.1f} to {damp:.1f} % moisture, today {today:.1f} %", **figures)
    return phrase("{dry:.1f} to {damp:.1f} % moisture, today assumed at {today:.1f} %", **figures)


def _swelling(stock: Stock, *, thickness: bool) -> Swelling:
    sawn = stock.sawn.other if thickness else stock.sawn
    return usual_swelling(sawn) if stock.species is None else likely_swelling(stock.species, sawn)


@lru_cache(maxsize=1024)  # many drawers share a few sizes
def _moved(swelling: Swelling, stock: Stock, size: Mm, climate: Climate) -> YearsMovement:
    moisture = YearsMoisture.of(stock, climate)
    dry = swelling.movement(size, moisture.today, moisture.dry)
    damp = swelling.movement(size, moisture.today, moisture.damp)
    return YearsMovement(size, dry.change, damp.change, moisture, damp.sources)
