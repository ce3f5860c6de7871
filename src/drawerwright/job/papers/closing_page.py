"""The last page: what the papers rest on, where figures are from, and which versions made them."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright import __version__
from drawerwright.basics.loads import WrittenSpread
from drawerwright.basics.phrases import joined, phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.drawings.packet import DrawerPage, PacketTable
from drawerwright.job.glance.known_rows import known_rows
from drawerwright.job.papers.paper_issue import plan_issue
from drawerwright.job.papers.plan_data import REPORT_VERSION
from drawerwright.job.papers.shopping import EDGING_LOST
from drawerwright.job.papers.sticks_page import PAPER_TRUE
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.run.fixings import APART, HELD, TIMES, screws_of
from drawerwright.run.gluing import LOST, SPREAD


def closing_page(plan: JobPlan, others: tuple[PacketTable, ...] = ()) -> DrawerPage:
    """Assumptions, sources, versions; `others` are what was compared before the settings were chosen."""
    rows = tuple((row.name, row.words, row.ask) for row in known_rows(plan.draft, None))
    heads = phrase("What"), phrase("What is known"), phrase("What to do")
    count = 3 if any(ask for _name, _words, ask in rows) else 2
    known = PacketTable(
        heads[:count],
        tuple(row[:count] for row in rows),
        title=phrase("What the settings rest on"),
        align=("left", "left", "left") if count == 3 else ("left", "left"),
    )
    assumed = PacketTable(
        (phrase("Assumption"), phrase("Source")),
        tuple(_assumed(plan)),
        title=phrase("Assumed on these papers"),
        align=("left", "left"),
    )
    sources = [source.words for source in plan.strengths.sources]
    return DrawerPage(
        title=phrase("Assumptions, sources, versions"),
        views=(),
        notes=(
            phrase("Title block: ISO 7200. Views: isometric, ISO 5456-3. Paper: ISO 216, ANSI/ASME Y14.1."),
            *((phrase("Strength of corners: {sources}.", sources=joined(sources, "; ")),) if sources else ()),
            phrase(
                "Made by Drawerwright {version}, plan format {format}, revision {revision}.",
                version=__version__,
                format=REPORT_VERSION,
                revision=plan_issue(plan).revision,
            ),
        ),
        tables=tuple(table for table in (known, *others, assumed) if table.rows),
    )


def _assumed(plan: JobPlan) -> Iterator[tuple[str, str]]:
    """What nobody stated but these papers count on, and where it is from."""
    boxes = plan.job.all_boxes
    usual = phrase("common practice, no source")
    yield (
        phrase(
            "Glue: {spread} of one face, {lost:.0f} % more for what is lost",
            spread=WrittenSpread(SPREAD),
            lost=100 * LOST,
        ),
        phrase("common practice, from memory"),
    )
    if screws_of(plan.draft.assembled, plan.job.style):
        yield (
            phrase(
                "Screws: four for an applied front, six for a wide one; along a bottom one every {apart}. "
                "Length: through the first piece and up to {held} of the second, taken as no thicker than "
                "{times} times the first",
                apart=RoughLength(f"{APART:g} mm", "6 in"),
                held=phrase("{percent:.0f} %", percent=100 * HELD),
                times=TIMES,
            ),
            usual,
        )
    if any(box.banding.thickness for box in boxes):
        yield phrase("Edging: {lost:.0f} % more for trimming", lost=100 * EDGING_LOST), usual
    yield phrase("Printed lengths: true to some {share:g} %", share=100 * PAPER_TRUE), usual
    if plan.job.banks:
        yield (
            phrase("Boards of the carcase and its plinth in the views: usual sizes, as a job states none"),
            usual,
        )
