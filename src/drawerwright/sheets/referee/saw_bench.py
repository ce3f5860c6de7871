"""What the referee sees at the saw: every cut of one sheet made in the order given, and what lies on the bench.

Like the referee it shares no code with the planner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.sheets.patterns import Cut, PlacedBand, PlacedLoose, SheetLayout
from drawerwright.sheets.problem import SheetProblem

TOUCH: Mm = 1e-4
"""Edges nearer than this are the same edge: a tenth of the planner's finest grid."""
AREA_SLACK = 1.0
"""mm² by which the areas of a sheet may miss their sum: rounding of a few hundred products."""
MOST_STAGES = 4
"""Three stages, and the cut that trims a part (or trims and parts a matched set); the last of them is this one.

Where the first cut takes off one piece to keep, all the others come a stage later.
"""
BAND_TRIMMING_STAGE = 3
"""A band is trimmed to its length straight from its column, before it is routed; nothing else comes off with it."""


@dataclass(frozen=True, slots=True)
class Violation:
    """One thing wrong with a plan: `code`, the sheet's number from 1 (None: the whole plan), what is wrong."""

    code: str
    sheet: int | None
    text: str


@dataclass(frozen=True, slots=True)
class _Slab:
    """A rectangle on the bench, with the direction and stage of the cut that made it."""

    x0: float
    y0: float
    x1: float
    y1: float
    stage: int = 0

    @property
    def area(self) -> float:
        return (self.x1 - self.x0) * (self.y1 - self.y0)

    def holds(self, x0: float, y0: float, x1: float, y1: float) -> bool:
        return (
            x0 >= self.x0 - TOUCH
            and y0 >= self.y0 - TOUCH
            and x1 <= self.x1 + TOUCH
            and y1 <= self.y1 + TOUCH
        )

    def equals(self, x0: float, y0: float, x1: float, y1: float) -> bool:
        return self.holds(x0, y0, x1, y1) and (
            abs(x0 - self.x0) <= TOUCH
            and abs(y0 - self.y0) <= TOUCH
            and abs(x1 - self.x1) <= TOUCH
            and abs(y1 - self.y1) <= TOUCH
        )


class SheetJudge:
    """What is found wrong with one sheet."""

    def __init__(self, problem: SheetProblem, number: int, layout: SheetLayout) -> None:
        self.problem, self.number, self.layout = problem, number, layout
        self.trim = 0.0 if layout.size.is_offcut else problem.saw.trim
        self.found: list[Violation] = []

    def report(self, code: str, text: str) -> None:
        """Note what is wrong."""
        self.found.append(Violation(code, self.number, text))


