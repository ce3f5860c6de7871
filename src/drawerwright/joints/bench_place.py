"""Where bench work is done: a corner of a drawer, and what is known of its settings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase


class WorkedEnd(StrEnum):
    """Which corners of a drawer are meant; `BOTH` where the same is done at its front and its back."""

    BOTH = "both"
    FRONT = "front"
    BACK = "back"

    @property
    def into(self) -> Phrase:
        """The piece that is met through a side."""
        return _INTO[self]


_INTO = {
    WorkedEnd.BOTH: phrase("the front or back"),
    WorkedEnd.FRONT: phrase("the front"),
    WorkedEnd.BACK: phrase("the back"),
}
_END_PIECES = {
    WorkedEnd.BOTH: phrase("Fronts and backs"),
    WorkedEnd.FRONT: phrase("Box fronts"),
    WorkedEnd.BACK: phrase("Box backs"),
}
_SIDES = {
    WorkedEnd.BOTH: phrase("Sides"),
    WorkedEnd.FRONT: phrase("Sides, front ends"),
    WorkedEnd.BACK: phrase("Sides, back ends"),
}


@dataclass(frozen=True, slots=True)
class BenchPlace:
    """A corner of a drawer at the bench (mm).

    height: as much as both pieces have. flat_low, upright_low: where that begins above the lower edge of either piece.
    off: how much more than planned is to be set, by the figures, as accepted test cuts have taught.
    """

    height: Mm
    flat_low: Mm = 0.0
    upright_low: Mm = 0.0
    end: WorkedEnd = WorkedEnd.BOTH
    sides_flat: bool = False
    off: Mapping[str, Mm] = field(default_factory=dict)

    @property
    def flat_words(self) -> Phrase:
        """Which pieces are the flat ones."""
        return (_SIDES if self.sides_flat else _END_PIECES)[self.end]

    @property
    def upright_words(self) -> Phrase:
        """Which pieces are the upright ones."""
        return (_END_PIECES if self.sides_flat else _SIDES)[self.end]

    def shown(self, figure: str, value: Mm) -> Mm:
        """What is set for a figure (mm)."""
        return value + self.off.get(figure, 0.0)
