"""A shop without wood: it carries out the work of steps on virtual boards, and knows nothing but what they say.

What is done to a piece at a machine follows from turning it there by hand, so a groove or a hole lands where it would
in wood. Where a step leaves a choice, chance makes it: a right order of work must not depend on it. What cannot be
done, or would spoil a part, is a `MishapError`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from random import Random
from typing import Any

from drawerwright.drawers.parts import PartEnd, PartKind
from drawerwright.joints.table import RouterTable
from drawerwright.run.marks import BandMark, LooseMark, PartName
from drawerwright.run.setups import Edges
from drawerwright.run.work import (
    BandEdges,
    Bore,
    BoreBacks,
    ChangeCutter,
    CheckBottoms,
    CheckSheet,
    CutBandEdges,
    CutGrooves,
    CutScoops,
    CutSheet,
    CutTrialPieces,
    FetchSheet,
    FitRunner,
    GlueUp,
    MakeJoints,
    MeasureKerf,
    NotchBacks,
    Rip,
    Rout,
    ScrewOnFronts,
    SetRouter,
    SetSaw,
    TakeWhole,
    Work,
)
from drawerwright.sheets.patterns import Cut
from drawerwright.sheets.sheet_stock import SheetSize
from virtual_boards import NEAR, Band, Direction, Grooved, Hole, Piece, Routed, Slab, back, cross

MARKED = {PartEnd.FRONT: (Edges.FRONT, Edges.BACK), PartEnd.LEFT: (Edges.LEFT, Edges.RIGHT)}
"""The marked edge of a band and the other one, by what is written on it."""


class MishapError(Exception):
    """What the step says cannot be done, or would spoil wood."""


class VirtualShop:
    """Saw, router table, drill and bench. `parts` is what is finished so far."""

    def __init__(
        self,
        rack: Mapping[str, Iterable[SheetSize]],
        *,
        kerf: float,
        table: RouterTable,
        random: Random | None = None,
    ) -> None:
        self.rack = {
            (stock, size): size.on_hand if size.on_hand is not None else 10**6
            for stock, sizes in rack.items()
            for size in sizes
        }
        self.kerf = kerf
        self.gauges = table.height_gauge.value, table.fence_gauge.value
        self.random = random or Random(0)
        self.router: tuple[float, float] | None = None
        self.cutter: str | None = None
        """Which one is in the router; None for the only one that there is."""
        self.bands: dict[int, Band] = {}
        self.slabs: dict[tuple[str, int], list[Slab]] = {}
        """What lies about of each sheet, by its stock and number."""
        self.fetched: list[tuple[str, int, SheetSize]] = []
        self.sawn: dict[tuple[str, int], list[int]] = {}
        """Of each sheet, the number of the cut that was made last."""
        self.stacks: dict[tuple[str, int], tuple[int, ...]] = {}
        """With which sheets a sheet lies in a stack, by its stock and number."""
        self.together: dict[tuple[str, tuple[int, ...]], dict[int, list[tuple[object, ...]]]] = {}
        """What has been cut of each sheet of a stack."""
        self.saw: tuple[float, bool] | None = None
        """Where fence or stop stand, and whether pieces are crosscut there."""
        self.last_cut: dict[int, list[int]] = {}
        """Of each band's sheet, the number of the cut that was made last; shared by the bands of a sheet."""
        self.parts: dict[PartName, Piece] = {}
        self.joints: list[MakeJoints] = []
        self.glued: list[GlueUp] = []
        self.done: Counter[str] = Counter()

    def carry_out(self, work: Iterable[Work]) -> None:
        """Do one thing after the other."""
        doing: dict[type, Any] = {
            MeasureKerf: self._measure_kerf,
            FetchSheet: self._fetch,
            CheckSheet: self._check_sheet,
            SetSaw: self._set_saw,
            CutSheet: self._cut_sheet,
            ChangeCutter: self._change_cutter,
            SetRouter: self._set_router,
            Rout: self._rout,
            CutBandEdges: self._cut_band_edges,
            Rip: self._rip,
            TakeWhole: self._take_whole,
            CutGrooves: self._cut_grooves,
            CheckBottoms: self._check_bottoms,
            BandEdges: self._band_edges,
            Bore: self._bore,
            NotchBacks: self._notch,
            CutScoops: lambda scoops: [self._piece(part) for part in scoops.parts],
            BoreBacks: self._bore_backs,
            ScrewOnFronts: self._screw_on,
            MakeJoints: self.joints.append,
            GlueUp: self.glued.append,
        }
        for item in work:
            self.done[type(item).__name__] += 1
            if not isinstance(item, CutTrialPieces | FitRunner):
                doing[type(item)](item)

    def clear_up(self) -> None:
        """Nothing may lie about that is neither part nor waste, and what lay in a stack has been cut alike."""
        for (stock, stack), cuts in self.together.items():
            if any(made != cuts[stack[0]] for made in cuts.values()):
                raise MishapError(f"sheets {stack} of {stock} lay in a stack and are not cut alike")
        for number, band in self.bands.items():
            waste = band.crossed[0 if band.begins_high else 1]
            if band.high - band.low > waste + NEAR:
                raise MishapError(f"{band.high - band.low:.2f} mm of band {number} are left over")

    # -- saw -------------------------------------------------------------------------------------------

    def _fetch(self, sheet: FetchSheet) -> None:
        place = (sheet.stock, sheet.size)
        if self.rack.get(place, 0) < 1:
            raise MishapError(f"there is no {sheet.size.label} on the rack")
        self.rack[place] -= 1
        if (sheet.stock, sheet.number) in self.slabs:
            raise MishapError(f"there is a sheet {sheet.number} of {sheet.stock} already")
        self.slabs[sheet.stock, sheet.number] = [Slab(0.0, 0.0, sheet.size.length, sheet.size.width)]
        self.sawn[sheet.stock, sheet.number] = [0]
        self.stacks[sheet.stock, sheet.number] = sheet.stack
        sizes = {
            size
            for stock, number, size in [*self.fetched, (sheet.stock, sheet.number, sheet.size)]
            if stock == sheet.stock and number in sheet.stack
        }
        if len(sizes) > 1 or sheet.number not in sheet.stack:
            raise MishapError(f"sheets {sheet.stack} of {sheet.stock} do not lie flush")
        self.fetched.append((sheet.stock, sheet.number, sheet.size))

    def _measure_kerf(self, test: MeasureKerf) -> None:
        """Each cut turns as much into dust as the blade is wide."""
        strip = 1000.0
        for _ in range(test.cuts):
            strip -= self.kerf
        if abs(1000.0 - strip - test.lost) > 1e-6:
            raise MishapError(f"{test.cuts} cuts of {self.kerf} do not take {test.lost}")

    def _check_sheet(self, sheet: CheckSheet) -> None:
        """Trimmed or not, the largest piece that lies about of the sheet is what is left of it."""
        slabs = self.slabs.get((sheet.stock, sheet.number))
        if slabs is None:
            raise MishapError(f"sheet {sheet.number} of {sheet.stock} was never fetched")
        if not slabs:  # the whole of it is a part or a band already
            return
        largest = max(slabs, key=lambda slab: (slab.x1 - slab.x0) * (slab.y1 - slab.y0))
        size = largest.x1 - largest.x0, largest.y1 - largest.y0
        if abs(size[0] - sheet.length) > NEAR or abs(size[1] - sheet.width) > NEAR:
            raise MishapError(f"sheet {sheet.number} of {sheet.stock} is {size[0]:.1f} by {size[1]:.1f}")

    def _set_saw(self, setting: SetSaw) -> None:
        self.saw = setting.length, setting.is_crosscut

    def _cut_sheet(self, sheet: CutSheet) -> None:
        name = sheet.stock, sheet.number
        if name not in self.slabs:
            raise MishapError(f"sheet {sheet.number} of {sheet.stock} was never fetched")
        slabs, last = self.slabs[name], self.sawn[name]
        for cut in sheet.cuts:
            if cut.order != last[0] + 1:
                raise MishapError(f"cut {cut.order} of sheet {sheet.number} comes after cut {last[0]}")
            last[0] = cut.order
            self._saw(slabs, cut)
        if sheet.stack != self.stacks[name]:
            raise MishapError(f"sheet {sheet.number} of {sheet.stock} was fetched for another stack")
        pile = self.together.setdefault((sheet.stock, sheet.stack), {number: [] for number in sheet.stack})
        pile[sheet.number] += [(cut.x0, cut.y0, cut.x1, cut.y1) for cut in sheet.cuts]
        for band in sheet.bands:
            if band.number in self.bands:
                raise MishapError(f"there is a band {band.number} already")
            self._take(slabs, band)
            self.bands[band.number] = self._marked(band, sheet.stock)
            self.last_cut[band.number] = last
        for loose in sheet.loose:
            self._take(slabs, loose)
            self._name(loose.part, self._loose(loose, sheet.stock))

    def _saw(self, slabs: list[Slab], cut: Cut) -> None:
        """One cut across the whole of one piece; its dust is as wide as the blade, less only at a rim."""
        for place, slab in enumerate(slabs):
            if not slab.holds(cut):
                continue
            crosses_x = abs(cut.x0 - slab.x0) < NEAR and abs(cut.x1 - slab.x1) < NEAR
            crosses_y = abs(cut.y0 - slab.y0) < NEAR and abs(cut.y1 - slab.y1) < NEAR
            if crosses_x:
                wide, freed = cut.y1 - cut.y0, cut.y0 - slab.y0
                parts = [Slab(slab.x0, slab.y0, slab.x1, cut.y0), Slab(slab.x0, cut.y1, slab.x1, slab.y1)]
                at_rim = abs(cut.y1 - slab.y1) < NEAR
            elif crosses_y:
                wide, freed = cut.x1 - cut.x0, cut.x0 - slab.x0
                parts = [Slab(slab.x0, slab.y0, cut.x0, slab.y1), Slab(cut.x1, slab.y0, slab.x1, slab.y1)]
                at_rim = abs(cut.x1 - slab.x1) < NEAR
            else:
                continue
            if wide > self.kerf + NEAR or (wide < self.kerf - NEAR and not at_rim):
                raise MishapError(f"cut {cut.order} is drawn {wide:.2f} mm wide, the blade is {self.kerf}")
            if cut.stage and self.saw is None:
                raise MishapError("the saw was never set")
            if cut.stage and self.saw and (abs(freed - self.saw[0]) > NEAR or self.saw[1] is crosses_x):
                raise MishapError(f"cut {cut.order}: the saw is set to {self.saw}, drawn is {freed:.2f}")
            slabs[place : place + 1] = [
                part for part in parts if part.x1 - part.x0 > NEAR and part.y1 - part.y0 > NEAR
            ]
            return
        raise MishapError(f"cut {cut.order} goes through no piece from edge to edge")

    @staticmethod
    def _take(slabs: list[Slab], mark: BandMark | LooseMark) -> None:
        placed = mark.placed
        for slab in slabs:
            if slab.is_at(placed.x, placed.y, placed.x_extent, placed.y_extent):
                slabs.remove(slab)
                return
        raise MishapError(f"nothing has come free where {mark} is drawn")

    @staticmethod
    def _marked(band: BandMark, stock: str) -> Band:
        placed = band.placed
        along, across = ((0, 1, 0), (1, 0, 0)) if placed.turned else ((1, 0, 0), (0, 1, 0))
        low = sum(wide for offset, wide in placed.sacrificial if offset < NEAR)
        high = sum(wide for offset, wide in placed.sacrificial if offset > NEAR)
        return Band(
            stock,
            along,
            across,
            placed.length,
            placed.width,
            front=back(along) if band.marked else None,
            marked=band.marked,
            high=placed.width,
            crossed=(low, high),
        )

    @staticmethod
    def _loose(loose: LooseMark, stock: str) -> Piece:
        placed = loose.placed
        along, across = ((0, 1, 0), (1, 0, 0)) if placed.turned else ((1, 0, 0), (0, 1, 0))
        return Piece(stock, along, across, placed.length, placed.width)

    def _name(self, part: PartName, piece: Piece) -> None:
        if part in self.parts:
            raise MishapError(f"there is a {part} already")
        self.parts[part] = piece

    def _rip(self, rip: Rip) -> None:
        for cut in rip.cuts:
            number = cut.band.number
            band = self._band(cut.band)
            last = self.last_cut[number]
            if cut.number != last[0] + 1:
                raise MishapError(f"cut {cut.number} of band {number} comes after cut {last[0]}")
            last[0] = cut.number
            if band.begins_high is None:
                band.begins_high = self._begins_high(band, rip.fence)
            if band.high - band.low < rip.fence - NEAR:
                raise MishapError(
                    f"band {number} has only {band.high - band.low:.2f} mm left for {rip.fence:.2f}"
                )
            if band.begins_high:
                strip = (band.high - rip.fence, band.high)
                band.high -= rip.fence + self.kerf
            else:
                strip = (band.low, band.low + rip.fence)
                band.low += rip.fence + self.kerf
            if cut.frees is not None:
                self._name(cut.frees, self._strip(band, *strip))
            if cut.leaves is not None:
                self._name(cut.leaves, self._strip(band, band.low, band.high))
                band.low = band.high

    def _begins_high(self, band: Band, fence: float) -> bool:
        """Which end of a band goes along the fence first: with one crossed-out strip the other end, with two one that
        is as wide as the fence is set, else either."""
        low, high = band.crossed
        if bool(low) != bool(high):
            return low > 0
        if low and (abs(low - fence) < NEAR) != (abs(high - fence) < NEAR):
            return abs(high - fence) < NEAR
        return self.random.random() < 0.5

    def _strip(self, band: Band, low: float, high: float) -> Piece:
        if (band.torn[0] and low < NEAR) or (band.torn[1] and high > band.width - NEAR):
            raise MishapError(
                f"a strip has the tear-out of its band: {low:.2f} to {high:.2f} of {band.width:.2f}"
            )
        routed = {edge: list(cuts) for edge, cuts in band.routed.items()}
        return Piece(band.stock, band.along, band.across, band.length, high - low, band.front, routed)

    def _take_whole(self, item: TakeWhole) -> None:
        for mark in item.bands:
            band = self._band(mark)
            (part,) = mark.parts
            self._name(part, self._strip(band, band.low, band.high))
            band.low = band.high

    # -- router table ----------------------------------------------------------------------------------

    def _change_cutter(self, change: ChangeCutter) -> None:
        """Whoever changes the cutter has to set everything anew."""
        if change.takes_out != self.cutter:
            raise MishapError(f"{change.takes_out} is to be taken out, but {self.cutter} is in the router")
        self.cutter, self.router = change.cutter, None

    def _set_router(self, setting: SetRouter) -> None:
        """The gauges are turned until they show what the step says; the cutter stands where they are wrong by."""
        height, fence = setting.height_reading - self.gauges[0], setting.fence_reading - self.gauges[1]
        if setting.keeps_height:
            if self.router is None:
                raise MishapError("the bit height is to stay, but was never set")
            height = self.router[0]
        self.router = height, fence

    def _rout(self, rout: Rout) -> None:
        """Flat: inside face down, the edge to the fence. Upright: standing on the edge, inside face to the fence.
        Either way the cutter takes the edge from the inside face."""
        if self.router is None:
            raise MishapError("the router was never set")
        self._cut_edges(rout, Routed(rout.role, *self.router, self.cutter))

    def _cut_band_edges(self, cut: CutBandEdges) -> None:
        """In the same way, by a straight bit or a blade that is set as the step says."""
        height, fence = cut.figures
        self._cut_edges(cut, Routed(cut.role, height, fence, cut.joint))

    def _cut_edges(self, rout: Rout | CutBandEdges, made: Routed) -> None:
        for mark in rout.bands:
            band = self._band(mark)
            if band.low > NEAR or band.high < band.width - NEAR:
                raise MishapError(f"band {mark.number} has been ripped already")
            if rout.edges is Edges.BOTH:
                edges = [band.along, back(band.along)]
            elif band.front is None:
                raise MishapError(f"no marked edge on band {mark.number}")
            else:
                assert band.marked is not None
                names = MARKED[band.marked]
                if rout.edges not in names:
                    raise MishapError(f"band {mark.number} has no {rout.edges}")
                edges = [band.front if rout.edges is names[0] else back(band.front)]
            for edge in edges:
                band.routed.setdefault(edge, []).append(made)
            low, high = band.crossed
            band.torn = (
                band.torn[0] or low > 0 or not rout.needs_backing,
                band.torn[1] or high > 0 or not rout.needs_backing,
            )

    # -- grooves, edging, holes ------------------------------------------------------------------------

    def _cut_grooves(self, grooves: CutGrooves) -> None:
        """Inside face down, the fence on the right: what is on the right once the first end points forward."""
        for each in grooves.passes:
            piece = self._piece(each.part)
            if each.first is None:
                first = self.random.choice((piece.along, back(piece.along)))
            elif piece.front is None:
                raise MishapError(f"no marked end on {each.part}")
            else:
                first = piece.front if each.first in (PartEnd.FRONT, PartEnd.LEFT) else back(piece.front)
            piece.lower = cross(piece.inside, first)
            piece.grooves.append(Grooved(piece.lower, grooves.height, grooves.width, grooves.depth))

    def _check_bottoms(self, bottoms: CheckBottoms) -> None:
        for part in bottoms.parts:
            piece = self._piece(part)
            if abs(piece.length - bottoms.length) > 0.051 or abs(piece.width - bottoms.width) > 0.051:
                raise MishapError(f"{part} is {piece.length:.2f} by {piece.width:.2f}")

    def _band_edges(self, edging: BandEdges) -> None:
        for part in edging.parts:
            piece = self._piece(part)
            if edging.is_all_round:
                edges = [piece.along, back(piece.along), piece.across, back(piece.across)]
            else:
                edges = [back(self._lower(part, piece))]
            for edge in edges:
                piece.banded[edge] += 1
                if edge in (piece.along, back(piece.along)):
                    piece.length += edging.thickness
                else:
                    piece.width += edging.thickness

    def _lower(self, part: PartName, piece: Piece) -> Direction:
        """The lower edge: where the groove has made it so; of a side whose front end is marked, what hangs below with
        that end on its left or right and the inside towards the onlooker; else either."""
        if piece.lower is None and piece.front is not None and part.kind in (PartKind.LEFT, PartKind.RIGHT):
            to_left = piece.front if part.kind is PartKind.LEFT else back(piece.front)
            piece.lower = cross(piece.inside, to_left)
        if piece.lower is None:
            piece.lower = self.random.choice((piece.across, back(piece.across)))
        return piece.lower

    def _bore(self, bore: Bore) -> None:
        """As it hangs and seen from outside: the lower edge below, the inside face away from the onlooker."""
        piece = self._piece(bore.part)
        if abs(piece.length - bore.front_width) > 0.051:
            if abs(piece.width - bore.front_width) > 0.051:
                raise MishapError(
                    f"{bore.part} is {piece.length:.2f} by {piece.width:.2f}, not {bore.front_width}"
                )
            lower = self.random.choice((piece.along, back(piece.along)))
        else:
            lower = self._lower(bore.part, piece)
        left = cross(piece.inside, lower)
        if not (0 < bore.from_left < piece.size(left) and 0 < bore.above_lower < piece.size(lower)):
            raise MishapError(f"a hole of {bore.part} misses it")
        piece.holes.append(Hole(left, lower, bore.from_left, bore.above_lower, bore.diameter))

    def _notch(self, work: NotchBacks) -> None:
        for part in work.parts:
            piece = self._piece(part)
            lower = self._lower(part, piece)
            across = piece.size(cross(piece.inside, lower))
            for notch in work.notches:
                if not (0 <= notch.begin < notch.end <= across and 0 < notch.height < piece.size(lower)):
                    raise MishapError(f"a notch of {part} misses it")
                piece.notches.append((notch.begin, notch.end, notch.height))

    def _bore_backs(self, work: BoreBacks) -> None:
        for part in work.parts:
            piece = self._piece(part)
            lower = self._lower(part, piece)
            left = cross(piece.inside, lower)
            for hole in work.holes:
                if not (0 < hole.along < piece.size(left) and 0 < hole.across < piece.size(lower)):
                    raise MishapError(f"a hole of {part} misses it")
                piece.holes.append(Hole(left, lower, hole.along, hole.across, hole.diameter))

    def _screw_on(self, fronts: ScrewOnFronts) -> None:
        for part in fronts.parts:
            self._piece(part)

    def _band(self, mark: BandMark) -> Band:
        if mark.number not in self.bands:
            raise MishapError(f"there is no band {mark.number} yet")
        return self.bands[mark.number]

    def _piece(self, part: PartName) -> Piece:
        if part not in self.parts:
            raise MishapError(f"there is no {part} yet")
        return self.parts[part]
