"""The wood's sides as a camera sees them from above, beside its sawn face.

A side that looks towards the camera adds a strip to the wood. How wide the strip is follows from geometry; how light it
is does not: with the light from one side it is nearly as light as the sawn face on one side of the slice, and dark on
the other. So the fall from wood to ground is compared with what strips of any lightness would give: a step from the
sawn face to the strip and one from the strip to the ground, both blurred alike.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.edge_points import EdgePoints, SectionFace
from drawerwright.joints.scan.pixels import Picture, Row

SIDE_LIGHT, SIDE_LIGHT_DOUBT = 0.6, 0.25
"""How light the wood's side is beside its sawn face, and the standard uncertainty of that before the picture tells it
(assumed): a side sees half of the sky that the face sees, and what is thrown back from around it."""
SPREAD_DOUBT = 0.12
"""Standard uncertainty of the blur at the slice beside that at the marks, as a share (assumed)."""
UNLIKE = 0.03
"""How far a fall lies off any such model, as a share of what parts wood from ground (assumed)."""
OTHERWISE = 0.05
"""How likely a ply or a glue line near the edge looks like the strip (assumed): then the geometry alone tells how wide
the strip is."""
BESIDE = 3.0
"""The fall is compared as far as so many times its blur beside it."""
LEAST_RISE = 0.003
"""A slice is no lower than this part of the camera's height."""
PLACE = 0.12
"""Places of the edge are tried so many pixels apart."""
SLACK = 0.1
"""By how many pixels the edge that was found may lie outside the strip, or inside the sawn face."""
STEPS = np.linspace(-2, 2, 5)
"""Standard deviations at which width and blur are tried."""


@dataclass(frozen=True, slots=True)
class SeenWalls:
    """The wood's sides as a camera sees them from above: those that look towards the point it stood over.

    `foot` is that point in pixels of the flattened picture; `rise`: the slice's height over the camera's, with the
    share of it that is in doubt; `foot_doubt` in pixels; `spread`: standard deviation of the blur (pixels).
    """

    foot: Row
    rise: float
    rise_doubt: float
    foot_doubt: float
    spread: float

    def from_corner(self, corner: Row) -> SeenWalls:
        """The same in a part of the picture that begins there."""
        return replace(self, foot=self.foot - corner)

    def by_scale(self, larger: float, share: float) -> SeenWalls:
        """The same with what the sawn face's own scale tells of how high it lies: it looks `larger` by such a factor
        than it would at the height that was thought of; `share`: the standard uncertainty of that."""
        told = 1 - (1 - self.rise) / larger
        weights = (self.rise * self.rise_doubt) ** -2, share**-2
        rise = max((weights[0] * self.rise + weights[1] * told) / sum(weights), LEAST_RISE)
        return replace(self, rise=rise, rise_doubt=sum(weights) ** -0.5 / rise)

    def shown(self, face: SectionFace) -> tuple[float, float]:
        """How wide the strip is that is seen of the side of a face, negative where it is hidden, and the standard
        uncertainty of that (pixels)."""
        wide = self.rise * float((self.foot - face.start) @ face.outward)
        return wide, math.hypot(self.rise * self.foot_doubt, wide * self.rise_doubt)

    def hides(self, face: SectionFace) -> bool:
        """Whether nothing of the side of a face is seen, as far as is known."""
        wide, unsure = self.shown(face)
        return wide < -2 * unsure

    def found(self, face: SectionFace) -> SectionFace:
        """Where such a face is looked for: at the edge of its side, as far as that is seen."""
        shown = max(self.shown(face)[0], 0.0)
        return replace(face, start=face.start + shown * face.outward, end=face.end + shown * face.outward)

    def without_side(self, seen: EdgePoints, picture: Picture, sought: SectionFace) -> EdgePoints:
        """The points of a face, found in a picture, without what its side adds to them; `sought`: where the face
        itself was thought to be."""
        if self.hides(sought) or len(seen.points) < 4:
            return seen
        wide, unsure = self.shown(sought)
        reach = max(wide + 2 * unsure, 0.0) + BESIDE * self.spread
        offsets = np.arange(-reach, reach + 0.01, 0.25)
        at = seen.points[:, None, :] + offsets[:, None] * seen.face.outward
        levels = pixels.sampled(picture, at[..., 0], at[..., 1])
        levels = levels[np.isfinite(levels).all(axis=1)]
        if len(levels) < 4:
            return seen
        added, doubt = side_added(np.median(levels, axis=0), offsets, wide, unsure, self.spread)
        # What makes the fall uneven is the strip first of all, and weighed with it.
        own = seen.unsure if wide <= 0 else 0.0
        return replace(seen, points=seen.points - added * seen.face.outward, unsure=math.hypot(own, doubt))


