"""How much glue a drawer takes: the faces that its corners are glued by, and what is spread on them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from drawerwright.basics.lengths import Mm
from drawerwright.basics.plane import region
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import Role
from drawerwright.joints.comb import EdgeLayer, JoinedEdge
from drawerwright.joints.corner import Outline
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.joint import MadeCorner, joint_named

SPREAD = 180.0
"""Grams of white or yellow wood glue on a square metre of one face: 150 to 200 is common practice (from memory, no
source); the glue's own sheet governs."""
LOST = 0.25
"""What runs out, stays in the brush and dries in the pot, as a share of that (common practice, no source)."""
ON_FACE: Mm = 1e-6


def glued_area(drawer: AssembledDrawer, made: Mapping[CornerKey, MadeCorner]) -> float:
    """The cut faces of a drawer's four corners, those of one piece of each (mm²). The bottom is not glued."""
    return sum(_cut_faces(edge, made[corner]) for corner, edge in _glued_ends(drawer))


def _glued_ends(drawer: AssembledDrawer) -> Iterator[tuple[CornerKey, JoinedEdge]]:
    for placed in drawer.placed:
        if placed.part.ends:
            for cut, edge in zip(placed.part.ends, drawer.joined_edges(placed), strict=True):
                if cut.role is Role.UPRIGHT:
                    yield cut.corner, edge


def glue_grams(areas: Iterable[float]) -> float:
    """What is needed for these areas (mm²), with what is lost."""
    return sum(areas) * 1e-6 * SPREAD * (1 + LOST)


def _cut_faces(edge: JoinedEdge, made: MadeCorner) -> float:
    """Of an upright piece's end: along its section, layer by layer, and the flanks between layers that differ."""
    reach = 4.0 * made.engagement + made.corner.upright_thickness
    layers = joint_named(made.kind).upright_layers(made, edge, reach)
    along = sum(
        _cut_length(layer.outline, made.corner.upright_thickness, reach) * _joined_height(layer, edge)
        for layer in layers
    )
    return along + sum(_differing(low.outline, high.outline) for low, high in pairwise(layers))


def _joined_height(layer: EdgeLayer, edge: JoinedEdge) -> Mm:
    return max(min(layer.high, edge.high) - max(layer.low, edge.low), 0.0)


def _cut_length(outline: Outline, thickness: Mm, reach: Mm) -> Mm:
    """How long the section is without the piece's own faces and without where it was cut off for this (mm)."""
    return sum(
        math.dist(start, end)
        for start, end in pairwise((*outline, outline[0]))
        if not any(
            abs(start[axis] - level) < ON_FACE and abs(end[axis] - level) < ON_FACE
            for axis, level in ((0, 0.0), (0, thickness), (1, -reach))
        )
    )


def _differing(one: Outline, other: Outline) -> float:
    """Area (mm²) that one of two sections has and the other has not."""
    return float(region(one).symmetric_difference(region(other)).area)


def drawers_by_glue(
    drawers: Sequence[AssembledDrawer], made: Mapping[CornerKey, MadeCorner]
) -> dict[str, float]:
    """Grams for each drawer, by its name; ends that are alike are reckoned once."""
    faces: dict[tuple[CornerKey, JoinedEdge], float] = {}
    grams = {}
    for drawer in drawers:
        ends = list(_glued_ends(drawer))
        for corner, edge in ends:
            if (corner, edge) not in faces:
                faces[corner, edge] = _cut_faces(edge, made[corner])
        grams[drawer.box.name] = glue_grams(faces[end] for end in ends)
    return grams
