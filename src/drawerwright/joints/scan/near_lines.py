"""Faces with a ply or a glue line close behind them, found where they are.

An edge is placed where the picture passes half-way from wood to ground. A glue line as near as the blur is wide, or a
ply of another lightness, changes what half-way is, all along a face that runs with the plies: by a third of a pixel at
times. But it changes the shape of the fall too, and how an undisturbed fall looks the piece's other faces show. So each
face's fall is compared with theirs, alone and with a line or a step at any depth behind it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.edge_points import EdgePoints
from drawerwright.joints.scan.pixels import Picture, Row

FACES = "ADSHGO"
"""Those that may run with the plies; the slanted one crosses them."""
INSIDE, OUTSIDE = 2.0, 2.2
"""Falls are compared as far as so many widths of the fall on either side."""
STRIDE = 0.125
"""At places so many widths apart."""
UNLIKE = 0.012
"""Standard uncertainty of an undisturbed fall beside the other faces', as a share of what parts wood from ground
(assumed)."""
PLAIN, LINED, DIRTY = 0.8, 0.18, 0.02
"""How likely a face has nothing near it that matters; has a line or another ply; is dirty or worn (assumed)."""
SHARPER = 0.08
"""Standard uncertainty of the logarithm of a face's sharpness beside the others' (assumed)."""
GROUND_DOUBT, WOOD_DOUBT, DIRT_DOUBT = 0.1, 0.2, 0.6
"""Standard uncertainties of the ground's contrast, of the wood's and of a ply's beside its neighbour, and of the same
where it is dirty (assumed)."""
LINE_DOUBT = 0.2
"""Of a line's darkness times its thickness, in widths of the fall (assumed)."""
LINE = 0.1
"""Half of a line's thickness, in widths of the fall (assumed)."""
PLACES = np.linspace(-0.75, 0.75, 37)
"""Where the edge may be beside the place half-way, in widths of the fall."""
DEPTHS = np.arange(0.0, 2.3, 0.125)
"""How deep a line may lie behind it."""
SHARPNESSES = (-1.5, 0.0, 1.5)
LEAST_POINTS = 12
EXPLAINED = 4.0
"""A fall that is more unlike all that is tried is explained by none of it."""


def without_near_lines(
    points: Mapping[str, EdgePoints], picture: Picture, blur: float
) -> dict[str, EdgePoints]:
    """The points of all faces, moved to where an undisturbed fall puts them.

    Args:
        points: of each face, found half-way; none beside which its side is seen, which gives the fall another shape.
        picture: contrast, 0 on the ground and about 1 on wood.
        blur: how many pixels a fall takes.
    """
    offsets = np.arange(-INSIDE, OUTSIDE + STRIDE / 2, STRIDE) * blur
    falls = {
        name: fall
        for name, seen in points.items()
        if name in FACES and (fall := _fall(seen, picture, offsets)) is not None
    }
    if len(falls) < 3:
        return dict(points)
    usual = _undisturbed(list(falls.values()), offsets, blur)
    found = dict(points)
    for name, fall in falls.items():
        seen = points[name]
        away, doubt, unlike = edge_beside(fall, offsets, usual, blur)
        unsure = doubt if unlike < EXPLAINED else max(doubt, seen.unsure)
        points_moved = seen.points + away * seen.face.outward
        found[name] = replace(seen, points=points_moved, unsure=unsure, unlike=unlike)
    return found


def _fall(seen: EdgePoints, picture: Picture, offsets: Row) -> Row | None:
    """The median contrast across a face; None where too little of it is seen."""
    if len(seen.points) < LEAST_POINTS:
        return None
    at = seen.points[:, None, :] + offsets[:, None] * seen.face.outward
    levels = pixels.sampled(picture, at[..., 0], at[..., 1])
    levels = levels[np.isfinite(levels).all(axis=1)]
    return np.median(levels, axis=0) if len(levels) >= LEAST_POINTS else None


