"""An independent check of a finished plan.

It shares no code with the planner: it knows the problem, takes the saw in hand, makes every cut in the order
given, and looks at what lies on the bench afterwards. What a plan must satisfy and does not is a violation.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from drawerwright.basics.lengths import Mm
from drawerwright.sheets.patterns import Cut, Offcut, PlacedBand, PlacedLoose, SheetLayout
from drawerwright.sheets.problem import SheetPlan, SheetProblem

TOUCH: Mm = 1e-4
"""Edges nearer than this are the same edge: a tenth of the planner's finest grid."""
AREA_SLACK = 1.0
"""mm² by which the areas of a sheet may miss their sum: rounding of a few hundred products."""
MOST_STAGES = 4
"""Three stages, and the cut that trims a part (or trims and parts a matched set)."""
TRIMMING_STAGE = 4


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


def check(plan: SheetPlan) -> list[Violation]:
    """Everything wrong with `plan`; empty when it can be cut as it stands and gives exactly what is wanted."""
    violations = _check_whole(plan)
    for number, layout in enumerate(plan.layouts, start=1):
        violations += _Bench(plan.problem, number, layout).check()
    return violations


# -- the plan as a whole -----------------------------------------------------------------------------------


def _check_whole(plan: SheetPlan) -> list[Violation]:
    problem = plan.problem
    found: list[Violation] = []
    wanted: Counter[str] = Counter()
    for strip in problem.strips:
        wanted[strip.key] += strip.count
    for part in problem.loose:
        wanted[part.key] += part.count
    for block in problem.matched:
        for key in block.keys:
            wanted[key] += 1
    numbers: dict[str, list[int]] = {}
    for layout in plan.layouts:
        for band in layout.bands:
            for placed in band.strips:
                numbers.setdefault(placed.key, []).append(placed.number)
        for loose in layout.loose:
            numbers.setdefault(loose.key, []).append(loose.number)
    for key in sorted(set(wanted) | set(numbers)):
        made = numbers.get(key, [])
        if len(made) != wanted[key]:
            found.append(Violation("demand", None, f"{key}: {wanted[key]} wanted, {len(made)} cut"))
        if sorted(made) != list(range(1, len(made) + 1)):
            found.append(Violation("numbering", None, f"{key}: running numbers {sorted(made)}"))
    labels: dict[str, list[int]] = {}
    for layout in plan.layouts:
        for band in layout.bands:
            labels.setdefault(band.family, []).append(band.number)
    for family, given in labels.items():
        if sorted(given) != list(range(1, len(given) + 1)):
            found.append(Violation("numbering", None, f"{family}: band numbers {sorted(given)}"))
    used = Counter(layout.size for layout in plan.layouts)
    for size, count in used.items():
        if size not in problem.sizes:
            found.append(Violation("stock", None, f"{size.label} is not among the sheets of the problem"))
        limit = 1 if size.is_offcut and size.on_hand is None else size.on_hand
        allowed = None if limit is None else limit * problem.sizes.count(size)
        if allowed is not None and count > allowed:
            found.append(Violation("stock", None, f"{size.label}: {count} used, {allowed} on hand"))
    found += _check_figures(plan)
    return found


def _check_figures(plan: SheetPlan) -> list[Violation]:
    problem, figures = plan.problem, plan.figures
    new = [layout.size for layout in plan.layouts if not layout.size.is_offcut]
    priced = all(size.price is not None for size in problem.sizes if not size.is_offcut)
    cost = sum((size.price or 0.0) if priced else 1.0 for size in new)
    bands = [band for layout in plan.layouts for band in layout.bands]
    routed = sum(2 * band.width for band in bands)
    largest = max(
        (o.length * o.width for layout in plan.layouts for o in layout.offcuts if _is_kept(o, problem)),
        default=0.0,
    )
    settings = {round(cut.setting, 3) for layout in plan.layouts for cut in layout.cuts if cut.stage > 0}
    found = [
        Violation("figures", None, f"{name}: {given} given, {true} counted")
        for name, given, true in (
            ("cost of new sheets", figures.new_sheet_cost, cost),
            ("new sheets", figures.new_sheets, len(new)),
            ("offcuts used", figures.offcuts_used, len(plan.layouts) - len(new)),
            ("parts from offcuts", figures.parts_from_offcuts, _parts_area(plan)),
            ("bands", figures.bands, len(bands)),
            ("routed length", figures.routed_length, routed),
            ("fence settings", figures.fence_settings, len(settings)),
            ("largest offcut", figures.largest_offcut, largest),
        )
        if not abs(given - true) <= 1e-6 * max(1.0, abs(true))
    ]
    if not plan.lower_bound <= cost + 1e-6 * max(1.0, cost):
        found.append(Violation("bound", None, f"lower bound {plan.lower_bound} above the plan's cost {cost}"))
    if plan.proven and not plan.lower_bound >= cost - 1e-6 * max(1.0, cost):
        found.append(Violation("bound", None, f"called proven with bound {plan.lower_bound} below {cost}"))
    return found


