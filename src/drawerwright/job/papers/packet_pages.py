"""The shop packet of a plan: which words and drawings go on which page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from itertools import groupby

from drawerwright.basics.later import MadeLater
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.basics.told_lengths import WrittenRun
from drawerwright.drawers.parts import Part
from drawerwright.drawings.packet import (
    Figure,
    Packet,
    PacketTable,
    SheetPage,
    WorkPhase,
    WorkStep,
)
from drawerwright.drawings.printing import ToldPacket
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.typesetting import Told, untold
from drawerwright.job.file.cutter_places import ONLY
from drawerwright.job.papers.bench_cards import bench_cards, bench_corners
from drawerwright.job.papers.carcase_tables import carcase_tables
from drawerwright.job.papers.closing_page import closing_page
from drawerwright.job.papers.cut_lists import cut_list_table
from drawerwright.job.papers.duty_tables import duty_tables
from drawerwright.job.papers.gluing_page import gluing_page
from drawerwright.job.papers.paper_issue import plan_issue
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.papers.plan_drawings import plan_drawings, sheet_drawing_name
from drawerwright.job.papers.plan_views import overview_drawings
from drawerwright.job.papers.ripping_list import ripping_table
from drawerwright.job.papers.setup_cards import setup_cards
from drawerwright.job.papers.shopping import shopping_table
from drawerwright.job.papers.sticks_page import sticks_page
from drawerwright.job.papers.type_pages import type_pages
from drawerwright.job.planning.fence_costs import choice_in_words, compared_plans
from drawerwright.job.planning.job_plan import JobPlan, StockPlan
from drawerwright.job.planning.stops import sheet_stops
from drawerwright.run.boring import alike_backs
from drawerwright.run.front_work import scooped
from drawerwright.run.marks import PartName, numbers_in_row, parts_named
from drawerwright.run.steps import Step


def told_packet(plan: JobPlan, drawings: Mapping[str, Scene]) -> ToldPacket:
    """The packet, ready to be set; `drawings` from `plan_drawings`."""
    return ToldPacket.of(_Papers(plan, drawings).packet(), plan.job.style)


def plan_packet(plan: JobPlan, drawings: Mapping[str, Scene] | None = None, told: Told = untold) -> bytes:
    """The packet as PDF bytes; `drawings` from `plan_drawings`, made here when they are not given. A long one is set in
    pieces, and `told` how many of how many are done."""
    return told_packet(plan, drawings or plan_drawings(plan)).pdf(told)


class _Papers:
    def __init__(self, plan: JobPlan, drawings: Mapping[str, Scene]) -> None:
        self.plan = plan
        self.drawings = drawings
        self.lengths = PaperLengths(plan.job.style)

    def packet(self) -> Packet:
        plan = self.plan
        return Packet(
            job=plan.job.name,
            issue=plan_issue(plan),
            subtitle=phrase("Shop packet"),
            provisional=self._provisional(),
            overview=self._overview(),
            figures=self._figures(),
            findings=plan.findings,
            cautions=plan.cautions,
            settings=self._settings(),
            shopping=shopping_table(plan),
            views=self._views(),
            elevations=(*self._elevations(), *self._backs(), *self._scoops(), *self._plain_corners()),
            carcase=carcase_tables(plan, self.lengths),
            types=type_pages(plan.draft, self.drawings),
            sheets=MadeLater(
                [
                    partial(self._sheet, stock, number)
                    for stock in plan.stocks
                    for number in range(1, len(stock.sheets.layouts) + 1)
                ]
            ),
            cards=(*setup_cards(plan, self.drawings), *bench_cards(plan, self.drawings)),
            parts=self._parts(),
            more=(ripping_table(plan), *duty_tables(plan.draft, self.lengths)),
            work=self._work(),
            after=tuple(
                page
                for page in (
                    gluing_page(plan, self.drawings),
                    sticks_page(plan, self.drawings),
                    closing_page(plan, (self._fences(),)),
                )
                if page is not None
            ),
        )

    def _views(self) -> tuple[Scene, ...]:
        names = (name for name, _draw in overview_drawings(self.plan.draft))
        return tuple(self.drawings[name] for name in names)

    def _elevations(self) -> Iterator[Figure]:
        for number, (carcase, _banks) in enumerate(self.plan.job.carcases, start=1):
            yield Figure(self.drawings[f"carcase-{number}"], phrase("Carcase: {name}", name=carcase.name))
        for bank in self.plan.job.banks:
            words = phrase("Bank {mark}: {name}", mark=bank.bank.mark, name=bank.bank.name)
            yield Figure(self.drawings[f"bank-{bank.bank.mark}"], words)

    def _backs(self) -> Iterator[Figure]:
        """Backs that are notched or bored for the runners."""
        for number, alike in enumerate(alike_backs(self.plan.parts), start=1):
            words = phrase("Backs: {drawers}", drawers=names_in_row([part.drawer for part in alike]))
            yield Figure(self.drawings[f"back-{number}"], words)

    def _scoops(self) -> Iterator[Figure]:
        """Templates at full size."""
        for number, fronts in enumerate(scooped(self.plan.parts).values(), start=1):
            words = phrase("Template: {fronts}", fronts=names_in_row([part.drawer for part in fronts]))
            yield Figure(self.drawings[f"scoop-{number}"], words)

    def _plain_corners(self) -> Iterator[Figure]:
        """Corners without a card, since nothing is set for them, are shown here."""
        with_cards = {bench.number for bench in bench_corners(self.plan.draft)}
        for number, corner in enumerate(self.plan.draft.plain_corners, start=1):
            if number in with_cards:
                continue
            marked = self.plan.strengths.marked(corner.key)
            yield Figure(self.drawings[f"plain-corner-{number}"], marked.caption(corner.name))

    def _provisional(self) -> str:
        if not self.plan.is_provisional:
            return ""
        return phrase(
            "Not measured yet: {names}. Settings and lengths may change; measure before you cut.",
            names=", ".join(self.plan.unmeasured),
        )

    def _overview(self) -> tuple[str, ...]:
        job, effort = self.plan.job, self.plan.run.effort
        bands, parts = effort.by_bands, effort.by_parts
        names = [cutter.name for cutter in job.cutters_in_use if cutter.name != ONLY]
        counted = {"count": len(job.all_boxes), "parts": len(self.plan.parts)}
        whole = (
            plural(
                "{count} drawer from {parts} parts, cut with {name}.",
                "{count} drawers from {parts} parts, cut with {name}.",
                **counted,
                name=names_in_row(names),
            )
            if names
            else plural(
                "{count} drawer from {parts} parts.", "{count} drawers from {parts} parts.", **counted
            )
        )
        if not job.cutters_in_use:
            return (whole,)
        return (
            whole,
            phrase(
                "Routed in bands: {passes} passes, {run}. Part by part: "
                "{single_passes} passes, {single_run}, about {minutes:.0f} min more.",
                passes=bands.passes,
                run=WrittenRun(1000 * bands.metres),
                single_passes=parts.passes,
                single_run=WrittenRun(1000 * parts.metres),
                minutes=parts.minutes - bands.minutes,
            ),
        )

    def _figures(self) -> tuple[tuple[str, str], ...]:
        effort = self.plan.run.effort
        return (
            (phrase("Drawers"), str(len(self.plan.job.all_boxes))),
            (
                phrase("Set-ups") if self.plan.draft.plain_corners else phrase("Router set-ups"),
                str(self.plan.setups),
            ),
            (phrase("Saw cuts"), str(effort.saw_cuts)),
            (phrase("New sheets"), str(sum(stock.sheets.figures.new_sheets for stock in self.plan.stocks))),
            (phrase("Working time, about"), Phrase("{hours:.1f} h", {"hours": effort.minutes / 60})),
        )

    def _settings(self) -> PacketTable:
        bench = [corner.name for corner in self.plan.draft.plain_corners]
        rows = []
        for corner in self.plan.corners:
            setting = corner.setting
            height, tight, *values = (
                self.lengths.fine(value)
                for value in (
                    setting.bit_height,
                    setting.tight_bit_height,
                    setting.fence_flat,
                    setting.fence_upright,
                    setting.neck,
                    setting.roof,
                    setting.shown_lip,
                )
            )
            rows.append((corner.name, height, f"({tight})", *values))
        return PacketTable(
            (
                phrase("Corner"),
                phrase("Bit height"),
                phrase("(tight)"),
                phrase("Fence, flat"),
                phrase("Fence, upright"),
                phrase("Neck"),
                phrase("Roof"),
                phrase("Lip"),
            ),
            tuple(rows),
            title=phrase("Machine settings"),
            note=phrase(
                "True sizes, with the height without play in brackets. The set-up cards say "
                "what your gauges must show."
            )
            if not bench
            else phrase(
                "True sizes, with the height without play in brackets. The set-up cards say "
                "what your gauges must show; those of {corners} give all their figures.",
                corners=joined(bench, "; "),
            ),
        )

    @property
    def _has_several_cutters(self) -> bool:
        return len(self.plan.job.cutters_in_use) > 1

    def _fences(self) -> PacketTable:
        fences = self.plan.draft.fences
        rows = []
        note = [choice_in_words(fences)]
        for compared in compared_plans(fences):
            plan, neck = compared.plan, compared.plan.thinnest_neck
            if compared.broken_limit:
                note.append(
                    phrase(
                        "{name}: {text}",
                        name=compared.name,
                        text=phrase("{words}.", words=compared.broken_limit),
                    )
                )
            rows.append(
                (
                    *((compared.cutter,) if self._has_several_cutters else ()),
                    compared.name,
                    compared.words,
                    str(plan.moves),
                    ", ".join(self.lengths.bare(position) for position in plan.positions),
                    "" if neck is None else self.lengths.bare(neck),
                    self.lengths.bare(plan.lip_error),
                    compared.short_standing,
                )
            )
        return PacketTable(
            (
                *((phrase("Cutter"),) if self._has_several_cutters else ()),
                phrase("Fence plan"),
                "",
                phrase("Moves"),
                phrase("Fence at ({unit})", unit=self.lengths.unit),
                phrase("Thinnest neck"),
                phrase("Largest error of the lip"),
                "",
            ),
            tuple(rows),
            title=phrase("Fence positions compared"),
            note=joined(note, " "),
            align=(
                *(("left",) if self._has_several_cutters else ()),
                *("left", "left", "right", "left", "right", "right", "left"),
            ),
        )

    def _sheet(self, stock: StockPlan, number: int) -> SheetPage:
        layout = stock.sheets.layouts[number - 1]
        notes = []
        if layout.bands:
            notes.append(
                phrase(
                    "Bands: inside face up as drawn. Rout the two heavy edges first: there the parts end. Then rip "
                    "along the dashed lines."
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
            stops=sheet_stops(self.plan, [(stock, number)]),
            cut_list=cut_list_table(self.plan, stock) if number == 1 else None,
        )

    def _parts(self) -> PacketTable:
        """Parts that are cut alike in one row."""
        is_trimmed = any(part.oversize for part in self.plan.parts)
        alike: dict[tuple[str, ...], list[Part]] = {}
        for part in self.plan.parts:
            setups = [self.plan.setup_of_end(part, index) for index in range(len(part.ends))]
            through = ", ".join(str(number) for number in dict.fromkeys(setups) if number is not None)
            row = (
                part.stock.name,
                self.lengths.coarse(part.blank_length),
                self.lengths.coarse(part.blank_width),
                phrase("loose") if part.is_loose else part.ends[0].role.words,
                through,
                self.lengths.coarse(part.groove.height) if part.groove else "",
                *((self._trimmed(part),) if is_trimmed else ()),
            )
            alike.setdefault(row, []).append(part)
        rows = [
            (parts_named([PartName.of(part) for part in parts]), str(len(parts)), *row)
            for row, parts in alike.items()
        ]
        return PacketTable(
            (
                phrase("Part"),
                phrase("Quantity"),
                phrase("Stock"),
                phrase("Length"),
                phrase("Width"),
                phrase("Held"),
                phrase("Set-ups"),
                phrase("Groove above lower edge"),
                *((phrase("Trimmed after the dry fit"),) if is_trimmed else ()),
            ),
            tuple(rows),
            title=phrase("Parts, cut sizes"),
            note=joined(
                [
                    phrase("Length runs along the grain."),
                    *(levels.sentence for levels in self.plan.groove_levels),
                ],
                " ",
            ),
            align=(
                *("left", "right", "left", "right", "right", "left", "left", "right"),
                *(("right",) if is_trimmed else ()),
            ),
            ticks=True,
        )

    def _trimmed(self, part: Part) -> str:
        """What becomes of a part that is cut larger at first."""
        if not part.oversize:
            return ""
        return f"{self.lengths.bare_coarse(part.cut_length)} × {self.lengths.coarse(part.cut_width)}"

    def _work(self) -> tuple[WorkPhase, ...]:
        phases = []
        for _, group in groupby(self.plan.run.steps, key=_phase_of):
            steps = list(group)
            first, last = steps[0], steps[-1]
            title = first.title if first.sawing is None else first.sawing.whole
            told = [WorkStep(line) for line in first.lines]
            if first.sawing is not None and first.sawing.sheets:
                told.append(WorkStep(phrase("Go through the cut list, setting by setting.")))
            elif first.sawing is not None:
                told = [WorkStep(phrase("Go through the ripping list, width by width."))]
            phases.append(
                WorkPhase(
                    phrase(
                        "{number}. {title} ({machine}, about {minutes:.0f} min)",
                        number=numbers_in_row(range(first.number, last.number + 1)),
                        title=title,
                        machine=first.machine,
                        minutes=sum(step.minutes for step in steps),
                    ),
                    tuple(told),
                )
            )
        return tuple(phases)


def _phase_of(step: Step) -> object:
    """Steps at the saw that belong together make one phase, any other step one of its own."""
    return step.number if step.sawing is None else step.sawing.whole
