"""A drawer as solids: every part with its joint cuts and grooves, where it sits in the drawer.

Each part is made as it is in the shop, from its own sizes, cuts and groove and in its own frame, and then put where
the assembled drawer has it (`drawerwright.drawers.placement`). Each end is the section that its joint has
(`drawerwright.joints.joint`), layer by layer where it differs along the edge; the outline between two ends is raised to
the layer's height, and the groove is taken out of all of it. The only door to manifold3d.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, TypeAlias

import manifold3d
import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bottom import Groove
from drawerwright.drawers.front_panels import FalseFront
from drawerwright.drawers.parts import CarcasePart, EndCut, Part, PartKind, Role
from drawerwright.drawers.placement import BACK, DOWN, FRONT, LEFT, RIGHT, Direction, Place, Placement
from drawerwright.drawers.runner_cuts import Hole, Notch
from drawerwright.drawers.scoop import Scoop
from drawerwright.joints.comb import EdgeLayer, JoinedEdge
from drawerwright.joints.corner import Outline
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.joint import MadeCorner, joint_named

Point: TypeAlias = tuple[Mm, Mm]

BEYOND: Mm = 1.0
"""How far the tool that cuts a groove goes beyond a part's ends."""
HOLE_SIDES = 32
"""A hole is drawn with so many sides."""
SAME_LEVEL: Mm = 1e-9
"""Sums of lengths; differences below this are arithmetic."""
LEAVES: dict[PartKind, Direction] = {
    PartKind.FRONT: FRONT,
    PartKind.BACK: BACK,
    PartKind.LEFT: LEFT,
    PartKind.RIGHT: RIGHT,
    PartKind.BOTTOM: DOWN,
    PartKind.APPLIED_FRONT: (0, -2, 0),
    PartKind.FALSE_FRONT: (0, -2, 0),
}
"""Where each part goes when a drawer is taken apart for a picture."""


@dataclass(frozen=True, slots=True)
class PartSolid:
    """One part of a drawer, or of the carcase, where it sits, and the direction in which it leaves when the drawer is
    taken apart."""

    kind: PartKind | CarcasePart
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


def drawer_solids(drawer: AssembledDrawer, settings: Mapping[CornerKey, MadeCorner]) -> tuple[PartSolid, ...]:
    """All parts of a drawer, assembled; `settings` says how each of its corners is made."""
    return tuple(
        PartSolid(
            each.part.kind,
            each.part.label,
            _in_drawer(_made(each.part, settings, drawer.joined_edges(each)), each.place),
            LEAVES[each.part.kind],
        )
        for each in drawer.placed
    )


def panel_solid(front: FalseFront) -> PartSolid:
    """A front without a drawer, in its opening."""
    solid = _in_drawer(_raised(_square(front.part), front.part.width), front.place)
    return PartSolid(front.part.kind, front.part.label, solid, LEAVES[front.part.kind])


def block(low: Place, high: Place) -> Any:
    """A board from its least to its greatest corner (mm)."""
    size = tuple(end - begin for begin, end in zip(low, high, strict=True))
    return manifold3d.Manifold.cube(size).translate(low)


def cut_open(parts: Sequence[PartSolid], level: Mm) -> tuple[PartSolid, ...]:
    """What lies below a level (mm): the corners show in section, with their cut faces closed."""
    return tuple(replace(part, solid=part.solid.trim_by_plane((0.0, 0.0, -1.0), -level)) for part in parts)


def moved_solids(parts: Sequence[PartSolid], by: Place) -> tuple[PartSolid, ...]:
    """The parts moved by x, y and z (mm)."""
    return tuple(replace(part, solid=part.solid.translate(by)) for part in parts)


def _made(part: Part, settings: Mapping[CornerKey, MadeCorner], edges: Sequence[JoinedEdge]) -> Any:
    """A part in its own frame, but with its thickness and its width exchanged: it is raised to its width."""
    solid = _raised_layers(part, settings, edges) if part.ends else _raised(_square(part), part.width)
    if part.groove is not None:
        solid -= _groove(part.groove, part.length)
    for notch in part.notches:
        solid -= _notch(notch, part.thickness)
    for hole in part.holes:
        solid -= _hole(hole, part.thickness)
    return solid if part.scoop is None else solid - _scooped(part, part.scoop)


def _square(part: Part) -> list[Point]:
    return [(0.0, 0.0), (part.length, 0.0), (part.length, part.thickness), (0.0, part.thickness)]


