"""The page of a part that is made again, from its plan."""

from __future__ import annotations

from drawerwright.basics.phrases import phrase
from drawerwright.drawings.packet import WorkPhase, WorkStep
from drawerwright.drawings.replacement_page import ReplacementPage, write_replacement
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.sheet import draw_sheet
from drawerwright.drawings.sheet_look import SheetLook
from drawerwright.job.planning.replacement import Replacement

SHEET_ROOM = (170.0, 62.0)
"""Paper that the sheet may take, so that its steps stand on the same page (mm)."""


def replacement_lines(made: Replacement) -> tuple[str, ...]:
    """Where the part comes from, and what it measures."""
    style, part, source = made.draft.job.style, made.part, made.source
    origin = (
        phrase("From the rack: {source}", source=source.label)
        if source.is_offcut
        else phrase("From a new sheet: {source}", source=source.label)
    )
    return (
        phrase(
            "{origin}, {length} × {width}.",
            origin=origin,
            length=style.show(source.length, with_unit=False),
            width=style.written(source.width),
        ),
        phrase(
            "{part}: {stock}, cut to {length} × {width}.",
            part=part.label,
            stock=part.stock.name,
            length=style.show(part.blank_length, with_unit=False),
            width=style.written(part.blank_width),
        ),
    )


def replacement_sheet(made: Replacement) -> Scene:
    """The offcut or sheet with the part on it."""
    blanks, style = made.plan.blanks, made.draft.job.style
    return draw_sheet(
        made.plan.sheets.layouts[0],
        labels={
            (key, place): part.label
            for key, members in blanks.members.items()
            for place, part in enumerate(members, start=1)
        },
        ends={},
        numbers={(band.placed.family, band.placed.number): band.number for band in made.run.bands},
        is_grained=blanks.stock.has_grain,
        title=phrase("{stock}: {source}", stock=blanks.stock.name, source=made.source.label),
        style=style,
        look=SheetLook(room=SHEET_ROOM, is_titled=False),
    )


def replacement_page(made: Replacement) -> bytes:
    """The page as PDF."""
    job = made.draft.job
    page = ReplacementPage(
        job=job.name,
        title=phrase("Make again: {part}", part=made.part.label),
        lines=replacement_lines(made),
        drawings=(replacement_sheet(made),),
        work=tuple(
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
            for step in made.run.steps
        ),
        cautions=made.cautions,
    )
    return write_replacement(page, job.style)
