"""The ripping list: what every band is ripped to, by the width that the saw's fence is set to."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawings.packet import PacketTable
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.run.marks import PartName, numbers_in_row
from drawerwright.run.work import Rip, TakeWhole


def ripping_table(plan: JobPlan) -> PacketTable:
    """A row for each band at each width, in the order of the work, with the parts that its strips become."""
    lengths = PaperLengths(plan.job.style)
    rows = []
    for rip in (item for step in plan.run.steps for item in step.work if isinstance(item, Rip)):
        waste = [cut.band.number for cut in rip.cuts if cut.frees is None and cut.leaves is None]
        if waste:
            bands = numbers_in_row(sorted(set(waste)))
            rows.append((lengths.bare_coarse(rip.fence), bands, "", "", phrase("sacrificial strips")))
        for number, cuts in groupby(rip.cuts, key=lambda cut: cut.band.number):
            ripped = [cut for cut in cuts if cut.frees is not None or cut.leaves is not None]
            freed = [part for cut in ripped for part in (cut.frees, cut.leaves) if part is not None]
            if freed:
                rows.append(
                    (
                        lengths.bare_coarse(rip.fence),
                        str(number),
                        ripped[0].band.stock,
                        numbers_in_row([cut.number for cut in ripped]),
                        _names(freed),
                    )
                )
    rows += [
        (phrase("stays whole"), str(band.number), band.stock, "", _names(band.parts))
        for step in plan.run.steps
        for item in step.work
        if isinstance(item, TakeWhole)
        for band in item.bands
    ]
    return PacketTable(
        (
            phrase("Set to ({unit})", unit=lengths.unit),
            phrase("Band"),
            phrase("Stock"),
            phrase("Cut numbers"),
            phrase("The strips become"),
        ),
        tuple(rows),
        title=phrase("Ripping list"),
        note=phrase(
            "After routing. Set the fence once for each width; write the name on the inside face of every strip."
        ),
        align=("right", "right", "left", "left", "left"),
        ticks=True,
    )


def _names(parts: Sequence[PartName]) -> Phrase:
    """As they are written on the strips, in the order in which those come off."""
    return joined([joined((part.drawer, part.kind.words), " ") for part in parts], ", ")