def _undisturbed(falls: list[Row], offsets: Row, blur: float) -> Row:
    """How most of the faces fall, from 1 to 0 and half-way at offset 0."""
    scaled = []
    for fall in falls:
        low, high = float(np.mean(fall[offsets > 1.3 * blur])), float(np.median(fall[offsets < -1.3 * blur]))
        scaled.append((fall - low) / max(high - low, 0.05))
    usual = np.minimum.accumulate(np.clip(np.median(scaled, axis=0), 0, 1))
    usual = np.where(offsets < -1.6 * blur, 1.0, np.where(offsets > 1.6 * blur, 0.0, usual))
    middle = float(np.interp(0.5, usual[::-1], offsets[::-1]))
    return np.asarray(np.interp(offsets + middle, offsets, usual, 1.0, 0.0))


def edge_beside(fall: Row, offsets: Row, usual: Row, blur: float) -> tuple[float, float, float]:
    """How far outside offset 0 the edge lies, the standard uncertainty of that (pixels), and how unlike any such fall
    this one is: about 1 where it is one of them.

    Args:
        fall: contrast at each of the offsets, from wood outwards.
        usual: the same of an undisturbed face whose edge is at offset 0, from 1 to 0.
        blur: how many pixels the fall takes.
    """
    stride = float(offsets[1] - offsets[0])
    places, misfits, unlikely = [], [], []
    for sharpness in SHARPNESSES:
        stretch = math.exp(SHARPER * sharpness)
        for share, is_plain, wood_doubt in (
            (PLAIN, True, WOOD_DOUBT),
            (LINED, False, WOOD_DOUBT),
            (DIRTY, False, DIRT_DOUBT),
        ):
            place, terms = _terms(offsets, usual, blur, stretch, is_plain)
            doubts = np.array([GROUND_DOUBT, wood_doubt, LINE_DOUBT * blur, wood_doubt])[: terms.shape[-1]]
            misfit, room = _misfit(fall, terms, doubts, 2 * stride / blur / UNLIKE**2)
            places.append(place)
            misfits.append(misfit)
            unlikely.append(room + sharpness**2 / 2 - math.log(share / len(place)))
    away, misfit = np.concatenate(places), np.concatenate(misfits)
    # A fall that is like none of these tells the less of where the edge is.
    unlike = float(misfit.min()) / (INSIDE + OUTSIDE)
    misfit /= max(1.0, unlike)
    misfit += np.concatenate(unlikely)
    weights = np.exp(misfit.min() - misfit)
    weights /= weights.sum()
    mean = float(weights @ away)
    apart = float(PLACES[1] - PLACES[0]) * blur
    return mean, math.hypot(math.sqrt(float(weights @ (away - mean) ** 2)), apart / 2), unlike


def _terms(offsets: Row, usual: Row, blur: float, stretch: float, is_plain: bool) -> tuple[Row, Row]:
    """Places of the edge, and what makes up a fall at each: ground, wood, and unless it is plain a line and a step
    behind the edge."""

    def step(away: Row) -> Row:
        return np.asarray(np.interp(away / stretch, offsets, usual, 1.0, 0.0))

    place = PLACES * blur
    if is_plain:
        away = offsets - place[:, None]
        return place, np.stack([np.ones_like(away), step(away)], axis=-1)
    place, depth = (side.ravel() for side in np.meshgrid(place, DEPTHS * blur, indexing="ij"))
    away = offsets - place[:, None]
    behind, half = away + depth[:, None], LINE * blur
    line = (step(behind - half) - step(behind + half)) / (2 * half)
    return place, np.stack([np.ones_like(away), step(away), line, step(behind)], axis=-1)


def _misfit(fall: Row, terms: Row, doubts: Row, weight: float) -> tuple[Row, Row]:
    """How badly the best amounts fit at each place, and how little room they leave: together minus the logarithm of
    what is called the evidence."""
    tie = 1 / doubts**2
    wish = np.zeros(len(doubts))
    wish[1] = 1.0
    turned = terms.swapaxes(1, 2)
    normal = weight * turned @ terms + np.diag(tie)
    right = weight * turned @ fall + tie * wish
    amounts = np.linalg.solve(normal, right[..., None])[..., 0]
    off = fall - (terms @ amounts[..., None])[..., 0]
    told = (weight * (off**2).sum(axis=1) + (((amounts - wish) / doubts) ** 2).sum(axis=1)) / 2
    return told, np.asarray(np.linalg.slogdet(normal / tie)[1] / 2)
