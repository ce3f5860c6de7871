"""A drawer box: four pieces with self-mating corners, a bottom, perhaps an applied front."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.bottom import Bottom, BottomStyle, Groove
from drawerwright.drawers.parts import EndCut, Part, PartKind, Role
from drawerwright.joints import law
from drawerwright.joints.corner_key import KeyedCorner, Orientation, kept_lip
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.setting import BY_LAW, BitHeights
from drawerwright.wood.stock import Grain, Stock


@dataclass(frozen=True, slots=True)
class AppliedFront:
    """A front that is screwed to the box (finished size, mm); `grain_upright` when its fibre stands."""

    stock: Stock
    width: Mm
    height: Mm
    grain_upright: bool = False


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
    height: of the sides; the front may be higher where it is part of the box and shows.
    lip: how far the front stands beyond each side's outer face.
    """

    name: str
    width: Mm
    depth: Mm
    height: Mm
    front_height: Mm
    front: Stock
    side: Stock
    back: Stock
    bottom: Bottom | None
    lip: Mm = 0.0
    orientation: Orientation = Orientation.FRONTS_FLAT
    applied: AppliedFront | None = None
    banding: Banding = Banding()

    def __post_init__(self) -> None:
        if self.lip and self.orientation is Orientation.SIDES_FLAT:
            raise InvalidValueError(
                phrase(
                    "{name}: a front with a lip must be the flat piece; take orientation 'fronts-flat'",
                    name=self.name,
                )
            )
        if self.inside_width <= 0 or self.inside_depth <= 0:
            raise InvalidValueError(
                phrase(
                    "{name}: outer sizes of {width} by {depth} leave no inside: make the box larger or "
                    "its stock thinner",
                    name=self.name,
                    width=millimetres(self.width, ".1f", with_unit=False),
                    depth=millimetres(self.depth, ".1f"),
                )
            )

    @property
    def inside_width(self) -> Mm:
        return self.width - 2 * self.side.thickness.value

    @property
    def inside_depth(self) -> Mm:
        return self.depth - self.front.thickness.value - self.back.thickness.value

    def front_corner(self, cutter: Cutter) -> KeyedCorner:
        """The corners at the front."""
        return self._corner(cutter, self.front, self.lip)

    def back_corner(self, cutter: Cutter) -> KeyedCorner:
        """The corners at the back."""
        return self._corner(cutter, self.back, 0.0)

    def _corner(self, cutter: Cutter, end_piece: Stock, lip: Mm) -> KeyedCorner:
        flat, upright = end_piece, self.side
        if self.orientation is Orientation.SIDES_FLAT:
            flat, upright = upright, flat
        return KeyedCorner.of(cutter, flat, upright, lip, self.orientation)

    @property
    def back_height(self) -> Mm:
        return self.height if self.bottom is None else self.bottom.back_height(self.height)

    @property
    def is_groove_central(self) -> bool:
        """True when turning a side over leaves its groove where it was."""
        groove = None if self.bottom is None else self.bottom.groove
        return groove is None or abs(2 * groove.height + groove.width - self.height) < 1e-6

    @property
    def has_handed_sides(self) -> bool:
        """Left and right sides are mirror images, not twins.

        Whoever turns a side in its plane changes both its ends and its edges: alike ends, or a lower edge that is as
        the upper one, let a left side be turned into a right one.
        """
        has_twin_ends = self.front.key == self.back.key and not kept_lip(self.lip)
        has_twin_edges = self.is_groove_central and not (self.banding.box_top and self.banding.thickness)
        return not has_twin_ends and not has_twin_edges

    def parts(self, cutter: Cutter, heights: BitHeights = BY_LAW) -> tuple[Part, ...]:
        """Every part of this drawer with its finished size.

        Lengths follow `law.upright_length` and `law.flat_length` with the bit heights that the corners are cut at.
        """
        front_reach, back_reach = (
            cutter.engagement(heights.of(cutter, corner.geometry.flat_thickness))
            for corner in (self.front_corner(cutter), self.back_corner(cutter))
        )
        end_role, side_role = Role.FLAT, Role.UPRIGHT
        if self.orientation is Orientation.SIDES_FLAT:
            end_role, side_role = side_role, end_role
            side_length = law.flat_length(self.depth, (0.0, 0.0))
            front_length = self._between_sides(front_reach)
            back_length = self._between_sides(back_reach)
        else:
            side_length = law.upright_length(
                self.depth,
                [(self.front.thickness.value, front_reach), (self.back.thickness.value, back_reach)],
            )
            front_length = law.flat_length(self.width, (self.lip, self.lip))
            back_length = law.flat_length(self.width, (0.0, 0.0))

        groove = None if self.bottom is None else self.bottom.groove
        back_groove = groove if self.bottom and self.bottom.style is BottomStyle.CAPTURED else None
        front_key, back_key = self.front_corner(cutter).key, self.back_corner(cutter).key
        front_cut, back_cut = EndCut(front_key, end_role), EndCut(back_key, end_role)
        side_ends = (EndCut(front_key, side_role), EndCut(back_key, side_role))
        top_banded = 1 if self.banding.box_top else 0

        def walled(
            kind: PartKind,
            stock: Stock,
            length: Mm,
            height: Mm,
            ends: tuple[EndCut, EndCut],
            cut_groove: Groove | None,
        ) -> Part:
            return Part(
                self.name,
                kind,
                stock,
                length,
                height,
                ends,
                cut_groove,
                banded_long_edges=top_banded,
                banding=self.banding.thickness,
                is_handed=self.has_handed_sides and kind in (PartKind.LEFT, PartKind.RIGHT),
            )

        parts = [
            walled(
                PartKind.FRONT, self.front, front_length, self.front_height, (front_cut, front_cut), groove
            ),
            walled(
                PartKind.BACK, self.back, back_length, self.back_height, (back_cut, back_cut), back_groove
            ),
            walled(PartKind.LEFT, self.side, side_length, self.height, side_ends, groove),
            walled(PartKind.RIGHT, self.side, side_length, self.height, side_ends, groove),
        ]
        if self.bottom is not None:
            parts.append(self._bottom_part(self.bottom))
        if self.applied is not None:
            parts.append(self._applied_part(self.applied))
        return tuple(parts)

    def _between_sides(self, reach: Mm) -> Mm:
        side = self.side.thickness.value
        return law.upright_length(self.width, [(side, reach), (side, reach)])

    def _bottom_part(self, bottom: Bottom) -> Part:
        width, depth = bottom.size(
            self.inside_width,
            self.inside_depth,
            self.side.thickness.value,
            self.front.thickness.value,
            self.back.thickness.value,
        )
        # The fibre of a bottom runs from side to side, so a slid bottom can move under the back.
        return Part(self.name, PartKind.BOTTOM, bottom.stock, width, depth)

    def _applied_part(self, applied: AppliedFront) -> Part:
        length, width = applied.width, applied.height
        if applied.grain_upright and applied.stock.grain is not Grain.NONE:
            length, width = width, length
        banded = 2 if self.banding.applied_front else 0
        return Part(
            self.name,
            PartKind.APPLIED_FRONT,
            applied.stock,
            length,
            width,
            banded_long_edges=banded,
            banded_short_edges=banded,
            banding=self.banding.thickness,
        )
