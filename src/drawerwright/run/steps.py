"""The order of work: each machine is set up once for everything that it does in that state."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.drawers.bottom import BottomStyle, Groove
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.carcase import PullHole, RunnerLine
from drawerwright.drawers.parts import Part, PartKind, Role
from drawerwright.joints.readings import expected_readings
from drawerwright.run.setups import CutPass, SetUp
from drawerwright.run.times import Rates, RoutingEffort, part_by_part, routing_effort
from drawerwright.sheets.problem import SheetPlan


@dataclass(frozen=True, slots=True)
class Step:
    """One step at one machine. `setup` is the number of the router set-up that it needs."""

    number: int
    title: str
    machine: str
    lines: tuple[str, ...]
    minutes: float
    setup: int | None = None


@dataclass(frozen=True, slots=True)
class Effort:
    """What the whole run takes, beside routing every part on its own."""

    saw_cuts: int
    saw_fence_settings: int
    router_setups: int
    by_bands: RoutingEffort
    by_parts: RoutingEffort
    minutes: float


@dataclass(frozen=True, slots=True)
class Run:
    """The order of work and what it takes."""

    setups: tuple[SetUp, ...]
    steps: tuple[Step, ...]
    effort: Effort


@dataclass(frozen=True, slots=True)
class RunInput:
    """Everything that the order of work depends on."""

    boxes: tuple[DrawerBox, ...]
    parts: tuple[Part, ...]
    plans: tuple[SheetPlan, ...]
    setups: tuple[SetUp, ...]
    rates: Rates
    runner_lines: tuple[RunnerLine, ...] = ()
    pull_holes: tuple[PullHole, ...] = ()
    style: LengthStyle = field(default_factory=LengthStyle)


def plan_run(given: RunInput) -> Run:
    """The whole order of work, from the rack to the glued drawer."""
    writer = _Writer(given)
    steps = writer.steps()
    bands = [band for plan in given.plans for layout in plan.layouts for band in layout.bands]
    heights = {round(strip.height, 2) for band in bands for strip in band.strips}
    effort = Effort(
        saw_cuts=sum(len(layout.cuts) for plan in given.plans for layout in plan.layouts),
        saw_fence_settings=sum(plan.figures.fence_settings for plan in given.plans) or len(heights),
        router_setups=len(given.setups),
        by_bands=routing_effort([band.width for band in bands], given.rates),
        by_parts=part_by_part(given.parts, given.rates),
        minutes=sum(step.minutes for step in steps),
    )
    return Run(given.setups, steps, effort)


class _Writer:
    def __init__(self, given: RunInput) -> None:
        self.given = given
        self.found: list[Step] = []

    def steps(self) -> tuple[Step, ...]:
        self._cut_sheets()
        for setup in self.given.setups:
            self._set_router(setup)
            self._test_cut(setup)
            for role in (Role.FLAT, Role.UPRIGHT):
                self._rout(setup, role)
        self._rip()
        self._grooves()
        self._bottoms()
        self._banding()
        self._glue()
        self._fit()
        return tuple(self.found)

    def _add(
        self, title: str, machine: str, lines: Sequence[str], minutes: float, setup: SetUp | None = None
    ) -> None:
        number = setup.number if setup else None
        self.found.append(Step(len(self.found) + 1, title, machine, tuple(lines), minutes, number))

    def _cut_sheets(self) -> None:
        rates = self.given.rates
        for plan in self.given.plans:
            for number, layout in enumerate(plan.layouts, start=1):
                first = [cut for cut in layout.cuts if not cut.ripping]
                lines = [
                    f"{layout.size.label}: {len(first)} cuts in the order numbered on the sheet drawing.",
                    f"Bands: {len(layout.bands)}. Loose parts: {len(layout.loose)}. "
                    "Label each piece before it leaves the saw.",
                ]
                if layout.bands:
                    lines.append(
                        "On each band mark the inside face, and the front edge where the drawing shows one."
                    )
                widths = {round(band.length, 2) for band in layout.bands}
                minutes = rates.sheet + len(first) * rates.saw_cut + len(widths) * rates.saw_setting
                self._add(
                    f"Cut sheet {number} of {len(plan.layouts)}: {plan.problem.stock}", "saw", lines, minutes
                )

    def _set_router(self, setup: SetUp) -> None:
        mm = self._fine
        lines = [
            f"Bit height {mm(setup.bit_height)} (gauge shows {mm(setup.height_reading)}).",
            f"Fence {mm(setup.fence)} (scale shows {mm(setup.fence_reading)}): the cutter's largest radius beyond "
            "the fence face.",
        ]
        if setup.number > 1:
            before = self.given.setups[setup.number - 2]
            if abs(before.bit_height - setup.bit_height) < 1e-9:
                lines[0] = f"Bit height stays at {mm(setup.bit_height)}."
        self._add(
            f"Set the cutter: set-up {setup.number}",
            "router table",
            lines,
            self.given.rates.router_setting,
            setup,
        )

    def _test_cut(self, setup: SetUp) -> None:
        lines = [
            "Use two scraps of the measured stock, wide enough to hold, and measure the cuts with calipers."
        ]
        for setting in setup.corners:
            roles = setup.roles(setting)
            lines += [
                f"{reading.piece}: {reading.what} {self._fine(reading.value)}"
                for reading in expected_readings(setting)
                if reading.piece in roles
            ]
        lines = list(dict.fromkeys(lines))
        if any(len(setup.roles(setting)) == 2 for setting in setup.corners):
            lines.append(
                "Push the two together: the corner must close by hand, with a trace of play for the glue."
            )
        self._add(f"Test cut: set-up {setup.number}", "router table", lines, self.given.rates.test_cut, setup)

    def _rout(self, setup: SetUp, role: Role) -> None:
        cuts = [cut for cut in setup.passes if cut.role is role]
        if not cuts:
            return
        rates = self.given.rates
        how = (
            "flat on the table, inside face down, edge to the fence"
            if role is Role.FLAT
            else "standing on its edge, inside face to the fence"
        )
        lines = [f"Each band {how}; turn it end for end for the second edge."]
        lines += [self._pass_line(cut) for cut in cuts]
        minutes = sum(
            cut.trips * rates.router_pass + cut.routed_length / 1000 / rates.feed_m_per_min for cut in cuts
        )
        self._add(f"Rout the {role} bands: set-up {setup.number}", "router table", lines, minutes, setup)

    def _pass_line(self, cut: CutPass) -> str:
        kinds = Counter(str(part.kind) for part in cut.family.parts)
        what = ", ".join(f"{count} {kind}" for kind, count in kinds.items())
        count = len(cut.bands)
        return (
            f"{count} band{'s' if count != 1 else ''} {self._coarse(cut.family.length)} wide of "
            f"{cut.family.stock.name} ({what}): {cut.edges}."
        )

    def _rip(self) -> None:
        bands = [band for plan in self.given.plans for layout in plan.layouts for band in layout.bands]
        if not bands:
            return
        heights = Counter(round(strip.height, 2) for band in bands for strip in band.strips)
        lines = ["Tallest strips first; the sacrificial strips fall away."]
        lines += [
            f"{self._coarse(height)}: {heights[height]} strips." for height in sorted(heights, reverse=True)
        ]
        cuts = sum(cut.ripping for plan in self.given.plans for layout in plan.layouts for cut in layout.cuts)
        rates = self.given.rates
        self._add(
            "Rip the bands into parts",
            "saw",
            lines,
            cuts * rates.saw_cut + len(heights) * rates.saw_setting,
        )

    def _grooves(self) -> None:
        by_groove: dict[Groove, list[Part]] = {}
        for part in self.given.parts:
            if part.groove is not None:
                by_groove.setdefault(part.groove, []).append(part)
        for groove, parts in by_groove.items():
            lines = [
                f"Groove {self._fine(groove.width)} wide and {self._coarse(groove.depth)} deep, its near side "
                f"{self._coarse(groove.height)} from the lower edge; inside face down, lower edge to the fence.",
                f"{len(parts)} parts; one fence position serves all, so grooves come after the ripping.",
            ]
            if any(part.is_handed for part in parts):
                lines.append(
                    "Sides are handed: with the inside face down and the fence on the right, a left side goes in front "
                    "end first, a right side back end first."
                )
            rates = self.given.rates
            self._add(
                "Cut the grooves",
                "saw or router table",
                lines,
                rates.saw_setting + len(parts) * rates.groove_pass,
            )

    def _bottoms(self) -> None:
        bottoms = [part for part in self.given.parts if part.kind is PartKind.BOTTOM]
        if not bottoms:
            return
        sizes = Counter((round(part.length, 1), round(part.width, 1)) for part in bottoms)
        lines = [
            f"{count} of {self._coarse(length)} by {self._coarse(width)}."
            for (length, width), count in sizes.items()
        ]
        lines.append("Check one against a dry-fitted drawer before you trim the rest.")
        self._add("Check the bottoms", "bench", lines, self.given.rates.saw_setting)

    def _banding(self) -> None:
        metres = (
            sum(
                (part.banded_long_edges * part.length + part.banded_short_edges * part.width)
                for part in self.given.parts
                if part.banding
            )
            / 1000
        )
        if metres:
            lines = [f"{metres:.1f} m of edging; trim it flush before the glue-up."]
            self._add("Band the visible edges", "bench", lines, metres / self.given.rates.banding_m_per_min)

    def _glue(self) -> None:
        boxes = self.given.boxes
        lines = [
            "Dry-fit one drawer first. Glue sparingly on shoulder, neck and head.",
            "Push each side home along the front's and back's cut, clamp across the sides, and compare the diagonals.",
        ]
        styles = {box.bottom.style for box in boxes if box.bottom is not None}
        if BottomStyle.CAPTURED in styles:
            lines.append("A captured bottom goes in, unglued, before the last piece closes the box.")
        if BottomStyle.SLID in styles:
            lines.append("A slid bottom goes in from the back when the glue is dry; screw it to the back.")
        if BottomStyle.FIXED in styles:
            lines.append("Fix a bottom from below while the box is in the clamps: it holds the box square.")
        self._add(f"Glue up {len(boxes)} drawers", "bench", lines, len(boxes) * self.given.rates.glue_up)

    def _fit(self) -> None:
        fronts = [part for part in self.given.parts if part.kind is PartKind.APPLIED_FRONT]
        lines = []
        if self.given.runner_lines:
            lines.append("Runner lines above the opening's lower edge:")
            lines += [f"{line.drawer}: {self._coarse(line.height)}" for line in self.given.runner_lines]
        if self.given.pull_holes:
            lines.append("Pull holes from the front's left edge and above its lower edge:")
            lines += [
                f"{hole.drawer}: {self._coarse(hole.from_left)} and {self._coarse(hole.above_front)}, "
                f"drill {self._coarse(hole.diameter)}"
                for hole in self.given.pull_holes
            ]
        if fronts:
            lines.append(f"Screw on {len(fronts)} applied fronts from inside, with the reveals set by shims.")
        if lines:
            self._add(
                "Fit runners, fronts and pulls",
                "carcase",
                lines,
                len(fronts) * self.given.rates.applied_front,
            )

    def _fine(self, value: Mm) -> str:
        return self.given.style.show(value, fine=True)

    def _coarse(self, value: Mm) -> str:
        return self.given.style.show(value)
