"""Sawing: the settings of the saw over all sheets of a stock as work, and what comes free at each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.run.marks import BandMark, LooseMark, mark_loose
from drawerwright.run.times import Rates
from drawerwright.run.work import CheckSheet, CutSheet, FetchSheet, MeasureKerf, SetSaw, Work
from drawerwright.sheets.cut_list import freed_with
from drawerwright.sheets.from_parts import StockBlanks
from drawerwright.sheets.kerf_test import USUAL_CUTS, lost_to
from drawerwright.sheets.patterns import SheetLayout
from drawerwright.sheets.problem import SheetPlan
from drawerwright.sheets.sheet_stock import SheetSize


@dataclass(frozen=True, slots=True)
class Sawing:
    """What a step at the saw belongs to, its setting (mm; None: none is made), and the sheets that are cut, each by the
    place of its stock among the plans and its number there."""

    whole: Phrase
    setting: Mm | None = None
    sheets: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class SawStep:
    """What is done at one setting of the saw (mm; None: before the first one), on which sheets of the stock."""

    title: Phrase
    work: tuple[Work, ...]
    minutes: float
    setting: Mm | None
    sheets: tuple[int, ...]


def kerf_tests(plans: Iterable[SheetPlan]) -> tuple[MeasureKerf, ...]:
    """What is measured before anything is cut: the kerf, unless it has been measured already."""
    saws = [plan.problem.saw for plan in plans]
    kerfs = dict.fromkeys(saw.kerf for saw in saws if saw.kerf_test is None)
    return tuple(MeasureKerf(USUAL_CUTS, lost_to(USUAL_CUTS, kerf)) for kerf in kerfs)


def saw_steps(
    plan: SheetPlan, blanks: StockBlanks, marks: Mapping[tuple[str, int], BandMark], rates: Rates
) -> Iterator[SawStep]:
    """All that is sawn of a stock before the routing, from the rack on, in the order of the plan's settings.

    Args:
        plan: its sheets.
        blanks: what is cut from them.
        marks: every band by its family and number.
        rates: how long work takes.
    """
    stock = blanks.stock.name
    stacks = {number: stack for stack in plan.stacks for number in stack}
    sheets = [
        _OnSheet(number, layout, blanks, marks, stacks[number])
        for number, layout in enumerate(plan.layouts, start=1)
    ]
    trims = {
        each.sheet: each.numbers
        for setting in plan.settings
        if setting.length is None
        for each in setting.sheets
    }
    begun = [sheet.cut(trims.get(sheet.number, ())) for sheet in sheets]
    yield SawStep(
        _fetched(stock, all(layout.size.is_offcut for layout in plan.layouts), are_trimmed=bool(trims)),
        (
            *(FetchSheet(stock, sheet.number, sheet.layout.size, sheet.stack) for sheet in sheets),
            *(item for item in begun if item.cuts or item.bands or item.loose),
            *_checks(stock, plan, [sheet.layout.size for sheet in sheets]),
        ),
        len(sheets) * rates.sheet + _minutes_of_cuts(begun, rates),
        None,
        tuple(sheet.number for sheet in sheets),
    )
    for setting in plan.settings:
        if setting.length is None or setting.is_ripping:
            continue
        length = millimetres(setting.length, ".1f")
        cut = [sheets[each.sheet - 1].cut(each.numbers) for each in setting.sheets]
        yield SawStep(
            phrase("Crosscut at {length}: {stock}", length=length, stock=stock)
            if setting.is_crosscut
            else phrase("Rip at {length}: {stock}", length=length, stock=stock),
            (SetSaw(setting.length, setting.is_crosscut), *cut),
            rates.saw_setting + _minutes_of_cuts(cut, rates),
            setting.length,
            tuple(item.number for item in cut),
        )


def _checks(stock: str, plan: SheetPlan, sizes: Sequence[SheetSize]) -> Iterator[CheckSheet]:
    """The first sheet of each size is checked: what is wrong with it is wrong with all."""
    for size in dict.fromkeys(sizes):
        yield CheckSheet(stock, sizes.index(size) + 1, *plan.problem.saw.trimmed(size))


def _fetched(stock: str, are_offcuts: bool, *, are_trimmed: bool) -> Phrase:
    if are_offcuts:
        return (
            phrase("Fetch and trim the offcuts: {stock}", stock=stock)
            if are_trimmed
            else phrase("Fetch the offcuts: {stock}", stock=stock)
        )
    return (
        phrase("Fetch and trim the sheets: {stock}", stock=stock)
        if are_trimmed
        else phrase("Fetch the sheets: {stock}", stock=stock)
    )


def _minutes_of_cuts(cut: Sequence[CutSheet], rates: Rates) -> float:
    return sum(len(item.cuts) for item in cut if item.number == item.stack[0]) * rates.saw_cut


class _OnSheet:
    """One sheet, and what comes free with which of its cuts."""

    def __init__(
        self,
        number: int,
        layout: SheetLayout,
        blanks: StockBlanks,
        marks: Mapping[tuple[str, int], BandMark],
        stack: tuple[int, ...],
    ) -> None:
        self.number, self.layout, self.stock, self.stack = number, layout, blanks.stock.name, stack
        frees = freed_with(layout)
        self.trims = {cut.order for cut in layout.band_trims}
        self.bands: dict[int, list[BandMark]] = defaultdict(list)
        self.loose: dict[int, list[LooseMark]] = defaultdict(list)
        for band in layout.bands:
            self.bands[frees(band.x, band.y)].append(marks[band.family, band.number])
        for loose in mark_loose(layout, blanks):
            self.loose[frees(loose.placed.x, loose.placed.y)].append(loose)

    def cut(self, numbers: Sequence[int]) -> CutSheet:
        """Cuts by their numbers, with what they free; without any, what needs none."""
        at = numbers or (0,)
        return CutSheet(
            self.stock,
            self.number,
            tuple(self.layout.cuts[number - 1] for number in numbers),
            tuple(number for number in numbers if number in self.trims),
            tuple(band for number in at for band in self.bands[number]),
            tuple(loose for number in at for loose in self.loose[number]),
            self.stack,
        )
