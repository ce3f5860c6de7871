"""Which parts of the edges of solids show, and which lie behind other faces.

An edge and a face that hides it are both straight: on paper, being inside the triangle is three linear conditions along
the edge and lying behind its plane is a fourth, so that a triangle hides one interval of an edge, found without
sampling (Appel's quantity of invisibility, reduced to a sum of intervals).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.axonometric.feature_edges import EDGE_ON, drawn_edges, normals_of
from drawerwright.drawings.axonometric.viewpoint import Vectors, Viewpoint
from drawerwright.drawings.scene import Segment

Span: TypeAlias = tuple[float, float]

BEHIND: Mm = 1e-3
"""Nearer to a face than this an edge lies in it: pieces that touch do not hide each other's edges."""
WITHIN: Mm = 1e-6
"""How far outside a triangle still counts as inside, so that no light falls between two triangles of one face."""
SEEN: Mm = 0.02
"""Shorter remains (mm of the thing) are arithmetic."""
AT_ONCE = 4_000_000
"""Pairs of edges and triangles that are looked at together."""


@dataclass(frozen=True, slots=True)
class Lines:
    """Pieces of edges on paper, in mm of the thing: visible outlines, visible folds, and what is hidden."""

    outlines: tuple[Segment, ...]
    folds: tuple[Segment, ...]
    hidden: tuple[Segment, ...]

    @property
    def visible(self) -> tuple[Segment, ...]:
        """All that shows."""
        return self.outlines + self.folds


def lines_of(solids: Sequence[Vectors], viewpoint: Viewpoint) -> Lines:
    """What shows of solids and what does not; each as triangles, shape (n, 3, 3), counter-clockwise from outside."""
    toward = np.array(viewpoint.toward)
    edges = [drawn_edges(triangles, toward) for triangles in solids]
    ends = viewpoint.seen(np.concatenate([each.ends for each in edges])) if edges else np.zeros((0, 2, 3))
    are_outlines = [is_outline for each in edges for is_outline in each.are_outlines]
    faces = np.concatenate(solids) if solids else np.zeros((0, 3, 3))
    facing = viewpoint.seen(faces[normals_of(faces) @ toward > EDGE_ON])
    spans = hidden_spans(ends, facing)
    outlines: list[Segment] = []
    folds: list[Segment] = []
    hidden: list[Segment] = []
    for number, (start, end) in enumerate(ends[:, :, :2]):
        length = float(np.hypot(*(end - start)))
        if length < SEEN:
            continue
        covered = _joined(spans.get(number, ()), SEEN / length)
        for low, high in covered:
            hidden.append(_piece(start, end, low, high))
        for low, high in _between(covered):
            if (high - low) * length > SEEN:
                (outlines if are_outlines[number] else folds).append(_piece(start, end, low, high))
    # Where parts touch, an edge of each lies in the same place.
    heavy, light = dict.fromkeys(map(_ordered, outlines)), dict.fromkeys(map(_ordered, folds))
    return Lines(
        tuple(heavy),
        tuple(each for each in light if each not in heavy),
        tuple(dict.fromkeys(map(_ordered, hidden))),
    )


def _ordered(segment: Segment) -> Segment:
    start, end = segment
    return (start, end) if start <= end else (end, start)


def hidden_spans(edges: Vectors, triangles: Vectors) -> dict[int, list[Span]]:
    """For each edge the stretches (0 to 1 along it) that a triangle hides; both as `Viewpoint.seen` gives them."""
    found: dict[int, list[Span]] = {}
    step = max(1, AT_ONCE // max(1, len(triangles)))
    if not len(triangles):
        return found
    low_t, high_t = triangles.min(axis=1), triangles.max(axis=1)
    for first in range(0, len(edges), step):
        some = edges[first : first + step]
        low_e, high_e = some.min(axis=1), some.max(axis=1)
        near = (
            (low_e[:, None, :2] <= high_t[None, :, :2] + WITHIN).all(axis=2)
            & (high_e[:, None, :2] >= low_t[None, :, :2] - WITHIN).all(axis=2)
            & (low_e[:, None, 2] < high_t[None, :, 2] - BEHIND)
        )
        which, what = np.nonzero(near)
        lows, highs = _intervals(some[which], triangles[what])
        for edge, low, high in zip(which, lows, highs, strict=True):
            if high > low:
                found.setdefault(first + int(edge), []).append((float(low), float(high)))
    return found


def _intervals(edges: Vectors, triangles: Vectors) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """From where to where along each edge the triangle paired with it hides it; empty where the first is not less."""
    low, high = np.zeros(len(edges)), np.ones(len(edges))
    start, end = edges[:, 0], edges[:, 1]
    for corner in range(3):
        a, b = triangles[:, corner, :2], triangles[:, (corner + 1) % 3, :2]
        along = b - a
        length = np.hypot(along[:, 0], along[:, 1])
        length = np.where(length > 0, length, 1.0)

        def inside(
            point: Vectors, a: Vectors = a, along: Vectors = along, length: Vectors = length
        ) -> Vectors:
            off = point[:, :2] - a
            return np.asarray((along[:, 0] * off[:, 1] - along[:, 1] * off[:, 0]) / length + WITHIN)

        low, high = _clipped(low, high, inside(start), inside(end))
    origin = triangles[:, 0]
    normal = np.cross(triangles[:, 1] - origin, triangles[:, 2] - origin)

    def above(point: Vectors) -> Vectors:
        """How far the plane of the triangle lies before a point."""
        off = ((point - origin) * normal).sum(axis=1)
        return np.asarray(-off / normal[:, 2] - BEHIND)

    return _clipped(low, high, above(start), above(end))


def _clipped(low: Vectors, high: Vectors, at_start: Vectors, at_end: Vectors) -> tuple[Vectors, Vectors]:
    """The stretch where a linear condition also holds: it has these values at the ends and must not be negative."""
    change = at_end - at_start
    with np.errstate(divide="ignore", invalid="ignore"):
        zero = np.where(change != 0, -at_start / change, 0.0)
    low = np.where(change > 0, np.maximum(low, zero), low)
    high = np.where(change < 0, np.minimum(high, zero), high)
    never = (change == 0) & (at_start < 0)
    return low, np.where(never, -1.0, high)


def _joined(spans: Sequence[Span], gap: float) -> list[Span]:
    """The same stretches without overlaps, those that leave no more than a gap between them as one."""
    joined: list[Span] = []
    for low, high in sorted(spans):
        if joined and low <= joined[-1][1] + gap:
            joined[-1] = joined[-1][0], max(joined[-1][1], high)
        else:
            joined.append((low, high))
    return joined


def _between(covered: Sequence[Span]) -> list[Span]:
    bounds = [0.0, *(bound for span in covered for bound in span), 1.0]
    return list(zip(bounds[::2], bounds[1::2], strict=True))


def _piece(start: Vectors, end: Vectors, low: float, high: float) -> Segment:
    (x0, y0), (x1, y1) = start + low * (end - start), start + high * (end - start)
    return (round(float(x0), 6), round(float(y0), 6)), (round(float(x1), 6), round(float(y1), 6))
