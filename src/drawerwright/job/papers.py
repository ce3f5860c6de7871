"""The shop packet of a plan: which words and drawings go on which page."""

from __future__ import annotations

from collections.abc import Mapping

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.corner import FULL_SIZE, draw_corner
from drawerwright.drawings.packet import (
    Figure,
    Packet,
    PacketTable,
    SetupCard,
    SheetPage,
    WorkPhase,
    WorkStep,
    write_packet,
)
from drawerwright.drawings.scene import Scene
from drawerwright.job.drawing import plan_drawings, sheet_drawing_name
from drawerwright.job.odds import card_words
from drawerwright.job.planning import JobPlan, StockPlan
from drawerwright.job.report import setup_of_end
from drawerwright.joints.cutter import CutterKind
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.targets import card_targets, remedy_table
from drawerwright.run.setups import SetUp


def plan_packet(plan: JobPlan, drawings: Mapping[str, Scene] | None = None) -> bytes:
    """The packet as PDF bytes; `drawings` from `plan_drawings`, made here when they are not given."""
    return write_packet(_Papers(plan, drawings or plan_drawings(plan)).packet())


class _Papers:
    def __init__(self, plan: JobPlan, drawings: Mapping[str, Scene]) -> None:
        self.plan = plan
        self.drawings = drawings

    def packet(self) -> Packet:
        plan = self.plan
        return Packet(
            job=plan.job.name,
            subtitle="Shop packet",
            provisional=self._provisional(),
            overview=self._overview(),
            figures=self._figures(),
            findings=plan.findings,
            cautions=plan.cautions,
            settings=self._settings(),
            shopping=self._shopping(),
            elevations=tuple(
                Figure(self.drawings[f"bank-{bank.bank.mark}"], f"Bank {bank.bank.mark}: {bank.bank.name}")
                for bank in plan.job.banks
            ),
            carcase=self._carcase(),
            sheets=tuple(
                self._sheet(stock, number)
                for stock in plan.stocks
                for number in range(1, len(stock.sheets.layouts) + 1)
            ),
            cards=tuple(self._card(setup) for setup in plan.run.setups),
            parts=self._parts(),
            more=(self._drawers(), self._fences()),
            work=self._work(),
        )

    def _fine(self, length: Mm) -> str:
        return self.plan.job.style.show(length, fine=True)

    def _bare(self, length: Mm) -> str:
        return self.plan.job.style.show(length, fine=True, with_unit=False)

    @property
    def _unit(self) -> str:
        return "mm" if self.plan.job.style.unit == "mm" else "in"

    def _coarse(self, length: Mm) -> str:
        return self.plan.job.style.show(length)

    def _provisional(self) -> str:
        names = dict.fromkeys(p.stock.name for p in self.plan.parts if p.stock.thickness.is_provisional)
        if not names:
            return ""
        return (
            f"Not measured yet: {', '.join(names)}. Settings and lengths may change; measure before you cut."
        )

    def _overview(self) -> tuple[str, ...]:
        job, effort = self.plan.job, self.plan.run.effort
        bands, parts = effort.by_bands, effort.by_parts
        return (
            f"{len(job.all_boxes)} drawers from {len(self.plan.parts)} parts, cut with {job.cutter.name}.",
            f"Routed in bands: {bands.passes} passes and {bands.metres:.1f} m. Part by part it would be "
            f"{parts.passes} passes and {parts.metres:.1f} m, about {parts.minutes - bands.minutes:.0f} min more.",
        )

    def _figures(self) -> tuple[tuple[str, str], ...]:
        effort = self.plan.run.effort
        return (
            ("Drawers", str(len(self.plan.job.all_boxes))),
            ("Router set-ups", str(effort.router_setups)),
            ("Saw cuts", str(effort.saw_cuts)),
            ("New sheets", str(sum(stock.sheets.figures.new_sheets for stock in self.plan.stocks))),
            ("Work, about", f"{effort.minutes / 60:.1f} h"),
        )

    def _settings(self) -> PacketTable:
        rows = []
        for corner in self.plan.corners:
            setting = corner.setting
            values = (
                setting.bit_height,
                setting.fence_flat,
                setting.fence_upright,
                setting.neck,
                setting.roof,
                setting.lip,
            )
            rows.append((corner.name, *(self._fine(value) for value in values)))
        return PacketTable(
            ("Corner", "Bit height", "Fence, flat", "Fence, upright", "Neck", "Roof", "Lip"),
            tuple(rows),
            title="Machine settings",
            note="True sizes. What your gauges have to show is on the set-up cards.",
        )

    def _fences(self) -> PacketTable:
        fences = self.plan.draft.fences
        rows = []
        for compared in fences.compared:
            neck = compared.thinnest_neck
            rows.append(
                (
                    str(compared.routine) + (" (used)" if compared is fences.chosen else ""),
                    str(compared.moves),
                    ", ".join(self._fine(position) for position in compared.positions),
                    "" if neck is None else self._fine(neck),
                    self._fine(compared.lip_error),
                )
            )
        return PacketTable(
            ("Fence plan", "Positions", "Where", "Thinnest neck", "Lip off by at most"),
            tuple(rows),
            title="Fence positions compared",
            note="Every plan fits as tight; they differ in how often the fence is set and in what is left at the neck.",
        )

    def _shopping(self) -> PacketTable:
        rows = []
        for stock in self.plan.stocks:
            thickness = stock.blanks.stock.thickness
            for line in stock.sheets.shopping_list:
                cost = "" if line.cost is None else f"{line.cost:.2f}"
                proof = "fewest, proven" if stock.sheets.proven else "best found"
                rows.append(
                    (
                        f"{stock.blanks.stock.name} ({thickness.nominal:g} mm, reckoned {thickness.value:.2f} mm)",
                        line.size.label,
                        str(line.count),
                        cost,
                        "offcut" if line.size.is_offcut else proof,
                    )
                )
        return PacketTable(
            ("Stock", "Size", "Sheets", "Cost", ""),
            tuple(rows),
            title="Shopping list",
            align=("left", "left", "right", "right", "left"),
        )

    def _carcase(self) -> tuple[PacketTable, ...]:
        lines = PacketTable(
            ("Drawer", "Runner line above the opening's lower edge"),
            tuple((line.drawer, self._coarse(line.height)) for line in self.plan.runner_lines),
            title="Runner lines",
        )
        holes = PacketTable(
            ("Front", "From left edge", "Above lower edge", "Above opening's lower edge", "Drill"),
            tuple(
                (
                    hole.drawer,
                    self._coarse(hole.from_left),
                    self._coarse(hole.above_front),
                    self._coarse(hole.above_opening),
                    self._coarse(hole.diameter),
                )
                for hole in self.plan.pull_holes
            ),
            title="Holes for pulls",
        )
        return tuple(table for table in (lines, holes) if table.rows)

    def _sheet(self, stock: StockPlan, number: int) -> SheetPage:
        layout = stock.sheets.layouts[number - 1]
        notes = []
        if layout.bands:
            notes.append(
                "Bands: inside face up as drawn. Rout both long edges before ripping; dashed cuts wait until then."
            )
        return SheetPage(
            title=f"{stock.blanks.stock.name}: sheet {number} of {len(stock.sheets.layouts)}",
            scene=self.drawings[sheet_drawing_name(self.plan, stock, number)],
            notes=tuple(notes),
        )

    def _card(self, setup: SetUp) -> SetupCard:
        passes = [
            (
                str(cut.role),
                f"{len(cut.bands)}",
                self._coarse(cut.family.length),
                cut.family.stock.name,
                cut.edges,
                f"{cut.routed_length / 1000:.2f} m",
            )
            for cut in setup.passes
        ]
        return SetupCard(
            title=f"Set-up {setup.number}",
            values=(
                ("Bit height", self._fine(setup.bit_height)),
                ("Height gauge shows", self._fine(setup.height_reading)),
                ("Fence setting", self._fine(setup.fence)),
                ("Fence scale shows", self._fine(setup.fence_reading)),
            ),
            drawing=self.drawings[f"setup-{setup.number}"],
            corners=tuple(self._true_size(setting) for setting in setup.corners),
            passes=PacketTable(
                ("Piece", "Bands", "Band width", "Stock", "Edges", "Routed"),
                tuple(passes),
                title="What is cut here",
                align=("left", "right", "right", "left", "left", "right"),
            ),
            targets=self._targets(setup),
            remedies=self._remedies(setup.corners[0]),
            notes=self._odds(setup),
        )

    def _odds(self, setup: SetUp) -> tuple[str, ...]:
        """How sure the first cut is, for the corner of the set-up with the poorest odds."""
        job = self.plan.job
        odds = min(
            (self.plan.odds.of(setting) for setting in setup.corners), key=lambda joint: joint.aimed.both
        )
        return card_words(odds, job.table.height_reading(odds.aimed_height), job.style)

    def _targets(self, setup: SetUp) -> PacketTable:
        """The readings of the test pieces; where two corners share one, the narrower range holds."""
        ranges: dict[tuple[str, str, str], tuple[Mm, Mm]] = {}
        for setting in setup.corners:
            for target in card_targets(setting, self.plan.job.fit_range):
                if target.reading.piece in setup.roles(setting):
                    key = (
                        str(target.reading.piece),
                        str(target.reading.what),
                        self._bare(target.reading.value),
                    )
                    low, high = ranges.get(key, (target.low, target.high))
                    ranges[key] = (max(low, target.low), min(high, target.high))
        return PacketTable(
            ("Piece", "Reading", "Expect", "Still fits"),
            tuple((*key, f"{self._bare(low)} to {self._bare(high)}") for key, (low, high) in ranges.items()),
            title=f"Test cut ({self._unit})",
            note="Each range holds if everything else is right.",
            align=("left", "left", "right", "right"),
        )

    def _remedies(self, setting: CornerSetting) -> PacketTable | None:
        """What to change when the roof or the deepest cut is off; only a drawer-lock cut leaves a roof."""
        if setting.cutter.kind is not CutterKind.DRAWER_LOCK:
            return None
        return PacketTable(
            ("Off by", "Roof: bit", "Corner", "Cut: fence"),
            tuple(
                (
                    self._bare(row.off),
                    self._bare(row.bit_height_change),
                    self._corner_then(row.play, row.proud),
                    self._bare(row.fence_change_by_cut),
                )
                for row in remedy_table(setting)
            ),
            title=f"When roof or deepest cut is off, change by ({self._unit})",
            note="Minus lowers the bit, or takes the cutter back behind the fence.",
        )

    def _corner_then(self, play: Mm, proud: Mm) -> str:
        if play > 0:
            return f"play {self._bare(play)}"
        return f"proud {self._bare(proud)}" if proud > 0 else "closes"

    def _true_size(self, setting: CornerSetting) -> Figure:
        name = next(corner.name for corner in self.plan.corners if corner.setting == setting)
        return Figure(draw_corner(setting, scale=FULL_SIZE, annotated=False, title=name), name)

    def _parts(self) -> PacketTable:
        rows = []
        for part in self.plan.parts:
            setups = [setup_of_end(part, index, self.plan) for index in range(len(part.ends))]
            through = ", ".join(str(number) for number in dict.fromkeys(setups) if number is not None)
            role = str(part.ends[0].role) if part.ends else "loose"
            rows.append(
                (
                    part.label,
                    part.stock.name,
                    self._fine(part.cut_length),
                    self._coarse(part.cut_width),
                    role,
                    through,
                    "yes" if part.groove else "",
                )
            )
        return PacketTable(
            ("Part", "Stock", "Length", "Width", "Held", "Set-ups", "Groove"),
            tuple(rows),
            title="Parts, cut sizes",
            note="Length runs along the grain.",
            align=("left", "left", "right", "right", "left", "left", "left"),
            ticks=True,
        )

    def _drawers(self) -> PacketTable:
        return PacketTable(
            ("Drawer", "Outer width", "Outer depth", "Sides high", "Inside width", "Inside depth"),
            tuple(
                (
                    box.name,
                    *(
                        self._coarse(size)
                        for size in (box.width, box.depth, box.height, box.inside_width, box.inside_depth)
                    ),
                )
                for box in self.plan.job.all_boxes
            ),
            title="Drawers, finished sizes",
        )

    def _work(self) -> tuple[WorkPhase, ...]:
        return tuple(
            WorkPhase(
                f"{step.number}. {step.title} ({step.machine}, about {step.minutes:.0f} min)",
                tuple(WorkStep(line) for line in step.lines),
            )
            for step in self.plan.run.steps
        )
