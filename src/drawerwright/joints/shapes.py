"""A point-symmetric shape through scattered readings of a profile, and what is left over it.

Readings lie at arbitrary depths, so that one side of a profile has seldom been read exactly opposite the
other. Pairing them by straight lines between neighbours blurs every corner of the profile. Here a shape that
is symmetric by construction is fitted instead: its odd half is a chain of straight pieces, as many as the
readings ask for (Bayesian information criterion, G. Schwarz 1978; from memory). A smooth slope between level ends is
tried as such; other curves come out as a few chords, and as both halves share them, the middle does not suffer.

    c(m + u) = d / 2 + sign(u) g(|u|)           u = depth from the middle, g(0) = 0

Which chain it was, the readings do not say for certain either: middle and step are means over all chains that
explain them, of one count of pieces (`drawerwright.joints.chain`) and of neighbouring counts by their weight.

Whatever is even in u cannot be explained so. `even_part` finds it in the left-over (Gaussian process, as in
Rasmussen and Williams 2006, chapter 2; from memory): it is half of what two pieces leave open between them.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.joints.chain import SMALLEST_KNOT, Chain, Curve, Ends, Form, draw, least_squares
from drawerwright.joints.profile import Point

Row: TypeAlias = NDArray[np.float64]

MOST_PIECES = 5
MOST_STARTS = 10
WIDTH_IN_READINGS = 1.2
"""Pieces other than the one through the middle are at least this many readings wide: a zigzag that threads
the readings of both sides in turn would be symmetric whatever they are."""
SLACK = 0.8
"""The pieces that a search finds may shrink to this share of their least width."""
IN_DOUBT = 8.0
"""Shapes whose criterion is worse than the best one's by no more than this (a weight of 1 to 55) all count."""
MOST_SHAPES = 3
"""So many shapes are weighed at most."""
UNUSUAL = 8.0
"""How much better (in Schwarz's criterion) a shape must be that has no level tooth at the largest radius."""
PLAUSIBLE = 3.3
"""A shape holds if its misfit lies within this many standard deviations of what scatter makes (99.95 %)."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A fitted point-symmetric shape (mm): its middle, its step, their covariance and what it leaves over.

    Middle and step are means over all shapes that explain the readings; `corners` and `left_over` are those of
    the likeliest.
    """

    mid_depth: Mm
    step: Mm
    covariance: Row
    left_over: Row
    misfit: float
    freedom: int
    corners: tuple[Point, ...]
    """The likeliest shape with its middle and step put where they are said to be, from the first reading to the
    last; empty for one with open ends."""

    @property
    def holds(self) -> bool:
        """Whether the readings scatter about the shape as their uncertainty says."""
        return self.misfit <= self.freedom + PLAUSIBLE * math.sqrt(2 * max(self.freedom, 1))


@dataclass(frozen=True, slots=True)
class Readings:
    """Depths, insets and their standard uncertainty (mm).

    `half` is how far from the middle a reading takes part; None means all do.
    """

    depths: Row
    insets: Row
    uncertainty: Mm
    half: Mm | None = None

    @property
    def piece(self) -> Mm:
        """Least width of a piece."""
        spacing = float(self.depths[-1] - self.depths[0]) / (len(self.depths) - 1)
        return max(SMALLEST_KNOT, WIDTH_IN_READINGS * spacing)

    def part(self, mid_depth: Mm) -> NDArray[np.bool_]:
        """Which readings take part when the middle lies here."""
        if self.half is None:
            return np.ones(len(self.depths), dtype=bool)
        return np.asarray(np.abs(self.depths - mid_depth) <= self.half)


