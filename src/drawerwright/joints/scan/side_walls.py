"""The wood's sides as a camera sees them from above, beside its sawn face.

A side that looks towards the camera adds a strip to the wood. How wide the strip is follows from geometry; how light it
is does not: with the light from one side it is nearly as light as the sawn face on one side of the slice, and dark on
the other. So the fall from wood to ground is compared with what strips of any lightness would give: a step from the
sawn face to the strip and one from the strip to the ground, both blurred alike.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.camera import Stand
from drawerwright.joints.scan.edge_points import EdgePoints, SectionFace
from drawerwright.joints.scan.pixels import Picture, Row

SIDE_LIGHT, SIDE_LIGHT_DOUBT = 0.6, 0.25
"""How light the wood's side is beside its sawn face, and the standard uncertainty of that before the picture tells it
(assumed): a side sees half of the sky that the face sees, and what is thrown back from around it."""
SPREAD_DOUBT = 0.12
"""Standard uncertainty of the blur at the slice beside that at the marks, as a share (assumed)."""
UNLIKE = 0.025
"""How far a fall lies off any such model, as a share of what parts wood from ground (assumed)."""
OTHERWISE = 0.005
"""How likely a ply or a glue line near the edge looks like the strip (assumed): then the geometry alone tells how wide
the strip is."""
BESIDE = 3.0
"""The fall is compared as far as so many times its blur beside it."""
PLACE = 0.12
"""Places of the edge are tried so many pixels apart."""
LINED, PLY_DOUBT, LINE_DOUBT = 0.4, 0.2, 0.4
"""How likely another ply or a glue line lies as near behind the edge as the fall is compared; the standard uncertainty
of that ply's contrast, and of the line's darkness times its thickness, in standard deviations of the blur (assumed)."""
LINE = 0.2
"""Half of a line's thickness, in the same."""
LEAST_DEPTH, LINE_STEP = 0.5, 0.5
"""How deep behind the edge it lies at least, and how far apart its places are tried, in the same."""
SLACK = 0.1
"""By how many pixels the edge that was found may lie outside the strip, or inside the sawn face."""
STEPS = np.linspace(-1.5, 1.5, 3)
"""Standard deviations at which the blur is tried."""
WIDTHS = 12
"""At most so many widths of a strip are tried, and what lies between them is reckoned."""
TRIED = 3000
"""So many places of the camera and heights of the slice are tried."""
LEAST_HEIGHT: Mm = 0.5


def seen_walls(
    stands: Sequence[Stand], height: Estimate, rise: float, to_pixels: tuple[Row, Row], spread: float
) -> SeenWalls:
    """What is seen of the sides of a slice.

    Args:
        stands: where the camera may have stood, with lenses from short to long.
        height: of the slice (mm).
        rise: the height over the camera's by which the picture was flattened.
        to_pixels: start and scale (two numbers each) from mm on the sheet to pixels of the flattened picture.
        spread: standard deviation of the blur (pixels).
    """
    lens, *steps = _evenly(TRIED, 4)
    # One in each so much of what may be; the likelihood of a lens is reckoned between those that were tried.
    at = lens * (len(stands) - 1)
    known = np.arange(len(stands))
    roots = [np.linalg.cholesky(one.spread + 1e-9 * np.eye(2)) for one in stands]
    x, y, z = (np.interp(at, known, [one.place[axis] for one in stands]) for axis in range(3))
    chance = np.exp(np.interp(at, known, [math.log(max(one.chance, 1e-12)) for one in stands]))
    normal = np.vectorize(NormalDist().inv_cdf)
    across, up, high = (normal(step) for step in steps)
    root = [[np.interp(at, known, [one[i, j] for one in roots]) for j in range(2)] for i in range(2)]
    feet = np.column_stack([x + root[0][0] * across, y + root[1][0] * across + root[1][1] * up])
    heights = np.maximum(height.value + height.uncertainty * high, LEAST_HEIGHT)
    start, scale = to_pixels
    return SeenWalls(start + scale * feet, heights / z, chance / chance.sum(), rise, spread)


def _evenly(count: int, sides: int) -> Row:
    """Points that fill a cube of so many sides evenly (M. Roberts 2018; from memory)."""
    golden = 1.5
    for _ in range(40):
        golden = (1 + golden) ** (1 / (sides + 1))
    steps = golden ** -np.arange(1.0, sides + 1)
    return np.asarray((0.5 + steps[:, None] * np.arange(1, count + 1)) % 1.0)


