"""The shop packet of a plan: which words and drawings go on which page."""

from __future__ import annotations

from collections.abc import Mapping

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawings.corner import FULL_SIZE, draw_corner
from drawerwright.drawings.packet import (
    Figure,
    Packet,
    PacketTable,
    SetupCard,
    SheetPage,
    WorkPhase,
    WorkStep,
    packet_pages,
    write_packet,
)
from drawerwright.drawings.scene import Scene
from drawerwright.job.drawing import plan_drawings, sheet_drawing_name
from drawerwright.job.fence_costs import choice_in_words, compared_plans
from drawerwright.job.odds import card_words
from drawerwright.job.planning import JobPlan, StockPlan
from drawerwright.job.report import setup_of_end
from drawerwright.joints.cutter import CutterKind
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.targets import card_targets, remedy_table
from drawerwright.run.setups import SetUp


def plan_packet(plan: JobPlan, drawings: Mapping[str, Scene] | None = None) -> bytes:
    """The packet as PDF bytes; `drawings` from `plan_drawings`, made here when they are not given."""
    return write_packet(_Papers(plan, drawings or plan_drawings(plan)).packet(), plan.job.style)


def plan_pages(plan: JobPlan, drawings: Mapping[str, Scene]) -> tuple[bytes, ...]:
    """The pages of the packet as SVG, to look at on a screen."""
    return packet_pages(_Papers(plan, drawings).packet(), plan.job.style)