def fit_shape(readings: Readings, middles: Sequence[Mm], seed: int = 1) -> Shape | None:
    """The point-symmetric shape that explains the readings with the fewest pieces.

    Args:
        readings: at least five.
        middles: mid depths to begin from, close together (mm).
        seed: of the draws; the same seed gives the same answer.

    Returns:
        None if no shape could be fitted at all.
    """
    starts = []
    for middle in middles:
        starts += [(score, middle, knots) for score, knots in _chains(readings, middle)]
    starts.sort(key=lambda start: start[0])
    single = _single_slope(readings, middles)
    found: list[_Candidate | None] = []
    if single is not None:
        found.append(_polished(readings, single[0], (single[1],), Ends.FLAT))
        curve = Curve()
        found.append(_fitted(readings, curve, single[0], curve.begin(single[0], single[2], single[1])))
    tried: list[tuple[Mm, int]] = []
    for _, middle, knots in starts:
        if any(abs(middle - other) < 0.3 and len(knots) == count for other, count in tried):
            continue
        tried.append((middle, len(knots)))
        found += [_polished(readings, middle, knots, ends) for ends in Ends]
        if len(tried) == MOST_STARTS:
            break
    ranked = sorted((one for one in found if one is not None), key=lambda one: one.score)
    return _weighed(readings, ranked, np.random.default_rng(seed)) if ranked else None


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A chain that a search has found: its parameters, the middle whose readings it was fitted to, its score."""

    chain: Form
    x: Row
    begun_at: Mm
    score: float

    def readings(self, readings: Readings) -> tuple[Row, Row]:
        part = readings.part(self.begun_at)
        return readings.depths[part], readings.insets[part]


def _kind(form: Form) -> tuple[type, int, Ends]:
    return type(form), form.count, form.ends


def _weighed(readings: Readings, ranked: Sequence[_Candidate], rng: np.random.Generator) -> Shape:
    """Middle and step over the shapes that nearly tie with the best, each by its weight."""
    best, rivals = ranked[0], [ranked[0]]
    for other in ranked[1:]:
        kinds = [_kind(one.chain) for one in rivals]
        is_rival = other.score <= best.score + IN_DOUBT and _kind(other.chain) not in kinds
        # A middle elsewhere is another answer, not doubt about this one.
        if is_rival and abs(other.x[0] - best.x[0]) < 0.5 and len(rivals) < MOST_SHAPES:
            rivals.append(other)
    drawn = [draw(one.chain, *one.readings(readings), readings.uncertainty, one.x, rng) for one in rivals]
    weights = np.exp([(best.score - one.score) / 2 for one in rivals])
    weights /= weights.sum()
    mean = np.sum([w * one.measures.mean(axis=0) for w, one in zip(weights, drawn, strict=True)], axis=0)
    covariance = np.zeros((2, 2))
    for weight, one in zip(weights, drawn, strict=True):
        off = one.measures - mean
        covariance += weight * (off.T @ off) / len(off)
    z, _ = best.readings(readings)
    likeliest = drawn[0].best
    if not np.any(np.abs(z - likeliest[0]) < likeliest[2]):
        # Nothing was read on the slope, perhaps a ledge: it may be anywhere between its neighbours.
        below = int(np.clip(np.searchsorted(z, likeliest[0]), 1, len(z) - 1))
        covariance[0, 0] = max(covariance[0, 0], (z[below] - z[below - 1]) ** 2 / 12)
    centred = likeliest.copy()
    centred[:2] = mean
    return Shape(
        mid_depth=float(mean[0]),
        step=float(mean[1]),
        covariance=covariance,
        left_over=readings.insets - best.chain.insets(readings.depths, likeliest),
        misfit=drawn[0].misfit,
        freedom=len(z) - len(likeliest),
        corners=()
        if best.chain.ends is Ends.OPEN
        else best.chain.corners(centred, float(z[0]), float(z[-1])),
    )


def _score(misfit: float, outside: int, pieces: int, count: int) -> float:
    """Schwarz's criterion. A knot beyond the first is charged as one more piece, because its place was searched
    for among many; a reading that takes no part counts as if it scattered as expected."""
    return misfit + outside + pieces * math.log(count)


def _single_slope(readings: Readings, middles: Sequence[Mm]) -> tuple[Mm, Mm, Mm] | None:
    """Middle, half the rise and step of the tooth, slope and neck that fit best on a grid: the commonest profile,
    and one whose steep slopes no local search finds."""
    if readings.half is not None or not middles:
        return None
    c = readings.insets
    near = np.unique(np.concatenate([np.asarray(middles), np.asarray(middles) + 0.05]))
    best = (math.inf, 0.0, 0.0, 0.0)
    for rise in np.geomspace(0.03, 3.0, 24):
        share = 0.5 + 0.5 * np.clip((readings.depths - near[:, None]) / rise, -1, 1)
        step = (share @ c) / np.maximum((share**2).sum(axis=1), 1e-9)
        misfits = c @ c - step * (share @ c)
        index = int(np.argmin(misfits))
        best = min(best, (float(misfits[index]), float(near[index]), float(rise), float(step[index])))
    return best[1], best[2], best[3]


def _chains(readings: Readings, middle: Mm) -> list[tuple[float, tuple[Mm, ...]]]:
    """Knots of odd chains about one middle, found by adding the one that explains most, with their scores."""
    part = readings.part(middle)
    count = int(part.sum())
    if count < 5:
        return []
    u = readings.depths[part] - middle
    reach = float(np.abs(u).max())
    places = np.concatenate(
        ([SMALLEST_KNOT, 0.06], np.linspace(0.12, 1, 12), np.linspace(1.15, max(reach, 1.3), 30))
    )
    places = places[places < 0.97 * reach]
    rest = readings.insets[part] / readings.uncertainty
    columns = np.sign(u)[:, None] * np.maximum(np.abs(u)[:, None] - places, 0.0)
    for base in (np.ones_like(u), u - u.mean()):
        unit = base / np.linalg.norm(base)
        rest = rest - unit * (unit @ rest)
        columns = columns - np.outer(unit, unit @ columns)
    found: list[tuple[float, tuple[Mm, ...]]] = []
    knots: list[Mm] = []
    outside = len(part) - count
    width = readings.piece
    for _ in range(MOST_PIECES):
        lengths = np.linalg.norm(columns, axis=0)
        gain = np.where(lengths > 1e-6, np.abs(rest @ columns) / np.maximum(lengths, 1e-6), 0.0)
        pick = int(np.argmax(gain))
        if gain[pick] <= 0:
            break
        unit = columns[:, pick] / lengths[pick]
        rest = rest - unit * (unit @ rest)
        columns = columns - np.outer(unit, unit @ columns)
        knots.append(float(places[pick]))
        columns[:, np.abs(places - places[pick]) < width] = 0.0
        score = _score(float(rest @ rest), outside, 2 + 3 * len(knots), len(part))
        found.append((score, tuple(sorted(knots))))
    return found


def _polished(readings: Readings, middle: Mm, knots: tuple[Mm, ...], ends: Ends) -> _Candidate | None:
    """The chain that fits best, begun from a rough one."""
    part = readings.part(middle)
    z, c = readings.depths[part], readings.insets[part]
    chain = Chain(len(knots), ends, SLACK * readings.piece)
    return _fitted(readings, chain, middle, chain.begin(z, c, middle, np.array(knots)))


def _fitted(readings: Readings, chain: Form, middle: Mm, start: Row) -> _Candidate | None:
    """The shape of a family that fits best, begun from `start`; None if it runs away."""
    part = readings.part(middle)
    z, c = readings.depths[part], readings.insets[part]
    result = least_squares(chain, z, c, start)
    if result is None:
        return None
    x, misfit = result
    if len(z) - len(x) < 1 or abs(x[0] - middle) > 1.0 or not chain.is_proper(x):
        return None
    outside = len(part) - len(z)
    score = _score(misfit / readings.uncertainty**2, outside, len(x) + chain.count - 1, len(part))
    return _Candidate(chain, x, middle, score + (0.0 if chain.ends is Ends.FLAT else UNUSUAL))


@dataclass(frozen=True, slots=True)
class EvenPart:
    """What no point-symmetric shape explains: its mean at some distances from the middle, and draws of it."""

    away: Row
    mean: Row
    draws: Row


def even_part(
    away: Row, left_over: Row, uncertainty: Mm, half: Mm, *, places: int = 61, draws: int = 300, seed: int = 1
) -> EvenPart:
    """The even part of what a shape leaves over, told from scatter.

    Args:
        away: signed distances of the readings from the middle (mm).
        left_over: readings less the shape (mm).
        uncertainty: standard uncertainty of a reading (mm).
        half: up to which distance the even part is wanted (mm).
        places: at how many distances.
        draws: how many possible even parts to draw.
        seed: of the draws.
    """
    where = np.linspace(0.0, half, places)
    noise = np.eye(len(away)) * uncertainty**2

    def kernel(a: Row, b: Row, length: Mm, sign: float) -> Row:
        near = np.exp(-0.5 * ((a[:, None] - b) / length) ** 2)
        far = np.exp(-0.5 * ((a[:, None] + b) / length) ** 2)
        return np.asarray((near + sign * far) / 2)

    best: tuple[float, float, float] | None = None
    for size, length in itertools.product((0.0, 1.0, 2.5, 6.0, 15.0, 40.0), (half / 3, half / 8, half / 16)):
        scale = (size * uncertainty) ** 2
        both = scale * (kernel(away, away, length, 1.0) + kernel(away, away, length, -1.0))
        factor = np.linalg.cholesky(both + noise)
        white = np.linalg.solve(factor, left_over)
        # Something must speak for itself before it counts: three units of log likelihood.
        likelihood = -0.5 * float(white @ white) - float(np.log(np.diag(factor)).sum()) - 3.0 * (size > 0)
        if best is None or likelihood > best[0] + 1e-9:
            best = (likelihood, scale, length)
    assert best is not None
    _, scale, length = best
    # What was not seen may still be there: as large as a reading's uncertainty.
    prior = max(scale, uncertainty**2)
    total = prior * (kernel(away, away, length, 1.0) + kernel(away, away, length, -1.0)) + noise
    across = prior * kernel(where, away, length, 1.0)
    gain = np.linalg.solve(total, across.T).T
    mean = gain @ left_over if scale > 0 else np.zeros(places)
    spread = prior * kernel(where, where, length, 1.0) - gain @ across.T
    values, vectors = np.linalg.eigh((spread + spread.T) / 2)
    root = vectors * np.sqrt(np.maximum(values, 0.0))
    rng = np.random.default_rng(seed)
    return EvenPart(where, np.asarray(mean), mean + rng.standard_normal((draws, places)) @ root.T)
