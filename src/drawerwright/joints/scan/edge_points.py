"""Where wood ends along a face, to a fraction of a pixel.

Across a face the picture goes from wood to ground in as few pixels as it is sharp. Where it passes half-way between
what lies a little inside and a little outside, the face is: so a dark ply, a glue line or a shadow beside it moves
nothing, as long as it is no sharper than the face and nearer than the blur.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.pixels import Picture, Row

OUTERMOST = 0.25
"""A quick change of the contrast counts as the face if it is so steep beside the steepest; of those the outermost is
taken: plies and glue lines lie inside."""
LEAST_CHANGE = 0.08
"""A change by less than this share of what parts wood from ground is none."""
LEAST_SHARE_SHARP = 0.45
"""Of a sharp edge's steepness so much is left when what is soft is taken away."""
EVEN, LONGER = 0.85, 1.15
"""An even blur takes so much of its width from a fifth to four fifths of its fall (1.7 of 2.0 standard deviations); one
that takes so much longer is none."""
FOOT = 0.15
"""Feet of falls lie further out by such a part of the fall's width for no reason."""
IS_WOOD = 0.5
"""A contrast above this is wood, or a shadow."""
LEAST_FALL = 0.35
"""A place where wood stands off the ground by less than this share of what it does elsewhere is left out."""


@dataclass(frozen=True, slots=True)
class SectionFace:
    """A straight face to look for: from one point of the picture to another, air on the side of `outward`."""

    name: str
    start: Row
    end: Row
    outward: Row

    @property
    def length(self) -> float:
        return float(np.hypot(*(self.end - self.start)))


@dataclass(frozen=True, slots=True)
class EdgePoints:
    """Points of a face: in the picture, and how many were looked for; those left out are in `lost`."""

    face: SectionFace
    points: Row
    sought: int
    lost: Row
    unsure: float = 0.0
    """By how many pixels all of them may be off together, as far as the fall from wood to ground is no even one."""
    is_cut_off: bool = False
    """Whether there is no room for most of the face and some ground beside it in the picture."""
    unlike: float = 0.0
    """How unlike any fall that is understood the one from wood to ground is; about 1 is as usual."""

    @property
    def share(self) -> float:
        return len(self.points) / max(self.sought, 1)


def edge_points(
    contrast: Picture, face: SectionFace, reach: float, blur: float | None = None
) -> tuple[EdgePoints, float]:
    """The points of a face, sought within `reach` pixels of it; and how many pixels the fall from wood to ground takes.

    `blur`: that width, where it is known already.
    """
    stride = max(1.0, face.length / 1500)
    count = max(3, int(face.length / stride))
    along = face.start + (np.arange(count) + 0.5)[:, None] / count * (face.end - face.start)
    seen = _inside(contrast, along)
    is_cut_off = float(_inside(contrast, along + 1.4 * (blur or 2.5) * face.outward).mean()) < 0.5
    along = along[seen]
    if len(along) < 3:
        return EdgePoints(face, np.empty((0, 2)), count, np.empty((0, 2)), 0.0, is_cut_off), blur or 2.0
    found = np.zeros(len(along))
    for attempt in range(2):
        levels, offsets = _across(contrast, along + found[:, None] * face.outward, face.outward, reach)
        edge = _outermost_edge(levels, offsets, blur or 2.5)
        if edge is None:
            return EdgePoints(face, np.empty((0, 2)), count, along, 0.0, is_cut_off), blur or 2.0
        middle, own_width, sign = edge
        wide = own_width if blur is None else blur
        crossing = _crossings(sign * levels, offsets, middle, wide, slack=3.0 * (1 - attempt))
        good = np.isfinite(crossing)
        if good.sum() < 3:
            break
        if attempt == 0:
            place = np.linspace(-1, 1, len(along))
            line = _steady_line(place[good], found[good] + crossing[good])
            found = line[0] + line[1] * place
            reach = max(6.0, 2.5 * wide)
    unsure = 0.5 * max(0.0, own_width - 1.1 * wide)  # a thin ply beside the face looks like a wider fall
    if good.any():
        unsure = max(
            unsure,
            _unevenness(_usual(levels[good]) * sign, offsets, middle, wide, float(np.median(crossing[good]))),
        )
    points = along + (found + crossing)[:, None] * face.outward
    return EdgePoints(
        face,
        points[good],
        int(seen.sum()),
        (along + found[:, None] * face.outward)[~good],
        unsure,
        is_cut_off,
    ), wide


