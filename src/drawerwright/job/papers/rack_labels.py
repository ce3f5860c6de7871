"""Labels for the offcuts that a finished run left: number, stock, size, grain, and where they come from."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase
from drawerwright.basics.told_lengths import SizeWords
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.typesetting import typeset
from drawerwright.job.job import Job
from drawerwright.store.records import FinishedRun
from drawerwright.wood.stock import Grain

_GRAIN = {
    Grain.LENGTH: phrase("grain along the first size"),
    Grain.WIDTH: phrase("grain along the second size"),
    Grain.NONE: "",
}


def rack_labels(run: FinishedRun, job: Job, style: LengthStyle) -> bytes:
    """The labels as PDF, to cut apart, in the words and the unit of `style`."""
    return typeset(
        "rack_labels.typ",
        {
            "title": job.name,
            "language": style.wording.language,
            "day": [int(part) for part in run.booked_at[:10].split("-")],
            "paper": PAPERS[style.paper].typst_name,
            "labels": [
                {
                    "mark": piece.label,
                    "stock": piece.stock,
                    "size": SizeWords(piece.length, piece.width).written_for(style)
                    if style.unit == "mm"
                    else f"{style.show(piece.length, with_unit=False)} × {style.show(piece.width)}",
                    "grain": style.say(_GRAIN[job.stock[piece.stock].grain])
                    if piece.stock in job.stock
                    else "",
                    "origin": style.say(
                        phrase("left by {job}, {date}", job=job.name, date=run.booked_at[:10])
                    ),
                }
                for piece in run.left
            ],
        },
    )
