"""The steps of the order of work in words: each machine is set up once for everything that it does in that state."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from drawerwright.basics.lengths import LengthStyle, Mm, WrittenLength
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.drawers.bottom import BottomStyle, Groove
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.carcase import PullHole, RunnerLine
from drawerwright.drawers.parts import Part, PartKind, Role
from drawerwright.joints.readings import expected_readings
from drawerwright.run.setups import CutPass, SetUp
from drawerwright.run.times import Rates
from drawerwright.sheets.problem import SheetPlan


@dataclass(frozen=True, slots=True)
class Step:
    """One step at one machine. `setup` is the number of the router set-up that it needs, `sheet` the place of
    the stock among the plans and the number of its sheet that is cut."""

    number: int
    title: str
    machine: str
    lines: tuple[str, ...]
    minutes: float
    setup: int | None = None
    sheet: tuple[int, int] | None = None


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


def written_steps(given: RunInput) -> tuple[Step, ...]:
    """Every step from the rack to the glued drawer, in its order."""
    return _Writer(given).steps()


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
        self,
        title: str,
        machine: str,
        lines: Sequence[str],
        minutes: float,
        setup: SetUp | None = None,
        *,
        sheet: tuple[int, int] | None = None,
    ) -> None:
        number = setup.number if setup else None
        self.found.append(Step(len(self.found) + 1, title, machine, tuple(lines), minutes, number, sheet))

    def _cut_sheets(self) -> None:
        rates = self.given.rates
        for place, plan in enumerate(self.given.plans):
            for number, layout in enumerate(plan.layouts, start=1):
                first = [cut for cut in layout.cuts if not cut.ripping]
                lines = [
                    plural(
                        "{label}: {count} cut in the order numbered on the sheet drawing.",
                        "{label}: {count} cuts in the order numbered on the sheet drawing.",
                        len(first),
                        label=layout.size.label,
                    ),
                    phrase(
                        "Bands: {bands}. Loose parts: {loose}. Label each piece before it leaves the saw.",
                        bands=len(layout.bands),
                        loose=len(layout.loose),
                    ),
                ]
                if layout.bands:
                    lines.append(
                        phrase(
                            "On each band mark the inside face, and the front edge where the drawing shows one."
                        )
                    )
                widths = {round(band.length, 2) for band in layout.bands}
                minutes = rates.sheet + len(first) * rates.saw_cut + len(widths) * rates.saw_setting
                self._add(
                    phrase(
                        "Cut sheet {number} of {count}: {stock}",
                        number=number,
                        count=len(plan.layouts),
                        stock=plan.problem.stock,
                    ),
                    phrase("saw"),
                    lines,
                    minutes,
                    sheet=(place, number),
                )

    def _set_router(self, setup: SetUp) -> None:
        mm = self._fine
        lines = [
            phrase(
                "Bit height {bit_height} (gauge shows {height_reading}).",
                bit_height=mm(setup.bit_height),
                height_reading=mm(setup.height_reading),
            ),
            phrase(
                "Fence {fence} (scale shows {fence_reading}): the cutter's largest radius beyond the "
                "fence face.",
                fence=mm(setup.fence),
                fence_reading=mm(setup.fence_reading),
            ),
        ]
        if setup.number > 1:
            before = self.given.setups[setup.number - 2]
            if abs(before.bit_height - setup.bit_height) < 1e-9:
                lines[0] = phrase("Bit height stays at {bit_height}.", bit_height=mm(setup.bit_height))
        self._add(
            phrase("Set the cutter: set-up {number}", number=setup.number),
            phrase("router table"),
            lines,
            self.given.rates.router_setting,
            setup,
        )

    def _test_cut(self, setup: SetUp) -> None:
        lines = [
            phrase(
                "Use two scraps of the measured stock, wide enough to hold, and measure the cuts "
                "with calipers."
            )
        ]
        for setting in setup.corners.values():
            roles = setup.roles(setting)
            lines += [
                Phrase(
                    "{piece}: {what} {size}",
                    {"piece": reading.piece, "what": reading.what, "size": self._fine(reading.value)},
                )
                for reading in expected_readings(setting)
                if reading.piece in roles
            ]
        lines = list(dict.fromkeys(lines))
        if any(len(setup.roles(setting)) == 2 for setting in setup.corners.values()):
            lines.append(
                phrase(
                    "Push the two together: the corner must close by hand, with a trace of play for the glue."
                )
            )
        self._add(
            phrase("Test cut: set-up {number}", number=setup.number),
            phrase("router table"),
            lines,
            self.given.rates.test_cut,
            setup,
        )

    def _rout(self, setup: SetUp, role: Role) -> None:
        cuts = [cut for cut in setup.passes if cut.role is role]
        if not cuts:
            return
        rates = self.given.rates
        if role is Role.FLAT:
            title = phrase("Rout the flat bands: set-up {number}", number=setup.number)
            how = phrase("flat on the table, inside face down, edge to the fence")
        else:
            title = phrase("Rout the upright bands: set-up {number}", number=setup.number)
            how = phrase("standing on its edge, inside face to the fence")
        lines = [phrase("Each band {how}; turn it end for end for the second edge.", how=how)]
        lines += [self._pass_line(cut) for cut in cuts]
        minutes = sum(
            cut.trips * rates.router_pass + cut.routed_length / 1000 / rates.feed_m_per_min for cut in cuts
        )
        self._add(
            title,
            phrase("router table"),
            lines,
            minutes,
            setup,
        )

    def _pass_line(self, cut: CutPass) -> Phrase:
        kinds = Counter(part.kind for part in cut.family.parts)
        each = [phrase("{count} {kind}", count=count, kind=kind.words) for kind, count in kinds.items()]
        what = joined(each, ", ")
        return plural(
            "{count} band {length} wide of {name} ({what}): {edges}.",
            "{count} bands {length} wide of {name} ({what}): {edges}.",
            len(cut.bands),
            length=self._coarse(cut.family.length),
            name=cut.family.stock.name,
            what=what,
            edges=cut.edges,
        )

    def _rip(self) -> None:
        bands = [band for plan in self.given.plans for layout in plan.layouts for band in layout.bands]
        if not bands:
            return
        heights = Counter(round(strip.height, 2) for band in bands for strip in band.strips)
        lines = [phrase("Tallest strips first; the sacrificial strips fall away.")]
        lines += [
            plural(
                "{height}: {count} strip.",
                "{height}: {count} strips.",
                heights[height],
                height=self._coarse(height),
            )
            for height in sorted(heights, reverse=True)
        ]
        cuts = sum(cut.ripping for plan in self.given.plans for layout in plan.layouts for cut in layout.cuts)
        rates = self.given.rates
        self._add(
            phrase("Rip the bands into parts"),
            phrase("saw"),
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
                phrase(
                    "Groove {width} wide and {depth} deep, its near side {height} from the lower edge; "
                    "inside face down, lower edge to the fence.",
                    width=self._fine(groove.width),
                    depth=self._coarse(groove.depth),
                    height=self._coarse(groove.height),
                ),
                plural(
                    "{count} part; one fence position serves all, so grooves come after the ripping.",
                    "{count} parts; one fence position serves all, so grooves come after the ripping.",
                    len(parts),
                ),
            ]
            if any(part.is_handed for part in parts):
                lines.append(
                    phrase(
                        "Sides are handed: with the inside face down and the fence on the right, a left side "
                        "goes in front end first, a right side back end first."
                    )
                )
            rates = self.given.rates
            self._add(
                phrase("Cut the grooves"),
                phrase("saw or router table"),
                lines,
                rates.saw_setting + len(parts) * rates.groove_pass,
            )

    def _bottoms(self) -> None:
        bottoms = [part for part in self.given.parts if part.kind is PartKind.BOTTOM]
        if not bottoms:
            return
        sizes = Counter((round(part.length, 1), round(part.width, 1)) for part in bottoms)
        lines = [
            phrase(
                "{count} of {length} by {width}.",
                count=count,
                length=self._coarse(length),
                width=self._coarse(width),
            )
            for (length, width), count in sizes.items()
        ]
        lines.append(phrase("Check one against a dry-fitted drawer before you trim the rest."))
        self._add(phrase("Check the bottoms"), phrase("bench"), lines, self.given.rates.saw_setting)

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
            lines = [phrase("{metres:.1f} m of edging; trim it flush before the glue-up.", metres=metres)]
            self._add(
                phrase("Band the visible edges"),
                phrase("bench"),
                lines,
                metres / self.given.rates.banding_m_per_min,
            )

    def _glue(self) -> None:
        boxes = self.given.boxes
        lines = [
            phrase("Dry-fit one drawer first. Glue sparingly on shoulder, neck and head."),
            phrase(
                "Push each side home along the front's and back's cut, clamp across the sides, and "
                "compare the diagonals."
            ),
        ]
        styles = {box.bottom.style for box in boxes if box.bottom is not None}
        if BottomStyle.CAPTURED in styles:
            lines.append(phrase("A captured bottom goes in, unglued, before the last piece closes the box."))
        if BottomStyle.SLID in styles:
            lines.append(
                phrase("A slid bottom goes in from the back when the glue is dry; screw it to the back.")
            )
        if BottomStyle.FIXED in styles:
            lines.append(
                phrase("Fix a bottom from below while the box is in the clamps: it holds the box square.")
            )
        self._add(
            plural("Glue up {count} drawer", "Glue up {count} drawers", len(boxes)),
            phrase("bench"),
            lines,
            len(boxes) * self.given.rates.glue_up,
        )

    def _fit(self) -> None:
        fronts = [part for part in self.given.parts if part.kind is PartKind.APPLIED_FRONT]
        lines = []
        if self.given.runner_lines:
            lines.append(phrase("Runner lines above the opening's lower edge:"))
            lines += [
                Phrase("{drawer}: {height}", {"drawer": line.drawer, "height": self._coarse(line.height)})
                for line in self.given.runner_lines
            ]
        if self.given.pull_holes:
            lines.append(phrase("Pull holes from the front's left edge and above its lower edge:"))
            lines += [
                phrase(
                    "{drawer}: {from_left} and {above_front}, drill {diameter}",
                    drawer=hole.drawer,
                    from_left=self._coarse(hole.from_left),
                    above_front=self._coarse(hole.above_front),
                    diameter=self._coarse(hole.diameter),
                )
                for hole in self.given.pull_holes
            ]
        if fronts:
            lines.append(
                plural(
                    "Screw on {count} applied front from inside, with the reveals set by shims.",
                    "Screw on {count} applied fronts from inside, with the reveals set by shims.",
                    len(fronts),
                )
            )
        if lines:
            self._add(
                phrase("Fit runners, fronts and pulls"),
                phrase("carcase"),
                lines,
                len(fronts) * self.given.rates.applied_front,
            )

    def _fine(self, value: Mm) -> WrittenLength:
        return self.given.style.written(value, fine=True)

    def _coarse(self, value: Mm) -> WrittenLength:
        return self.given.style.written(value)
