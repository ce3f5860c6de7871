"""What the title block of every page says: which job, which issue of its papers, in which unit.

The fields are those that ISO 7200 asks of a title block (title, identification, date of issue, sheet number), and
what a workshop needs besides: unit, scale, and how to print.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase


@dataclass(frozen=True, slots=True)
class Issue:
    """One issue of a job's papers.

    revision: tells papers of different plans apart; empty where nobody has given one.
    day: on which it is printed.
    """

    revision: str = ""
    day: date = field(default_factory=date.today)


def block_data(issue: Issue, style: LengthStyle) -> dict[str, Any]:
    """What the template of the block shows, apart from job and drawing."""
    return {
        "revision": issue.revision or "–",
        "day": issue.day.isoformat(),
        "unit": style.typed_unit,
        "language": style.wording.language,
        "words": BLOCK_WORDS,
    }


BLOCK_WORDS = {
    "job": phrase("Job"),
    "drawing": phrase("Drawing"),
    "scale": phrase("Scale"),
    "as_noted": phrase("as noted"),
    "unit": phrase("Unit"),
    "revision": phrase("Revision"),
    "date": phrase("Date"),
    # Not "sheet", which is what the wood is cut from.
    "page": phrase("Drawing sheet"),
    "of": phrase("of"),
    "print": phrase("Print"),
    "at_full_size": phrase("at 100 %"),
}
