"""The paper of a packet, and how much of a page a drawing may take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm, PaperName


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper: what the typesetter calls it, and its sides (mm)."""

    typst_name: str
    width: Mm
    height: Mm

    @property
    def lying(self) -> tuple[Mm, Mm]:
        """What a drawing may take of a page lying on its side, below its head and above its notes."""
        return self.height - 30.0, self.width - 51.0

    @property
    def standing(self) -> tuple[Mm, Mm]:
        """The same of a standing page."""
        return self.width - 30.0, self.height - 66.0

    @property
    def half(self) -> tuple[Mm, Mm]:
        """The same of half a page, with a caption below the drawing."""
        return self.width - 32.0, (self.height - 32.0) / 2 - 12.0

    @property
    def tallest(self) -> Mm:
        """What a drawing may take that has a page to itself but for its caption."""
        return self.height - 62.0


PAPERS: Mapping[PaperName, Paper] = {
    "a4": Paper("a4", 210.0, 297.0),
    "letter": Paper("us-letter", 215.9, 279.4),
}
"""Sizes by ISO 216 and by ANSI/ASME Y14.1."""