def _raised_layers(part: Part, settings: Mapping[CornerKey, MadeCorner], edges: Sequence[JoinedEdge]) -> Any:
    """A part between its two ends, layer by layer where either of them differs along its edge."""
    first, second = (
        _end(part, cut, settings[cut.corner], edge) for cut, edge in zip(part.ends, edges, strict=True)
    )
    lows = sorted({0.0, *(layer.low for layer in (*first, *second))})
    levels = [low for low, above in pairwise((*lows, part.width)) if above - low > SAME_LEVEL]
    layers = []
    for low, high in pairwise((*levels, part.width)):
        far = [(part.length - along, through) for along, through in reversed(_at(second, low))]
        layers.append(_raised([*_at(first, low), *far], high - low).translate((0.0, 0.0, low)))
    return layers[0] if len(layers) == 1 else manifold3d.Manifold.batch_boolean(layers, manifold3d.OpType.Add)


def _at(layers: Sequence[EdgeLayer], level: Mm) -> Outline:
    """The outline at a level (mm)."""
    return next(layer.outline for layer in reversed(layers) if layer.low <= level + SAME_LEVEL)


def _end(part: Part, cut: EndCut, made: MadeCorner, edge: JoinedEdge) -> list[EdgeLayer]:
    """One half of a part layer by layer, each from its middle to its end and back: along it, and through it from its
    inside face."""
    joint, half = joint_named(made.kind), part.length / 2
    if cut.role is Role.FLAT:
        return [_from_middle(layer, layer.outline) for layer in joint.flat_layers(made, edge, half)]
    return [
        _from_middle(layer, [(-along, made.corner.upright_thickness - out) for out, along in layer.outline])
        for layer in joint.upright_layers(made, edge, half)
    ]


def _from_middle(layer: EdgeLayer, outline: Sequence[Point]) -> EdgeLayer:
    return replace(layer, outline=(*outline[1:], outline[0]))


def _in_drawer(solid: Any, place: Placement) -> Any:
    columns = np.array([place.along, place.through, place.across, place.corner], dtype=np.float64)
    return solid.transform(columns.T)


def _raised(outline: Sequence[Point], height: Mm) -> Any:
    """The body over an outline. Put together by hand: the library's own sections are rounded to a grid of theirs, and
    parts that should touch would share a film of wood."""
    points = np.array(_anticlockwise(outline))
    count = len(points)
    low = np.column_stack([points, np.zeros(count)])
    high = np.column_stack([points, np.full(count, height)])
    lid = np.array(manifold3d.triangulate([points]))
    here = np.arange(count)
    following = (here + 1) % count
    around = [
        np.column_stack([here, following, following + count]),
        np.column_stack([here, following + count, here + count]),
    ]
    triangles = np.concatenate([lid[:, ::-1], lid + count, *around])
    return manifold3d.Manifold(manifold3d.Mesh64(np.concatenate([low, high]), triangles.astype(np.uint64)))


def _anticlockwise(outline: Sequence[Point]) -> list[Point]:
    turn = sum(
        x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True)
    )
    return list(outline) if turn > 0 else list(reversed(outline))


def _groove(groove: Groove, length: Mm) -> Any:
    """What a groove takes out of a part, and of the air on its inside."""
    size = (length + 2 * BEYOND, 2 * groove.depth, groove.width)
    return manifold3d.Manifold.cube(size).translate((-BEYOND, -groove.depth, groove.height))


def _notch(notch: Notch, thickness: Mm) -> Any:
    """What a notch takes out of a part, and of the air around it."""
    size = (notch.end - notch.begin, thickness + 2 * BEYOND, notch.height + BEYOND)
    return manifold3d.Manifold.cube(size).translate((notch.begin, -BEYOND, -BEYOND))


def _scooped(part: Part, scoop: Scoop) -> Any:
    """What a scoop takes out of a front, and of the air above it."""
    across, up = (part.width, part.length) if part.is_upright else (part.length, part.width)
    (left, _), *edge, (right, _) = scoop.outline(across, up)
    outline = [(left, up + BEYOND), *edge, (right, up + BEYOND)]
    tool = _raised(outline, part.thickness + 2 * BEYOND)  # along the front, up it, through it
    if part.is_upright:
        # Its length stands, and across it runs to the right as it hangs.
        columns = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, -BEYOND, 0.0]])
        return tool.transform(columns.T)
    columns = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [0.0, -BEYOND, 0.0]])
    return tool.transform(columns.T)


def _hole(hole: Hole, thickness: Mm) -> Any:
    """What a drill takes out of a part, from its outer face inwards."""
    deep = thickness + BEYOND if hole.depth is None else hole.depth
    drill = manifold3d.Manifold.cylinder(deep + BEYOND, hole.diameter / 2, circular_segments=HOLE_SIDES)
    return drill.rotate((90.0, 0.0, 0.0)).translate((hole.along, thickness + BEYOND, hole.across))