class _Papers:
    def __init__(self, plan: JobPlan, drawings: Mapping[str, Scene]) -> None:
        self.plan = plan
        self.drawings = drawings

    def packet(self) -> Packet:
        plan = self.plan
        return Packet(
            job=plan.job.name,
            subtitle=phrase("Shop packet"),
            provisional=self._provisional(),
            overview=self._overview(),
            figures=self._figures(),
            findings=plan.findings,
            cautions=plan.cautions,
            settings=self._settings(),
            shopping=self._shopping(),
            elevations=tuple(
                Figure(
                    self.drawings[f"bank-{bank.bank.mark}"],
                    phrase("Bank {mark}: {name}", mark=bank.bank.mark, name=bank.bank.name),
                )
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
        return phrase(
            "Not measured yet: {names}. Settings and lengths may change; measure before you cut.",
            names=", ".join(names),
        )

    def _overview(self) -> tuple[str, ...]:
        job, effort = self.plan.job, self.plan.run.effort
        bands, parts = effort.by_bands, effort.by_parts
        return (
            phrase(
                "{drawers} drawers from {parts} parts, cut with {name}.",
                drawers=len(job.all_boxes),
                parts=len(self.plan.parts),
                name=job.cutter.name,
            ),
            phrase(
                "Routed in bands: {passes} passes and {metres:.1f} m. Part by part it would be "
                "{single_passes} passes and {single_metres:.1f} m, about {minutes:.0f} min more.",
                passes=bands.passes,
                metres=bands.metres,
                single_passes=parts.passes,
                single_metres=parts.metres,
                minutes=parts.minutes - bands.minutes,
            ),
        )

    def _figures(self) -> tuple[tuple[str, str], ...]:
        effort = self.plan.run.effort
        return (
            (phrase("Drawers"), str(len(self.plan.job.all_boxes))),
            (phrase("Router set-ups"), str(effort.router_setups)),
            (phrase("Saw cuts"), str(effort.saw_cuts)),
            (phrase("New sheets"), str(sum(stock.sheets.figures.new_sheets for stock in self.plan.stocks))),
            (phrase("Work, about"), Phrase("{hours:.1f} h", {"hours": effort.minutes / 60})),
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
            (
                phrase("Corner"),
                phrase("Bit height"),
                phrase("Fence, flat"),
                phrase("Fence, upright"),
                phrase("Neck"),
                phrase("Roof"),
                phrase("Lip"),
            ),
            tuple(rows),
            title=phrase("Machine settings"),
            note=phrase("True sizes. What your gauges have to show is on the set-up cards."),
        )

    def _fences(self) -> PacketTable:
        fences = self.plan.draft.fences
        rows = []
        for compared in compared_plans(fences):
            plan, neck = compared.plan, compared.plan.thinnest_neck
            rows.append(
                (
                    compared.name,
                    compared.words,
                    str(plan.moves),
                    ", ".join(self._bare(position) for position in plan.positions),
                    "" if neck is None else self._bare(neck),
                    self._bare(plan.lip_error),
                    compared.standing,
                )
            )
        return PacketTable(
            (
                phrase("Fence plan"),
                "",
                phrase("Moves"),
                phrase("Fence at ({unit})", unit=self._unit),
                phrase("Thinnest neck"),
                phrase("Lip off by at most"),
                "",
            ),
            tuple(rows),
            title=phrase("Fence positions compared"),
            note=choice_in_words(fences),
            align=("left", "left", "right", "left", "right", "right", "left"),
        )

    def _shopping(self) -> PacketTable:
        rows = []
        for stock in self.plan.stocks:
            thickness = stock.blanks.stock.thickness
            for line in stock.sheets.shopping_list:
                cost = "" if line.cost is None else Phrase("{cost:.2f}", {"cost": line.cost})
                proof = phrase("fewest, proven") if stock.sheets.proven else phrase("best found")
                rows.append(
                    (
                        phrase(
                            "{name} ({nominal}, reckoned {value})",
                            name=stock.blanks.stock.name,
                            nominal=millimetres(thickness.nominal, "g"),
                            value=millimetres(thickness.value),
                        ),
                        line.size.label,
                        str(line.count),
                        cost,
                        phrase("offcut") if line.size.is_offcut else proof,
                    )
                )
        return PacketTable(
            (phrase("Stock"), phrase("Size"), phrase("Sheets"), phrase("Cost"), ""),
            tuple(rows),
            title=phrase("Shopping list"),
            align=("left", "left", "right", "right", "left"),
        )

    def _carcase(self) -> tuple[PacketTable, ...]:
        lines = PacketTable(
            (phrase("Drawer"), phrase("Runner line above the opening's lower edge")),
            tuple((line.drawer, self._coarse(line.height)) for line in self.plan.runner_lines),
            title=phrase("Runner lines"),
        )
        holes = PacketTable(
            (
                phrase("Front"),
                phrase("From left edge"),
                phrase("Above lower edge"),
                phrase("Above opening's lower edge"),
                phrase("Drill"),
            ),
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
            title=phrase("Holes for pulls"),
        )
        return tuple(table for table in (lines, holes) if table.rows)

    def _sheet(self, stock: StockPlan, number: int) -> SheetPage:
        layout = stock.sheets.layouts[number - 1]
        notes = []
        if layout.bands:
            notes.append(
                phrase(
                    "Bands: inside face up as drawn. Rout both long edges before ripping; dashed cuts "
                    "wait until then."
                )
            )
        return SheetPage(
            title=phrase(
                "{name}: sheet {number} of {count}",
                name=stock.blanks.stock.name,
                number=number,
                count=len(stock.sheets.layouts),
            ),
            scene=self.drawings[sheet_drawing_name(self.plan, stock, number)],
            notes=tuple(notes),
        )

    def _card(self, setup: SetUp) -> SetupCard:
        passes = [
            (
                cut.role.words,
                f"{len(cut.bands)}",
                self._coarse(cut.family.length),
                cut.family.stock.name,
                cut.edges,
                Phrase("{metres:.2f} m", {"metres": cut.routed_length / 1000}),
            )
            for cut in setup.passes
        ]
        return SetupCard(
            title=phrase("Set-up {number}", number=setup.number),
            values=(
                (phrase("Bit height"), self._fine(setup.bit_height)),
                (phrase("Height gauge shows"), self._fine(setup.height_reading)),
                (phrase("Fence setting"), self._fine(setup.fence)),
                (phrase("Fence scale shows"), self._fine(setup.fence_reading)),
            ),
            drawing=self.drawings[f"setup-{setup.number}"],
            corners=tuple(self._true_size(setting) for setting in setup.corners),
            passes=PacketTable(
                (
                    phrase("Piece"),
                    phrase("Bands"),
                    phrase("Band width"),
                    phrase("Stock"),
                    phrase("Edges"),
                    phrase("Routed"),
                ),
                tuple(passes),
                title=phrase("What is cut here"),
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
            (phrase("Piece"), phrase("Reading"), phrase("Expect"), phrase("Still fits")),
            tuple(
                (*key, phrase("{low} to {high}", low=self._bare(low), high=self._bare(high)))
                for key, (low, high) in ranges.items()
            ),
            title=phrase("Test cut ({unit})", unit=self._unit),
            note=phrase("Each range holds if everything else is right."),
            align=("left", "left", "right", "right"),
        )

    def _remedies(self, setting: CornerSetting) -> PacketTable | None:
        """What to change when the roof or the deepest cut is off; only a drawer-lock cut leaves a roof."""
        if setting.cutter.kind is not CutterKind.DRAWER_LOCK:
            return None
        return PacketTable(
            (phrase("Off by"), phrase("Roof: bit"), phrase("Corner"), phrase("Cut: fence")),
            tuple(
                (
                    self._bare(row.off),
                    self._bare(row.bit_height_change),
                    self._corner_then(row.play, row.proud),
                    self._bare(row.fence_change_by_cut),
                )
                for row in remedy_table(setting)
            ),
            title=phrase("When roof or deepest cut is off, change by ({unit})", unit=self._unit),
            note=phrase("Minus lowers the bit, or takes the cutter back behind the fence."),
        )

    def _corner_then(self, play: Mm, proud: Mm) -> str:
        if play > 0:
            return phrase("play {play}", play=self._bare(play))
        return phrase("proud {proud}", proud=self._bare(proud)) if proud > 0 else phrase("closes")

    def _true_size(self, setting: CornerSetting) -> Figure:
        name = next(corner.name for corner in self.plan.corners if corner.setting == setting)
        return Figure(
            draw_corner(setting, scale=FULL_SIZE, annotated=False, title=name, style=self.plan.job.style),
            name,
        )

    def _parts(self) -> PacketTable:
        rows = []
        for part in self.plan.parts:
            setups = [setup_of_end(part, index, self.plan) for index in range(len(part.ends))]
            through = ", ".join(str(number) for number in dict.fromkeys(setups) if number is not None)
            role = part.ends[0].role.words if part.ends else phrase("loose")
            rows.append(
                (
                    part.label,
                    part.stock.name,
                    self._fine(part.cut_length),
                    self._coarse(part.cut_width),
                    role,
                    through,
                    phrase("yes") if part.groove else "",
                )
            )
        return PacketTable(
            (
                phrase("Part"),
                phrase("Stock"),
                phrase("Length"),
                phrase("Width"),
                phrase("Held"),
                phrase("Set-ups"),
                phrase("Groove"),
            ),
            tuple(rows),
            title=phrase("Parts, cut sizes"),
            note=phrase("Length runs along the grain."),
            align=("left", "left", "right", "right", "left", "left", "left"),
            ticks=True,
        )

    def _drawers(self) -> PacketTable:
        return PacketTable(
            (
                phrase("Drawer"),
                phrase("Outer width"),
                phrase("Outer depth"),
                phrase("Sides high"),
                phrase("Inside width"),
                phrase("Inside depth"),
            ),
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
            title=phrase("Drawers, finished sizes"),
        )

    def _work(self) -> tuple[WorkPhase, ...]:
        return tuple(
            WorkPhase(
                phrase(
                    "{number}. {title} ({machine}, about {minutes:.0f} min)",
                    number=step.number,
                    title=step.title,
                    machine=step.machine,
                    minutes=step.minutes,
                ),
                tuple(WorkStep(line) for line in step.lines),
            )
            for step in self.plan.run.steps
        )
