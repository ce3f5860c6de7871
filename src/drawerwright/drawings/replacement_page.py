"""The page of one spoiled part: where it comes from, and every step that it needs by itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.packet import WorkPhase
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.printing import drawing_data, said_data
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.title_block import Issue, block_data
from drawerwright.drawings.typesetting import page_count, typeset

SIZES = (8.5, 8.0, 7.5, 7.0, 6.5)
"""Lettering (pt): the largest that leaves it on one page; smaller could not be read at the bench."""


@dataclass(frozen=True, slots=True)
class ReplacementPage:
    """What stands on it; `lines` say where the part comes from."""

    job: str
    title: str
    lines: tuple[str, ...]
    drawings: tuple[Scene, ...]
    work: tuple[WorkPhase, ...]
    cautions: tuple[str, ...]
    issue: Issue = field(default_factory=Issue)


def write_replacement(page: ReplacementPage, style: LengthStyle | None = None) -> bytes:
    """The page as PDF, in the reader's words, units and paper."""
    style = style or LengthStyle()

    def said(texts: Sequence[str]) -> list[str]:
        return [style.say(text) for text in texts]

    data: dict[str, Any] = {
        "paper": PAPERS[style.paper].typst_name,
        "job": page.job,
        "block": said_data(block_data(page.issue, style), style),
        "title": style.say(page.title),
        "lines": said(page.lines),
        "drawings": [drawing_data(scene, style) for scene in page.drawings],
        "work": [
            {"title": style.say(phase.title), "steps": said([step.text for step in phase.steps])}
            for phase in page.work
        ],
        "cautions": said(page.cautions),
    }
    for size in SIZES:
        pdf = typeset("replace.typ", {**data, "size": size})
        if page_count(pdf) == 1:
            break
    return pdf
