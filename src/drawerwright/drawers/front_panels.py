"""Fronts that are boards of their own: screwed to a box, or fixed in an opening without a drawer behind them."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import SIZE_STEP, Mm
from drawerwright.drawers.box import AppliedFront, Banding
from drawerwright.drawers.parts import Part, PartKind
from drawerwright.drawers.placement import FRONT, RIGHT, UP, Placement
from drawerwright.drawers.scoop import Scoop


@dataclass(frozen=True, slots=True)
class FalseFront:
    """A front without a drawer: it is fixed in its opening.

    x, z: of its lower left corner from that of the opening, inner_face: behind the carcase's front edges (mm).
    step: in which its sizes are cut.
    """

    name: str
    panel: AppliedFront
    banding: Banding
    x: Mm
    z: Mm
    inner_face: Mm
    step: Mm = SIZE_STEP["mm"]

    @property
    def part(self) -> Part:
        """The board that is cut for it."""
        return front_panel(self.name, PartKind.FALSE_FRONT, self.panel, self.banding, step=self.step)

    @property
    def place(self) -> Placement:
        """Where that sits in the opening."""
        along, across = (UP, RIGHT) if self.part.is_upright else (RIGHT, UP)
        return Placement((self.x, self.inner_face, self.z), along, across, FRONT)


def front_panel(
    name: str,
    kind: PartKind,
    panel: AppliedFront,
    banding: Banding,
    scoop: Scoop | None = None,
    step: Mm = SIZE_STEP["mm"],
) -> Part:
    """The part of a front that is a board of its own."""
    banded = 2 if banding.applied_front else 0
    is_turned = panel.fibre == 90.0
    return Part(
        name,
        kind,
        panel.stock,
        panel.height if is_turned else panel.width,
        panel.width if is_turned else panel.height,
        banded_long_edges=banded,
        banded_short_edges=banded,
        banding=banding.thickness,
        step=step,
        scoop=scoop,
        is_upright=is_turned,
        oversize=panel.oversize,
    )
