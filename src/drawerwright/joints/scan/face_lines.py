"""Lines through the points of a section's faces, all at once, and how well they are known.

Cutter, table and fence make the faces parallel or square to each other: all of them share one direction, which the
longest settle. What stands off a line by more than its fellows (chips, fuzz, dust) counts the less, and from a limit on
not at all (J. Tukey's biweight; from memory). Neighbouring points share their error, be it a saw mark or a wave of the
scanner: the reckoned doubt of a line takes as many of them for one as their correlation says.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.joints.scan.pixels import Row

SQUARENESS = math.radians(0.08)
"""Standard uncertainty of the right angle between the faces along w and along z: table to fence, and the scanner's own
axes (common practice, no source)."""
LIMIT = 4.685
KNOWN_AS = 3.0
"""What all faces of a piece scatter tells of one as much as so many points of its own (assumed): few points may lie
near a line by chance."""
ROUNDS = 12
PAIRS = 300
ROUGHER, LEAST_NEAR = 3.75, 0.5
"""A point of the slope is near a line at so many times what other faces scatter, or at so many pixels."""
LEAST_SHARE = 0.45
"""Of the slope so much has to lie near one line; if less does, the slope is rougher than the other faces."""


@dataclass(frozen=True, slots=True)
class LinePoints:
    """Points of a face in the notch's frame: `along` it and `off` it."""

    along: Row
    off: Row
    along_w: bool
    """Whether it runs along w, so that its place is a z."""
    unsure: float = 0.0
    """By how many pixels all of them may be off together."""


@dataclass(frozen=True, slots=True)
class FittedLine:
    """How a line came out: which points count, their scatter, and how many of them are worth one."""

    kept: NDArray[np.bool_]
    scatter: float
    worth: float


@dataclass(frozen=True, slots=True)
class FittedFaces:
    """Places of all faces at the frame's origin, the turn of both axes, their covariance, and each line's points.

    The place of face i is `values[i]`; the last two values are the turns (radians) of the faces along w and along z.
    """

    names: tuple[str, ...]
    values: Row
    covariance: Row
    lines: Mapping[str, FittedLine]

    def index(self, name: str) -> int:
        return self.names.index(name)

    @property
    def turn_w(self) -> float:
        return float(self.values[-2])

    @property
    def turn_z(self) -> float:
        return float(self.values[-1])


def fit_faces(faces: Mapping[str, LinePoints], shared: float) -> FittedFaces:
    """The lines that fit best: off = place + turn * along, with one turn for the faces along w and, nearly the same,
    one for those along z. Points within `shared` pixels count as one at least."""
    names = tuple(faces)
    count = len(names)
    weights = {name: np.ones(len(face.off)) for name, face in faces.items()}
    values = np.zeros(count + 2)
    for index, name in enumerate(names):  # a steady beginning
        values[index] = _mode(faces[name].off)
    scatter = {name: _spread(face.off - values[i]) for i, (name, face) in enumerate(faces.items())}
    worth = dict.fromkeys(names, 1.0)
    few = {name: float(len(face.off)) for name, face in faces.items()}
    for round_ in range(ROUNDS):
        usual = float(np.median(list(scatter.values())))
        normal = np.zeros((count + 2, count + 2))
        right = np.zeros(count + 2)
        for index, (name, face) in enumerate(faces.items()):
            weight = weights[name] / (shrunk(scatter[name], usual, few[name]) ** 2 * worth[name])
            turn = count if face.along_w else count + 1
            sign = 1.0 if face.along_w else -1.0
            total, lever = float(weight.sum()), sign * float(weight @ face.along)
            normal[index, index] += total
            normal[index, turn] += lever
            normal[turn, index] += lever
            normal[turn, turn] += float(weight @ face.along**2)
            right[index] += float(weight @ face.off)
            right[turn] += sign * float(weight @ (face.along * face.off))
        tie = 1 / SQUARENESS**2
        normal[count, count] += tie
        normal[count + 1, count + 1] += tie
        normal[count, count + 1] -= tie
        normal[count + 1, count] -= tie
        normal += np.eye(count + 2) * 1e-9
        covariance = np.linalg.inv(normal)
        new = covariance @ right
        moved = float(np.abs(new - values)[:count].max())
        values = new
        for index, (name, face) in enumerate(faces.items()):
            sign = 1.0 if face.along_w else -1.0
            turn_value = values[count if face.along_w else count + 1]
            off = face.off - values[index] - sign * turn_value * face.along
            scatter[name] = max(_spread(off), 0.02)
            few[name] = len(off) / worth[name]
            weights[name] = _biweight(off / (scatter[name] * (LIMIT if round_ > 2 else 2 * LIMIT)))
            worth[name] = max(_worth(off, weights[name]), shared * _density(face.along))
        if round_ > 4 and moved < 1e-4:
            break
    covariance = covariance + np.diag([*(face.unsure**2 for face in faces.values()), 0.0, 0.0])
    lines = {name: FittedLine(weights[name] > 0.05, scatter[name], worth[name]) for name in names}
    return FittedFaces(names, np.asarray(values), np.asarray(covariance, np.float64), lines)


