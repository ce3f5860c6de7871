"""The sheets of a plan and the bands on them as plain data."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.drawers.parts import Part, PartKind
from drawerwright.job.plain_data import Data, mm
from drawerwright.job.planning.job_plan import StockPlan
from drawerwright.run.marks import BandMark
from drawerwright.sheets.cut_list import SawSetting
from drawerwright.sheets.patterns import Cut, Offcut, PlacedBand, PlacedLoose, SheetLayout


def bands_data(stocks: Sequence[StockPlan], marks: Sequence[BandMark]) -> list[Data]:
    """The bands of all stocks, sheet after sheet, with their strips and the parts that these become."""
    found = []
    marked = iter(marks)
    for stock in stocks:
        for sheet_number, layout in enumerate(stock.sheets.layouts, start=1):
            found += [_band(stock, sheet_number, next(marked)) for _ in layout.bands]
    return found


def _band(stock: StockPlan, sheet_number: int, mark: BandMark) -> Data:
    band = mark.placed
    family = stock.blanks.family(band.family)
    return {
        "stock": mark.stock,
        "sheet": sheet_number,
        "mark": mark.number,
        "family": band.family,
        "number": band.number,
        "part_length": mm(family.length),
        "routed_edge": mm(band.width),
        "role": str(family.role),
        "inside_face": "up as drawn",
        "marked_end": None if mark.marked is None else str(mark.marked),
        "marked_edge": None if mark.marked is None else "lower" if band.turned else "left",
        "strips": [
            {
                "part": (part := stock.blanks.part(strip.key, strip.number)).label,
                "offset": mm(strip.offset),
                "height": mm(strip.height),
                "lower_edge": _lower_edge(part, band),
            }
            for strip in band.strips
        ],
        "sacrificial": [{"offset": mm(o), "width": mm(w)} for o, w in band.sacrificial],
    }


def _lower_edge(part: Part, band: PlacedBand) -> str | None:
    """Which edge of a strip becomes the part's lower edge: inside face up and marked edge to the left, that of a left
    side is towards the worker. There the band begins, but where it is turned it ends there."""
    if not part.is_handed:
        return None
    is_left = part.kind is PartKind.LEFT
    return "towards the band's start" if is_left is not band.turned else "towards the band's end"


def sheets_data(stock: StockPlan) -> Data:
    """The sheets of a stock: what they were chosen by, what to buy, every layout with its cuts in order."""
    plan = stock.sheets
    figures = plan.figures
    return {
        "stock": stock.blanks.stock.name,
        "new_sheets": figures.new_sheets,
        "cost": None if plan.cost is None else round(plan.cost, 2),
        "lower_bound": round(plan.lower_bound, 2),
        "proven": plan.proven,
        "offcuts_used": figures.offcuts_used,
        "bands": figures.bands,
        "routed_length": mm(figures.routed_length),
        "saw_fence_settings": figures.fence_settings,
        "largest_offcut": round(figures.largest_offcut),
        "shopping": [
            {"size": line.size.label, "count": line.count, "cost": line.cost, "offcut": line.size.is_offcut}
            for line in plan.shopping_list
        ],
        "stacks": [list(stack) for stack in plan.stacks],
        "cuts_made": plan.cuts_made,
        "settings": [_setting(setting) for setting in plan.settings],
        "layouts": [_layout(layout, stock) for layout in plan.layouts],
    }


def _setting(setting: SawSetting) -> Data:
    """All cuts at one setting of fence or stop, which has no length where edges are trimmed."""
    return {
        "setting": None if setting.length is None else mm(setting.length),
        "crosscut": setting.is_crosscut,
        "ripping": setting.is_ripping,
        "sheets": [{"sheet": each.sheet, "cuts": list(each.numbers)} for each in setting.sheets],
    }


def _layout(layout: SheetLayout, stock: StockPlan) -> Data:
    return {
        "size": layout.size.label,
        "length": mm(layout.size.length),
        "width": mm(layout.size.width),
        "bands": [{"family": band.family, "number": band.number, **_place(band)} for band in layout.bands],
        "loose": [
            {"part": stock.blanks.part(loose.key, loose.number).label, **_place(loose)}
            for loose in layout.loose
        ],
        "offcuts": [_offcut(offcut) for offcut in layout.offcuts],
        "cuts": [_cut(cut) for cut in layout.cuts],
    }


def _place(piece: PlacedBand | PlacedLoose) -> Data:
    return {
        "x": mm(piece.x),
        "y": mm(piece.y),
        "x_extent": mm(piece.x_extent),
        "y_extent": mm(piece.y_extent),
        "turned": piece.turned,
    }


def _offcut(offcut: Offcut) -> Data:
    return {
        "x": mm(offcut.x),
        "y": mm(offcut.y),
        "length": mm(offcut.length),
        "width": mm(offcut.width),
        "kept": offcut.is_kept,
    }


def _cut(cut: Cut) -> Data:
    return {
        "order": cut.order,
        "stage": cut.stage,
        "ripping": cut.ripping,
        "setting": mm(cut.setting),
        "from": [mm(cut.x0), mm(cut.y0)],
        "to": [mm(cut.x1), mm(cut.y1)],
    }
