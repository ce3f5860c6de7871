"""Fronts whose groove lies at another height above their own lower edge than that of the sides above theirs.

In the drawer both are one level; on the saw they are two fence settings, and a front that is grooved like the sides
hangs too high or too low for good.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.parts import Part, PartKind


@dataclass(frozen=True, slots=True)
class GrooveLevels:
    """Heights (mm) of the groove above the lower edge of the front, and of the sides, of these drawers."""

    front: Mm
    sides: Mm
    drawers: tuple[str, ...]

    @property
    def words(self) -> Phrase:
        """As it stands on the drawing."""
        return phrase(
            "Front: groove {front} above its lower edge; sides: {sides} ({drawers})",
            front=millimetres(self.front, ".1f"),
            sides=millimetres(self.sides, ".1f"),
            drawers=names_in_row(self.drawers),
        )

    @property
    def sentence(self) -> Phrase:
        """As it stands on the parts list and in the step."""
        return phrase("{words}.", words=self.words)


def groove_levels(parts: Iterable[Part]) -> tuple[GrooveLevels, ...]:
    """Where front and sides of a drawer are grooved at two heights, the drawers with the same two together."""
    grooves: dict[str, dict[PartKind, Mm]] = {}
    for part in parts:
        if part.groove is not None:
            grooves.setdefault(part.drawer, {})[part.kind] = part.groove.height
    found: dict[tuple[Mm, Mm], list[str]] = {}
    for drawer, heights in grooves.items():
        front, sides = heights.get(PartKind.FRONT), heights.get(PartKind.LEFT)
        if front is not None and sides is not None and front != sides:
            found.setdefault((front, sides), []).append(drawer)
    return tuple(GrooveLevels(front, sides, tuple(names)) for (front, sides), names in found.items())