@dataclass(frozen=True, slots=True)
class SeenWalls:
    """The wood's sides as a camera sees them from above: those that look towards the point it stood over.

    `feet` are points that it may have stood over, in pixels of the flattened picture; `rises`: with each of them, the
    slice's height over the camera's; `chance`: how likely each is. `rise` is the one that the picture was flattened by;
    `spread`: standard deviation of the blur (pixels).
    """

    feet: Row
    rises: Row
    chance: Row
    rise: float
    spread: float

    def from_corner(self, corner: Row) -> SeenWalls:
        """The same in a part of the picture that begins there."""
        return replace(self, feet=self.feet - corner)

    def by_scale(self, larger: float, share: float) -> SeenWalls:
        """The same with what the sawn face's own scale tells of how high it lies: it looks `larger` by such a factor
        than it would at the height that was thought of; `share`: the standard uncertainty of that."""
        off = (1 - self.rises) * larger / (1 - self.rise) - 1
        likely = self.chance * np.exp(-np.minimum((off / share) ** 2 / 2, 30.0))
        return replace(self, chance=likely / likely.sum())

    def shown(self, face: SectionFace) -> tuple[float, float]:
        """How wide the strip is that is seen of the side of a face, negative where it is hidden, and the standard
        uncertainty of that (pixels)."""
        wide = self._wide(face)
        mean = float(self.chance @ wide)
        return mean, math.sqrt(float(self.chance @ (wide - mean) ** 2))

    def _wide(self, face: SectionFace) -> Row:
        return np.asarray(self.rises * ((self.feet - face.start) @ face.outward))

    def hides(self, face: SectionFace) -> bool:
        """Whether nothing of the side of a face is seen, as far as is known."""
        wide, unsure = self.shown(face)
        return wide < -2 * unsure

    def found(self, face: SectionFace) -> SectionFace:
        """Where such a face is looked for: at the edge of its side, as far as that is seen."""
        shown = max(self.shown(face)[0], 0.0)
        return replace(face, start=face.start + shown * face.outward, end=face.end + shown * face.outward)

    def without_sides(
        self, seen: Mapping[str, EdgePoints], picture: Picture, sought: Mapping[str, SectionFace]
    ) -> dict[str, EdgePoints]:
        """The points of faces, found in a picture, without what their sides add to them.

        All sides are seen from one place: what a strip that is plain to see tells of it holds for all of them.
        `sought`: where each face itself was thought to be.
        """
        chance = self.chance.copy()
        told = {}
        for name, found in seen.items():
            face = sought[name]
            if self.hides(face) or len(found.points) < 4:
                continue
            wide, unsure = self.shown(face)
            strips = np.maximum(self._wide(face), 0.0)
            fall = self._fall(found, picture, max(wide + 2 * unsure, 0.0) + BESIDE * self.spread)
            if fall is not None:
                side = _side_told(*fall, strips, self.chance, unsure, self.spread)
                told[name] = side
                chance *= side.likely
        chance /= chance.sum()
        return {
            name: self._moved(found, told.get(name), chance, sought[name]) for name, found in seen.items()
        }

    def _fall(self, seen: EdgePoints, picture: Picture, reach: float) -> tuple[Row, Row] | None:
        """The median contrast across a face, and how far out each of its places is."""
        offsets = np.arange(-reach, reach + 0.01, 0.25)
        at = seen.points[:, None, :] + offsets[:, None] * seen.face.outward
        levels = pixels.sampled(picture, at[..., 0], at[..., 1])
        levels = levels[np.isfinite(levels).all(axis=1)]
        return (np.median(levels, axis=0), offsets) if len(levels) >= 4 else None

    def _moved(
        self, seen: EdgePoints, side: _SideTold | None, chance: Row, sought: SectionFace
    ) -> EdgePoints:
        if side is None:
            return seen
        added = float(chance @ side.added)
        doubt = math.sqrt(float(chance @ (side.scatter + (side.added - added) ** 2)))
        # What makes the fall uneven is the strip first of all, and weighed with it.
        own = seen.unsure if self.shown(sought)[0] <= 0 else 0.0
        return replace(seen, points=seen.points - added * seen.face.outward, unsure=math.hypot(own, doubt))


@dataclass(frozen=True, slots=True)
class _SideTold:
    """What the fall beside one face says at each place that the camera may have stood over: how likely that place is,
    how far outside the sawn face's edge the fall's middle lies there, and the square of that's uncertainty (pixels)."""

    likely: Row
    added: Row
    scatter: Row


def side_added(fall: Row, offsets: Row, wide: float, unsure: float, spread: float) -> tuple[float, float]:
    """How far outside the sawn face's edge the place at offset 0 lies, and the standard uncertainty of that (pixels).

    Args:
        fall: contrast at each of the offsets, from wood outwards.
        wide: of the strip, with its standard uncertainty `unsure`.
        spread: standard deviation of the blur.
    """
    steps = np.linspace(-2.5, 2.5, 21)
    prior = np.exp(-(steps**2) / 2)
    prior /= prior.sum()
    told = _side_told(fall, offsets, np.maximum(wide + unsure * steps, 0.0), prior, unsure, spread)
    chance = prior * told.likely / float(prior @ told.likely)
    mean = float(chance @ told.added)
    return mean, math.sqrt(float(chance @ (told.scatter + (told.added - mean) ** 2)))


