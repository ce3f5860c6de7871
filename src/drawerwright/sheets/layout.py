"""From the planner's columns to pieces and cuts on a sheet, in mm."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from drawerwright.basics.lengths import Mm
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand
from drawerwright.sheets.cut_list import TRIM_STAGE
from drawerwright.sheets.patterns import Cut, Offcut, PlacedBand, PlacedLoose, PlacedStrip, SheetLayout
from drawerwright.sheets.sheet_stock import SheetSize
from drawerwright.sheets.solver.columns import Band, Element, FilledSheet, Frame, Piece, RowOfPieces, Stack
from drawerwright.sheets.solver.translation import CuttingTerms

RIP_STAGE, RIP_STAGE_TRIMMED = 2, 4
"""Strips are ripped from a band as a second-stage cut is made: across the crosscuts, the one that trims it too."""

Rectangle = tuple[int, int, int, int]
"""u0, v0, u1, v1 in ticks."""
_Saw = tuple[int, Mm, Mm, Mm, Mm, bool, Mm]
"""A cut but for its order."""


@dataclass
class Numbering:
    """What the sheets of a plan have in common: running numbers of keys and band families, and how many elements of
    columns are so high (in ticks), each of which needs a setting of the saw."""

    heights: Counter[int]
    keys: Counter[str] = field(default_factory=Counter)

    def next(self, key: str) -> int:
        self.keys[key] += 1
        return self.keys[key]


def lay_out(
    terms: CuttingTerms, size: SheetSize, frame: Frame, sheet: FilledSheet, trim: int, numbers: Numbering
) -> SheetLayout:
    """One sheet. `trim` in ticks is taken off every edge first, then what `sheet.height` leaves over.

    The parts of a piece come off the longest first, so that over all sheets a setting of the saw need not come twice;
    the cuts stand in the order in which the pieces lie, `cut_list.in_saw_order` puts them into that of the saw.
    """
    return _Sheet(terms, size, frame, trim, numbers).lay(sheet)


class _Sheet:
    def __init__(
        self, terms: CuttingTerms, size: SheetSize, frame: Frame, trim: int, numbers: Numbering
    ) -> None:
        self.terms, self.size, self.frame, self.trim, self.numbers = terms, size, frame, trim, numbers
        self.bands: list[PlacedBand] = []
        self.loose: list[PlacedLoose] = []
        self.offcuts: list[Offcut] = []
        self.cuts: list[_Saw] = []
        self.rips: list[_Saw] = []
        self.height = frame.width
        """What columns may take across the frame."""
        self.stages_before = 0

    # -- from frame to sheet ---------------------------------------------------------------------------

    def _to_sheet(self, area: Rectangle) -> tuple[Mm, Mm, Mm, Mm]:
        """x0, y0, x1, y1 in mm."""
        u0, v0, u1, v1 = (ticks + self.trim for ticks in area)
        x0, y0, x1, y1 = (v0, u0, v1, u1) if self.frame.transposed else (u0, v0, u1, v1)
        mm = self.terms.grid.mm
        return mm(x0), mm(y0), mm(x1), mm(y1)

    def _cut(self, stage: int, dust: Rectangle, setting: int, ripped: list[_Saw] | None = None) -> None:
        x0, y0, x1, y1 = self._to_sheet(dust)
        cut = (
            stage and stage + self.stages_before,
            x0,
            y0,
            x1,
            y1,
            ripped is not None,
            self.terms.grid.mm(setting),
        )
        (self.cuts if ripped is None else ripped).append(cut)

    def _leave(self, area: Rectangle) -> None:
        u0, v0, u1, v1 = area
        if u1 > u0 and v1 > v0:
            x0, y0, _, _ = self._to_sheet(area)
            along, across = self.terms.grid.mm(u1 - u0), self.terms.grid.mm(v1 - v0)
            length, width = (across, along) if self.frame.transposed else (along, across)
            self.offcuts.append(Offcut(x0, y0, length, width, self.terms.least_offcut.keeps(length, width)))

    # -- cutting ---------------------------------------------------------------------------------------

    def lay(self, sheet: FilledSheet) -> SheetLayout:
        self._trim_edges()
        if sheet.height is not None:
            self._take_off(sheet.height)
        length, height = self.frame.length, self.height
        ordered = sorted(sheet.stacks, key=lambda stack: (-stack.u, -stack.v, repr(stack.elements)))
        columns = []
        u = 0
        for stack in ordered:
            columns.append((u, stack))
            u = self._part(1, (u, 0, length, height), u + stack.u, along_u=True)
        self._leave((u, 0, length, height))
        for start, stack in columns:
            self._lay_stack(start, stack)
        return SheetLayout(
            self.size,
            tuple(self.bands),
            tuple(self.loose),
            tuple(self.offcuts),
            tuple(Cut(order, *cut) for order, cut in enumerate([*self.cuts, *self.rips], start=1)),
            self.frame.transposed == bool(self.stages_before),
        )

    def _take_off(self, height: int) -> None:
        """A first cut along the whole frame: what it takes off is left over, all other cuts come a stage later."""
        area = (0, 0, self.frame.length, self.frame.width)
        rest = self._part(1, area, height, along_u=False)
        self._leave((0, rest, self.frame.length, self.frame.width))
        self.height, self.stages_before = height, 1

    def _trim_edges(self) -> None:
        trim = self.trim
        if not trim:
            return
        kerf = min(self.terms.kerf, trim)
        length, width = self.frame.length, self.frame.width
        for dust in (
            (-kerf, -trim, 0, width + trim),
            (length, -trim, length + kerf, width + trim),
            (0, -kerf, length, 0),
            (0, width, length, width + kerf),
        ):
            self._cut(TRIM_STAGE, dust, 0)

    def _part(
        self, stage: int, area: Rectangle, end: int, *, along_u: bool, ripped: list[_Saw] | None = None
    ) -> int:
        """Cut `area` at `end` (nothing to cut at its far edge); where the rest begins.

        `ripped` is the list that takes the cut where it waits until the band has been routed.
        """
        u0, v0, u1, v1 = area
        last = u1 if along_u else v1
        rest = min(end + self.terms.kerf, last)
        if end < last:
            dust = (end, v0, rest, v1) if along_u else (u0, end, u1, rest)
            self._cut(stage, dust, end - (u0 if along_u else v0), ripped)
        return rest

    def _takes_rest(self, stack: Stack, top: int) -> Band | None:
        """The band that is left as it is at the end of its column, with what would be waste beyond its last strip; None
        where the rest is worth keeping, or nothing can take it. Best that whose height nothing else has."""
        terms = self.terms
        rest = top - sum(element.v + terms.kerf for element in stack.elements)
        if not terms.spares_cuts or terms.keeps(stack.u, rest):
            return None
        taken = rest + terms.kerf
        bands = [
            element
            for element in stack.elements
            if isinstance(element, Band)
            and element.u == stack.u
            and (terms.longest is None or element.v + taken <= terms.longest)
        ]
        return min(bands, key=lambda band: (self.numbers.heights[band.v], band.v, repr(band)), default=None)

    def _lay_stack(self, u: int, stack: Stack) -> None:
        top = self.height
        v = 0
        ordered = sorted(stack.elements, key=lambda element: (-element.v, -element.u, repr(element)))
        last = self._takes_rest(stack, top)
        if last is not None:
            ordered.remove(last)
        places = []
        for element in ordered:
            places.append((v, v + element.v, element))
            v = self._part(2, (u, v, u + stack.u, top), v + element.v, along_u=False)
        if last is None:
            self._leave((u, v, u + stack.u, top))
        else:
            places.append((v, top, last))
        for start, end, element in places:
            self._lay_element((u, start, u + stack.u, end), element)

    def _lay_element(self, area: Rectangle, element: Element) -> None:
        u0, v0, u1, v1 = area
        if isinstance(element, Band):
            end = u0 + element.u
            self._leave((self._part(3, area, end, along_u=True), v0, u1, v1))
            self._place_band((u0, v0, end, v1), element, RIP_STAGE if end == u1 else RIP_STAGE_TRIMMED)
            return
        pieces = element.pieces if isinstance(element, RowOfPieces) else (element,)
        u = u0
        for piece in sorted(pieces, key=lambda piece: (-piece.u, -piece.v, repr(piece))):
            start = u
            u = self._part(3, (u, v0, u1, v1), u + piece.u, along_u=True)
            rest = self._part(4, (start, v0, start + piece.u, v1), v0 + piece.v, along_u=False)
            self._leave((start, rest, start + piece.u, v1))
            trimmed = piece.u < u1 - u0 or piece.v < v1 - v0
            self._place_piece((start, v0, start + piece.u, v0 + piece.v), piece, 4 if trimmed else 2)
        self._leave((u, v0, u1, v1))

    def _place_band(self, area: Rectangle, band: Band, stage: int) -> None:
        u0, v0, u1, v1 = area
        terms = self.terms
        strips: list[PlacedStrip] = []
        waste: list[tuple[Mm, Mm]] = []
        v = v0
        if terms.sacrificial and terms.ends > 1:
            waste.append((0.0, terms.grid.mm(terms.sacrificial)))
            end = v0 + terms.sacrificial
            v = self._part(stage, area, end, along_u=False, ripped=self.rips)
        for strip, count in self._tallest_first(band):
            height = terms.grid.ticks(strip.height)
            for _ in range(count):
                number = self.numbers.next(strip.key)
                strips.append(PlacedStrip(strip.key, number, terms.grid.mm(v - v0), strip.height))
                v = self._part(stage, (u0, v, u1, v1), v + height, along_u=False, ripped=self.rips)
        if v < v1:
            waste.append((terms.grid.mm(v - v0), terms.grid.mm(v1 - v)))
        x, y, _, _ = self._to_sheet(area)
        family = terms.families[band.family]
        self.bands.append(
            PlacedBand(
                family,
                self.numbers.next(f"band {family}"),
                x,
                y,
                terms.grid.mm(u1 - u0),
                terms.grid.mm(v1 - v0),
                self.frame.transposed,
                tuple(strips),
                tuple(waste),
            )
        )

    def _tallest_first(self, band: Band) -> list[tuple[StripDemand, int]]:
        """The strips of a band in the order of its ripping, and how many of each."""
        wanted = [(self.terms.demands[demand], count) for demand, count in band.strips]
        strips = [(strip, count) for strip, count in wanted if isinstance(strip, StripDemand)]
        return sorted(strips, key=lambda each: -each[0].height)

    def _place_piece(self, area: Rectangle, piece: Piece, stage: int) -> None:
        part = self.terms.demands[piece.demand]
        if isinstance(part, MatchedSet):
            self._place_matched(area, part, stage)
            return
        assert isinstance(part, LooseDemand)
        self._place_loose(area, part.key, part.length, part.width, piece.turned, None)

    def _place_matched(self, area: Rectangle, block: MatchedSet, stage: int) -> None:
        """Members lie side by side across the grain, top one first, as they will hang."""
        u0, v0, u1, v1 = area
        v = v1
        places = []
        for width in block.widths:
            places.append(v - self.terms.grid.ticks(width))
            v = places[-1] - self.terms.kerf
        low = v0
        for start in reversed(places):
            low = self._part(
                stage,
                (u0, low, u1, v1),
                start + self.terms.grid.ticks(block.widths[places.index(start)]),
                along_u=False,
            )
        for start, key, width in zip(places, block.keys, block.widths, strict=True):
            self._place_loose(
                (u0, start, u1, start + self.terms.grid.ticks(width)),
                key,
                block.length,
                width,
                False,
                block.label,
            )

    def _place_loose(
        self, area: Rectangle, key: str, length: Mm, width: Mm, turned: bool, matched: str | None
    ) -> None:
        x, y, _, _ = self._to_sheet(area)
        self.loose.append(PlacedLoose(key, self.numbers.next(key), x, y, length, width, turned, matched))