def shrunk(scatter: float, usual: float, points: float) -> float:
    """The scatter of so few points that have shown less than is usual: something between."""
    if scatter >= usual:
        return scatter
    return math.sqrt((points * scatter**2 + KNOWN_AS * usual**2) / (points + KNOWN_AS))


@dataclass(frozen=True, slots=True)
class SlopeLine:
    """A slanted line: a point on it, its direction (z, w), and the standard uncertainties of its place across itself
    and of its angle (radians)."""

    z: float
    w: float
    direction: Row
    across: float
    angle: float
    kept: NDArray[np.bool_]
    scatter: float


def fit_slope(z: Row, w: Row, shared: float, usual: float = 0.0) -> SlopeLine | None:
    """The line through the points of the slanted part, whatever its direction; None where there are too few.

    Points within `shared` pixels count as one at least; other faces of the piece scatter by `usual`.
    """
    if len(z) < 5:
        return None
    points = np.column_stack([z, w])
    weight = _steady_weights(points, usual)
    for _ in range(ROUNDS):
        if weight.sum() < 4:
            return None
        middle = np.average(points, axis=0, weights=weight)
        spread = (points - middle).T @ ((points - middle) * weight[:, None])
        direction = np.linalg.eigh(spread)[1][:, 1]
        direction = direction if direction[1] >= 0 else -direction
        off = (points - middle) @ np.array([-direction[1], direction[0]])
        kept = weight > 0.05
        scatter = max(_spread(off[kept] if kept.sum() > 4 else off), 0.02)
        weight = _biweight(off / (scatter * LIMIT))
    along = (points - middle) @ direction
    order = np.argsort(along)
    worth = max(_worth(off[order], weight[order]), shared * _density(along))
    total = float(weight.sum())
    lever = float((weight * along**2).sum())
    steady = shrunk(scatter, usual, len(z) / worth)
    return SlopeLine(
        float(middle[0]),
        float(middle[1]),
        direction,
        steady * math.sqrt(worth / total),
        steady * math.sqrt(worth / max(lever, 1e-9)),
        weight > 0.05,
        scatter,
    )


def _steady_weights(points: Row, usual: float) -> Row:
    """Weights by the distance from a steady beginning: of lines through pairs of the points the one that the others lie
    nearest to, where it does not matter how far off those are that are off (P. Torr and A. Zisserman 2000; from
    memory). A chip may take half of a short slope: what lies near a line is measured by what other faces scatter,
    `usual`, and by more only where too few of the points are as near as that to any line."""
    i, j = np.random.default_rng(len(points)).integers(len(points), size=(2, PAIRS))
    run = points[j] - points[i]
    size = np.hypot(*run.T)
    far = size >= max(0.3 * float(np.hypot(*np.ptp(points, axis=0))), 1e-9)
    if not far.any():
        return np.ones(len(points))
    i, run, size = i[far], run[far], size[far]
    across = np.column_stack([-run[:, 1], run[:, 0]]) / size[:, None]
    off = np.abs(across @ points.T - (across * points[i]).sum(axis=1)[:, None])
    near = max(ROUGHER * usual, LEAST_NEAR)
    while True:
        best = off[int(np.argmin(np.minimum(off, near).sum(axis=1)))]
        if float(np.mean(best < near)) >= LEAST_SHARE:
            return _biweight(best / (2 * near))
        near *= 1.5


def _density(along: Row) -> float:
    """Points to a pixel."""
    return len(along) / max(float(np.ptp(along)), 1.0)


def _biweight(scaled: Row) -> Row:
    return np.asarray(np.clip(1 - scaled**2, 0, None) ** 2)


def _mode(values: Row) -> float:
    """The middle of the narrowest stretch that holds half of the values."""
    ordered = np.sort(values)
    half = max(1, len(ordered) // 2)
    widths = ordered[half:] - ordered[: len(ordered) - half]
    best = int(np.argmin(widths)) if len(widths) else 0
    return float(np.median(ordered[best : best + half + 1]))


def _spread(off: Row) -> float:
    """Standard deviation of most values (1.48 times the median distance)."""
    return max(1.4826 * _median(np.abs(off - _median(off))), 1e-3)


def _median(values: Row) -> float:
    """As the library has it, in a tenth of its time for few values."""
    ordered, half = np.sort(values), len(values) // 2
    return float(ordered[half] if len(values) % 2 else (ordered[half - 1] + ordered[half]) / 2)


def _worth(off: Row, weight: Row) -> float:
    """How many neighbouring values are worth one, by their correlation (off in the order of the face)."""
    kept = np.where(weight > 0.05, off, 0.0)
    kept = kept - kept.sum() / max(float((weight > 0.05).sum()), 1)
    kept = np.where(weight > 0.05, kept, 0.0)
    size = len(kept)
    power = float((kept**2).sum())
    if size < 8 or power <= 0:
        return 2.0
    total = 1.0
    for lag in range(1, min(size // 3, 120)):
        correlation = float((kept[lag:] * kept[:-lag]).sum()) / power * size / (size - lag)
        if correlation < 0.08:
            break
        total += 2 * correlation
    # A short face tells little of its own correlation: what it shows is not believed to the full.
    return total * (1 + 2 * total / size)
