"""A drawer box: four pieces joined at their corners, a bottom, perhaps an applied front.

What the pieces measure and where they sit is `drawerwright.drawers.assembly`.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Degrees, Mm, kept_length, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bottom import Bottom
from drawerwright.drawers.duty import NOTHING_SAID, Duty
from drawerwright.drawers.hangers import Hangers, HungRails
from drawerwright.drawers.parts import PartKind
from drawerwright.drawers.runner_cuts import NOTHING_CUT, RearCuts
from drawerwright.drawers.scoop import Scoop
from drawerwright.joints.corner_key import (
    USUAL_ORIENTATION,
    JoinedStocks,
    KeyedCorner,
    Orientation,
    PlainKeyedCorner,
)
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import ChosenJoint
from drawerwright.wood.stock import Stock

CORNER_PIECES = (PartKind.FRONT, PartKind.FRONT, PartKind.BACK, PartKind.BACK)
"""Which end piece each of the four corners has, in the order of `DrawerBox.corners`."""


@dataclass(frozen=True, slots=True)
class AppliedFront:
    """A front that is screwed to the box (finished size, mm); `grain_upright` when its fibre stands.

    `beside`: how far it stands beyond the left side's outer face; `below`: beyond the sides' lower edges.
    """

    stock: Stock
    width: Mm
    height: Mm
    grain_upright: bool = False
    beside: Mm = 0.0
    below: Mm = 0.0
    oversize: Mm = 0.0
    """How much larger it is cut at first."""

    @property
    def fibre(self) -> Degrees | None:
        """Direction of its grain seen from the front: 0 lies, 90 stands, None where its stock has none."""
        if not self.stock.has_grain:
            return None
        return 90.0 if self.grain_upright else 0.0


@dataclass(frozen=True, slots=True)
class Banding:
    """Edging on what shows: its thickness (mm), on the applied front all round, on the boxes' upper edges."""

    thickness: Mm = 0.0
    applied_front: bool = False
    box_top: bool = False


