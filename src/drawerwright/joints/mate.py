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
from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints import law
from drawerwright.joints.corner import SEEN
from drawerwright.joints.profile import Point, without_ledges

Row: TypeAlias = NDArray[np.float64]

GLUE_GAP: Mm = 0.15
"""The widest gap that still counts as mating: the room that glue fills (common practice, no source)."""
LEAST_SHARE = 0.8
"""How much of the profile's whole inset the shared depths must span: a middle that uses only the straight
tooth above the slope would fit perfectly and hold nothing."""
DRAWS = 400
"""Simulated readings of a perfect profile, for what noise alone would show."""
LEAST_HOOK: Mm = 0.2
"""A rise of the inset smaller than this holds nothing against a pull (common practice, no source)."""


class Verdict(StrEnum):
    """Whether a cutter mates with itself."""

    MATES = "mates"
    WITHIN_READINGS = "mates within the readings"
    """The gap found is no wider than noise of the readings alone would show."""
    FAILS = "does not mate"


@dataclass(frozen=True, slots=True)
class Mate:
    """How a profile mates with itself (mm).

    `residual` is the widest gap that remains at the best height and fence; `noise_gap` what the readings'
    uncertainty alone would make of a perfect profile (99 % of the time it shows less); `fails_at` the depths
    that touch first and gape most there. `hook` is how far the inset rises on its way down; without it the
    joint resists a pull along the upright by glue alone.
    """

    mid_depth: Estimate
    step: Estimate
    residual: Estimate
    noise_gap: Mm
    touches_at: Mm
    gapes_at: Mm
    hook: Mm
    limit: Mm = GLUE_GAP

    @property
    def verdict(self) -> Verdict:
        """The plain answer."""
        if self.residual.value <= self.limit:
            return Verdict.MATES
        return Verdict.WITHIN_READINGS if self.residual.value <= self.noise_gap else Verdict.FAILS

    @property
    def has_hook(self) -> bool:
        """Whether the profile holds the upright against being pulled out along its length."""
        return self.hook > max(LEAST_HOOK, 2 * self.residual.uncertainty)

    @property
    def text(self) -> str:
        """The verdict in a sentence."""
        gap = f"{self.residual.value:.2f} mm"
        middle = f"middle at {self.mid_depth.value:.2f} mm, step {self.step.value:.2f} mm"
        if self.verdict is Verdict.MATES:
            return f"The cutter mates with itself: {middle}, widest gap {gap}."
        if self.verdict is Verdict.WITHIN_READINGS:
            return (
                f"The cutter mates as far as these readings can tell: {middle}; the gap of {gap} is no more "
                f"than their uncertainty makes. Measure more closely to be sure."
            )
        return (
            f"The cutter does not mate with itself: at the best setting a gap of {gap} stays at depth "
            f"{self.gapes_at:.2f} mm while depth {self.touches_at:.2f} mm touches."
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
        raise InvalidValueError(f"finding a middle takes at least three points, not {len(points)}")
    depths, insets = np.array(points, dtype=float).T
    if np.any(np.diff(depths) < 0):
        raise InvalidValueError("give the points of a profile from the top of the cutter down")
    depths = without_ledges(depths)
    whole = float(insets.max() - insets.min())
    if whole <= max(0.05, 4 * uncertainty):
        raise InvalidValueError(
            f"the insets differ by only {whole:.2f} mm: a straight edge has no middle and cuts no joint"
        )
    line = _Line(depths, insets, thickness)
    total = _best_total(line, whole, rough=uncertainty > 0)
    step_uncertainty = mid_uncertainty = 0.0
    sums, places = line.sums(total)
    step = float(sums.max() + sums.min()) / 2
    if uncertainty > 0:
        total, mid_uncertainty = _steadied(line, total, uncertainty)
        sums, places = line.sums(total)
        step, step_uncertainty = _mean_step(line, total, uncertainty)
        ramp = _ramp(line, total / 2, step, uncertainty)
        if ramp is not None:
            total, step = 2 * ramp.mid_depth.value, ramp.step.value
            mid_uncertainty, step_uncertainty = ramp.mid_depth.uncertainty, ramp.step.uncertainty
            # The ramp is point-symmetric; what the readings leave over it is what can gape.
            sums, places = _Line(depths, ramp.left_over, thickness).sums(total)
    residual = float(sums.max() - sums.min())
    noise = _noise_gaps(line, total, uncertainty, seed)
    return Mate(
        mid_depth=Estimate(total / 2, mid_uncertainty),
        step=Estimate(step, step_uncertainty),
        residual=Estimate(residual, float(noise.std())),
        noise_gap=float(np.quantile(noise, 0.99)),
        touches_at=float(places[int(np.argmax(sums))]),
        gapes_at=float(places[int(np.argmin(sums))]),
        hook=max(0.0, float(np.max(insets - np.minimum.accumulate(insets)))),
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

    def spans(self, total: Mm) -> float:
        """How much the inset changes over the depths that take part."""
        low, high = self.shared(total)
        if high <= low:
            return 0.0
        inside = (self.depths > low + SEEN) & (self.depths < high - SEEN)
        ends = np.interp((low + SEEN, high - SEEN), self.depths, self.insets)
        part = np.concatenate((self.insets[inside], ends))
        return float(part.max() - part.min())


def _best_total(line: _Line, whole: Mm, *, rough: bool) -> Mm:
    """2m with the least spread of the sums; the widest overlap decides between equals."""
    kinks = np.add.outer(line.depths, line.depths).ravel()
    least = LEAST_SHARE * whole if line.thickness is None else 0.5 * min(whole, line.thickness)
    grid = np.linspace(0.0, 2 * line.bottom, 401)
    candidates = np.unique(np.round(np.concatenate((kinks if len(line.depths) <= 64 else grid, grid)), 9))
    best: tuple[float, float, float] | None = None
    for total in candidates:
        if line.spans(total) < least:
            continue
        sums, _ = line.sums(total)
        spread = float(sums.std() if rough else sums.max() - sums.min())
        low, high = line.shared(total)
        score = (round(spread, 7), -(high - low), float(total))
        if best is None or score < best:
            best = score
    if best is None:
        raise InvalidValueError(
            "the points do not reach both sides of the step: measure from the cutter's top to below its slope"
        )
    if best[0] <= 1e-7:
        return best[2]
    return _refined(line, best[2], 2 * line.bottom / 400, rough=rough)


def _refined(line: _Line, total: Mm, reach: Mm, *, rough: bool) -> Mm:
    """The same, looked for more and more finely about a first answer."""

    def spread(value: float) -> float:
        sums, _ = line.sums(value)
        return float(sums.std() if rough else sums.max() - sums.min())

    for _ in range(12):
        near = np.linspace(total - reach, total + reach, 9)
        total = float(near[int(np.argmin([spread(value) for value in near]))])
        reach /= 3
    return total


def _steadied(line: _Line, total: Mm, uncertainty: Mm) -> tuple[Mm, Mm]:
    """2m as it is, and the standard uncertainty of m: a slope crosses the middle, readings blur it."""
    middle = total / 2
    low, high = line.shared(total)
    width = max((high - low) / 4, 1e-6)
    inside = np.abs(line.depths - middle) <= width
    rate = abs(_rate(line, middle, width))
    count = max(int(inside.sum()), 1)
    return total, uncertainty / (max(rate, 0.05) * math.sqrt(count))


def _rate(line: _Line, middle: Mm, width: Mm) -> float:
    ends = np.interp((middle - width, middle + width), line.depths, line.insets)
    return float(ends[1] - ends[0]) / (2 * width)


def _mean_step(line: _Line, total: Mm, uncertainty: Mm) -> tuple[Mm, Mm]:
    """Mean of c(z) + c(2m - z) over the readings that take part, and its standard uncertainty."""
    low, high = line.shared(total)
    inside = line.depths[(line.depths >= low) & (line.depths <= high)]
    sums = np.interp(inside, line.depths, line.insets) + np.interp(total - inside, line.depths, line.insets)
    return float(sums.mean()), 2 * uncertainty / math.sqrt(max(len(inside), 1))


@dataclass(frozen=True, slots=True)
class _Ramp:
    """Tooth, straight slope and straight neck through the readings, and what these leave over it."""

    mid_depth: Estimate
    step: Estimate
    left_over: Row


def _ramp(line: _Line, mid_depth: Mm, step: Mm, uncertainty: Mm) -> _Ramp | None:
    """Middle and step of the tooth, one straight slope and a straight neck that fit the readings best.

    Far more certain than pairing readings, where the profile is of that simple kind; None where it is not
    (the readings scatter about it by clearly more than their uncertainty).
    """
    z, c = line.depths, line.insets
    if line.thickness is not None or _rate(line, mid_depth, line.bottom / 4) <= 0:
        return None
    core = (c > 0.15 * step) & (c < 0.85 * step) & (np.abs(z - mid_depth) < mid_depth)
    rate = float(np.polyfit(z[core], c[core], 1)[0]) if core.sum() >= 2 else 4 * step / mid_depth
    x = np.array([mid_depth, step, step / max(rate, 0.05)])  # middle, step, rise

    def model(v: Row) -> Row:
        return np.asarray(np.clip(v[1] / 2 + (z - v[0]) * v[1] / max(v[2], 1e-6), 0.0, v[1]))

    damping = 1e-3
    misfit = float(((c - model(x)) ** 2).sum())
    for _ in range(60):
        jacobian = np.column_stack([(model(x + e) - model(x - e)) / 2e-5 for e in np.eye(3) * 1e-5])
        normal = jacobian.T @ jacobian
        change = np.linalg.solve(normal + damping * np.eye(3), jacobian.T @ (c - model(x)))
        trial = x + change
        new = float(((c - model(trial)) ** 2).sum())
        if new < misfit:
            x, misfit, damping = trial, new, damping / 4
            if np.abs(change).max() < 1e-7:
                break
        else:
            damping *= 4
    scatter = math.sqrt(misfit / max(len(z) - 3, 1))
    if scatter > 1.5 * uncertainty or x[2] <= 0:
        return None
    jacobian = np.column_stack([(model(x + e) - model(x - e)) / 2e-5 for e in np.eye(3) * 1e-5])
    spread = np.linalg.pinv(jacobian.T @ jacobian) * uncertainty**2
    return _Ramp(
        Estimate(float(x[0]), math.sqrt(max(spread[0, 0], 0.0))),
        Estimate(float(x[1]), math.sqrt(max(spread[1, 1], 0.0))),
        c - model(x),
    )


def _noise_gaps(line: _Line, total: Mm, uncertainty: Mm, seed: int) -> Row:
    """Widest gaps that noise alone makes of a perfect profile read at these depths."""
    if uncertainty == 0:
        return np.zeros(1)
    rng = np.random.default_rng(seed)
    gaps = np.empty(DRAWS)
    for draw in range(DRAWS):
        sums, _ = _Line(line.depths, rng.normal(0, uncertainty, len(line.depths)), line.thickness).sums(total)
        gaps[draw] = sums.max() - sums.min()
    return gaps
