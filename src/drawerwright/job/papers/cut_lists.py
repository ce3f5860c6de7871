"""The cut list of a stock: what is cut at each setting of fence or stop, in the order of the run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.drawings.packet import PacketTable
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.job_plan import JobPlan, StockPlan
from drawerwright.run.marks import numbers_in_row, parts_named, sheets_in_row
from drawerwright.run.work import CutSheet
from drawerwright.sheets.cut_list import SawSetting


@dataclass(frozen=True, slots=True)
class CutListRow:
    """One setting (mm; None for the trims), and the sheets on which something comes free for good."""

    setting: SawSetting
    freeing: tuple[CutSheet, ...]
    stacks: tuple[tuple[int, ...], ...]

    @property
    def length(self) -> Mm | None:
        return self.setting.length

    @property
    def cut(self) -> Phrase:
        """What kind of cut it is."""
        if self.setting.length is None:
            return phrase("trim")
        if self.setting.is_ripping:
            return phrase("rip, after routing")
        return phrase("crosscut") if self.setting.is_crosscut else phrase("rip")

    @property
    def count(self) -> int:
        """How many cuts are made."""
        return self.setting.count(self.stacks)

    @property
    def where(self) -> str:
        """The sheets and the numbers of their cuts; sheets with the same numbers together."""
        alike: dict[tuple[int, ...], list[int]] = {}
        for each in self.setting.sheets:
            alike.setdefault(each.numbers, []).append(each.sheet)
        return "; ".join(self._on_sheets(sheets, numbers) for numbers, sheets in alike.items())

    def _on_sheets(self, sheets: Sequence[int], numbers: Sequence[int]) -> str:
        """`2, 3: 5–7`: cuts 5 to 7 on each of sheets 2 and 3."""
        named = numbers_in_row(sheets) if self.setting.is_ripping else sheets_in_row(sheets, self.stacks)
        return f"{named}: {numbers_in_row(numbers)}"

    @property
    def frees(self) -> Phrase:
        """What is marked at once."""
        return _freed(self.freeing)

    def frees_of(self, sheet: int) -> Phrase:
        """The same of one sheet, by its number."""
        return _freed([item for item in self.freeing if item.number == sheet])


def _freed(items: Sequence[CutSheet]) -> Phrase:
    said = []
    bands = [band.number for item in items for band in item.bands]
    if bands:
        said.append(plural("band {bands}", "bands {bands}", len(bands), bands=numbers_in_row(bands)))
    loose = [mark.part for item in items for mark in item.loose]
    if loose:
        said.append(parts_named(loose))
    return joined(said, "; ")


def cut_list(plan: JobPlan, stock: StockPlan) -> tuple[CutListRow, ...]:
    """Every setting of a stock, the ripping of its bands included."""
    place = next(place for place, each in enumerate(plan.stocks) if each is stock)
    cut: dict[tuple[int, int], CutSheet] = {
        (item.number, item.cuts[-1].order): item
        for step in plan.run.steps
        if step.sawing is not None and any(of == place for of, _ in step.sawing.sheets)
        for item in step.work
        if isinstance(item, CutSheet) and item.cuts and (item.bands or item.loose)
    }
    stacks = stock.sheets.stacks
    return tuple(
        CutListRow(
            setting,
            tuple(
                cut[each.sheet, each.numbers[-1]]
                for each in setting.sheets
                if (each.sheet, each.numbers[-1]) in cut
            ),
            stacks,
        )
        for setting in stock.sheets.settings
    )


def cut_list_table(plan: JobPlan, stock: StockPlan) -> PacketTable:
    """The same as the packet prints it, with boxes to tick. How to read it is said over the first of a job."""
    lengths = PaperLengths(plan.job.style)
    rows = [
        (
            "–" if row.length is None else lengths.bare_coarse(row.length),
            row.cut,
            str(row.count),
            row.where,
            row.frees,
        )
        for row in cut_list(plan, stock)
    ]
    return PacketTable(
        (
            phrase("Set to ({unit})", unit=lengths.unit),
            phrase("Cut"),
            phrase("Cuts"),
            phrase("Sheet: cut numbers"),
            phrase("Comes free"),
        ),
        tuple(rows),
        title=phrase("Cut list: {stock}", stock=stock.blanks.stock.name),
        note=phrase(
            "From top to bottom. Set fence or stop once and make its cuts on all sheets. Mark what comes free: "
            "bands and parts as listed, any other piece with sheet and cut; 2/5 is what cut 5 took off sheet 2."
        )
        if stock is plan.stocks[0]
        else "",
        align=("right", "left", "right", "left", "left"),
        ticks=True,
    )
