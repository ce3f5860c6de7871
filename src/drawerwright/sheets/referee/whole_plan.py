"""An independent check of a finished plan.

It shares no code with the planner: it knows the problem, counts and measures what the plan says it makes, and has
every sheet sawn (`saw_bench`). What a plan must satisfy and does not is a violation.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from drawerwright.sheets.patterns import Offcut, PlacedBand, PlacedLoose
from drawerwright.sheets.problem import SheetPlan, SheetProblem
from drawerwright.sheets.referee.saw_bench import (
    TOUCH,
    SawBench,
    SheetJudge,
    Violation,
    across,
    name_of,
    upward,
)


def check(plan: SheetPlan) -> list[Violation]:
    """Everything wrong with `plan`; empty when it can be cut as it stands and gives exactly what is wanted."""
    violations = _check_whole(plan)
    for number, layout in enumerate(plan.layouts, start=1):
        violations += _Pieces(plan.problem, number, layout).check()
        violations += SawBench(plan.problem, number, layout).saw()
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
    found += _check_settings(plan)
    found += _check_stacks(plan)
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
    found = [
        Violation("figures", None, f"{name}: {given} given, {true} counted")
        for name, given, true in (
            ("cost of new sheets", figures.new_sheet_cost, cost),
            ("new sheets", figures.new_sheets, len(new)),
            ("offcuts used", figures.offcuts_used, len(plan.layouts) - len(new)),
            ("parts from offcuts", figures.parts_from_offcuts, _parts_area(plan)),
            ("bands", figures.bands, len(bands)),
            ("routed length", figures.routed_length, routed),
            ("fence settings", figures.fence_settings, _times_set(plan)),
            ("largest offcut", figures.largest_offcut, largest),
        )
        if not abs(given - true) <= 1e-6 * max(1.0, abs(true))
    ]
    if not plan.lower_bound <= cost + 1e-6 * max(1.0, cost):
        found.append(Violation("bound", None, f"lower bound {plan.lower_bound} above the plan's cost {cost}"))
    if plan.proven and not plan.lower_bound >= cost - 1e-6 * max(1.0, cost):
        found.append(Violation("bound", None, f"called proven with bound {plan.lower_bound} below {cost}"))
    return found


def _times_set(plan: SheetPlan) -> int:
    """How often fence or stop are moved when the settings are made as listed."""
    listed = [
        (setting.is_ripping, setting.is_crosscut, round(setting.length, 3))
        for setting in plan.settings
        if setting.length is not None
    ]
    return sum(1 for before, now in pairwise([None, *listed]) if now != before)


def _check_settings(plan: SheetPlan) -> list[Violation]:
    """The list of settings, gone through over all sheets: each cut once, after those with lower numbers, at the setting
    and the way round that it needs; nothing but ripping after the first band has been ripped."""
    found: list[Violation] = []
    left = [list(layout.cuts) for layout in plan.layouts]
    ripped = False
    for place, setting in enumerate(plan.settings, start=1):
        if ripped and not setting.is_ripping:
            found.append(Violation("settings", None, f"setting {place} comes after bands have been ripped"))
        ripped = ripped or setting.is_ripping
        for each in setting.sheets:
            waiting = left[each.sheet - 1] if 0 < each.sheet <= len(left) else []
            for number in each.numbers:
                if not waiting or waiting[0].order != number:
                    text = f"setting {place} takes cut {number}, which is not the next one"
                    found.append(Violation("settings", each.sheet, text))
                    continue
                cut = waiting.pop(0)
                is_trim = cut.stage == 0
                across = cut.x1 - cut.x0 < cut.y1 - cut.y0
                if (
                    cut.ripping != setting.is_ripping
                    or is_trim != (setting.length is None)
                    or (setting.length is not None and abs(cut.setting - setting.length) > TOUCH)
                    or (not is_trim and across != setting.is_crosscut)
                ):
                    text = f"cut {number} is not one for setting {place} of {setting.length} mm"
                    found.append(Violation("settings", each.sheet, text))
    found += [
        Violation("settings", number, f"{len(cuts)} cuts are in no setting")
        for number, cuts in enumerate(left, start=1)
        if cuts
    ]
    return found


def _check_stacks(plan: SheetPlan) -> list[Violation]:
    """Each sheet lies in one stack, no stack is higher than allowed, and what lies together is cut alike."""
    found: list[Violation] = []
    if sorted(number for stack in plan.stacks for number in stack) != list(range(1, len(plan.layouts) + 1)):
        found.append(Violation("stacks", None, f"{plan.stacks} are not all sheets, each once"))
        return found
    for stack in plan.stacks:
        first, *others = (plan.layouts[number - 1] for number in stack)
        if len(stack) > plan.problem.saw.stack:
            found.append(Violation("stacks", stack[0], f"{len(stack)} lie on each other"))
        places = [(c.x0, c.y0, c.x1, c.y1) for c in first.cuts if not c.ripping]
        for other in others:
            alike = [(c.x0, c.y0, c.x1, c.y1) for c in other.cuts if not c.ripping] == places
            if other.size != first.size or not alike:
                found.append(Violation("stacks", stack[0], f"sheets {stack} are not cut alike"))
    return found


def _parts_area(plan: SheetPlan) -> float:
    """What finished parts are cut from offcuts, in mm²."""
    old = [layout for layout in plan.layouts if layout.size.is_offcut]
    strips = sum(
        band.length * strip.height for layout in old for band in layout.bands for strip in band.strips
    )
    return strips + sum(part.length * part.width for layout in old for part in layout.loose)


# -- what lies on a sheet ----------------------------------------------------------------------------------


class _Pieces(SheetJudge):
    """What lies on one sheet: every piece as it is wanted, inside the sheet, and apart from its neighbours."""

    def check(self) -> list[Violation]:
        self._check_pieces_inside()
        for band in self.layout.bands:
            self._check_band(band)
        for part in self.layout.loose:
            self._check_loose(part)
        self._check_matched()
        self._check_offcuts()
        return self.found

    def _check_pieces_inside(self) -> None:
        size, trim = self.layout.size, self.trim
        pieces: list[PlacedBand | PlacedLoose] = [*self.layout.bands, *self.layout.loose]
        places = [
            (name_of(piece), piece.x, piece.y, piece.x + across(piece), piece.y + upward(piece))
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
            self.report("band", f"{name_of(band)} holds no strip")
            return
        if band.width < rules.shortest_piece - TOUCH:
            self.report(
                "band", f"{name_of(band)} is {band.width} mm long, {rules.shortest_piece} is the least"
            )
        if rules.longest_band is not None and band.width > rules.longest_band + TOUCH:
            self.report("band", f"{name_of(band)} is {band.width} mm long, {rules.longest_band} is the most")
        stretches = [(strip.offset, strip.height) for strip in band.strips] + list(band.sacrificial)
        stretches.sort()
        place = 0.0
        for offset, height in stretches:
            if offset < place - TOUCH:
                self.report("kerf", f"{name_of(band)}: strips at {offset} mm overlap or leave no kerf")
            place = offset + height + kerf
        if place - kerf > band.width + TOUCH:
            self.report("outside", f"{name_of(band)}: strips reach beyond the band")
        if rules.sacrificial_strip > 0 and rules.sacrificial_ends:
            first = min(strip.offset for strip in band.strips)
            last = band.width - max(strip.offset + strip.height for strip in band.strips)
            need = rules.sacrificial_strip + kerf - TOUCH
            if last < need or (rules.sacrificial_ends > 1 and first < need):
                self.report("sacrificial", f"{name_of(band)}: the strip that takes the tear-out is missing")
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

    def _check_offcuts(self) -> None:
        for offcut in self.layout.offcuts:
            if not (offcut.length > 0 and offcut.width > 0):
                self.report("offcuts", "an offcut without size")
            if offcut.is_kept != _is_kept(offcut, self.problem):
                word = "kept" if offcut.is_kept else "waste"
                self.report("offcuts", f"{offcut.length:g} × {offcut.width:g} is called {word} and is not")


def _is_kept(offcut: Offcut, problem: SheetProblem) -> bool:
    """Whether an offcut is worth keeping, whatever the plan says of it."""
    shorter, longer = sorted((offcut.length, offcut.width))
    return longer >= problem.least_offcut.length and shorter >= problem.least_offcut.width
