"""Sheets for a list of parts, without a job around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from drawerwright.basics.declared import Seconds, checked
from drawerwright.basics.lengths import Mm
from drawerwright.job.cut_parts import CutParts, SheetPart, cut_parts
from drawerwright.job.pictures.drawing import Drawing
from drawerwright.library.notebook import html_paragraph, html_table
from drawerwright.sheets.band_rules import BandRules
from drawerwright.sheets.patterns import Offcut, SheetCount
from drawerwright.sheets.saw import Saw
from drawerwright.sheets.sheet_stock import SheetSize


@dataclass(frozen=True, slots=True)
class PlannedSheets:
    """The fewest, or cheapest, sheets for a list of parts. Lengths in mm, costs in the currency of the prices.

    A notebook shows what to buy and each sheet, drawn with its cuts in their order; `drawings` holds them one by one.
    """

    cut: CutParts = field(repr=False)

    @property
    def new_sheets(self) -> int:
        """How many sheets are needed beside the offcuts on hand."""
        return self.cut.plan.figures.new_sheets

    @property
    def cost(self) -> float | None:
        """What they cost; None where a size has no price."""
        return self.cut.plan.cost

    @property
    def lower_bound(self) -> float:
        """A cost (without prices: a number of sheets) that no plan can undercut."""
        return self.cut.plan.lower_bound

    @property
    def proven(self) -> bool:
        """Whether the plan meets that bound."""
        return self.cut.plan.proven

    @property
    def shopping_list(self) -> tuple[SheetCount, ...]:
        """How many of each size, offcuts last: `size`, `count`, `cost`."""
        return self.cut.plan.shopping_list

    @property
    def kept_offcuts(self) -> tuple[Offcut, ...]:
        """What returns to the rack, the largest first: `length` and `width`."""
        return self.cut.plan.kept_offcuts

    @property
    def drawings(self) -> tuple[Drawing, ...]:
        """Every sheet with its parts, and its cuts in the order of the saw."""
        return tuple(Drawing.of(scene) for scene in self.cut.draw())

    def __str__(self) -> str:
        bought = [f"{line.size.label} ({line.count})" for line in self.shopping_list]
        return f"{', '.join(bought)}; {self._verdict}"

    @property
    def _verdict(self) -> str:
        if self.proven:
            return "proven: it cannot be done for less"
        return f"at least {self.lower_bound:g} {'sheets' if self.cost is None else 'in cost'}, not proven"

    def _repr_html_(self) -> str:
        rows = [
            (line.size.label, str(line.count), "" if line.cost is None else f"{line.cost:.2f}")
            for line in self.shopping_list
        ]
        drawn = "".join(f"<div>{drawing.svg}</div>" for drawing in self.drawings)
        return html_table("Sheets", ("size", "sheets", "cost"), rows) + html_paragraph(self._verdict) + drawn


@checked
def plan_sheets(
    parts: Sequence[SheetPart],
    sheets: Sequence[SheetSize],
    *,
    kerf: Mm,
    trim: Mm = 0.0,
    sacrificial_strip: Mm = 0.0,
    time_limit: Seconds | None = None,
) -> PlannedSheets:
    """Plan the sheets for a list of parts, all of one stock.

    docs/sheets.md explains how, with the literature behind it.

    Args:
        parts: what is cut (mm); parts of one band are ripped from it after the edges where they end were routed.
        sheets: sizes to buy, with their price where they have one, and offcuts on hand (mm).
        kerf: width of the saw cut (mm).
        trim: taken off every edge of a new sheet (mm).
        sacrificial_strip: width of the strip at either end of a band that takes the tear-out (mm).
        time_limit: seconds after which the best plan so far is returned with its bound.

    Raises:
        DrawerwrightError: a part fits no sheet, or the sheets on hand do not hold all of them; the text says which, and
            what would make it possible.
    """
    rules = BandRules(sacrificial_strip=sacrificial_strip)
    return PlannedSheets(cut_parts(parts, sheets, Saw(kerf, trim), rules, time_limit=time_limit))
