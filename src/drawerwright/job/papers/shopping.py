"""Everything that a job takes: sheets, runners, pulls, screws, edging, glue."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from drawerwright.basics.lengths import millimetres
from drawerwright.basics.loads import WrittenLoad
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.told_lengths import WrittenRun
from drawerwright.drawings.packet import PacketTable
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.run.edging import edging_work
from drawerwright.run.fixings import screws_of
from drawerwright.run.gluing import LOST, SPREAD, drawers_by_glue
from drawerwright.run.rail_work import RAILS_IN_A_DRAWER, rail_work

EDGING_LOST = 0.10
"""Of edging, for ends that are trimmed off (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One thing to have ready: what, of which size, how much of it in words, what it costs where that is known, and
    what is to be said of it."""

    item: str
    size: str
    quantity: str
    cost: float | None = None
    remark: str = ""


def shopping_lines(plan: JobPlan) -> tuple[ShoppingLine, ...]:
    """All of it, what is bought first."""
    lengths = PaperLengths(plan.job.style)
    return (
        *_sheets(plan),
        *_runners(plan, lengths),
        *_rails(plan, lengths),
        *_pulls(plan, lengths),
        *_screws(plan, lengths),
        *_edging(plan, lengths),
        *_glue(plan),
    )


def shopping_table(plan: JobPlan) -> PacketTable:
    """The same for the packet, with what the sheets cost in all."""
    lines = shopping_lines(plan)
    costs = [line.cost for line in lines if line.cost is not None]
    rows = [(line.item, line.size, line.quantity, _money(line.cost), line.remark) for line in lines]
    if len(costs) > 1:
        rows.append((phrase("in all"), "", "", _money(sum(costs)), phrase("what has a price")))
    return PacketTable(
        (phrase("Item"), phrase("Size"), phrase("Quantity"), phrase("Cost"), ""),
        tuple(rows),
        title=phrase("Shopping list"),
        note=phrase(
            "Sheets as planned, nothing added; {edging:.0f} % more edging for trimming, "
            "{glue:.0f} % more glue for what is lost.",
            edging=100 * EDGING_LOST,
            glue=100 * LOST,
        ),
        align=("left", "left", "right", "right", "left"),
    )


def _money(cost: float | None) -> str:
    return "" if cost is None else Phrase("{cost:.2f}", {"cost": cost})


def _sheets(plan: JobPlan) -> Iterator[ShoppingLine]:
    for stock in plan.stocks:
        thickness = stock.blanks.stock.thickness
        for line in stock.sheets.shopping_list:
            proof = phrase("fewest, proven") if stock.sheets.proven else phrase("best so far")
            yield ShoppingLine(
                stock.blanks.stock.name,
                line.size.label,
                str(line.count),
                line.cost,
                phrase(
                    "{nominal} nominal, {value} used; {remark}",
                    nominal=millimetres(thickness.nominal, "g"),
                    value=millimetres(thickness.value),
                    remark=phrase("offcut") if line.size.is_offcut else proof,
                ),
            )


def _runners(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    counts: Counter[tuple[str, float | None, float | None]] = Counter()
    for use in plan.runner_uses:
        counts[use.name or use.kind.words, use.length, use.rating] += use.pairs
    for (name, length, rating), pairs in counts.items():
        yield ShoppingLine(
            name,
            "" if length is None else lengths.bought(length),
            phrase("{count} pairs", count=pairs) if pairs != 1 else phrase("1 pair"),
            remark="" if rating is None else phrase("a pair carries {load}", load=WrittenLoad(rating)),
        )


def _rails(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    counts: Counter[tuple[float, float]] = Counter()
    for work in rail_work(plan.job.all_boxes):
        counts[work.rails.hangers.rail, work.rails.length] += RAILS_IN_A_DRAWER * len(work.drawers)
    for (thick, length), count in counts.items():
        yield ShoppingLine(
            phrase("rails for folders, {thickness} thick", thickness=lengths.bought(thick)),
            lengths.coarse(length),
            str(count),
        )


def _pulls(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    counts: Counter[tuple[float, float]] = Counter()
    for bank in plan.job.banks:
        pull = bank.bank.pull
        if pull is not None:
            counts[pull.spacing, pull.hole] += len(bank.boxes)
    for (spacing, hole), count in counts.items():
        yield ShoppingLine(
            phrase("pulls") if spacing else phrase("knobs"),
            phrase("holes {spacing} apart", spacing=lengths.bought(spacing))
            if spacing
            else phrase("one hole"),
            str(count),
            remark=phrase("drilled {hole}; with their screws", hole=lengths.bought(hole)),
        )


def _screws(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    for screws in screws_of(plan.draft.assembled, plan.job.style):
        yield ShoppingLine(
            screws.purpose,
            phrase("{length} long at most", length=lengths.bought(screws.length)),
            str(screws.count),
        )


def _edging(plan: JobPlan, lengths: PaperLengths) -> Iterator[ShoppingLine]:
    runs: dict[tuple[float, float], float] = {}
    for work in edging_work(plan.parts):
        parts = [part for part in plan.parts if part.banding == work.thickness]
        kind = work.thickness, max(part.thickness for part in parts)
        runs[kind] = runs.get(kind, 0.0) + work.length
    for (thickness, wide), length in runs.items():
        yield ShoppingLine(
            phrase("edging {thickness} thick", thickness=lengths.bought(thickness)),
            phrase("for edges of {wide}", wide=lengths.fine(wide)),
            Phrase("{run}", {"run": WrittenRun(length * (1 + EDGING_LOST))}),
        )


def _glue(plan: JobPlan) -> Iterator[ShoppingLine]:
    grams = sum(drawers_by_glue(plan.draft.assembled, plan.draft.made).values())
    yield ShoppingLine(
        phrase("wood glue"),
        phrase("white or yellow"),
        phrase("{grams} g", grams=5 * math.ceil(grams / 5)),
        remark=phrase("{spread:.0f} g on a square metre of one face (common practice)", spread=SPREAD),
    )
