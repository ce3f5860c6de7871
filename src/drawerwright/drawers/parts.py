"""The parts of a drawer, as they are cut, routed and labelled.

How long and how wide each is: `drawerwright.drawers.assembly`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import SIZE_STEP, Mm, to_step
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.bottom import Groove
from drawerwright.drawers.runner_cuts import Hole, Notch
from drawerwright.drawers.scoop import Scoop
from drawerwright.joints.corner_key import CornerKey
from drawerwright.wood.stock import Stock


class PartKind(StrEnum):
    FRONT = "front"
    BACK = "back"
    LEFT = "left side"
    RIGHT = "right side"
    BOTTOM = "bottom"
    APPLIED_FRONT = "applied front"
    FALSE_FRONT = "false front"

    @property
    def words(self) -> Phrase:
        """The kind in the reader's language."""
        return _KIND_WORDS[self]


class CarcasePart(StrEnum):
    """What stands around the drawers, and is none of their parts."""

    BODY = "carcase"
    DIVIDER = "divider"
    FRAME = "face frame"

    @property
    def words(self) -> Phrase:
        """What it is, in the reader's language."""
        return _CARCASE_WORDS[self]


_CARCASE_WORDS = {
    CarcasePart.BODY: phrase("carcase"),
    CarcasePart.DIVIDER: phrase("divider"),
    CarcasePart.FRAME: phrase("face frame"),
}
_KIND_WORDS = {
    PartKind.FRONT: phrase("front"),
    PartKind.BACK: phrase("back"),
    PartKind.LEFT: phrase("left side"),
    PartKind.RIGHT: phrase("right side"),
    PartKind.BOTTOM: phrase("bottom"),
    PartKind.APPLIED_FRONT: phrase("applied front"),
    PartKind.FALSE_FRONT: phrase("false front"),
}


class PartEnd(StrEnum):
    """An end of a side, or of a front or back as it is seen from before the drawer."""

    FRONT = "front end"
    BACK = "back end"
    LEFT = "left end"
    RIGHT = "right end"

    @property
    def words(self) -> Phrase:
        """The end in the reader's language."""
        return _END_WORDS[self]

    @property
    def edge_words(self) -> Phrase:
        """The edge of a band that has it in the reader's language."""
        return _EDGE_WORDS[self]


_END_WORDS = {
    PartEnd.FRONT: phrase("front end"),
    PartEnd.BACK: phrase("back end"),
    PartEnd.LEFT: phrase("left end"),
    PartEnd.RIGHT: phrase("right end"),
}
_EDGE_WORDS = {
    PartEnd.FRONT: phrase("front edge"),
    PartEnd.BACK: phrase("back edge"),
    PartEnd.LEFT: phrase("left edge"),
    PartEnd.RIGHT: phrase("right edge"),
}
ENDS_OF_SIDES = PartEnd.FRONT, PartEnd.BACK
"""The first end and the other one of sides."""
ENDS_OF_FRONTS = PartEnd.LEFT, PartEnd.RIGHT
"""The same of fronts and backs."""


class Role(StrEnum):
    """How a piece is held for the cut at its end."""

    FLAT = "flat"
    UPRIGHT = "upright"

    @property
    def words(self) -> Phrase:
        """What a piece that is held this way is called in a table."""
        return phrase("flat") if self is Role.FLAT else phrase("upright")


@dataclass(frozen=True, slots=True)
class EndCut:
    """One end of a part: which corner it belongs to, which piece of it the part is, and whether it is routed along the
    edge of a band: a flat piece lies on the router table, an upright one stands."""

    corner: CornerKey
    role: Role
    is_routed: bool = True


@dataclass(frozen=True, slots=True)
class Part:
    """One part.

    Sizes in mm: `length` along the grain, `width` across it (the height of a front, back or side). `length`
    and `width` are finished sizes; `banding` is the thickness of the edging on each long and short edge, so
    the cut size is smaller. `ends` are the cuts at both ends: for sides the front end first, for fronts and
    backs left end first as seen from before the drawer; empty for parts that have no corners. The inside face is the
    one that lies on the table (flat) or against the fence (upright).

    `is_handed` where it matters which way round it lies: with the inside face up and the front end to the left, a left
    side has its lower edge towards the worker, a right side away from them, and so a front with its left end there.
    """

    drawer: str
    kind: PartKind
    stock: Stock
    length: Mm
    width: Mm
    ends: tuple[EndCut, ...] = ()
    groove: Groove | None = None
    banded_long_edges: int = 0
    banded_short_edges: int = 0
    banding: Mm = 0.0
    is_handed: bool = False
    step: Mm = SIZE_STEP["mm"]
    """In which steps it is cut."""
    notches: tuple[Notch, ...] = ()
    """Cut out of its lower edge after everything else."""
    holes: tuple[Hole, ...] = ()
    """Bored from its outer face."""
    scoop: Scoop | None = None
    """Cut out of its upper edge as it hangs."""
    is_upright: bool = False
    """Its length stands as it hangs."""
    oversize: Mm = 0.0
    """How much longer and wider it is cut from its sheet, to be trimmed after the dry fit."""

    @property
    def label(self) -> str:
        """Drawer and part, short enough for a pencil mark."""
        return joined((self.drawer, self.kind.words), " ")

    @property
    def end_names(self) -> tuple[PartEnd, PartEnd]:
        """What its first end and the other one are called."""
        return ENDS_OF_SIDES if self.kind in (PartKind.LEFT, PartKind.RIGHT) else ENDS_OF_FRONTS

    @property
    def thickness(self) -> Mm:
        """As measured, or the provisional value (mm)."""
        return self.stock.thickness.value

    @property
    def cut_length(self) -> Mm:
        """Finished length less the banding of the short edges, as it is to be cut (mm)."""
        return to_step(self.length - self.banded_short_edges * self.banding, self.step)

    @property
    def cut_width(self) -> Mm:
        """Finished width less the banding of the long edges, as it is to be cut (mm)."""
        return to_step(self.width - self.banded_long_edges * self.banding, self.step)

    @property
    def blank_length(self) -> Mm:
        """As it is cut from its sheet (mm)."""
        return self.cut_length + to_step(self.oversize, self.step)

    @property
    def blank_width(self) -> Mm:
        """As it is cut from its sheet (mm)."""
        return self.cut_width + to_step(self.oversize, self.step)

    @property
    def is_loose(self) -> bool:
        """True for parts that leave the saw by themselves: their ends are not routed in bands."""
        return not any(end.is_routed for end in self.ends)
