"""What each drawer of a job needs of each stock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

from drawerwright.job.planning.draft import JobDraft
from drawerwright.sheets.alternatives import Batch
from drawerwright.sheets.blanks import LooseDemand
from drawerwright.sheets.from_parts import StockBlanks


def drawer_batches(draft: JobDraft) -> dict[str, dict[str, Batch]]:
    """What each drawer needs of each stock, by drawer and stock, in the order of the job."""
    found: dict[str, dict[str, Batch]] = {box.name: {} for box in draft.job.all_boxes}
    for blanks in draft.blanks:
        for drawer, batch in _stock_batches(blanks):
            found[drawer][blanks.stock.name] = batch
    return found


def _stock_batches(blanks: StockBlanks) -> Iterator[tuple[str, Batch]]:
    counts: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for key, parts in blanks.members.items():
        for part in parts:
            counts[part.drawer][key] += 1
    # A front that is matched to its neighbours is, on its own, a loose part like any other.
    alone = {
        key: LooseDemand(f"{key} alone", block.length, width, 1)
        for block in blanks.matched
        for key, width in zip(block.keys, block.widths, strict=True)
    }
    loose = {part.key: part for part in blanks.loose} | alone
    for drawer, wanted in counts.items():
        yield (
            drawer,
            Batch(
                drawer,
                tuple(replace(s, count=wanted[s.key]) for s in blanks.strips if s.key in wanted),
                tuple(replace(loose[key], count=number) for key, number in wanted.items() if key in loose),
            ),
        )