def _is_kept(offcut: Offcut, problem: SheetProblem) -> bool:
    """Whether an offcut is worth keeping, whatever the plan says of it."""
    shorter, longer = sorted((offcut.length, offcut.width))
    return longer >= problem.least_offcut.length and shorter >= problem.least_offcut.width


def _parts_area(plan: SheetPlan) -> float:
    """What finished parts are cut from offcuts, in mm²."""
    old = [layout for layout in plan.layouts if layout.size.is_offcut]
    strips = sum(
        band.length * strip.height for layout in old for band in layout.bands for strip in band.strips
    )
    return strips + sum(part.length * part.width for layout in old for part in layout.loose)


# -- one sheet ---------------------------------------------------------------------------------------------


class _Bench:
    def __init__(self, problem: SheetProblem, number: int, layout: SheetLayout) -> None:
        self.problem, self.number, self.layout = problem, number, layout
        self.trim = 0.0 if layout.size.is_offcut else problem.saw.trim
        self.found: list[Violation] = []

    def report(self, code: str, text: str) -> None:
        self.found.append(Violation(code, self.number, text))

    def check(self) -> list[Violation]:
        self._check_pieces_inside()
        for band in self.layout.bands:
            self._check_band(band)
        for part in self.layout.loose:
            self._check_loose(part)
        self._check_matched()
        self._saw()
        return self.found

    def _check_pieces_inside(self) -> None:
        size, trim = self.layout.size, self.trim
        pieces: list[PlacedBand | PlacedLoose] = [*self.layout.bands, *self.layout.loose]
        places = [
            (_name(piece), piece.x, piece.y, piece.x + _across(piece), piece.y + _upward(piece))
            for piece in pieces
        ]
        places += [
            ("an offcut", offcut.x, offcut.y, offcut.x + offcut.length, offcut.y + offcut.width)
            for offcut in self.layout.offcuts
        ]
        for name, x0, y0, x1, y1 in places:
            inside = (
                x0 >= trim - TOUCH
                and y0 >= trim - TOUCH
                and x1 <= size.length - trim + TOUCH
                and y1 <= size.width - trim + TOUCH
            )
            if not inside:
                self.report("outside", f"{name} reaches beyond the trimmed sheet")

    def _check_band(self, band: PlacedBand) -> None:
        problem, rules = self.problem, self.problem.band_rules
        kerf = problem.saw.kerf
        if not band.strips:
            self.report("band", f"{_name(band)} holds no strip")
            return
        if band.width < rules.shortest_piece - TOUCH:
            self.report("band", f"{_name(band)} is {band.width} mm long, {rules.shortest_piece} is the least")
        if rules.longest_band is not None and band.width > rules.longest_band + TOUCH:
            self.report("band", f"{_name(band)} is {band.width} mm long, {rules.longest_band} is the most")
        stretches = [(strip.offset, strip.height) for strip in band.strips] + list(band.sacrificial)
        stretches.sort()
        place = 0.0
        for offset, height in stretches:
            if offset < place - TOUCH:
                self.report("kerf", f"{_name(band)}: strips at {offset} mm overlap or leave no kerf")
            place = offset + height + kerf
        if place - kerf > band.width + TOUCH:
            self.report("outside", f"{_name(band)}: strips reach beyond the band")
        if rules.sacrificial_strip > 0 and rules.sacrificial_ends:
            first = min(strip.offset for strip in band.strips)
            last = band.width - max(strip.offset + strip.height for strip in band.strips)
            need = rules.sacrificial_strip + kerf - TOUCH
            if last < need or (rules.sacrificial_ends > 1 and first < need):
                self.report("sacrificial", f"{_name(band)}: the strip that takes the tear-out is missing")
        for strip in band.strips:
            meant = [
                part
                for part in problem.strips
                if part.key == strip.key
                and part.family == band.family
                and abs(part.length - band.length) <= TOUCH
                and abs(part.height - strip.height) <= TOUCH
            ]
            if not meant:
                self.report(
                    "size", f"{strip.key} is not wanted as {band.length} × {strip.height} in {band.family}"
                )
            elif band.turned and not any(part.can_turn for part in meant):
                self.report("grain", f"{strip.key} may not be turned")

    def _check_loose(self, part: PlacedLoose) -> None:
        if part.matched is not None:
            meant = any(
                block.label == part.matched
                and any(
                    key == part.key and abs(width - part.width) <= TOUCH
                    for key, width in zip(block.keys, block.widths, strict=True)
                )
                and abs(block.length - part.length) <= TOUCH
                for block in self.problem.matched
            )
            if part.turned:
                self.report("grain", f"{part.key} of a matched set may not be turned")
        else:
            same = [
                wanted
                for wanted in self.problem.loose
                if wanted.key == part.key
                and abs(wanted.length - part.length) <= TOUCH
                and abs(wanted.width - part.width) <= TOUCH
            ]
            meant = bool(same)
            if part.turned and not any(wanted.can_turn for wanted in same):
                self.report("grain", f"{part.key} may not be turned")
        if not meant:
            self.report("size", f"{part.key} is not wanted as {part.length} × {part.width}")

    def _check_matched(self) -> None:
        kerf = self.problem.saw.kerf
        for block in self.problem.matched:
            members = [part for part in self.layout.loose if part.matched == block.label]
            if not members:
                continue
            members.sort(key=lambda part: -part.y)
            if tuple(part.key for part in members) != block.keys:
                self.report("matched", f"{block.label}: its parts do not lie together in the order they hang")
                continue
            for upper, lower in pairwise(members):
                beside = abs(upper.x - lower.x) <= TOUCH
                if not beside or abs(lower.y + lower.width + kerf - upper.y) > TOUCH:
                    self.report(
                        "matched", f"{block.label}: {upper.key} and {lower.key} are not one kerf apart"
                    )

    # -- the saw ---------------------------------------------------------------------------------------

    def _saw(self) -> None:
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
        if cut.stage < slab.stage or cut.stage > MOST_STAGES:
            self.report("stages", f"cut {cut.order} is of stage {cut.stage} in a piece of stage {slab.stage}")
        plain = not self.problem.loose and not self.problem.matched
        if plain and cut.stage > 2:
            self.report("stages", f"cut {cut.order}: sheets of bands alone are cut in two stages")
        if cut.stage == TRIMMING_STAGE:
            pieces: list[PlacedBand | PlacedLoose] = [*self.layout.bands, *self.layout.loose]
            held = [
                piece
                for piece in pieces
                if slab.holds(piece.x, piece.y, piece.x + _across(piece), piece.y + _upward(piece))
            ]
            sets = {piece.matched if isinstance(piece, PlacedLoose) else None for piece in held}
            if len(held) > 1 and (len(sets) > 1 or None in sets):
                self.report("stages", f"cut {cut.order} parts pieces that three stages should have parted")

    def _match_bands(self, slabs: Sequence[_Slab]) -> None:
        for band in self.layout.bands:
            x1, y1 = band.x + _across(band), band.y + _upward(band)
            if not any(slab.equals(band.x, band.y, x1, y1) for slab in slabs):
                self.report("guillotine", f"{_name(band)} is not free before routing")

    def _clear_bench(self, slabs: list[_Slab], dust: float) -> None:
        layout, size = self.layout, self.layout.size
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
        if layout.offcuts and any(offcut.length <= 0 or offcut.width <= 0 for offcut in layout.offcuts):
            self.report("offcuts", "an offcut without size")
        for offcut in layout.offcuts:
            if offcut.is_kept != _is_kept(offcut, self.problem):
                word = "kept" if offcut.is_kept else "waste"
                self.report("offcuts", f"{offcut.length:g} × {offcut.width:g} is called {word} and is not")

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
            (part.key, part.x, part.y, part.x + _across(part), part.y + _upward(part))
            for part in self.layout.loose
        ]
        expected += [
            ("an offcut", offcut.x, offcut.y, offcut.x + offcut.length, offcut.y + offcut.width)
            for offcut in self.layout.offcuts
        ]
        return expected


def _across(piece: PlacedBand | PlacedLoose) -> Mm:
    return piece.width if piece.turned else piece.length


def _upward(piece: PlacedBand | PlacedLoose) -> Mm:
    return piece.length if piece.turned else piece.width


def _name(piece: PlacedBand | PlacedLoose) -> str:
    return f"band {piece.number} of {piece.family}" if isinstance(piece, PlacedBand) else piece.key
