"""The assembled drawer: what every part measures and where it sits. Nothing else knows an offset.

::

        y (to the back)              plan of a drawer with flat fronts, in the frame of `placement`
        ^   +--------------------+
        |   | back               |
        |   +--+              +--+
        |   |  | left   right |  |
        |   +--+              +--+ . . y = 0, the front's inner face
        |   | front              |
        |   +--------------------+
            ^  x = 0 lies a lip further in than the front's end

What goes through several parts, as the groove that a bottom lies in, is known here in the drawer and told to each
part in its own frame.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from drawerwright.basics.lengths import SIZE_STEP, Mm, kept_length
from drawerwright.drawers.bottom import Bottom, BottomStyle, Groove
from drawerwright.drawers.box import CORNER_PIECES, AppliedFront, DrawerBox
from drawerwright.drawers.front_panels import front_panel
from drawerwright.drawers.parts import EndCut, Part, PartKind, Role
from drawerwright.drawers.placement import BACK, DOWN, FRONT, LEFT, RIGHT, UP, Place, Placement
from drawerwright.drawers.runner_cuts import hook_holes, notches
from drawerwright.joints import law
from drawerwright.joints.bit_heights import BY_LAW, BitHeights
from drawerwright.joints.comb import JoinedEdge
from drawerwright.joints.corner_key import Orientation, PlainKeyedCorner
from drawerwright.joints.joint import joint_named
from drawerwright.wood.stock import Stock


@dataclass(frozen=True, slots=True)
class PlacedPart:
    """A part and where it sits."""

    part: Part
    place: Placement

    @property
    def kind(self) -> PartKind:
        return self.part.kind

    @property
    def bounds(self) -> tuple[Place, Place]:
        """The corner of its outer box with the least x, y and z in the drawer, and the one with the greatest (mm)."""
        x, y, z = self.place.corner
        to_x, to_y, to_z = self.place.in_drawer((self.part.length, self.part.width, self.part.thickness))
        return (min(x, to_x), min(y, to_y), min(z, to_z)), (max(x, to_x), max(y, to_y), max(z, to_z))


@dataclass(frozen=True, slots=True)
class AssembledDrawer:
    """A drawer with all its parts, each where it sits: front, back, left and right side, then bottom and applied front
    where there are any."""

    box: DrawerBox
    placed: tuple[PlacedPart, ...]

    @property
    def plain_corners(self) -> tuple[tuple[PlainKeyedCorner, Mm], ...]:
        """The four corners where no cutter makes them, each with its height: as much as both of its pieces have
        (mm)."""
        ends = zip(self.box.plain_corners, CORNER_PIECES, strict=False)
        return tuple((corner, self.corner_height(kind)) for corner, kind in ends)

    def corner_height(self, kind: PartKind) -> Mm:
        """As much height as the front or the back has in common with the sides (mm)."""
        return self.corner_edges(kind)[0].joined

    def corner_edges(self, kind: PartKind) -> tuple[JoinedEdge, JoinedEdge]:
        """The edges that meet where the front or the back does: its own, and the side's."""
        end_piece, side = self[kind], self[PartKind.LEFT]
        return self._joined(end_piece, side), self._joined(side, end_piece)

    def joined_edges(self, placed: PlacedPart) -> tuple[JoinedEdge, ...]:
        """Where the other piece of each of its corners stands along the ends of a part; none of a part without."""
        if not placed.part.ends:
            return ()
        is_side = placed.kind in (PartKind.LEFT, PartKind.RIGHT)
        others = (PartKind.FRONT, PartKind.BACK) if is_side else (PartKind.LEFT, PartKind.RIGHT)
        return tuple(self._joined(placed, self[other]) for other in others)

    @staticmethod
    def _joined(placed: PlacedPart, other: PlacedPart) -> JoinedEdge:
        """In heights above the part's own lower edge."""
        (low, high), (other_low, other_high) = (
            (bounds[0][2], bounds[1][2]) for bounds in (placed.bounds, other.bounds)
        )
        return JoinedEdge(high - low, max(other_low - low, 0.0), min(other_high, high) - low)

    @property
    def parts(self) -> tuple[Part, ...]:
        return tuple(each.part for each in self.placed)

    @property
    def shown_front(self) -> PlacedPart:
        """The front that shows: the applied one where there is one."""
        return self.find(PartKind.APPLIED_FRONT) or self[PartKind.FRONT]

    def find(self, kind: PartKind) -> PlacedPart | None:
        """The part of this kind, None where the drawer has none."""
        return next((each for each in self.placed if each.kind is kind), None)

    def __getitem__(self, kind: PartKind) -> PlacedPart:
        found = self.find(kind)
        if found is None:
            raise KeyError(kind)
        return found


