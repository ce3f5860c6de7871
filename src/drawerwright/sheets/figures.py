"""What a plan is judged by."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.sheets.cut_list import SawSetting
from drawerwright.sheets.patterns import PlanFigures, SheetLayout
from drawerwright.sheets.problem import SheetProblem


def figures_of(
    problem: SheetProblem, layouts: Sequence[SheetLayout], settings: Sequence[SawSetting]
) -> PlanFigures:
    """Count and measure the finished layouts."""
    new = [layout for layout in layouts if not layout.size.is_offcut]
    old = [layout for layout in layouts if layout.size.is_offcut]
    bands = [band for layout in layouts for band in layout.bands]
    return PlanFigures(
        new_sheet_cost=sum(problem.cost_of(layout.size) for layout in new),
        new_sheets=len(new),
        offcuts_used=len(old),
        parts_from_offcuts=sum(layout.parts_area for layout in old),
        routed_length=sum(band.routed_length for band in bands),
        bands=len(bands),
        fence_settings=sum(setting.length is not None for setting in settings),
        largest_offcut=max(
            (offcut.area for layout in layouts for offcut in layout.kept_offcuts), default=0.0
        ),
    )
