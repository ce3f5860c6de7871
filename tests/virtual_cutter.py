"""A cutter's edge, what it takes off the end of a board, and bodies to try it on: the statement of docs/law.md written
down a second time, without anything of the package's own geometry."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import manifold3d
import numpy as np

from drawerwright.drawers.parts import Role

OUTSIDE = -100.0
"""Well off a board, along it or through it."""


class VirtualCutter:
    """The cutter's edge by its two measures and its slope."""

    def __init__(self, entry: Mapping[str, Any]) -> None:
        self.mid_depth, self.step = (float(str(entry[name]).split("±")[0]) for name in ("mid_depth", "step"))
        rise = self.step / math.tan(math.radians(entry["slope"]))
        self.bends = self.mid_depth - rise / 2, self.mid_depth + rise / 2
        self.is_wide_above = entry["kind"] == "drawer-lock"

    def inset(self, depth: float) -> float:
        share = (depth - self.bends[0]) / (self.bends[1] - self.bends[0])
        share = min(max(share, 0.0), 1.0)
        return self.step * (share if self.is_wide_above else 1.0 - share)

    def path(
        self, role: Role, bit_height: float, fence: float, thickness: float
    ) -> list[tuple[float, float]]:
        """What it takes off the end of a board, in the board's own frame: along it and through it.

        Flat: at the height y above the table the end loses F - c(h - y). Upright: at the distance s from the tip the
        inside face loses F - c(h - s).
        """
        depths = [bit_height, *(bend for bend in reversed(self.bends) if 0 < bend < bit_height), 0.0]
        cut = [(bit_height - depth, fence - self.inset(depth)) for depth in depths]
        if role is Role.FLAT:
            return [(OUTSIDE, 0.0), *((deep, height) for height, deep in cut), (OUTSIDE, bit_height)]
        return [(0.0, OUTSIDE), *((from_tip, deep) for from_tip, deep in cut), (bit_height, OUTSIDE)]


def raised(outline: np.ndarray, height: float) -> Any:
    """The body over an outline that runs counter-clockwise, exactly as wide as it."""
    count = len(outline)
    here = np.arange(count)
    after = (here + 1) % count
    lid = np.array(manifold3d.triangulate([outline]))
    walls = [
        np.column_stack([here, after, after + count]),
        np.column_stack([here, after + count, here + count]),
    ]
    points = [np.column_stack([outline, np.full(count, level)]) for level in (0.0, height)]
    triangles = np.concatenate([lid[:, ::-1], lid + count, *walls]).astype(np.uint64)
    return manifold3d.Manifold(manifold3d.Mesh64(np.concatenate(points), triangles))