def _inside(picture: Picture, points: Row) -> NDArray[np.bool_]:
    height, width = picture.shape
    return np.asarray(
        (points > 1.0).all(axis=1) & (points[:, 0] < width - 2) & (points[:, 1] < height - 2), np.bool_
    )


def _across(contrast: Picture, along: Row, outward: Row, reach: float) -> tuple[Row, Row]:
    offsets = np.arange(-reach, reach + 0.01, 0.5)
    x = along[:, 0, None] + offsets * outward[0]
    y = along[:, 1, None] + offsets * outward[1]
    return pixels.sampled(contrast, x, y), offsets


def _usual(levels: Row) -> Row:
    """The median across a face, 0 where nothing is seen."""
    finite = np.isfinite(levels)
    if finite.all():
        return np.asarray(np.median(levels, axis=0))
    usual = np.zeros(levels.shape[1])
    seen = finite.any(axis=0)
    usual[seen] = np.nanmedian(levels[:, seen], axis=0)
    return usual


def _outermost_edge(levels: Row, offsets: Row, sharp: float) -> tuple[float, float, float] | None:
    """Where the face is along most of it: the outermost place where the contrast changes as quickly as the picture is
    sharp. With it how many pixels the change takes, and 1 where it falls outwards; -1 where wood stands beside a
    shadow deeper than itself. None where nothing is sharp enough.

    `sharp`: that width elsewhere, in pixels. A change spread over several times that is a shadow's soft edge.
    """
    usual = _usual(levels)
    change = -np.gradient(_softened(usual, 1.5), offsets)
    quick = change - _softened(change, 2.0 * max(2.0 * sharp, 4.0))
    size = np.abs(quick)
    step = max(2, int(2 * sharp))
    edges = []
    for i in range(1, len(size) - 1):
        if not (size[i] >= size[i - 1] and size[i] > size[i + 1]):
            continue
        before, after = usual[max(0, i - step)], usual[min(len(usual) - 1, i + step)]
        falls = quick[i] > 0 and before - after > LEAST_CHANGE
        rises = quick[i] < 0 and before > IS_WOOD and after - before > LEAST_CHANGE
        is_sharp = size[i] > LEAST_SHARE_SHARP * abs(change[i])
        if is_sharp and (falls or rises):
            edges.append(i)
    strong = max((size[i] for i in edges), default=0.0)
    kept = [i for i in edges if size[i] > OUTERMOST * strong]
    if not kept:
        return None
    at = kept[-1]
    # How far the change goes, from one level to the other, over how steep it is.
    inner, outer = usual[max(0, at - step) : at + 1], usual[at : at + step + 1]
    sign = 1.0 if quick[at] > 0 else -1.0
    drop = float((inner * sign).max() - (outer * sign).min())
    wide = float(np.clip(0.8 * drop / max(abs(float(change[at])), 1e-6), 1.5, 20.0))
    return float(offsets[at]), wide, sign


