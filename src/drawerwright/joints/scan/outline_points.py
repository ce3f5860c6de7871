"""Points of the outline between two corners, whatever its shape: for profiles that are no three straight lines."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from drawerwright.basics.lengths import Mm
from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.edge_points import SectionFace, edge_points
from drawerwright.joints.scan.ground import WoodTold
from drawerwright.joints.scan.pixels import Row
from drawerwright.joints.scan.side_walls import SeenWalls

POINT_SPACING: Mm = 0.25
"""Points of the profile are means over so much of its length."""
LEAST_PIECE = 5.0
"""A straight piece of fewer pixels is skipped: it is a chip's, or a corner's."""
LEFT_AT_ENDS = 0.12
"""Of each piece so much is left out at either end, but no more than the blur takes."""


def points_between(
    told: WoodTold, start: Row, end: Row, blur: float, walls: SeenWalls | None = None
) -> list[Row]:
    """The points of each straight piece of the outline from one corner of the picture to another, the shorter way;
    `walls`: what a camera sees of the wood's sides."""
    outline = (told.outline + 0.5) * told.factor - 0.5
    first, last = (int(np.argmin(((outline - corner) ** 2).sum(axis=1))) for corner in (start, end))
    around = np.roll(outline, -first, axis=0)
    count = (last - first) % len(outline)
    way = around[: count + 1] if count <= len(outline) / 2 else around[count:][::-1]
    corners = pixels.simplified(way, 0.9 * told.factor + 0.3, is_closed=False)
    found = []
    for a, b in itertools.pairwise(corners):
        run = b - a
        size = float(np.hypot(*run))
        if size < LEAST_PIECE * max(1.0, blur / 2):
            continue
        across = np.array([run[1], -run[0]]) / size
        middle = (a + b) / 2
        sides = pixels.sampled(
            told.contrast,
            *(np.array([[middle[i] + 3 * across[i], middle[i] - 3 * across[i]]]) for i in (0, 1)),
        )[0]
        outward = across if sides[0] < sides[1] else -across
        ends = min(LEFT_AT_ENDS, (1.2 * blur + 1.0) / size) * run
        face = SectionFace("P", a + ends, b - ends, outward)
        seen, _ = edge_points(told.brightness, face, max(4.0, 2.0 * blur, 2.0 * told.factor), blur)
        if len(seen.points) >= 3:
            if walls is not None:
                seen = walls.without_sides({"P": seen}, told.brightness, {"P": face})["P"]
            found.append(seen.points)
    return found


def thinned(pieces: Sequence[Row], per_mm: float) -> tuple[Row, float]:
    """Points (mm) of straight pieces, by their first coordinate, and the usual uncertainty of one across them."""
    found, scatters = [], []
    for piece in pieces:
        line = piece / per_mm
        run = line[-1] - line[0]
        size = float(np.hypot(*run))
        across = np.array([-run[1], run[0]]) / max(size, 1e-9)
        along = (line - line[0]) @ run / max(size, 1e-9)
        off = (line - line.mean(axis=0)) @ across
        off = off - np.polyval(np.polyfit(along, off, 1), along)
        near = np.abs(off) <= max(3 * 1.4826 * float(np.median(np.abs(off))), 0.01)
        count = max(1, round(size / POINT_SPACING))
        for part in np.array_split(line[near][np.argsort(along[near])], count):
            if len(part) >= 2:
                found.append(part.mean(axis=0))
                scatters.append(float(off[near].std()) / math.sqrt(len(part) / 2))
    points = np.array(found)
    return points[np.argsort(points[:, 0], kind="stable")], float(np.median(scatters))
