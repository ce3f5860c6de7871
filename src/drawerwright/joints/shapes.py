"""A point-symmetric shape through scattered readings of a profile, and what is left over it.

Readings lie at arbitrary depths, so that one side of a profile has seldom been read exactly opposite the
other. Pairing them by straight lines between neighbours blurs every corner of the profile. Here a shape that
is symmetric by construction is fitted instead: its odd half is a chain of straight pieces, as many as the
readings ask for (Bayesian information criterion, G. Schwarz 1978; from memory). Curves come out as a few
chords, and as both halves share them, the middle does not suffer.

    c(m + u) = d / 2 + sign(u) g(|u|)           u = depth from the middle, g(0) = 0

Whatever is even in u cannot be explained so. `even_part` finds it in the left-over (Gaussian process, as in
Rasmussen and Williams 2006, chapter 2; from memory): it is half of what two pieces leave open between them.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.joints.profile import Point

Row: TypeAlias = NDArray[np.float64]

MOST_PIECES = 5
MOST_STARTS = 10
SMALLEST_KNOT: Mm = 0.02
"""No piece is shorter than this: a ledge is a steep piece."""
WIDTH_IN_READINGS = 1.2
"""Pieces other than the one through the middle are at least this many readings wide: a zigzag that threads
the readings of both sides in turn would be symmetric whatever they are."""
FEW_ON_SLOPE = 2
"""With so few readings on the slope through the middle, its angle is hardly known."""
UNUSUAL = 8.0
"""How much better (in Schwarz's criterion) a shape must be that has no level tooth at the largest radius."""
PLAUSIBLE = 3.3
"""A shape holds if its misfit lies within this many standard deviations of what scatter makes (99.95 %)."""


class Ends(StrEnum):
    """What is known of the shape beyond its last knot."""

    FLAT = "flat"
    """Level, above at the largest radius and below at the step: a tooth and a neck."""
    LIFTED = "lifted"
    """The same, but the readings were not counted from the largest radius."""
    OPEN = "open"
    """It goes on as it likes."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A fitted point-symmetric shape (mm): its middle, its step, their covariance and what it leaves over."""

    mid_depth: Mm
    step: Mm
    covariance: Row
    left_over: Row
    misfit: float
    freedom: int
    corners: tuple[Point, ...]
    """The shape itself, from the first reading to the last; empty for one with open ends."""

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


def fit_shape(readings: Readings, middles: Sequence[Mm]) -> Shape | None:
    """The point-symmetric shape that explains the readings with the fewest pieces.

    Args:
        readings: at least five.
        middles: mid depths to begin from, close together (mm).

    Returns:
        None if no shape could be fitted at all.
    """
    starts = []
    for middle in middles:
        starts += [(score, middle, knots) for score, knots in _chains(readings, middle)]
    starts.sort(key=lambda start: start[0])
    single = _single_slope(readings, middles)
    best = None if single is None else _polished(readings, single[0], (single[1],), Ends.FLAT)
    tried: list[tuple[Mm, int]] = []
    for _, middle, knots in starts:
        if any(abs(middle - other) < 0.3 and len(knots) == count for other, count in tried):
            continue
        tried.append((middle, len(knots)))
        for ends in Ends:
            found = _polished(readings, middle, knots, ends)
            if found is not None and (best is None or found[0] < best[0]):
                best = found
        if len(tried) == MOST_STARTS:
            break
    return None if best is None else best[1]


def _score(misfit: float, outside: int, pieces: int, count: int) -> float:
    """Schwarz's criterion. A knot beyond the first is charged as one more piece, because its place was searched
    for among many; a reading that takes no part counts as if it scattered as expected."""
    return misfit + outside + pieces * math.log(count)


def _single_slope(readings: Readings, middles: Sequence[Mm]) -> tuple[Mm, Mm] | None:
    """Middle and half the rise of the tooth, slope and neck that fit best on a grid: the commonest profile,
    and one whose steep slopes no local search finds."""
    if readings.half is not None or not middles:
        return None
    c = readings.insets
    near = np.unique(np.concatenate([np.asarray(middles), np.asarray(middles) + 0.05]))
    best = (math.inf, 0.0, 0.0)
    for rise in np.geomspace(0.03, 3.0, 24):
        share = 0.5 + 0.5 * np.clip((readings.depths - near[:, None]) / rise, -1, 1)
        step = (share @ c) / np.maximum((share**2).sum(axis=1), 1e-9)
        misfits = c @ c - step * (share @ c)
        index = int(np.argmin(misfits))
        best = min(best, (float(misfits[index]), float(near[index]), float(rise)))
    return best[1], best[2]


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


def _polished(
    readings: Readings, middle: Mm, knots: tuple[Mm, ...], ends: Ends
) -> tuple[float, Shape] | None:
    """Middle, knots and levels that fit best, begun from rough ones; and the score."""
    part = readings.part(middle)
    z, c = readings.depths[part], readings.insets[part]
    count = len(knots)
    chain = _Chain(count, ends)
    x = chain.begin(z, c, middle, np.array(knots))
    result = _least_squares(lambda v: chain.insets(z, v), c, x)
    if result is None:
        return None
    x, jacobian, misfit = result
    misfit /= readings.uncertainty**2
    freedom = len(z) - len(x)
    if freedom < 1 or abs(x[0] - middle) > 1.0 or x[1] <= 0 or not chain.is_proper(x, 0.8 * readings.piece):
        return None
    inverse = np.asarray(np.linalg.pinv(jacobian.T @ jacobian), dtype=np.float64)
    covariance = inverse[:2, :2] * readings.uncertainty**2
    middle = float(x[0])
    if int((np.abs(z - x[0]) < x[2]).sum()) <= FEW_ON_SLOPE:
        middle, covariance[0, 0], x = _between_readings(readings, chain, z, c, x, covariance[0, 0])
    left_over = readings.insets - chain.insets(readings.depths, x)
    corners = () if ends is Ends.OPEN else chain.corners(x, float(z[0]), float(z[-1]))
    shape = Shape(middle, float(x[1]), covariance, left_over, misfit, freedom, corners)
    outside = len(part) - len(z)
    score = _score(misfit, outside, len(x) + count - 1, len(part)) + (0.0 if ends is Ends.FLAT else UNUSUAL)
    return score, shape


def _between_readings(
    readings: Readings, chain: _Chain, z: Row, c: Row, x: Row, variance: float
) -> tuple[Mm, float, Row]:
    """Middle of a slope so steep that hardly a reading lies on it, its variance, and the likeliest shape.

    Several angles then explain the readings. Of a single slope all are weighed by how well they do, each
    angle as likely as any other beforehand; of a slope in several pieces it is only known to lie between two
    readings.
    """
    below = int(np.clip(np.searchsorted(z, x[0]), 1, len(z) - 1))
    if chain.count > 1 or chain.ends is Ends.OPEN:
        return float(x[0]), max(variance, (z[below] - z[below - 1]) ** 2 / 12), x
    first, last = max(below - 4, 0), min(below + 3, len(z) - 1)
    middles = np.linspace(z[first], z[last], 241)
    rates = np.tan(np.radians(np.linspace(20, 89.7, 500)))
    lift = float(x[-1]) if chain.ends is Ends.LIFTED else 0.0
    misfits = np.zeros((len(middles), len(rates)))
    for depth, inset in zip(z[first : last + 1], c[first : last + 1], strict=True):
        model = np.clip(x[1] / 2 + np.outer(depth - middles, rates), 0.0, x[1]) + lift
        misfits += ((inset - model) / readings.uncertainty) ** 2
    weights = np.exp(-0.5 * (misfits - misfits.min()))
    weights /= weights.sum()
    mean = float((weights.sum(axis=1) * middles).sum())
    spread = float((weights.sum(axis=1) * (middles - mean) ** 2).sum())
    row, column = divmod(int(np.argmin(misfits)), len(rates))
    likeliest = x.copy()
    likeliest[0], likeliest[2] = middles[row], x[1] / 2 / rates[column]
    if ((c - chain.insets(z, x)) ** 2).sum() <= ((c - chain.insets(z, likeliest)) ** 2).sum():
        likeliest = x
    return mean, max(spread, variance if np.isfinite(variance) else 0.0), likeliest


@dataclass(frozen=True, slots=True)
class _Chain:
    """Insets of a chain with some knots; parameters: middle, step, knots, levels, and what its ends need."""

    count: int
    ends: Ends

    def begin(self, z: Row, c: Row, middle: Mm, knots: Row) -> Row:
        """Parameters to start from: levels by linear least squares."""
        u = z - middle
        nodes = np.array([0.0, *knots, max(float(np.abs(u).max()), float(knots[-1]) + 1e-3)])
        hats = np.array([np.interp(np.abs(u), nodes, row) for row in np.eye(len(nodes))[1:]])
        design = np.vstack((np.full(len(z), 0.5), np.sign(u) * hats)).T
        fitted = np.linalg.lstsq(design, c, rcond=None)[0]
        step, levels = float(fitted[0]), fitted[1:-1]
        if self.ends is Ends.OPEN:
            rate = (fitted[-1] - fitted[-2]) / (nodes[-1] - nodes[-2])
            return np.array([middle, step, *knots, *levels, rate])
        span = 2 * float(levels[-1])
        start = [middle, span, *knots, *levels[:-1]]
        return np.array(start if self.ends is Ends.FLAT else [*start, (step - span) / 2])

    def insets(self, z: Row, x: Row) -> Row:
        knots = x[2 : 2 + self.count]
        u = z - x[0]
        away = np.abs(u)
        if self.ends is Ends.OPEN:
            levels = x[2 + self.count : 2 + 2 * self.count]
            half = np.interp(away, [0.0, *knots], [0.0, *levels])
            half = half + x[-1] * np.maximum(away - knots[-1], 0.0)
        else:
            levels = x[2 + self.count : 1 + 2 * self.count]
            half = np.interp(away, [0.0, *knots], [0.0, *levels, x[1] / 2])
        lift = x[-1] if self.ends is Ends.LIFTED else 0.0
        return np.asarray(lift + x[1] / 2 + np.sign(u) * half)

    def corners(self, x: Row, top: Mm, bottom: Mm) -> tuple[Point, ...]:
        """Where the chain turns, and its ends."""
        away = x[2 : 2 + self.count]
        depths = np.concatenate((x[0] - away[::-1], x[0] + away))
        depths = np.array([top, *depths[(depths > top) & (depths < bottom)], bottom])
        return tuple(zip(depths.tolist(), self.insets(depths, x).tolist(), strict=True))

    def is_proper(self, x: Row, width: Mm) -> bool:
        """Whether the knots follow each other outwards, no piece but the first too narrow."""
        knots = x[2 : 2 + self.count]
        return bool(knots[0] >= SMALLEST_KNOT / 2) and all(
            b - a >= width for a, b in itertools.pairwise(knots)
        )


def _least_squares(model: Callable[[Row], Row], wanted: Row, x: Row) -> tuple[Row, Row, float] | None:
    """Levenberg and Marquardt's method with numerical slopes: parameters, Jacobian, sum of squares."""

    def slopes(at: Row) -> Row:
        steps = np.eye(len(at)) * 1e-5
        return np.column_stack([(model(at + e) - model(at - e)) / 2e-5 for e in steps])

    damping = 1e-3
    rest = wanted - model(x)
    misfit = float(rest @ rest)
    jacobian = slopes(x)
    for _ in range(40):
        normal = jacobian.T @ jacobian
        try:
            change = np.linalg.solve(normal + damping * np.eye(len(x)), jacobian.T @ rest)
        except np.linalg.LinAlgError:
            return None
        trial = x + change
        new_rest = wanted - model(trial)
        new = float(new_rest @ new_rest)
        if np.isfinite(new) and new < misfit:
            small = misfit - new < 1e-9 * misfit
            x, rest, misfit, damping = trial, new_rest, new, damping / 5
            jacobian = slopes(x)
            if small:
                break
        else:
            damping *= 5
            if damping > 1e6:
                break
    return x, jacobian, misfit


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
