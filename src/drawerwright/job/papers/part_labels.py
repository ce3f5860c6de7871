"""Labels for every part of a plan, on sheets of the reader's paper."""

from __future__ import annotations

import re
from collections.abc import Iterator

from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.drawings.label_grids import GRIDS, LabelGrid
from drawerwright.drawings.label_sheets import PartLabel, label_scenes
from drawerwright.drawings.printing import write_full_pages
from drawerwright.job.job import Job
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.run.marks import PartName
from drawerwright.run.steps_of_part import part_mark

ASKED_PART = "mark"
"""How an address of the run names a part; with `part` pages ask for a piece of themselves."""
_ENDS: dict[PartKind, tuple[Phrase | None, Phrase | None]] = {
    PartKind.LEFT: (phrase("front end"), None),
    PartKind.RIGHT: (None, phrase("front end")),
    PartKind.FRONT: (phrase("right end"), phrase("left end")),
    PartKind.BACK: (phrase("left end"), phrase("right end")),
}
"""At the left and the right of a part that is looked at on its inside face, its upper edge up (as the drawer's frame
has it: looked at from inside, a left side has its front end at the left)."""


def part_labels(plan: JobPlan, address: str = "") -> tuple[PartLabel, ...]:
    """A label for each part, in the order of the parts; `address` opens the job's run where the app is in reach, and
    the label's own opens the next step of its part there."""
    lengths = PaperLengths(plan.job.style)
    return tuple(_label(part, lengths, address) for part in plan.parts)


def _label(part: Part, lengths: PaperLengths, address: str) -> PartLabel:
    left, right = _ENDS.get(part.kind, (None, None))
    is_bottom = part.kind is PartKind.BOTTOM
    return PartLabel(
        name=part.label,
        size=phrase(
            "{length} × {width}, {stock}",
            length=lengths.bare_coarse(part.blank_length),
            width=lengths.coarse(part.blank_width),
            stock=part.stock.name,
        ),
        up=phrase("front edge") if is_bottom else phrase("upper edge"),
        left=left,
        right=right,
        face=phrase("on the upper face") if is_bottom else phrase("on the inside face"),
        address=_address_of(part, address),
    )


def _address_of(part: Part, address: str) -> str:
    """The run, told by the part's mark which step is asked for."""
    if not address:
        return ""
    return f"{address}{'&' if '?' in address else '?'}{ASKED_PART}={part_mark(PartName.of(part))}"


def labels_pdf(plan: JobPlan, grid: LabelGrid, address: str = "", used: int = 0) -> bytes:
    """Sheets of labels as PDF, to print at 100 % without margins of their own; of the first sheet `used` labels are
    gone already."""
    labels = part_labels(plan, address)
    used = min(max(used, 0), grid.count - 1)
    return write_full_pages(label_scenes(labels, grid, plan.job.style, used), plan.job.name, plan.job.style)


LABELS = re.compile(r"labels-[1-9][0-9]{0,2}\.pdf")
"""Names of their files, which say how many there are on a sheet."""


def label_files(job: Job) -> Iterator[tuple[str, LabelGrid]]:
    """Name of the file and grid of the sheet that the job names, else of each that its paper has."""
    for grid in GRIDS[job.style.paper] if job.labels is None else (job.labels,):
        yield f"labels-{grid.count}.pdf", grid