def _unevenness(usual: Row, offsets: Row, middle: float, wide: float, found: float) -> float:
    """How far the face may lie off half of the fall: as far as the middle between where a fifth and where four fifths
    of it are done does; half of what it takes longer than an even blur; or by how much its foot lies further out than
    that of usual wood would beside the face that was `found`. A thin ply or glue line beside the face makes it so."""
    inside = usual[(offsets > middle - 2.0 * wide - 1) & (offsets < middle - 1.2 * wide)]
    outside = usual[(offsets > middle + 1.2 * wide) & (offsets < middle + 2.0 * wide + 1)]
    near = np.abs(offsets - middle) < 2.0 * wide
    if len(inside) == 0 or len(outside) == 0 or near.sum() < 4:
        return 0.0
    low, high = float(np.nanmean(outside)), float(np.nanmean(inside))
    if high - low < LEAST_CHANGE:
        return 0.0
    done = np.maximum.accumulate((usual[near][::-1] - low) / (high - low))  # from outside in
    at = offsets[near][::-1]
    first, half, last = (float(np.interp(share, done, at)) for share in (0.2, 0.5, 0.8))
    foot = float(np.interp(0.2 * min(1.0, 1.0 / (high - low)), done, at)) - EVEN / 2 * wide
    return max(
        abs((first + last) / 2 - half), (first - last - LONGER * EVEN * wide) / 2, foot - found - FOOT * wide
    )


def _softened(values: Row, width: float) -> Row:
    half = int(3 * width) + 1
    kernel = np.exp(-0.5 * (np.arange(-half, half + 1) / width) ** 2)
    beyond = np.clip(np.arange(-half, len(values) + half), 0, len(values) - 1)  # the ends go on as they are
    return np.asarray(np.convolve(values[beyond], kernel / kernel.sum(), "valid"))


def _crossings(levels: Row, offsets: Row, middle: float, wide: float, slack: float) -> Row:
    """For each place of a face where the contrast passes half-way, nearest to `middle`; not a number where it is
    not seen."""
    away = offsets - middle
    near, far = max(1.25, 0.85 * wide), max(2.6, 1.4 * wide)
    inside = levels[:, (away >= -far) & (away <= -near)]
    outside = levels[:, (away >= near) & (away <= far)]
    window = np.abs(away) <= max(2.0, 1.3 * wide) + slack
    if inside.shape[1] == 0 or outside.shape[1] == 0 or window.sum() < 3:
        return np.full(len(levels), math.nan)
    wood, ground = inside.mean(axis=1), outside.mean(axis=1)
    fall = wood - ground
    half = (wood + ground) / 2
    part, at = levels[:, window] - half[:, None], offsets[window]
    crosses = (part[:, :-1] > 0) & (part[:, 1:] <= 0)
    where = at[:-1] + (at[1:] - at[:-1]) * part[:, :-1] / np.where(crosses, part[:, :-1] - part[:, 1:], 1.0)
    distance = np.where(crosses, np.abs(where - middle), math.inf)
    best = np.argmin(distance, axis=1)
    found = np.where(crosses.any(axis=1), where[np.arange(len(where)), best], math.nan)
    found[
        ~(
            fall
            > LEAST_FALL
            * max(float(np.median(fall[np.isfinite(fall)])) if np.isfinite(fall).any() else 0.0, 1e-6)
        )
    ] = math.nan
    return found


def _steady_line(x: Row, y: Row) -> tuple[float, float]:
    """A line through most points, however far off the others are: the best through pairs, by its median distance."""
    rng = np.random.default_rng(len(x))
    i, j = rng.integers(len(x), size=(2, 200))
    apart = np.abs(x[i] - x[j]) > 0.3
    if not apart.any():
        return float(np.median(y)), 0.0
    i, j = i[apart], j[apart]
    slopes = (y[j] - y[i]) / (x[j] - x[i])
    at_zero = y[i] - slopes * x[i]
    off = np.abs(at_zero[:, None] + slopes[:, None] * x - y)
    best = int(np.argmin(np.quantile(off, 0.5, axis=1)))
    near = off[best] < max(2.5 * float(np.median(off[best])), 0.3)
    slope, zero = np.polyfit(x[near], y[near], 1) if near.sum() > 3 else (slopes[best], at_zero[best])
    return float(zero), float(slope)