class SawBench(SheetJudge):
    """One sheet on the bench, before and after the saw."""

    def saw(self) -> list[Violation]:
        """Make every cut; what is wrong with the cuts and with what they free."""
        layout = self.layout
        size = layout.size
        slabs = [_Slab(0.0, 0.0, size.length, size.width)]
        dust = 0.0
        if [cut.order for cut in layout.cuts] != list(range(1, len(layout.cuts) + 1)):
            self.report("order", "the cuts are not numbered in their order")
        routed: list[_Slab] = []
        for cut in layout.cuts:
            if cut.ripping and not routed:
                routed = list(slabs)
                self._match_bands(slabs)
            if not cut.ripping and routed:
                self.report("order", f"cut {cut.order} comes after strips have been ripped")
            dust += self._make(cut, slabs)
        if not routed:
            self._match_bands(slabs)
        self._clear_bench(slabs, dust)
        return self.found

    def _make(self, cut: Cut, slabs: list[_Slab]) -> float:
        kerf = self.problem.saw.kerf
        along_x = self._runs_along_x(cut)
        if not (cut.x0 <= cut.x1 and cut.y0 <= cut.y1):
            self.report("kerf", f"cut {cut.order} runs backwards")
            return 0.0
        if cut.stage <= 0 and not self._is_in_trim(cut):
            self.report(
                "stages", f"cut {cut.order} is no trim of the sheet's edge, but stands before all stages"
            )
        for place, slab in enumerate(slabs):
            if not slab.holds(cut.x0, cut.y0, cut.x1, cut.y1):
                continue
            ends = (
                (abs(cut.x0 - slab.x0) <= TOUCH and abs(cut.x1 - slab.x1) <= TOUCH)
                if along_x
                else (abs(cut.y0 - slab.y0) <= TOUCH and abs(cut.y1 - slab.y1) <= TOUCH)
            )
            if not ends:
                continue
            width = cut.y1 - cut.y0 if along_x else cut.x1 - cut.x0
            at_rim = (
                (abs(cut.y1 - slab.y1) <= TOUCH or abs(cut.y0 - slab.y0) <= TOUCH)
                if along_x
                else (abs(cut.x1 - slab.x1) <= TOUCH or abs(cut.x0 - slab.x0) <= TOUCH)
            )
            if width > kerf + TOUCH or (width < kerf - TOUCH and not at_rim):
                self.report("kerf", f"cut {cut.order} is {width} mm wide, the kerf is {kerf} mm")
            self._check_stage(cut, slab)
            freed = (cut.y0 - slab.y0) if along_x else (cut.x0 - slab.x0)
            if cut.stage > 0 and not abs(cut.setting - freed) <= TOUCH:
                self.report("setting", f"cut {cut.order} is set to {cut.setting} mm but frees {freed} mm")
            parts = (
                (
                    _Slab(slab.x0, slab.y0, slab.x1, cut.y0, cut.stage),
                    _Slab(slab.x0, cut.y1, slab.x1, slab.y1, cut.stage),
                )
                if along_x
                else (
                    _Slab(slab.x0, slab.y0, cut.x0, slab.y1, cut.stage),
                    _Slab(cut.x1, slab.y0, slab.x1, slab.y1, cut.stage),
                )
            )
            slabs[place : place + 1] = [part for part in parts if part.area > AREA_SLACK * 1e-3]
            return (cut.x1 - cut.x0) * (cut.y1 - cut.y0)
        self.report("guillotine", f"cut {cut.order} does not run from edge to edge of one piece")
        return 0.0

    def _runs_along_x(self, cut: Cut) -> bool:
        """A cut's direction follows from its stage; trims are told by their shape."""
        if cut.stage == 0:
            return cut.x1 - cut.x0 >= cut.y1 - cut.y0
        return (cut.stage % 2 == 0) == self.layout.first_cuts_across

    def _is_in_trim(self, cut: Cut) -> bool:
        size, trim = self.layout.size, self.trim
        return (
            cut.x1 <= trim + TOUCH
            or cut.y1 <= trim + TOUCH
            or cut.x0 >= size.length - trim - TOUCH
            or cut.y0 >= size.width - trim - TOUCH
        )

    def _check_stage(self, cut: Cut, slab: _Slab) -> None:
        before = self._stages_before
        if cut.stage < slab.stage or cut.stage > MOST_STAGES + before:
            self.report("stages", f"cut {cut.order} is of stage {cut.stage} in a piece of stage {slab.stage}")
        if cut.stage <= 2 + before or cut.ripping:
            return
        pieces: list[PlacedBand | PlacedLoose] = [*self.layout.bands, *self.layout.loose]
        held = [
            piece
            for piece in pieces
            if slab.holds(piece.x, piece.y, piece.x + across(piece), piece.y + upward(piece))
        ]
        bands = [piece for piece in held if isinstance(piece, PlacedBand)]
        plain = not self.problem.loose and not self.problem.matched
        if plain and (cut.stage != BAND_TRIMMING_STAGE + before or not bands):
            self.report(
                "stages", f"cut {cut.order}: in sheets of bands alone the third stage trims a band, no more"
            )
        if bands and not self.problem.preferences.trim_bands:
            self.report(
                "stages", f"cut {cut.order} trims a band, which must be as long as its column is wide"
            )
        if bands and (len(held) > 1 or cut.stage != BAND_TRIMMING_STAGE + before):
            self.report(
                "stages", f"cut {cut.order} parts {name_of(bands[0])} from what is more than its trim"
            )
        if cut.stage == MOST_STAGES + before:
            sets = {piece.matched if isinstance(piece, PlacedLoose) else None for piece in held}
            if len(held) > 1 and (len(sets) > 1 or None in sets):
                self.report("stages", f"cut {cut.order} parts pieces that three stages should have parted")

    @property
    def _stages_before(self) -> int:
        """1 where a single cut of the first stage rips the whole sheet, an offcut from what is cut further; else 0.

        A cut across the bands parts their column from the offcut: that is the first of the usual stages.
        """
        first = [cut for cut in self.layout.cuts if cut.stage == 1]
        if len(first) != 1 or any(band.turned != self.layout.first_cuts_across for band in self.layout.bands):
            return 0
        x0, y0 = self.trim, self.trim
        x1, y1 = self.layout.size.length - self.trim, self.layout.size.width - self.trim
        whole = (
            _Slab(first[0].x1, y0, x1, y1)
            if self.layout.first_cuts_across
            else _Slab(x0, first[0].y1, x1, y1)
        )
        return int(
            any(
                whole.equals(offcut.x, offcut.y, offcut.x + offcut.length, offcut.y + offcut.width)
                for offcut in self.layout.offcuts
            )
        )

    def _match_bands(self, slabs: Sequence[_Slab]) -> None:
        for band in self.layout.bands:
            x1, y1 = band.x + across(band), band.y + upward(band)
            if not any(slab.equals(band.x, band.y, x1, y1) for slab in slabs):
                self.report("guillotine", f"{name_of(band)} is not free before routing")

    def _clear_bench(self, slabs: list[_Slab], dust: float) -> None:
        size = self.layout.size
        total = dust
        left = list(slabs)
        for kind, x, y, x1, y1 in self._expected():
            match = next((slab for slab in left if slab.equals(x, y, x1, y1)), None)
            if match is None:
                self.report("guillotine", f"{kind} at {x:g}, {y:g} is not what the cuts free")
                continue
            left.remove(match)
            total += (x1 - x) * (y1 - y)
        for slab in left:
            rim = (
                slab.x1 <= self.trim + TOUCH
                or slab.y1 <= self.trim + TOUCH
                or slab.x0 >= size.length - self.trim - TOUCH
                or slab.y0 >= size.width - self.trim - TOUCH
            )
            if rim:
                total += slab.area
            else:
                self.report("offcuts", f"a piece at {slab.x0:g}, {slab.y0:g} is neither part nor offcut")
        if not abs(total - size.length * size.width) <= AREA_SLACK:
            self.report("area", f"pieces, dust and trim are {total:g} mm² of {size.length * size.width:g}")

    def _expected(self) -> list[tuple[str, float, float, float, float]]:
        expected: list[tuple[str, float, float, float, float]] = []
        for band in self.layout.bands:
            stretches = [(strip.key, strip.offset, strip.height) for strip in band.strips]
            stretches += [("sacrificial strip", offset, width) for offset, width in band.sacrificial]
            for name, offset, height in stretches:
                if band.turned:
                    x = band.x + offset
                    expected.append((name, x, band.y, x + height, band.y + band.length))
                else:
                    y = band.y + offset
                    expected.append((name, band.x, y, band.x + band.length, y + height))
        expected += [
            (part.key, part.x, part.y, part.x + across(part), part.y + upward(part))
            for part in self.layout.loose
        ]
        expected += [
            ("an offcut", offcut.x, offcut.y, offcut.x + offcut.length, offcut.y + offcut.width)
            for offcut in self.layout.offcuts
        ]
        return expected


def across(piece: PlacedBand | PlacedLoose) -> Mm:
    """How far a piece reaches along the sheet's length."""
    return piece.width if piece.turned else piece.length


def upward(piece: PlacedBand | PlacedLoose) -> Mm:
    """How far a piece reaches along the sheet's width."""
    return piece.length if piece.turned else piece.width


def name_of(piece: PlacedBand | PlacedLoose) -> str:
    """What to call a piece in a violation."""
    return f"band {piece.number} of {piece.family}" if isinstance(piece, PlacedBand) else piece.key