def side_added(fall: Row, offsets: Row, wide: float, unsure: float, spread: float) -> tuple[float, float]:
    """How far outside the sawn face's edge the place at offset 0 lies, and the standard uncertainty of that (pixels).

    Args:
        fall: contrast at each of the offsets, from wood outwards.
        wide: of the strip, with its standard uncertainty `unsure`.
        spread: standard deviation of the blur.
    """
    size = float(np.mean(fall[:4]) - np.mean(fall[-4:]))
    rows = fall / (size or 1.0)
    tried = []
    for blur_step in STEPS:
        blur = spread * math.exp(SPREAD_DOUBT * blur_step)
        for strip in sorted({max(wide + unsure * step, 0.0) for step in STEPS}):
            prior = (blur_step**2 + ((strip - wide) / max(unsure, 1e-9)) ** 2) / 2
            places, misfit = _places(rows, offsets, strip, blur, spread)
            is_outer = np.arange(len(places)) == int(np.argmin(np.abs(places - strip)))
            tried.append(np.column_stack([places, misfit, np.full(len(places), prior), is_outer]))
    added, misfits, priors, outer = np.concatenate(tried).T
    fitting, otherwise = np.exp(misfits.min() - misfits - priors), outer * np.exp(-priors)
    chance = min(OTHERWISE * (1 + 3 * unsure / spread), 0.5)
    weights = (1 - chance) * fitting / fitting.sum() + chance * otherwise / otherwise.sum()
    mean = float(weights @ added)
    return mean, math.sqrt(float(weights @ (added - mean) ** 2))


def _places(fall: Row, offsets: Row, strip: float, blur: float, spread: float) -> tuple[Row, Row]:
    """Places of the edge inside offset 0, and how badly the best lightness of the strip fits at each."""
    added = np.linspace(-SLACK, strip + SLACK, 3 + int((strip + 2 * SLACK) / PLACE))
    x = offsets + added[:, None]
    weight = (offsets[1] - offsets[0]) / spread / UNLIKE**2  # what the blur mixes is one observation
    # Ground, the sawn face's height over the strip, and the strip's over the ground.
    terms = np.stack([np.ones_like(x), _rest(x / blur), _rest((x - strip) / blur)], axis=-1)
    tie = np.array([0.0, -SIDE_LIGHT, 1 - SIDE_LIGHT]) / SIDE_LIGHT_DOUBT
    turned = terms.swapaxes(1, 2)
    normal = weight * turned @ terms + np.outer(tie, tie) + 1e-9 * np.eye(3)
    right = weight * turned @ fall
    levels = np.linalg.solve(normal, right[..., None])[..., 0]
    off = fall - (terms @ levels[..., None])[..., 0]
    misfit = (weight * (off**2).sum(axis=1) + (levels @ tie) ** 2) / 2
    return added, misfit


def _rest(place: Row) -> Row:
    """The part of a blurred step that lies beyond a place (in standard deviations)."""
    return np.asarray(0.5 * (1 - np.tanh(0.7978845608 * (place + 0.044715 * place**3))))
