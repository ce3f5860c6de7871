"""A point-symmetric chain of straight pieces, and how likely its measures are after some readings.

    c(m + u) = d / 2 + sign(u) g(|u|)           u = depth from the middle, g(0) = 0

`g` is a chain with a few knots. Readings on a slope say much about the middle, and a slope so steep that it
passes between two readings says little: what a set of readings allows is therefore not read off at the best
fit but drawn from all chains that explain them (Bayes, with an ensemble of walkers that stretch towards each
other: J. Goodman and J. Weare, Comm. App. Math. Comp. Sci. 5 (2010) 65; from memory).
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import Mm
from drawerwright.joints.profile import Point

Row: TypeAlias = NDArray[np.float64]

SMALLEST_KNOT: Mm = 0.02
"""No piece is shorter than this: a ledge is a steep piece."""
CURVE_PIECES = 48
"""Straight pieces of a curve that is drawn: a slope of 4 mm is followed within 0.001 mm."""
WALKERS = 64
"""How many chains walk at once; an even number, several times the count of parameters."""
WARM_UP, STEPS = 150, 200
"""Steps until the walkers have forgotten where they began, and steps that are kept."""
STRETCH = 2.0
"""Longest stretch of a step: the value that Goodman and Weare use."""


class Ends(StrEnum):
    """What is known of the shape beyond its last knot."""

    FLAT = "flat"
    """Level, above at the largest radius and below at the step: a tooth and a neck."""
    LIFTED = "lifted"
    """The same, but the readings were not counted from the largest radius."""
    OPEN = "open"
    """It goes on as it likes."""


@dataclass(frozen=True, slots=True)
class Chain:
    """Insets of a chain with some knots; parameters: middle, step, knots, levels, and what its ends need.

    Parameters come as a row, or as rows for many chains at once.
    """

    count: int
    ends: Ends
    least_piece: Mm
    """No piece but the innermost is narrower than this (mm)."""

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
        """Inset at each depth (mm), for every row of parameters.

        Within a knot at k the depths from the middle count, beyond it k itself: what a piece adds is its slope times
        the difference of that for its two knots. A knot therefore stands for how much the slope changes there.
        """
        at = x[..., None]
        u = z - at[..., 0, :]
        slopes: list[Row] = []
        knot: Row | float = 0.0
        level: Row | float = 0.0
        for index in range(self.count):
            outer, height = at[..., 2 + index, :], self._level(at, index)
            slopes.append((height - level) / (outer - knot))
            knot, level = outer, height
        found = np.asarray(at[..., 1, :] / 2)
        if self.ends is Ends.LIFTED:
            found = found + at[..., -1, :]
        beyond: Row | float = 0.0
        if self.ends is Ends.OPEN:
            beyond = at[..., -1, :]
            found = found + beyond * u
        for index, slope in enumerate(slopes):
            outer = at[..., 2 + index, :]
            near = np.minimum(u, outer)
            np.maximum(near, -outer, out=near)
            near *= slope - (slopes[index + 1] if index + 1 < self.count else beyond)
            near += found
            found = near
        return found

    def _level(self, at: Row, index: int) -> Row:
        """Level of a knot above the middle's; the last one of a chain with level ends is half the step."""
        if self.ends is not Ends.OPEN and index == self.count - 1:
            return np.asarray(at[..., 1, :] / 2)
        return np.asarray(at[..., 2 + self.count + index, :])

    def corners(self, x: Row, top: Mm, bottom: Mm) -> tuple[Point, ...]:
        """Where the chain turns, and its ends."""
        away = x[2 : 2 + self.count]
        depths = np.concatenate((x[0] - away[::-1], x[0] + away))
        depths = np.array([top, *depths[(depths > top) & (depths < bottom)], bottom])
        return tuple(zip(depths.tolist(), self.insets(depths, x).tolist(), strict=True))

    def is_proper(self, x: Row) -> NDArray[np.bool_]:
        """Whether the knots follow each other outwards, no piece but the first too narrow, and the step is one."""
        at = x.reshape(-1, x.shape[-1])
        knots = at[:, 2 : 2 + self.count]
        proper = (knots[:, 0] >= SMALLEST_KNOT / 2) & (at[:, 1] > 0)
        for inner, outer in itertools.pairwise(range(self.count)):
            proper &= knots[:, outer] - knots[:, inner] >= self.least_piece
        return np.asarray(proper.reshape(x.shape[:-1]))

    def steepness(self, x: Row) -> Row:
        """Logarithm of how likely the innermost piece was beforehand: any angle is as likely as any other."""
        at = x[..., None]
        width, height = at[..., 2, :], self._level(at, 0)
        likely: Row = np.log(np.maximum(np.abs(height), 1e-9) / (width**2 + height**2))
        return likely[..., 0]


class Form(Protocol):
    """A family of point-symmetric shapes; the first two parameters are mid depth and step."""

    @property
    def count(self) -> int: ...
    @property
    def ends(self) -> Ends: ...
    def insets(self, z: Row, x: Row) -> Row: ...
    def corners(self, x: Row, top: Mm, bottom: Mm) -> tuple[Point, ...]: ...
    def is_proper(self, x: Row) -> NDArray[np.bool_]: ...
    def steepness(self, x: Row) -> Row: ...


