"""The packet's tables of what the carcase needs: runners, their lines, holes for pulls."""

from __future__ import annotations

from drawerwright.basics.loads import WrittenLoad
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawings.packet import PacketTable
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.job_plan import JobPlan


def carcase_tables(plan: JobPlan, lengths: PaperLengths) -> tuple[PacketTable, ...]:
    """Those of them that have rows."""
    lines = PacketTable(
        (phrase("Drawer"), phrase("Runner line above the opening's lower edge")),
        tuple((line.drawer, lengths.coarse(line.height)) for line in plan.runner_lines),
        title=phrase("Runner lines"),
    )
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
                hole.drawer,
                lengths.coarse(hole.from_left),
                lengths.coarse(hole.above_front),
                lengths.coarse(hole.above_opening),
                lengths.coarse(hole.diameter),
            )
            for hole in plan.pull_holes
        ),
        title=phrase("Holes for pulls"),
    )
    return tuple(table for table in (_runners(plan, lengths), lines, holes) if table.rows)


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
