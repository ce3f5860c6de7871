"""The tables of a plan: drawers, parts, what to buy, cut list, set-ups and times."""

from __future__ import annotations

from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawers.parts import Part
from drawerwright.job.papers.cut_lists import cut_list
from drawerwright.job.papers.data_table import Cell, Column, DataTable, Quantity
from drawerwright.job.papers.drawers_table import drawers_table
from drawerwright.job.papers.shopping import shopping_data
from drawerwright.job.planning.job_plan import JobPlan

_TEXT, _NUMBER, _LENGTH, _FINE = Quantity.TEXT, Quantity.NUMBER, Quantity.LENGTH, Quantity.FINE


def parts_table(plan: JobPlan) -> DataTable:
    """Every part with its sizes, the set-ups of its ends and its groove."""
    return DataTable(
        phrase("Parts"),
        (
            Column("part", phrase("Part")),
            Column("drawer", phrase("Drawer")),
            Column("kind", phrase("Kind of part")),
            Column("stock", phrase("Stock")),
            Column("thickness", phrase("Thickness"), _FINE),
            Column("length", phrase("Length"), _LENGTH),
            Column("width", phrase("Width"), _LENGTH),
            Column("cut_length", phrase("Cut length"), _LENGTH),
            Column("cut_width", phrase("Cut width"), _LENGTH),
            Column("first_end", phrase("First end")),
            Column("first_setup", phrase("Set-up of the first end"), _NUMBER),
            Column("second_end", phrase("Second end")),
            Column("second_setup", phrase("Set-up of the second end"), _NUMBER),
            Column("groove_height", phrase("Groove height"), _LENGTH),
            Column("groove_width", phrase("Groove width"), _LENGTH),
            Column("groove_depth", phrase("Groove depth"), _LENGTH),
            Column("handed", phrase("Left and right differ")),
            Column("trimmed_length", phrase("Trimmed length"), _LENGTH),
            Column("trimmed_width", phrase("Trimmed width"), _LENGTH),
        ),
        tuple(_part(part, plan) for part in plan.parts),
    )


def _part(part: Part, plan: JobPlan) -> tuple[Cell, ...]:
    ends: list[Cell] = []
    for index in (0, 1):
        loose = part.is_loose
        ends += [None, None] if loose else [part.ends[index].role.words, plan.setup_of_end(part, index)]
    groove = part.groove
    return (
        part.label,
        part.drawer,
        part.kind.words,
        part.stock.name,
        part.thickness,
        part.length,
        part.width,
        part.blank_length,
        part.blank_width,
        *ends,
        *((groove.height, groove.width, groove.depth) if groove else (None,) * 3),
        phrase("yes") if part.is_handed else phrase("no"),
        *((part.cut_length, part.cut_width) if part.oversize else (None, None)),
    )


def cuts_table(plan: JobPlan) -> DataTable:
    """The cut lists of all stocks: a row for each sheet that is cut at a setting, whose turn counts from 1."""
    return DataTable(
        phrase("Cut list"),
        (
            Column("stock", phrase("Stock")),
            Column("turn", phrase("Order"), _NUMBER),
            Column("setting", phrase("Set to"), _LENGTH),
            Column("cut", phrase("Cut")),
            Column("sheet", phrase("Sheet"), _NUMBER),
            Column("numbers", phrase("Cut numbers")),
            Column("comes_free", phrase("Comes free")),
        ),
        tuple(
            (
                stock.blanks.stock.name,
                turn,
                row.length,
                row.cut,
                each.sheet,
                " ".join(map(str, each.numbers)),
                row.frees_of(each.sheet),
            )
            for stock in plan.stocks
            for turn, row in enumerate(cut_list(plan, stock), start=1)
            for each in row.setting.sheets
        ),
    )


def setups_table(plan: JobPlan) -> DataTable:
    """The set-ups of the router table, with what its gauges show."""
    return DataTable(
        phrase("Set-ups"),
        (
            Column("setup", phrase("Set-up"), _NUMBER),
            Column("cutter", phrase("Cutter")),
            Column("bit_height", phrase("Bit height"), _FINE),
            Column("fence", phrase("Fence"), _FINE),
            Column("height_reading", phrase("Height gauge shows"), _FINE),
            Column("fence_reading", phrase("Fence scale shows"), _FINE),
            Column("corners", phrase("Corners")),
            Column("passes", phrase("Passes"), _NUMBER),
        ),
        tuple(
            (
                setup.number,
                setup.cutter.name,
                setup.bit_height,
                setup.fence,
                setup.height_reading,
                setup.fence_reading,
                joined([plan.draft.corner_name(key) for key in setup.corners], ", "),
                setup.trips,
            )
            for setup in plan.run.setups
        ),
    )


def times_table(plan: JobPlan) -> DataTable:
    """How long each step of the order of work takes, about."""
    return DataTable(
        phrase("Times"),
        (
            Column("step", phrase("Step"), _NUMBER),
            Column("title", phrase("Work")),
            Column("machine", phrase("Machine")),
            Column("setup", phrase("Set-up"), _NUMBER),
            Column("minutes", phrase("Time"), Quantity.MINUTES),
        ),
        tuple((step.number, step.title, step.machine, step.setup, step.minutes) for step in plan.run.steps),
        summed=("minutes",),
    )


def plan_tables(plan: JobPlan) -> tuple[DataTable, ...]:
    """Every table of a plan, in the order in which a workbook has them."""
    return (
        parts_table(plan),
        shopping_data(plan),
        cuts_table(plan),
        setups_table(plan),
        times_table(plan),
        drawers_table(plan.job),
    )
