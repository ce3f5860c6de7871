"""The edges of a solid that a draughtsman draws: where its surface folds, and where it turns away from the eye."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.drawings.axonometric.viewpoint import Vectors

FOLD: Degrees = 20.0
"""Faces that meet flatter than this belong to one rounded surface: those of a hole stand at 11.25° to each other."""
ONE_PLACE: Mm = 1e-5
"""Corners nearer than this are one."""
EDGE_ON = 1e-9


def normals_of(triangles: Vectors) -> Vectors:
    """Unit normals; zeros for triangles without area."""
    across = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    length = np.linalg.norm(across, axis=1)
    return np.asarray(across / np.where(length > 0, length, 1.0)[:, None])


@dataclass(frozen=True, slots=True)
class DrawnEdges:
    """Edges by their ends, shape (n, 2, 3), and which of them are outlines: beyond those the solid turns away."""

    ends: Vectors
    are_outlines: NDArray[np.bool_]


def drawn_edges(triangles: Vectors, toward: Vectors) -> DrawnEdges:
    """The edges of a closed solid that are to be drawn when the viewer stands in direction `toward`: folds with a face
    towards the viewer, and outlines of rounded surfaces.

    `triangles`: shape (n, 3, 3), counter-clockwise from outside.
    """
    normals = normals_of(triangles)
    facing = normals @ toward > EDGE_ON
    _, numbers = np.unique(
        np.round(triangles.reshape(-1, 3) / ONE_PLACE).astype(np.int64), axis=0, return_inverse=True
    )
    corners = numbers.reshape(-1, 3)
    starts = np.concatenate([corners[:, k] for k in range(3)])
    ends = np.concatenate([corners[:, (k + 1) % 3] for k in range(3)])
    places = np.concatenate([triangles[:, (k, (k + 1) % 3)] for k in range(3)])
    faces = np.tile(np.arange(len(triangles)), 3)
    key = np.minimum(starts, ends) * (len(triangles) * 3 + 1) + np.maximum(starts, ends)
    order = np.argsort(key, kind="stable")
    if not len(order):
        return DrawnEdges(np.zeros((0, 2, 3)), np.zeros(0, np.bool_))
    begins = np.flatnonzero(np.r_[True, np.diff(key[order]) != 0])
    first = np.repeat(order[begins], np.diff(np.r_[begins, len(order)]))
    own = faces[order]
    flat = (normals[own] * normals[faces[first]]).sum(axis=1)
    flattest = np.minimum.reduceat(flat, begins)
    some_face, all_face = (each.reduceat(facing[own], begins) for each in (np.logical_or, np.logical_and))
    here = order[begins]
    folded = math.cos(math.radians(FOLD))
    drawn = (starts[here] != ends[here]) & some_face & ((flattest < folded) | ~all_face)
    return DrawnEdges(places[here[drawn]], ~all_face[drawn])
