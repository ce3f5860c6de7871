r"""Does this cutter mate with itself, and where is its middle?

Two pieces cut by one profile close on each other when ``c(z) + c(2m - z)`` is one constant, the step
(`drawerwright.joints.law`). For a measured profile it never quite is. The middle sought here is the one that
leaves the narrowest gap, over the depths that both pieces share:

::

      largest - smallest of  c(z) + c(2m - z)   =  widest gap left when the first places touch

A drawer-lock corner, a lock-mitre and two boards edge to edge differ only in which depths take part.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints import law
from drawerwright.joints.corner import SEEN
from drawerwright.joints.profile import Point, Profile, without_ledges
from drawerwright.joints.shapes import Readings, Shape, even_part, fit_shape

Row: TypeAlias = NDArray[np.float64]

GLUE_GAP: Mm = 0.15
"""The widest gap that still counts as mating: the room that glue fills (common practice, no source)."""
LEAST_SHARE = 0.8
"""How much of the profile's whole inset the shared depths must span: a middle that uses only the straight
tooth above the slope would fit perfectly and hold nothing."""
LEAST_READINGS = 12
"""From this many uncertain readings on, a symmetric shape is fitted; fewer are joined by straight lines."""
DRAWS = 200
"""Simulated readings of a perfect profile, for what scatter alone would show."""
LEAST_COVER = 0.9
"""How much of the stock a joint through it must find on the profile."""
LEAST_HOOK: Mm = 0.2
"""A rise of the inset smaller than this holds nothing against a pull (common practice, no source)."""


class Verdict(StrEnum):
    """Whether a cutter mates with itself."""

    MATES = "mates"
    WITHIN_READINGS = "mates within the readings"
    """A gap wider than the limit was found, but the readings are too uncertain to be sure (95 %)."""
    FAILS = "does not mate"


@dataclass(frozen=True, slots=True)
class Mate:
    """How a profile mates with itself (mm).

    `residual` is the widest gap that remains at the best height and fence; `touches_at` and `gapes_at` are the
    depths that touch first and gape most there (their mirror images about the mid depth do too). `hook` is how
    far the inset rises on its way down; without it the joint resists a pull along the upright by glue alone.
    """

    mid_depth: Estimate
    step: Estimate
    residual: Estimate
    touches_at: Mm
    gapes_at: Mm
    hook: Mm
    limit: Mm = GLUE_GAP
    smoothed: Profile | None = None
    """The profile without its scatter, where the readings leave nothing but scatter over a symmetric shape."""

    @property
    def verdict(self) -> Verdict:
        """The plain answer."""
        if self.residual.value <= self.limit:
            return Verdict.MATES
        return Verdict.WITHIN_READINGS if self.residual.interval()[0] <= self.limit else Verdict.FAILS

    @property
    def has_hook(self) -> bool:
        """Whether the profile holds the upright against being pulled out along its length."""
        return self.hook > max(LEAST_HOOK, 2 * self.residual.uncertainty)

    @property
    def text(self) -> str:
        """The verdict in a sentence."""
        gap = millimetres(self.residual.value)
        middle = phrase(
            "middle at {middle}, step {step}",
            middle=millimetres(self.mid_depth.value),
            step=millimetres(self.step.value),
        )
        if self.verdict is Verdict.MATES:
            return phrase("The cutter mates with itself: {middle}, widest gap {gap}.", middle=middle, gap=gap)
        if self.verdict is Verdict.WITHIN_READINGS:
            return phrase(
                "The cutter may mate with itself: {middle}; as far as these readings can tell, "
                "the gap of {gap} is within the limit of {limit}. Measure more closely to be "
                "sure.",
                middle=middle,
                gap=gap,
                limit=millimetres(self.limit),
            )
        return phrase(
            "The cutter does not mate with itself: at the best setting a gap of {gap} remains "
            "at depth {gapes_at} while depth {touches_at} touches.",
            gap=gap,
            gapes_at=millimetres(self.gapes_at),
            touches_at=millimetres(self.touches_at),
        )

    def bit_height(self, flat_thickness: Mm | None = None) -> Mm:
        """Best bit height: for a corner with a roof, or through stock (or a board edge) of this thickness."""
        if flat_thickness is None:
            return law.bit_height_for_roof(self.mid_depth.value)
        return law.bit_height_for_engagement(self.mid_depth.value, flat_thickness)

    def fence_sum(self, upright_thickness: Mm, lip: Mm = 0.0) -> Mm:
        """Best sum of both fence settings."""
        return law.fence_sum(lip, upright_thickness, self.step.value)


def find_middle(
    points: Sequence[Point],
    *,
    uncertainty: Mm = 0.0,
    thickness: Mm | None = None,
    limit: Mm = GLUE_GAP,
    seed: int = 1,
) -> Mate:
    """The mid depth and step that make a profile most nearly point-symmetric, and what gap remains.

    Args:
        points: depth below the top, inset from the largest radius (mm), from the top down.
        uncertainty: standard uncertainty of each inset reading (mm).
        thickness: for a joint that goes through the stock (lock-mitre, edge to edge): only this much of the
            profile about the middle takes part. None for a corner with a roof: everything from the top to
            twice the mid depth does.
        limit: the widest gap that counts as mating (mm).
        seed: of the simulated readings; the same seed gives the same answer.

    Raises:
        InvalidValueError: fewer than three points, or a profile without any step: nothing to mate.
    """
    if len(points) < 3:
        raise InvalidValueError(
            phrase("finding the middle takes at least three points, not {count}", count=len(points))
        )
    depths, insets = np.array(points, dtype=float).T
    if np.any(np.diff(depths) < 0):
        raise InvalidValueError(phrase("give the points of a profile from the top of the cutter down"))
    depths = without_ledges(depths)
    whole = float(insets.max() - insets.min())
    if whole <= max(0.05, 4 * uncertainty):
        raise InvalidValueError(
            phrase(
                "the insets differ by only {whole}: a straight edge has no middle and cuts no joint",
                whole=millimetres(whole),
            )
        )
    if uncertainty == 0:
        insets = insets - insets.min()
    line = _Line(depths, insets, thickness)
    least = LEAST_SHARE * whole if thickness is None else 0.5 * min(whole, thickness)
    hook = max(0.0, float(np.max(insets - np.minimum.accumulate(insets))))
    if uncertainty > 0 and len(points) >= LEAST_READINGS:
        middles = [m for m in np.arange(0.0, line.bottom, 0.1) if line.covers(2 * m, least)]
        readings = Readings(depths, insets, uncertainty, None if thickness is None else thickness / 2)
        shape = fit_shape(readings, middles, seed)
        if shape is not None and shape.holds:
            return _judged(line, shape, uncertainty, hook, limit, seed)
    total = _best_total(line, least)
    sums, places = line.sums(total)
    scatter = _scatter(line, total, uncertainty, seed)
    shown, by_scatter = float(sums.max() - sums.min()), float(scatter.mean())
    residual = math.sqrt(max(shown**2 - by_scatter**2, 0.0))
    return Mate(
        mid_depth=Estimate(total / 2, _middle_uncertainty(line, total, uncertainty)),
        step=Estimate(float(sums.max() + sums.min()) / 2, float(scatter.std())),
        residual=Estimate(residual, float(scatter.std())),
        touches_at=float(places[int(np.argmax(sums))]),
        gapes_at=float(places[int(np.argmin(sums))]),
        hook=hook,
        limit=limit,
    )


def _judged(line: _Line, shape: Shape, uncertainty: Mm, hook: Mm, limit: Mm, seed: int) -> Mate:
    """What a shape through uncertain readings says: the even part of what it leaves over is the gap."""
    middle = shape.mid_depth
    low, high = line.shared(2 * middle)
    half = min(middle - low, high - middle)
    inside = np.abs(line.depths - middle) <= half + 1e-9
    even = even_part(line.depths[inside] - middle, shape.left_over[inside], uncertainty, half, seed=seed)
    residual = 2 * float(even.mean.max() - even.mean.min())
    drawn = 2 * (even.draws.max(axis=1) - even.draws.min(axis=1))
    doubt = float(np.sqrt(np.mean((drawn - residual) ** 2)))
    is_clean = residual == 0 and line.thickness is None and bool(shape.corners)
    return Mate(
        smoothed=Profile.measured(shape.corners) if is_clean else None,
        mid_depth=Estimate(middle, math.sqrt(shape.covariance[0, 0])),
        step=Estimate(shape.step, math.sqrt(shape.covariance[1, 1])),
        residual=Estimate(residual, doubt),
        touches_at=middle + float(even.away[int(np.argmax(even.mean))]),
        gapes_at=middle + float(even.away[int(np.argmin(even.mean))]),
        hook=hook,
        limit=limit,
    )


@dataclass(frozen=True, slots=True)
class _Line:
    depths: Row
    insets: Row
    thickness: Mm | None

    @property
    def bottom(self) -> Mm:
        return float(self.depths[-1])

    def shared(self, total: Mm) -> tuple[Mm, Mm]:
        """Depths that take part when 2m is `total`."""
        low, high = max(0.0, total - self.bottom), min(self.bottom, total)
        if self.thickness is not None:
            low, high = max(low, (total - self.thickness) / 2), min(high, (total + self.thickness) / 2)
        return low, high

    def sums(self, total: Mm) -> tuple[Row, Row]:
        """c(z) + c(2m - z) at every corner of either, and those depths z."""
        low, high = self.shared(total)
        places = np.concatenate((self.depths, total - self.depths, (low, high)))
        places = places[(places >= low) & (places <= high)]
        return self._both_sides(places, total), places

    def _both_sides(self, places: Row, total: Mm) -> Row:
        return np.asarray(
            np.interp(places, self.depths, self.insets) + np.interp(total - places, self.depths, self.insets)
        )

    def spread(self, total: Mm) -> float:
        """Widest gap left when 2m is `total`."""
        sums, _ = self.sums(total)
        return float(sums.max() - sums.min())

    def covers(self, total: Mm, least: Mm) -> bool:
        """Whether enough of the profile takes part for a joint."""
        low, high = self.shared(total)
        if self.thickness is not None and high - low < LEAST_COVER * self.thickness:
            return False
        return self.spans(total) >= least

    def spans(self, total: Mm) -> float:
        """How much the inset changes over the depths that take part."""
        low, high = self.shared(total)
        if high <= low:
            return 0.0
        inside = (self.depths > low + SEEN) & (self.depths < high - SEEN)
        ends = np.interp((low + SEEN, high - SEEN), self.depths, self.insets)
        part = np.concatenate((self.insets[inside], ends))
        return float(part.max() - part.min())


def _best_total(line: _Line, least: Mm) -> Mm:
    """2m with the least spread of the sums; the widest overlap decides between equals."""
    kinks = np.add.outer(line.depths, line.depths).ravel()
    grid = np.linspace(0.0, 2 * line.bottom, 401)
    candidates = np.unique(np.round(np.concatenate((kinks if len(line.depths) <= 64 else grid, grid)), 9))
    best: tuple[float, float, float] | None = None
    for total in candidates:
        if not line.covers(total, least):
            continue
        low, high = line.shared(total)
        score = (round(line.spread(total), 7), -(high - low), float(total))
        if best is None or score < best:
            best = score
    if best is None:
        raise InvalidValueError(
            phrase(
                "the points do not reach both sides of the step: measure from the cutter's top to "
                "below its slope"
            )
        )
    total, reach = best[2], 2 * line.bottom / 400
    if best[0] <= 1e-7:
        return total
    for _ in range(12):
        near = [t for t in np.linspace(total - reach, total + reach, 9) if line.covers(t, least)]
        total = float(near[int(np.argmin([line.spread(value) for value in near]))])
        reach /= 3
    return total


def _middle_uncertainty(line: _Line, total: Mm, uncertainty: Mm) -> Mm:
    """Of m from points joined by lines: a slope crosses the middle, and readings shift it."""
    if uncertainty == 0:
        return 0.0
    low, high = line.shared(total)
    width = max((high - low) / 4, 1e-6)
    ends = np.interp((total / 2 - width, total / 2 + width), line.depths, line.insets)
    return uncertainty / max(abs(float(ends[1] - ends[0])) / (2 * width), 0.05)


def _scatter(line: _Line, total: Mm, uncertainty: Mm, seed: int) -> Row:
    """Widest gaps that readings at these depths show where there is none."""
    if uncertainty == 0:
        return np.zeros(1)
    rng = np.random.default_rng(seed)
    noise = rng.normal(0.0, uncertainty, (DRAWS, len(line.depths)))
    return np.array([_Line(line.depths, row, line.thickness).spread(total) for row in noise])