def _side_told(fall: Row, offsets: Row, strips: Row, prior: Row, unsure: float, spread: float) -> _SideTold:
    """What a fall says where the strip may be as wide as any of `strips`, each as likely as `prior` says before."""
    size = float(np.mean(fall[:4]) - np.mean(fall[-4:]))
    rows = fall / (size or 1.0)
    least, most = float(strips.min()), float(strips.max())
    tried = np.linspace(least, most, max(2, min(WIDTHS, 2 + int((most - least) / PLACE))))
    evidence, means, squares = (np.empty(len(tried)) for _ in range(3))
    for number, strip in enumerate(tried):
        found = []
        for blur_step in STEPS:
            places, misfit = _places(
                rows, offsets, float(strip), spread * math.exp(SPREAD_DOUBT * blur_step), spread
            )
            found.append(np.column_stack([places, misfit + blur_step**2 / 2]))
        places, misfit = np.concatenate(found).T
        best = float(misfit.min())
        weights = np.exp(best - misfit)
        evidence[number] = math.log(float(weights.sum())) - best
        weights /= weights.sum()
        means[number] = float(weights @ places)
        squares[number] = float(weights @ (places - means[number]) ** 2)
    evidence, means, squares = (np.interp(strips, tried, of) for of in (evidence, means, squares))
    fits = np.exp(evidence - evidence.max())
    fits /= float(prior @ fits)
    # A ply or a glue line may look like the strip; then the edge that was found is the strip's.
    chance = min(OTHERWISE * (1 + 3 * unsure / spread), 0.5)
    likely = (1 - chance) * fits + chance
    share = (1 - chance) * fits / likely
    added = share * means + (1 - share) * strips
    scatter = share * (squares + (means - added) ** 2) + (1 - share) * (strips - added) ** 2
    return _SideTold(likely, added, scatter)


def _places(fall: Row, offsets: Row, strip: float, blur: float, spread: float) -> tuple[Row, Row]:
    """Places of the edge inside offset 0, and how badly a strip of the best lightness fits at each: with even wood
    behind the edge, and with another ply and a glue line at any depth."""
    added = np.linspace(-SLACK, strip + SLACK, 3 + int((strip + 2 * SLACK) / PLACE))
    weight = (offsets[1] - offsets[0]) / spread / UNLIKE**2  # what the blur mixes is one observation
    x = offsets + added[:, None]
    # Ground, the sawn face's height over the strip, and the strip's over the ground.
    even = np.stack([np.ones_like(x), _rest(x / blur), _rest((x - strip) / blur)], axis=-1)
    tie = np.array([0.0, -SIDE_LIGHT, 1 - SIDE_LIGHT]) / SIDE_LIGHT_DOUBT
    turned = even.swapaxes(1, 2)
    normal = weight * turned @ even + np.outer(tie, tie) + 1e-9 * np.eye(3)
    right, whole = weight * turned @ fall, weight * float(fall @ fall)
    plain = _misfit(normal, right, whole) - math.log(1 - LINED)
    lines = np.arange(float(offsets[0]) + spread, 0.0, LINE_STEP * spread)
    if not len(lines):
        return added, plain
    behind = offsets - lines[:, None]
    half = LINE * spread
    thin = (_rest((behind - half) / blur) - _rest((behind + half) / blur)) / (2 * half)
    other = np.stack([_rest(behind / blur), thin], axis=-1)
    doubts = np.array([PLY_DOUBT, LINE_DOUBT * spread])
    count = (len(added), len(lines))
    both = np.empty((*count, 5, 5))
    both[..., :3, :3] = normal[:, None]
    both[..., 3:, 3:] = weight * other.swapaxes(1, 2) @ other + np.diag(doubts**-2)
    crossed = weight * np.tensordot(turned, other, axes=(2, 1)).swapaxes(1, 2)
    both[..., :3, 3:] = crossed
    both[..., 3:, :3] = crossed.swapaxes(2, 3)
    sides = np.empty((*count, 5))
    sides[..., :3] = right[:, None]
    sides[..., 3:] = weight * other.swapaxes(1, 2) @ fall
    lined = _misfit(both, sides, whole) + float(np.log(doubts).sum()) - math.log(LINED / len(lines))
    lined[-added[:, None] - LEAST_DEPTH * spread < lines] = math.inf  # not behind the edge
    return np.concatenate([added, np.repeat(added, len(lines))]), np.concatenate([plain, lined.ravel()])


def _misfit(normal: Row, right: Row, whole: float) -> Row:
    """Minus the logarithm of how likely a fall is with any amounts of what it is made of, up to a constant; from the
    normal equations, `whole` being the fall's own square."""
    amounts = np.linalg.solve(normal, right[..., None])[..., 0]
    return np.asarray((whole - (right * amounts).sum(axis=-1) + np.linalg.slogdet(normal)[1]) / 2)


def _rest(place: Row) -> Row:
    """The part of a blurred step that lies beyond a place (in standard deviations)."""
    return np.asarray(0.5 * (1 - np.tanh(0.7978845608 * (place + 0.044715 * place**3))))