@dataclass(frozen=True, slots=True)
class DrawerBox:
    """One drawer to make.

    width, depth: over the outer faces of the sides, and of front and back (mm).
    height: of the sides.
    front_height: of the front that is part of the box; front_below: how far it reaches below the sides' lower edges.
    made_by: the cutter that makes its corners, or a joint that needs none.
    lip: how far that front stands beyond each side's outer face; lip_right: beyond the right side, where it differs.
    """

    name: str
    width: Mm
    depth: Mm
    height: Mm
    front_height: Mm
    front: Stock
    side: Stock
    back: Stock
    made_by: Cutter | ChosenJoint
    bottom: Bottom | None
    lip: Mm = 0.0
    lip_right: Mm | None = None
    orientation: Orientation = USUAL_ORIENTATION
    applied: AppliedFront | None = None
    banding: Banding = Banding()
    front_below: Mm = 0.0
    scoop: Scoop | None = None
    """Cut out of the upper edge of the front that shows."""
    rear: RearCuts = NOTHING_CUT
    """What its runner needs cut in the back."""
    duty: Duty = NOTHING_SAID
    """What it has to carry, and where it stands."""
    hangers: Hangers | None = None
    """Rails that folders hang on."""
    inside: str = ""
    """The drawer that it lies in as a tray; empty where it lies in none."""
    trays: tuple[DrawerBox, ...] = ()
    """The trays that lie in it."""

    _corners: tuple[KeyedCorner | PlainKeyedCorner, ...] = field(init=False, repr=False, compare=False)
    """At the front on the left and on the right, at the back likewise: asked for by all that is made of a drawer."""

    def __post_init__(self) -> None:
        front = [self._corner(self.front, lip) for lip in self.lips]
        back = self._corner(self.back, 0.0)
        object.__setattr__(self, "_corners", (*front, back, back))
        if any(self.lips) and self.orientation is Orientation.SIDES_FLAT:
            raise InvalidValueError(
                phrase(
                    "{name}: a front with a lip must be the flat piece; use orientation 'fronts-flat'",
                    name=self.name,
                )
            )
        if self.inside_width <= 0 or self.inside_depth <= 0:
            raise InvalidValueError(
                phrase(
                    "{name}: outer sizes of {width} by {depth} leave no room inside: make the "
                    "box larger or its stock thinner",
                    name=self.name,
                    width=millimetres(self.width, ".1f", with_unit=False),
                    depth=millimetres(self.depth, ".1f"),
                ),
                entry=("width",) if self.inside_width <= 0 else ("depth",),
            )

    @property
    def fibre(self) -> Degrees | None:
        """Direction of the grain of the front that shows; None where its stock has none."""
        if self.applied is not None:
            return self.applied.fibre
        return 0.0 if self.front.has_grain else None

    @property
    def inside_width(self) -> Mm:
        return self.width - 2 * self.side.thickness.value

    @property
    def inner_faces(self) -> tuple[Mm, Mm]:
        """x of the inner faces of the left and the right side (mm)."""
        return self.side.thickness.value, self.width - self.side.thickness.value

    @property
    def inside_depth(self) -> Mm:
        return self.depth - self.front.thickness.value - self.back.thickness.value

    @property
    def floor(self) -> Mm:
        """Upper face of the bottom above the sides' lower edges; those where there is none (mm)."""
        return 0.0 if self.bottom is None else self.bottom.level + self.bottom.stock.thickness.value

    @property
    def rails(self) -> HungRails | None:
        """The rails for folders, where it has some."""
        if self.hangers is None:
            return None
        return self.hangers.placed((self.inside_width, self.inside_depth), self.height, self.floor)

    @property
    def joint(self) -> str:
        """The name of the joint at its corners."""
        return self.corners[0].key.joint

    @property
    def lips(self) -> tuple[Mm, Mm]:
        """How far the front stands beyond the left and the right side (mm)."""
        return self.lip, self.lip if self.lip_right is None else self.lip_right

    @property
    def corners(self) -> tuple[JoinedStocks, ...]:
        """All four by their keys: at the front on the left and on the right, at the back likewise."""
        return self._corners

    @property
    def different_corners(self) -> tuple[tuple[PartKind, PartKind | None, JoinedStocks], ...]:
        """The corners of the front and of the back: one for each, or two of a front whose lips differ, then with the
        side that each is at."""
        left, right, *_ = self._corners
        if left != right:
            return (
                (PartKind.FRONT, PartKind.LEFT, left),
                (PartKind.FRONT, PartKind.RIGHT, right),
                (PartKind.BACK, None, self._corners[2]),
            )
        return ((PartKind.FRONT, None, left), (PartKind.BACK, None, self._corners[2]))

    @property
    def routed_corners(self) -> tuple[KeyedCorner, ...]:
        """All four where a cutter makes them; else none."""
        return tuple(corner for corner in self._corners if isinstance(corner, KeyedCorner))

    @property
    def plain_corners(self) -> tuple[PlainKeyedCorner, ...]:
        """All four where no cutter makes them; else none."""
        return tuple(corner for corner in self._corners if isinstance(corner, PlainKeyedCorner))

    def _corner(self, end_piece: Stock, lip: Mm) -> KeyedCorner | PlainKeyedCorner:
        flat, upright = end_piece, self.side
        if self.orientation is Orientation.SIDES_FLAT:
            flat, upright = upright, flat
        if isinstance(self.made_by, Cutter):
            return KeyedCorner.of(self.made_by, flat, upright, lip, self.orientation)
        return PlainKeyedCorner.of(self.made_by, flat, upright, lip, self.orientation)

    @property
    def front_above(self) -> Mm:
        """How far the front that is part of the box reaches above the sides."""
        return self.front_height - self.front_below - self.height

    @property
    def back_height(self) -> Mm:
        return self.height if self.bottom is None else self.bottom.back_height(self.height)

    @property
    def has_handed_sides(self) -> bool:
        """Left and right sides are mirror images, not twins.

        Whoever turns a side in its plane changes both its ends and its edges: alike ends, or a lower edge that is as
        the upper one, let a left side be turned into a right one.
        """
        has_twin_ends = self.front.key == self.back.key and not any(kept_length(lip) for lip in self.lips)
        return not has_twin_ends and not self._has_twin_edges(self.height)

    @property
    def has_handed_front(self) -> bool:
        """The same of the front that is part of the box: its ends differ, and its edges."""
        left, right, *_ = self.corners
        return left.key != right.key and not self._has_twin_edges(self.front_height, self.front_below)

    def _has_twin_edges(self, height: Mm, below: Mm = 0.0) -> bool:
        """Whether turning a part over, so high and reaching so far below the sides, changes nothing at its edges."""
        groove = None if self.bottom is None else self.bottom.groove
        is_central = groove is None or abs(2 * (groove.height + below) + groove.width - height) < 1e-6
        return is_central and not (self.banding.box_top and self.banding.thickness)
