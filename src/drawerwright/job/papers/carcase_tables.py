"""The packet's tables of what the carcase needs: runners, their lines, holes for pulls."""

from __future__ import annotations

from drawerwright.basics.lengths import Mm
from drawerwright.basics.loads import WrittenLoad
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.opening_findings import width_less_lean
from drawerwright.drawings.packet import PacketTable
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.run.rail_work import RAILS_IN_A_DRAWER, rail_work


def carcase_tables(plan: JobPlan, lengths: PaperLengths) -> tuple[PacketTable, ...]:
    """Those of them that have rows."""
    is_divided = any(line.height != line.above_carcase for line in plan.runner_lines)
    lines = PacketTable(
        (
            phrase("Drawer"),
            phrase("Runner line above the opening's lower edge"),
            *((phrase("Above the carcase's lower edge inside"),) if is_divided else ()),
        ),
        tuple(
            (
                line.drawer,
                lengths.coarse(line.height),
                *((lengths.coarse(line.above_carcase),) if is_divided else ()),
            )
            for line in plan.runner_lines
        ),
        title=phrase("Runner lines"),
    )
    level: dict[tuple[str, Mm, Mm, Mm], list[Mm]] = {}
    for hole in plan.pull_holes:
        place = hole.drawer, hole.above_front, hole.above_opening, hole.diameter
        level.setdefault(place, []).append(hole.from_left)
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
                drawer,
                ", ".join([*(lengths.bare_coarse(each) for each in lefts[:-1]), lengths.coarse(lefts[-1])]),
                lengths.coarse(above_front),
                lengths.coarse(above_opening),
                lengths.bought(diameter),
            )
            for (drawer, above_front, above_opening, diameter), lefts in level.items()
        ),
        title=phrase("Holes for pulls"),
    )
    tables = _openings(plan, lengths), _runners(plan, lengths), lines, holes, _rails(plan, lengths)
    return tuple(table for table in tables if table.rows)


def _openings(plan: JobPlan, lengths: PaperLengths) -> PacketTable:
    """Where the openings of divided carcases are, and what spacers fill behind a face frame."""
    openings = [
        (bank.bank.name, bank.bank.opening)
        for bank in plan.job.banks
        if bank.bank.opening.carcase is not None
    ]
    is_framed = any(max(opening.behind) > 0 for _name, opening in openings)
    return PacketTable(
        (
            phrase("Bank"),
            phrase("Opening wide"),
            phrase("high"),
            phrase("From the carcase's left edge inside"),
            phrase("Above its lower edge inside"),
            *((phrase("Spacer left"), phrase("right")) if is_framed else ()),
        ),
        tuple(
            (
                name,
                *(lengths.coarse(size) for size in (opening.width, opening.height, opening.x, opening.z)),
                *((lengths.coarse(size) for size in opening.behind) if is_framed else ()),
            )
            for name, opening in openings
        ),
        title=phrase("Openings"),
        note=joined(
            [
                phrase("{name}: {text}", name=name, text=text)
                for name, opening in openings
                if opening.readings is not None
                for text in width_less_lean(opening.readings, opening.width)
            ],
            " ",
        ),
        align=("left", "right", "right", "right", "right", *(("right", "right") if is_framed else ())),
    )


def _runners(plan: JobPlan, lengths: PaperLengths) -> PacketTable:
    uses = plan.runner_uses
    return PacketTable(
        (phrase("Bank"), phrase("Runners"), phrase("Length"), phrase("A pair carries"), phrase("Pairs")),
        tuple(
            (
                use.bank,
                use.name or use.kind.words,
                "" if use.length is None else lengths.coarse(use.length),
                "" if use.rating is None else Phrase("{load}", {"load": WrittenLoad(use.rating)}),
                str(use.pairs),
            )
            for use in uses
        ),
        title=phrase("Runners"),
        note=phrase("Without a stated length the longest that fits was chosen.")
        if any(use.is_longest for use in uses)
        else "",
        align=("left", "left", "right", "right", "right"),
    )


def _rails(plan: JobPlan, lengths: PaperLengths) -> PacketTable:
    """Rails for folders, to buy and to cut."""
    works = rail_work(plan.job.all_boxes)
    return PacketTable(
        (phrase("Drawers"), phrase("Rails for folders"), phrase("Thick"), phrase("Length")),
        tuple(
            (
                names_in_row(work.drawers),
                str(RAILS_IN_A_DRAWER * len(work.drawers)),
                lengths.coarse(work.rails.hangers.rail),
                lengths.coarse(work.rails.length),
            )
            for work in works
        ),
        title=phrase("Rails for folders"),
        align=("left", "right", "right", "right"),
    )
