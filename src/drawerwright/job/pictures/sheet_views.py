"""The sheets of a plan as a page shows them: a row to choose from, one large, and one part of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.drawers.parts import Part
from drawerwright.drawings.sheet import NUMBER
from drawerwright.drawings.sheet_look import SheetLook
from drawerwright.drawings.sheet_outline import draw_sheet_outline
from drawerwright.job.papers.plan_drawings import SheetArtist
from drawerwright.job.papers.plan_views import chest_front
from drawerwright.job.pictures.on_screen import on_screen
from drawerwright.job.planning.job_plan import JobPlan, StockPlan
from drawerwright.sheets.patterns import SheetLayout

DESK = SheetLook(
    number_size=NUMBER,
    room=(136.0, 100.0),
    least_lettering=1.9,
    is_titled=False,
    rips_numbered=False,
    faces_marked=False,
)
PHONE = replace(
    DESK,
    room=(80.0, 170.0),
    number_size=2.6,
    least_lettering=2.6,
    band_size=2.6,
    key_size=2.6,
    is_dimensioned=False,
    is_standing=True,
)
"""How a sheet is set on a wide page and on a phone, where it stands and leaves out its sizes.

The cuts that follow the routing have their numbers on papers and run alone: one drawing has no room for all.
"""
OUTLINE: Mm = 26.0
CHEST: tuple[Mm, Mm] = (62.0, 46.0)

Address = Callable[[int], str]
"""Where the link of a part leads, by its number on the sheet."""


@dataclass(frozen=True, slots=True)
class JobSheet:
    """One sheet of a job: `number` counts from 1 over all stocks, `place` within its own."""

    number: int
    place: int
    stock: StockPlan

    @property
    def layout(self) -> SheetLayout:
        return self.stock.sheets.layouts[self.place - 1]

    @property
    def parts(self) -> tuple[PartOnSheet, ...]:
        """Every part that is cut from it, the strips of its bands first."""
        blanks = self.stock.blanks
        strips = [
            PartOnSheet(blanks.part(strip.key, strip.number), band.family, band.number)
            for band in self.layout.bands
            for strip in band.strips
        ]
        return (*strips, *(PartOnSheet(blanks.part(part.key, part.number)) for part in self.layout.loose))


@dataclass(frozen=True, slots=True)
class PartOnSheet:
    """A part, and the family and running number there of the band that it is ripped from; none for a loose part."""

    part: Part
    family: str = ""
    band: int = 0

    def band_number(self, plan: JobPlan) -> int | None:
        """What its band is called on drawings and in the run; None for a loose part."""
        return next(
            (
                mark.number
                for mark in plan.run.bands
                if (mark.stock, mark.placed.family, mark.placed.number)
                == (self.part.stock.name, self.family, self.band)
            ),
            None,
        )


def job_sheets(plan: JobPlan) -> tuple[JobSheet, ...]:
    """Every sheet, stock after stock."""
    placed = [(stock, place) for stock in plan.stocks for place in range(1, len(stock.sheets.layouts) + 1)]
    return tuple(JobSheet(number, place, stock) for number, (stock, place) in enumerate(placed, start=1))


def sheet_outlines(plan: JobPlan) -> list[tuple[JobSheet, str]]:
    """Every sheet with its small picture, all at one scale."""
    sheets = job_sheets(plan)
    longest = max(
        (side for each in sheets for side in (each.layout.size.length, each.layout.size.width)), default=1.0
    )
    return [
        (each, on_screen(draw_sheet_outline(each.layout, longest, OUTLINE, each.layout.size.label)))
        for each in sheets
    ]


def sheet_view_pictures(
    plan: JobPlan, sheet: JobSheet, address: Address, chosen: int | None = None
) -> tuple[str, str]:
    """One sheet for a wide page and for a phone, each part a link; the part `chosen` stands out."""
    labels = [plan.job.style.say(each.part.label) for each in sheet.parts]
    links = {label: address(number) for number, label in enumerate(labels, start=1)}
    current = labels[chosen - 1] if chosen else None
    artist = SheetArtist(plan, sheet.stock)
    wide, narrow = (artist.draw(sheet.place, look=look) for look in (DESK, PHONE))
    return on_screen(wide, links, current), on_screen(narrow, links, current)


def part_in_chest_picture(plan: JobPlan, part: Part, address: str, style: LengthStyle) -> str:
    """The whole piece from the front, with the drawer that a part belongs to standing out."""
    scene = chest_front(plan.job, style, room=CHEST, annotated=False)
    return on_screen(scene, {part.drawer: address}, part.drawer)