@dataclass(frozen=True, slots=True)
class Curve:
    """A smooth slope between tooth and neck, without a corner at either end.

    Parameters: middle, step, reach w, bend b. Within the reach the half is d / 2 times the odd polynomial of
    fifth degree in t = u / w that ends level at t = 1: (3/2 + b) t - (1/2 + 2 b) t³ + b t⁵. A sine has a bend of 0.07;
    up to 0.375 the curve never turns back.
    """

    @property
    def count(self) -> int:
        return 1

    @property
    def ends(self) -> Ends:
        return Ends.FLAT

    @staticmethod
    def begin(middle: Mm, step: Mm, half_rise: Mm) -> Row:
        """Parameters to start from: a sine about as steep as a straight slope."""
        return np.array([middle, step, 1.4 * half_rise, 0.07])

    def insets(self, z: Row, x: Row) -> Row:
        """Inset at each depth (mm), for every row of parameters."""
        at = x[..., None]
        middle, step, reach, bend = (at[..., index, :] for index in range(4))
        t = np.minimum(np.maximum((z - middle) / reach, -1.0), 1.0)
        t2 = t * t
        return np.asarray(step / 2 * (1 + t * (1.5 + bend - (0.5 + 2 * bend) * t2 + bend * t2 * t2)))

    def corners(self, x: Row, top: Mm, bottom: Mm) -> tuple[Point, ...]:
        """The curve in straight pieces, and its ends."""
        along = x[0] + x[2] * np.linspace(-1.0, 1.0, CURVE_PIECES + 1)
        depths = np.array([top, *along[(along > top) & (along < bottom)], bottom])
        return tuple(zip(depths.tolist(), self.insets(depths, x).tolist(), strict=True))

    def is_proper(self, x: Row) -> NDArray[np.bool_]:
        """Whether the curve rises all the way."""
        return np.asarray(
            (x[..., 1] > 0) & (x[..., 2] >= SMALLEST_KNOT) & (x[..., 3] <= 0.375) & (x[..., 3] > -1.0)
        )

    def steepness(self, x: Row) -> Row:
        """Logarithm of how likely it was beforehand: any angle at the middle is as likely as any other."""
        rise = x[..., 2] / (1.5 + x[..., 3])
        likely: Row = np.log(x[..., 1] / 2 / (rise**2 + (x[..., 1] / 2) ** 2))
        return likely


def least_squares(chain: Form, z: Row, c: Row, x: Row) -> tuple[Row, float] | None:
    """Levenberg and Marquardt's method with numerical slopes: parameters and sum of squares (mm²)."""

    alone = np.eye(len(x))
    steps = np.stack((alone * 1e-5, -alone * 1e-5))

    def slopes(at: Row) -> Row:
        above, below = chain.insets(z, at + steps)
        return np.asarray((above - below).T / 2e-5)

    damping = 1e-3
    rest = c - chain.insets(z, x)
    misfit = float(rest @ rest)
    jacobian = slopes(x)
    for _ in range(40):
        normal = jacobian.T @ jacobian
        try:
            change = np.linalg.solve(normal + damping * alone, jacobian.T @ rest)
        except np.linalg.LinAlgError:
            return None
        trial = x + change
        new_rest = c - chain.insets(z, trial)
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
    return x, misfit


@dataclass(frozen=True, slots=True)
class DrawnChains:
    """Chains drawn as often as the readings make them likely.

    `measures` holds middle and step of each (mm); `best` is the likeliest chain and `misfit` its sum of
    squared left-overs, in units of the readings' variance.
    """

    measures: Row
    best: Row
    misfit: float


def draw(chain: Form, z: Row, c: Row, uncertainty: Mm, start: Row, rng: np.random.Generator) -> DrawnChains:
    """Chains that explain readings of this standard uncertainty (mm), begun about one that does."""

    def likelihoods(at: Row) -> tuple[Row, Row]:
        rest = (c - chain.insets(z, at)) / uncertainty
        misfits = np.asarray((rest**2).sum(axis=-1))
        good = chain.is_proper(at) & (np.abs(at[:, 0] - start[0]) <= 1.0) & np.isfinite(misfits)
        return np.where(good, chain.steepness(at) - misfits / 2, -np.inf), misfits

    with np.errstate(divide="ignore", invalid="ignore"):
        return _walked(chain, likelihoods, uncertainty, start, rng)


def _walked(
    chain: Form,
    likelihoods: Callable[[Row], tuple[Row, Row]],
    uncertainty: Mm,
    start: Row,
    rng: np.random.Generator,
) -> DrawnChains:
    """What the walkers come to: first they forget where they began, then each step of theirs is kept."""
    size = len(start)
    walkers = start + rng.normal(0.0, uncertainty / 2, (WALKERS, size))
    walkers[~chain.is_proper(walkers)] = start
    heights, misfits = likelihoods(walkers)
    best, least = start, float(likelihoods(start[None])[1][0])
    kept: list[Row] = []
    halves = (slice(0, WALKERS // 2), slice(WALKERS // 2, WALKERS))
    for step in range(WARM_UP + STEPS):
        for here, there in (halves, halves[::-1]):
            stretch = (1 + (STRETCH - 1) * rng.random(WALKERS // 2)) ** 2 / STRETCH
            partners = walkers[there][rng.integers(0, WALKERS // 2, WALKERS // 2)]
            trial = partners + stretch[:, None] * (walkers[here] - partners)
            trial_heights, trial_misfits = likelihoods(trial)
            gain = (size - 1) * np.log(stretch) + trial_heights - heights[here]
            taken = np.log(rng.random(WALKERS // 2)) < gain
            walkers[here][taken] = trial[taken]
            heights[here][taken] = trial_heights[taken]
            misfits[here][taken] = trial_misfits[taken]
        lowest = int(np.argmin(misfits))
        if misfits[lowest] < least:
            best, least = walkers[lowest].copy(), float(misfits[lowest])
        if step >= WARM_UP:
            kept.append(walkers[:, :2].copy())
    return DrawnChains(np.concatenate(kept), best, least)
