"""A drawer as solids: every part with its joint cuts and grooves, where it sits in the drawer.

::

        y (to the back)              plan of a drawer with flat fronts: x from the left side's outer
        ^   +--------------------+   face to the right, y from the front's outer face to the back,
        |   | back               |   z upwards from the lower edges of the sides
        |   +--+              +--+
        |   |  | left   right |  |
        |   +--+              +--+
        |   | front              |
        0   +--------------------+--> x

Each end of a part is the section of its corner (`drawerwright.joints.corner`), laid into this plan; the outline
between two ends is raised to the part's height, and the groove is taken out of it. The only door to manifold3d.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any, TypeAlias

import manifold3d
import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import joined
from drawerwright.drawers.bottom import BottomStyle, Groove
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.parts import PartKind, Role
from drawerwright.joints import law
from drawerwright.joints.corner import Cuts, flat_section, upright_section
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.setting import CornerSetting

Point: TypeAlias = tuple[Mm, Mm]
Direction: TypeAlias = tuple[float, float, float]
Place: TypeAlias = Callable[[Point], Point]

FAR: Mm = 1e5
"""Longer than any drawer: how far the tool that cuts a groove reaches."""


@dataclass(frozen=True, slots=True)
class PartSolid:
    """One part of a drawer where it sits, and the direction in which it leaves when the drawer is taken apart."""

    kind: PartKind
    label: str
    solid: Any
    leaves: Direction

    @property
    def volume(self) -> float:
        """In mm³."""
        return float(self.solid.volume())

    @property
    def bounds(self) -> tuple[Mm, Mm, Mm, Mm, Mm, Mm]:
        """Least x, y, z, then greatest x, y, z (mm)."""
        x0, y0, z0, x1, y1, z1 = map(float, self.solid.bounding_box())
        return x0, y0, z0, x1, y1, z1

    def triangles(self) -> NDArray[np.float64]:
        """The surface as triangles, shape (n, 3, 3) in mm, counter-clockwise from outside."""
        mesh = self.solid.to_mesh64()
        corners = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
        return corners[np.asarray(mesh.tri_verts, dtype=np.int64)]


def drawer_solids(box: DrawerBox, front: CornerSetting, back: CornerSetting) -> tuple[PartSolid, ...]:
    """All parts of a drawer, assembled.

    Args:
        box: the drawer.
        front, back: settings of the corners at its front and back.
    """
    plan = _Plan(box, front, back)
    parts = [
        plan.walled(PartKind.FRONT),
        plan.walled(PartKind.BACK),
        plan.walled(PartKind.LEFT),
        plan.walled(PartKind.RIGHT),
    ]
    if box.bottom is not None:
        parts.append(plan.bottom())
    if box.applied is not None:
        parts.append(plan.applied_front())
    return tuple(parts)


def cut_open(parts: Sequence[PartSolid], level: Mm) -> tuple[PartSolid, ...]:
    """What lies below a level (mm): the corners show in section, with their cut faces closed."""
    return tuple(replace(part, solid=part.solid.trim_by_plane((0.0, 0.0, -1.0), -level)) for part in parts)


def overlaps(parts: Sequence[PartSolid]) -> dict[tuple[str, str], float]:
    """Volume (mm³) that two parts would both take, for every pair where it is more than nothing."""
    found = {}
    for one, other in combinations(parts, 2):
        shared = float((one.solid ^ other.solid).volume())
        if shared > 1e-6:
            found[one.label, other.label] = shared
    return found


class _Plan:
    """Lays the corners of one drawer into its plan."""

    def __init__(self, box: DrawerBox, front: CornerSetting, back: CornerSetting) -> None:
        self.box = box
        self.settings = {"front": front, "back": back}
        self.is_usual = box.orientation is Orientation.FRONTS_FLAT

    def walled(self, kind: PartKind) -> PartSolid:
        """Front, back or side: an outline between two ends, raised to its height, less its groove."""
        box = self.box
        side = box.side.thickness.value
        groove = None if box.bottom is None else box.bottom.groove
        low, high = 0.0, box.height
        room: tuple[Mm, Mm, Mm, Mm]
        match kind:
            case PartKind.FRONT:
                high = box.front_height
                ends = [("front", False), ("front", True)]
                inner = box.front.thickness.value
                room, leaves = (-FAR, inner, FAR, inner), (0.0, -1.0, 0.0)
            case PartKind.BACK:
                low = box.height - box.back_height
                ends = [("back", False), ("back", True)]
                inner = box.depth - box.back.thickness.value
                room, leaves = (-FAR, inner, FAR, inner), (0.0, 1.0, 0.0)
                if box.bottom is not None and box.bottom.style is not BottomStyle.CAPTURED:
                    groove = None
            case PartKind.LEFT:
                ends = [("front", False), ("back", False)]
                room, leaves = (side, -FAR, side, FAR), (-1.0, 0.0, 0.0)
            case _:
                ends = [("front", True), ("back", True)]
                room, leaves = (box.width - side, -FAR, box.width - side, FAR), (1.0, 0.0, 0.0)
        is_end_piece = kind in (PartKind.FRONT, PartKind.BACK)
        role = Role.FLAT if is_end_piece is self.is_usual else Role.UPRIGHT
        first, second = (self._end(corner, role, mirrored) for corner, mirrored in ends)
        outline = [*first, *reversed(second)]
        solid = _raised(outline, low, high)
        if groove is not None:
            solid = solid - _groove(groove, room)
        return PartSolid(kind, joined((box.name, kind.words), " "), solid, leaves)

    def _end(self, corner: str, role: Role, mirrored: bool) -> list[Point]:
        """Outline of one end of a part in the plan, from the middle of one long face to that of the other."""
        setting = self.settings[corner]
        cuts = Cuts.of(setting)
        if role is Role.FLAT:
            outline = flat_section(cuts, self._half(corner, role))
        else:
            outline = upright_section(cuts, setting.lip, setting.engagement, self._half(corner, role))
        place = self._place(corner, mirrored)
        return [place(point) for point in (*outline[1:], outline[0])]

    def _half(self, corner: str, role: Role) -> Mm:
        """How much of a part belongs to this end: half, measured from the end."""
        box = self.box
        front, back = self.settings["front"], self.settings["back"]
        here = self.settings[corner]
        if self.is_usual:
            if role is Role.FLAT:
                return law.flat_length(box.width, (here.lip, here.lip)) / 2
            thicknesses = box.front.thickness.value, box.back.thickness.value
            ends = [(thicknesses[0], front.engagement), (thicknesses[1], back.engagement)]
            return law.upright_length(box.depth, ends) / 2
        if role is Role.FLAT:
            return law.flat_length(box.depth, (front.lip, back.lip)) / 2
        side = box.side.thickness.value
        return law.upright_length(box.width, [(side, here.engagement)] * 2) / 2

    def _place(self, corner: str, mirrored: bool) -> Place:
        """From the joint's frame into the plan."""
        box, setting = self.box, self.settings[corner]
        side = box.side.thickness.value

        def place(point: Point) -> Point:
            along, out = point
            if self.is_usual:
                x = along - setting.lip
                y = setting.corner.flat_thickness - out
            else:
                x, y = side - out, along
            if corner == "back":
                y = box.depth - y
            return (box.width - x if mirrored else x), y

        return place

    def bottom(self) -> PartSolid:
        """The bottom in the middle of its room, lying in the groove or under the box."""
        box, bottom = self.box, self.box.bottom
        assert bottom is not None
        front, back, side = (stock.thickness.value for stock in (box.front, box.back, box.side))
        width, depth = bottom.size(box.inside_width, box.inside_depth, side, front, back)
        thickness = bottom.stock.thickness.value
        groove = bottom.groove
        low = groove.height if groove else -thickness
        match bottom.style:
            case BottomStyle.CAPTURED:
                room = (front - bottom.groove_depth, box.depth - back + bottom.groove_depth)
            case BottomStyle.SLID:
                room = (front - bottom.groove_depth, box.depth)
            case BottomStyle.FIXED:
                room = (0.0, box.depth)
        left, near = (box.width - width) / 2, (sum(room) - depth) / 2
        solid = _block((left, near, low), (left + width, near + depth, low + thickness))
        return PartSolid(
            PartKind.BOTTOM, joined((box.name, PartKind.BOTTOM.words), " "), solid, (0.0, 0.0, -1.0)
        )

    def applied_front(self) -> PartSolid:
        """The applied front, its middle before the middle of the box."""
        box, applied = self.box, self.box.applied
        assert applied is not None
        left, low = (box.width - applied.width) / 2, (box.height - applied.height) / 2
        solid = _block(
            (left, -applied.stock.thickness.value, low), (left + applied.width, 0.0, low + applied.height)
        )
        kind = PartKind.APPLIED_FRONT
        return PartSolid(kind, joined((box.name, kind.words), " "), solid, (0.0, -2.0, 0.0))


def _raised(outline: Sequence[Point], low: Mm, high: Mm) -> Any:
    points = np.array(_anticlockwise(outline))
    section = manifold3d.CrossSection([points])
    return manifold3d.Manifold.extrude(section, high - low).translate((0.0, 0.0, low))


def _anticlockwise(outline: Sequence[Point]) -> list[Point]:
    turn = sum(
        x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True)
    )
    return list(outline) if turn > 0 else list(reversed(outline))


def _groove(groove: Groove, face: tuple[Mm, Mm, Mm, Mm]) -> Any:
    """What a groove takes out of a part whose inside lies in the plane `face`: to either side of it."""
    x0, y0, x1, y1 = face
    spread_x = groove.depth if x0 == x1 else 0.0
    spread_y = groove.depth if y0 == y1 else 0.0
    return _block(
        (x0 - spread_x, y0 - spread_y, groove.height),
        (x1 + spread_x, y1 + spread_y, groove.height + groove.width),
    )


def _block(low: Direction, high: Direction) -> Any:
    size = tuple(b - a for a, b in zip(low, high, strict=True))
    return manifold3d.Manifold.cube(size).translate(low)
