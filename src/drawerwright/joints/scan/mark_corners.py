"""The corners of a square mark to a small part of a pixel: where straight lines along its four sides meet.

Across a side the picture goes from the mark's black to the white around it; where it passes half-way is the side. Blur
rounds a corner off, but moves no side.
"""

from __future__ import annotations

import numpy as np

from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.pixels import Picture, Row
from drawerwright.joints.scan.sheet_marks import SQUARES

PLACES = np.linspace(0.12, 0.88, 16)
"""Where along a side it is sought, as shares of its length."""
REACH = 0.45
"""How far across a side, in squares of the mark."""
LEVELS = 0.25
"""Black and white are told from no nearer to the side than this, in squares."""


def _across(grey: Picture, corners: Row) -> tuple[Row, Row]:
    """Levels across each of the four sides, at each place along it; and how far out they are (pixels)."""
    runs = np.roll(corners, -1, axis=0) - corners
    size = np.hypot(*runs.T)[:, None]
    outward = np.column_stack([runs[:, 1], -runs[:, 0]]) / size
    square = float(size.mean()) / (SQUARES + 2)
    offsets = np.arange(-REACH * square, REACH * square + 0.01, 0.5)
    along = corners[:, None, :] + PLACES[None, :, None] * runs[:, None, :]
    at = along[:, :, None, :] + offsets[None, None, :, None] * outward[:, None, None, :]
    flat = at.reshape(-1, len(offsets), 2)
    levels = pixels.sampled(grey, flat[..., 0], flat[..., 1])
    return levels.reshape(4, len(PLACES), len(offsets)), offsets


def edge_width(grey: Picture, corners: Row) -> float:
    """How many pixels the change from black to white takes along the sides of a mark, its corners being exact."""
    levels, offsets = _across(grey, corners)
    usual = np.median(levels, axis=1)
    steep = np.abs(np.gradient(usual, offsets, axis=1)).max(axis=1)
    return float(np.median(0.8 * np.ptp(usual, axis=1) / np.maximum(steep, 1e-6)))


def exact_corners(grey: Picture, corners: Row) -> Row:
    """The corners (clockwise), from rough ones, in a grey picture."""
    runs = np.roll(corners, -1, axis=0) - corners
    size = np.hypot(*runs.T)[:, None]
    outward = np.column_stack([runs[:, 1], -runs[:, 0]]) / size
    square = float(size.mean()) / (SQUARES + 2)
    levels, offsets = _across(grey, corners)
    black = levels[:, :, offsets <= -LEVELS * square].mean(axis=2)
    white = levels[:, :, offsets >= LEVELS * square].mean(axis=2)
    part = levels - ((black + white) / 2)[:, :, None]
    crosses = (part[:, :, :-1] <= 0) & (part[:, :, 1:] > 0)
    where = offsets[:-1] - 0.5 * part[:, :, :-1] / np.where(crosses, part[:, :, 1:] - part[:, :, :-1], 1.0)
    nearest = np.argmin(np.where(crosses, np.abs(where), np.inf), axis=2)
    found = np.take_along_axis(where, nearest[:, :, None], axis=2)[:, :, 0]
    found = np.where(crosses.any(axis=2), found, np.nan)
    lines = []
    for side in range(4):
        good = np.isfinite(found[side])
        if good.sum() < 5:
            return corners
        slope, zero = np.polyfit(PLACES[good], found[side][good], 1)
        off = np.abs(found[side] - zero - slope * PLACES)
        good &= off <= max(3 * float(np.nanmedian(off)), 0.15)
        if good.sum() >= 5:
            slope, zero = np.polyfit(PLACES[good], found[side][good], 1)
        start = corners[side] + zero * outward[side]
        lines.append((start, runs[side] + slope * outward[side]))
    met = []
    for (a, u), (b, v) in zip([lines[-1], *lines[:-1]], lines, strict=True):
        shares = np.linalg.solve(np.column_stack([u, -v]), b - a)
        met.append(a + shares[0] * u)
    return np.array(met)
