"""Where the cut is in a picture: which way the piece lies, roughly.

Both pieces have one notch, only with its walls exchanged, so one frame serves both::

        w ^          G  (flat: the end; upright: the inside face), w = F
          |   ________
          |  |        |  the cut-off corner
     F ---+--+        :
          |  |plain   :
          |  |wall A  :_________ H  (flat: the inner face; upright: the tip), z = h
          |  |       /|
     0 ---+--+-----'  |  the wall with the profile, w = c(z)
          |           |
          +--0--------h----> z

z is the depth below the cutter's top, as in `drawerwright.joints.law`: the plain wall (the roof's underside, or the
upright's ledge) was cut by the top itself. w is counted from the deepest cut. Wood lies at w < c(z), and at z < 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.ground import WoodTold
from drawerwright.joints.scan.pixels import Mask, Row

LEAST_STEP = 0.06
"""A step smaller than this share of the bit height is none."""
LEAST_HEIGHT = 25
"""A cut of fewer pixels in the working picture cannot be made out."""


@dataclass(frozen=True, slots=True)
class CutNotch:
    """The notch in pixels of the full picture: its frame and, in it, where its faces are.

    `origin` is where z = 0 and w = 0; `z_axis` and `w_axis` are unit vectors. `slope` holds the z at which the slanted
    part begins and ends. `far` is the outer face: z of it on a flat piece (below 0), w on an upright one. `reach` is
    how far the long faces run from the notch. `misfit` tells how badly a section of this kind fits (0 is perfect).
    """

    is_flat: bool
    origin: Row
    z_axis: Row
    w_axis: Row
    height: float
    fence: float
    step: float
    slope: tuple[float, float]
    far: float
    reach: float
    misfit: float

    def place(self, z: Row, w: Row) -> Row:
        """Points of the frame as x, y of the picture."""
        z, w = np.asarray(z, float), np.asarray(w, float)
        return np.asarray(self.origin + z[..., None] * self.z_axis + w[..., None] * self.w_axis)


def find_notches(told: WoodTold, *, is_flat: bool) -> list[CutNotch]:
    """Every way in which the piece can be a section with a notch of this kind, the best first."""
    angle = main_direction(told)
    if angle is None:
        return []
    upright, back = straightened(told, angle)
    found = []
    for is_transposed in (False, True):
        for flip_rows in (False, True):
            for flip_columns in (False, True):
                view = upright.T if is_transposed else upright
                view = view[::-1] if flip_rows else view
                view = view[:, ::-1] if flip_columns else view
                rough = _read_view(np.ascontiguousarray(view), is_flat=is_flat)
                if rough is None:
                    continue
                flips = (is_transposed, flip_rows, flip_columns)
                place = _Way(back, told.factor, view.shape, flips, rough)
                found.append(_in_picture(place, is_flat))
    return sorted(found, key=lambda notch: notch.misfit)


@dataclass(frozen=True, slots=True)
class _Way:
    """The way from a view back to the full picture, and what was read in the view."""

    back: Row
    factor: float
    shape: tuple[int, ...]
    flips: tuple[bool, bool, bool]
    rough: _Rough

    def to_picture(self, z: float, w: float) -> Row:
        row, column = self.rough.plain_row - z, self.rough.deep + w
        is_transposed, flip_rows, flip_columns = self.flips
        if flip_columns:
            column = self.shape[1] - 1 - column
        if flip_rows:
            row = self.shape[0] - 1 - row
        x, y = (row, column) if is_transposed else (column, row)
        return np.asarray((self.back @ np.array([x, y, 1.0]) + 0.5) * self.factor - 0.5)


def _in_picture(way: _Way, is_flat: bool) -> CutNotch:
    origin = way.to_picture(0.0, 0.0)
    z_axis, w_axis = way.to_picture(1.0, 0.0) - origin, way.to_picture(0.0, 1.0) - origin
    rough, factor = way.rough, way.factor
    return CutNotch(
        is_flat=is_flat,
        origin=origin,
        z_axis=z_axis / np.linalg.norm(z_axis),
        w_axis=w_axis / np.linalg.norm(w_axis),
        height=rough.height * factor,
        fence=rough.fence * factor,
        step=rough.step * factor,
        slope=(rough.slope[0] * factor, rough.slope[1] * factor),
        far=rough.far * factor,
        reach=rough.reach * factor,
        misfit=rough.misfit,
    )


def main_direction(told: WoodTold) -> float | None:
    """The direction of most of the outline, modulo a right angle (radians)."""
    height, width = told.mask.shape
    corners = pixels.simplified(told.outline, 1.5)
    ends = np.roll(corners, -1, axis=0)
    on_edge = np.zeros(len(corners), bool)
    for axis, size in ((0, width), (1, height)):
        for line in (0, size - 1):
            on_edge |= (np.abs(corners[:, axis] - line) < 3) & (np.abs(ends[:, axis] - line) < 3)
    runs = (ends - corners)[~on_edge]
    lengths = np.hypot(runs[:, 0], runs[:, 1])
    if lengths.sum() <= 0:
        return None
    angles = np.degrees(np.arctan2(runs[:, 1], runs[:, 0])) % 90
    trial = np.arange(0, 90, 0.25)
    apart = (angles[:, None] - trial + 45) % 90 - 45
    best = int(np.argmax(((lengths**1.5)[:, None] * np.exp(-0.5 * (apart / 1.5) ** 2)).sum(axis=0)))
    near = np.abs(apart[:, best]) < 3
    mean = trial[best] + np.average(apart[near, best], weights=lengths[near] ** 1.5)
    return math.radians(float(mean))


def straightened(told: WoodTold, angle: float) -> tuple[Mask, Row]:
    """The mask turned so that its faces run along rows and columns, and the way back from it."""
    height, width = told.mask.shape
    cos, sin = math.cos(angle), math.sin(angle)
    turn = np.array([[cos, sin], [-sin, cos]])
    corners = np.array([[0, 0], [width, 0], [0, height], [width, height]], float) @ turn.T
    low = corners.min(axis=0) - 2
    size = np.ceil(corners.max(axis=0) - low).astype(int) + 3
    matrix = np.column_stack([turn, -low])
    back = np.column_stack([turn.T, turn.T @ low])
    return pixels.turned(told.mask, matrix, (int(size[0]), int(size[1]))), back


@dataclass(frozen=True, slots=True)
class _Rough:
    plain_row: float
    deep: float
    height: float
    fence: float
    step: float
    slope: tuple[float, float]
    far: float
    reach: float
    misfit: float


def _read_view(view: Mask, *, is_flat: bool) -> _Rough | None:
    """The notch at the upper right of a view, whose rows run against z and whose columns run along w."""
    wood = view > 0
    rows = np.flatnonzero(wood.any(axis=1))
    columns = np.flatnonzero(wood.any(axis=0))
    if len(rows) < 2 * LEAST_HEIGHT or len(columns) < LEAST_HEIGHT:
        return None
    count = wood.sum(axis=1)
    least = max(4.0, 0.1 * float(np.median(count[rows])))
    top = int(np.flatnonzero(count >= least)[0])
    bottom = int(np.flatnonzero(count >= least)[-1])
    width = view.shape[1]
    right = np.where(wood.any(axis=1), width - 1 - np.argmax(wood[:, ::-1], axis=1), -1).astype(float)
    # The row where the wood jumps out to the end (flat) or to the inside face (upright).
    window = 4
    inner = np.arange(top + LEAST_HEIGHT, bottom - window)
    if len(inner) == 0:
        return None
    above = np.median(np.stack([right[inner - k] for k in range(1, window + 1)]), axis=0)
    below = np.median(np.stack([right[inner + k] for k in range(window)]), axis=0)
    jump = int(np.argmax(below - above))
    plain_row = float(inner[jump]) - 0.5
    fence_line = float(np.median(right[inner[jump] : min(inner[jump] + 4 * LEAST_HEIGHT, bottom - 1)]))
    height = plain_row - top + 0.5
    line = right[top : int(plain_row + 0.5)]
    z = plain_row - np.arange(top, int(plain_row + 0.5))
    if fence_line - float(np.quantile(line, 0.02)) < 0.2 * height:  # no wall steps back from the end
        return None
    inside = (z > 2) & (z < height - 1)
    fitted = _slope(np.asarray(z[inside], np.float64), line[inside])
    if fitted is None:
        return None
    deep, shallow, begin, end, residual = fitted
    fence, step = fence_line - deep, shallow - deep
    if not (step > LEAST_STEP * height and fence > 1.02 * step and fence > 0.2 * height):
        return None
    behind = right[int(plain_row + 4) : bottom - 2]
    if len(behind) < 5:
        return None
    straight = float(np.mean(np.abs(behind - fence_line) > 4))
    misfit = residual / step + straight
    if is_flat:
        # The inner face is straight from the profile on, and so is the outer one.
        left = columns[0] + 3
        body = np.arange(left, int(deep) - 2)
        if len(body) < 0.25 * height:
            return None
        first = np.argmax(wood[:, body], axis=0)
        last = view.shape[0] - 1 - np.argmax(wood[::-1][:, body], axis=0)
        outer = float(np.median(last))
        misfit += float(np.mean(np.abs(first - top) > 4) + np.mean(np.abs(last - outer) > 4))
        far, reach = plain_row - (outer + 0.5), deep - columns[0]
        if -far < 0.02 * height:
            return None
    else:
        body = np.arange(top + 3, bottom - 2)
        first = np.argmax(wood[body], axis=1)
        outer = float(np.median(first))
        misfit += float(np.mean(np.abs(first - outer) > 4))
        far, reach = outer - 0.5 - (deep + 0.5), bottom - plain_row
        if -far < 0.05 * fence or reach < 0.3 * height:
            return None
    return _Rough(plain_row, deep + 0.5, height, fence, step, (begin, end), far, float(reach), misfit)


def _slope(z: Row, w: Row) -> tuple[float, float, float, float, float] | None:
    """Deep and shallow level, begin and end of the slope between them, and the mean distance from all of it."""
    if len(z) < LEAST_HEIGHT // 2:
        return None
    order = np.argsort(z)
    z, w = z[order], w[order]
    size = float(z[-1])
    every = max(1, len(z) // 80)
    at, line = z[::every], w[::every]
    grid = np.linspace(0.04, 0.96, 47) * size
    begin, end = (side.ravel() for side in np.meshgrid(grid, grid, indexing="ij"))
    rise = end - begin
    begin, rise = begin[rise > -1e-9], np.maximum(rise[rise > -1e-9], 0.02 * size)
    share = np.clip((at - begin[:, None]) / rise[:, None], 0, 1)
    enough = ((share == 0).sum(axis=1) >= 2) & ((share == 1).sum(axis=1) >= 2)
    if not enough.any():
        return None
    begin, rise, share = begin[enough], rise[enough], share[enough]
    # Deep and shallow by least squares, then weighed by the mean distance, which a chip moves less.
    a, b, c = ((1 - share) ** 2).sum(axis=1), (share * (1 - share)).sum(axis=1), (share**2).sum(axis=1)
    u, v = (1 - share) @ line, share @ line
    determinant = np.maximum(a * c - b * b, 1e-9)
    deep, shallow = (c * u - b * v) / determinant, (a * v - b * u) / determinant
    misfit = np.abs(deep[:, None] + share * (shallow - deep)[:, None] - line).mean(axis=1)
    # Of the likeliest, the one that most of the line lies nearest to: a chip is the smaller part of it.
    likely = np.argsort(misfit)[:150]
    begin, rise, share = begin[likely], rise[likely], share[likely]
    before, after = _first_medians(line), _first_medians(line[::-1])
    deep, shallow = before[(share == 0).sum(axis=1) - 1], after[(share == 1).sum(axis=1) - 1]
    off = np.abs(deep[:, None] + share * (shallow - deep)[:, None] - line)
    most = np.sort(off, axis=1)[:, : int(0.85 * len(line)) + 1].mean(axis=1)
    best = int(np.argmin(most))
    return (
        float(deep[best]),
        float(shallow[best]),
        float(begin[best]),
        float(begin[best] + rise[best]),
        float(most[best]),
    )


def _first_medians(values: Row) -> Row:
    """The median of the first value, of the first two, and so on."""
    size = len(values)
    count = np.arange(1, size + 1)
    ordered = np.sort(np.where(np.arange(size) < count[:, None], values, math.inf), axis=1)
    row = count - 1
    return np.asarray((ordered[row, row // 2] + ordered[row, count // 2]) / 2)