def parts_of(drawers: Iterable[AssembledDrawer]) -> tuple[Part, ...]:
    """Every part of every drawer, in their order."""
    return tuple(part for drawer in drawers for part in drawer.parts)


def assemble(box: DrawerBox, heights: BitHeights = BY_LAW, step: Mm = SIZE_STEP["mm"]) -> AssembledDrawer:
    """Every part of a drawer with its finished size, where it sits.

    `step`: of the sizes to be cut (mm).

    Lengths follow `law.upright_length` and `law.flat_length` with how far the corners reach into each other.
    """
    placed = tuple(_Assembler(box, heights).placed())
    if any(each.part.step != step for each in placed):
        placed = tuple(replace(each, part=replace(each.part, step=step)) for each in placed)
    return AssembledDrawer(box, placed)


class _Assembler:
    """Puts one drawer together."""

    def __init__(self, box: DrawerBox, heights: BitHeights) -> None:
        self.box = box
        self.keys = tuple(corner.key for corner in box.corners)
        self.reach = (
            *(heights.engagement(corner.cutter, corner.geometry) for corner in box.routed_corners),
            *(corner.made.engagement for corner in box.plain_corners),
        )
        """How far the upright pieces reach into the flat ones, in the order of the box's corners."""
        self.is_usual = box.orientation is Orientation.FRONTS_FLAT

    def placed(self) -> Iterator[PlacedPart]:
        box = self.box
        yield self._end_piece(PartKind.FRONT)
        yield self._end_piece(PartKind.BACK)
        yield self._side(PartKind.LEFT)
        yield self._side(PartKind.RIGHT)
        if box.bottom is not None:
            yield self._bottom(box.bottom)
        if box.applied is not None:
            yield self._applied_front(box.applied)

    def _end_piece(self, kind: PartKind) -> PlacedPart:
        """The front or the back of the box."""
        box = self.box
        is_front = kind is PartKind.FRONT
        corners = _corners_of(kind)
        lips = box.lips if is_front else (0.0, 0.0)
        if self.is_usual:
            left, length = -lips[0], law.flat_length(box.width, lips)
        else:
            side, reaches = box.side.thickness.value, [self.reach[corner] for corner in corners]
            left, length = (
                side - reaches[0],
                law.upright_length(box.width, [(side, reach) for reach in reaches]),
            )
        role = Role.FLAT if self.is_usual else Role.UPRIGHT
        cuts = self._end_cut(corners[0], role), self._end_cut(corners[1], role)
        if is_front:
            place = Placement((left, 0.0, -box.front_below), RIGHT, UP, FRONT)
            front = self._walled(kind, box.front, length, box.front_height, cuts, place)
            scoop = box.scoop if box.applied is None else None
            return replace(front, part=replace(front.part, scoop=scoop))
        place = Placement((left, box.inside_depth, box.height - box.back_height), RIGHT, UP, BACK)
        back = self._walled(kind, box.back, length, box.back_height, cuts, place)
        part = replace(
            back.part,
            notches=notches(box.rear, box.inner_faces, place),
            holes=hook_holes(box.rear, box.inner_faces, place),
        )
        return replace(back, part=part)

    def _side(self, kind: PartKind) -> PlacedPart:
        box = self.box
        front, back, side = (stock.thickness.value for stock in (box.front, box.back, box.side))
        at_front, at_back = _corners_of(kind)
        if self.is_usual:
            near = -self.reach[at_front]
            length = law.upright_length(
                box.depth, [(front, self.reach[at_front]), (back, self.reach[at_back])]
            )
        else:
            near, length = -front, law.flat_length(box.depth, (0.0, 0.0))
        role = Role.UPRIGHT if self.is_usual else Role.FLAT
        ends = self._end_cut(at_front, role), self._end_cut(at_back, role)
        if kind is PartKind.LEFT:
            place = Placement((side, near, 0.0), BACK, UP, LEFT)
        else:
            place = Placement((box.width - side, near, 0.0), BACK, UP, RIGHT)
        return self._walled(kind, box.side, length, box.height, ends, place)

    def _end_cut(self, corner: int, role: Role) -> EndCut:
        joint = joint_named(self.keys[corner].joint)
        return EndCut(
            self.keys[corner], role, is_routed=joint.bands_flat if role is Role.FLAT else joint.bands_upright
        )

    def _walled(
        self,
        kind: PartKind,
        stock: Stock,
        length: Mm,
        height: Mm,
        ends: tuple[EndCut, EndCut],
        place: Placement,
    ) -> PlacedPart:
        box = self.box
        part = Part(
            box.name,
            kind,
            stock,
            length,
            height,
            ends,
            self._groove_of(kind, place),
            banded_long_edges=1 if box.banding.box_top else 0,
            banding=box.banding.thickness,
            is_handed=box.has_handed_sides
            if kind in (PartKind.LEFT, PartKind.RIGHT)
            else kind is PartKind.FRONT and box.has_handed_front,
        )
        return PlacedPart(part, place)

    def _groove_of(self, kind: PartKind, place: Placement) -> Groove | None:
        """The groove of the bottom as this part has it; a back that the bottom slides in under has none."""
        bottom = self.box.bottom
        groove = None if bottom is None else bottom.groove
        if groove is None or bottom is None:
            return None
        if kind is PartKind.BACK and bottom.style is not BottomStyle.CAPTURED:
            return None
        _along, height, _through = place.in_part((0.0, 0.0, groove.height))
        return replace(groove, height=kept_length(height))

    def _bottom(self, bottom: Bottom) -> PlacedPart:
        """The bottom in the middle of its room, smaller by its clearance; its fibre runs from side to side, so that
        a slid one can move under the back."""
        (left, near), (right, far) = self._room(bottom)
        width, depth = right - left - bottom.clearance, far - near - bottom.clearance
        top = bottom.level + bottom.stock.thickness.value
        corner = (left + bottom.clearance / 2, near + bottom.clearance / 2, top)
        part = Part(self.box.name, PartKind.BOTTOM, bottom.stock, width, depth, oversize=bottom.oversize)
        return PlacedPart(part, Placement(corner, RIGHT, BACK, DOWN))

    def _room(self, bottom: Bottom) -> tuple[tuple[Mm, Mm], tuple[Mm, Mm]]:
        """Least and greatest x and y that a bottom without clearance could take.

        Captured: into all four grooves. Slid: into three grooves and flush with the back's outer face, where it is
        screwed. Fixed: under the whole box, or behind a front that reaches below the sides.
        """
        box = self.box
        front, back, side = (stock.thickness.value for stock in (box.front, box.back, box.side))
        outside, deep = box.inside_depth + back, bottom.groove_depth
        match bottom.style:
            case BottomStyle.CAPTURED:
                return (side - deep, -deep), (box.width - side + deep, box.inside_depth + deep)
            case BottomStyle.SLID:
                return (side - deep, -deep), (box.width - side + deep, outside)
            case BottomStyle.FIXED:
                return (0.0, 0.0 if box.front_below > 0 else -front), (box.width, outside)

    def _applied_front(self, applied: AppliedFront) -> PlacedPart:
        box = self.box
        corner = (-applied.beside, -box.front.thickness.value, -applied.below)
        part = front_panel(box.name, PartKind.APPLIED_FRONT, applied, box.banding, box.scoop)
        along, across = (UP, RIGHT) if part.is_upright else (RIGHT, UP)
        return PlacedPart(part, Placement(corner, along, across, FRONT))


def _corners_of(kind: PartKind) -> tuple[int, int]:
    """The corners at the two ends of a front, a back or a side, by their places in `DrawerBox.corners`."""
    match kind:
        case PartKind.FRONT:
            return 0, 1
        case PartKind.BACK:
            return 2, 3
        case PartKind.LEFT:
            return 0, 2
        case _:
            return 1, 3
