"""Where a camera stood over the sheet and how its lens draws, from the marks in one picture.

A camera is a pinhole with a lens that bends a little, as k of the square of the distance from the picture's middle
(D. Brown 1966; from memory). One picture of a flat sheet does not tell all of that: what it leaves open is held by what
cameras are like, as a first guess with a doubt, and what is found carries what is left of that doubt.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.joints.scan.pixels import Row

DIAGONAL_35: Mm = 43.27
"""Of the picture that focal lengths are compared by (36 mm by 24 mm)."""
USUAL_35: Mm = 38.0
FOCAL_DOUBT = 0.4
"""Standard uncertainty of the logarithm of a focal length that the file does not tell: telephones have 24 to 28 mm, or
twice or three times that where the picture was magnified (from memory)."""
TOLD_FOCAL_DOUBT = 0.05
BEND = 0.05
"""Standard uncertainty of k before the marks tell it, at the distance of a focal length (assumed)."""
OFF_MIDDLE = 0.008
"""Standard uncertainty of where the lens's axis meets the picture, as a share of its longer side (assumed)."""
CROPPED = 0.06
"""The same where something was cut off the picture."""
STRETCH = 0.003
"""Standard uncertainty of how much longer a printed sheet is across than along, as a share (assumed)."""
MARK_DOUBT = 0.06
"""Standard uncertainty of a mark's corner in pixels, at least (assumed)."""
FIRST_ROUNDS, ROUNDS = 12, 30
"""Steps until corners far off are weighed less, and in all."""
LENSES = np.linspace(-2.5, 2.5, 9)
"""Standard uncertainties of the focal length's logarithm at which lenses are tried."""
HELD = 1e-3
"""Standard uncertainty of that logarithm while one is tried."""
HOLDS = [0, 1, 2, 3, 10]
"""Those of a camera's values that are held by what cameras are like."""


@dataclass(frozen=True, slots=True)
class Lens:
    """What is known of a camera before its picture is looked at: `size` of that (width, height in pixels), the focal
    length as the file tells it (mm, compared by the diagonal of 35 mm film; None where it does not), and whether the
    picture's middle is the lens's, which it is not where something was cut off."""

    size: tuple[int, int]
    focal_35: Mm | None = None
    is_middle: bool = True

    def usual(self) -> tuple[Row, Row]:
        """What cameras are like: the values that are held, and their standard uncertainties."""
        told = self.focal_35 if self.is_middle else None
        focal = (told or USUAL_35) / DIAGONAL_35 * math.hypot(*self.size)
        off = (OFF_MIDDLE if self.is_middle else CROPPED) * max(self.size)
        wish = np.array([math.log(focal), (self.size[0] - 1) / 2, (self.size[1] - 1) / 2, 0.0, 0.0])
        return wish, np.array([TOLD_FOCAL_DOUBT if told else FOCAL_DOUBT, off, off, BEND, STRETCH])


@dataclass(frozen=True, slots=True)
class Camera:
    """What the marks say. `values`: logarithm of the focal length in pixels, the picture's middle (x, y), k, a turn
    (three of an axis times an angle) and a shift (mm) from sheet to camera, and by how much (logarithm) the print is
    stretched across; `covariance` of them; `misfit`: root mean square
    of what the marks lie off (mm on the sheet)."""

    values: Row
    covariance: Row
    misfit: Mm

    def seen(self, places: Row) -> Row:
        """Pixels of points above the sheet (x, y, z in mm)."""
        return _seen(self.values, places)

    @property
    def stand(self) -> Row:
        """Where the camera stood: x, y over the sheet and z above it (mm)."""
        return _stand(self.values)

    @property
    def stand_covariance(self) -> Row:
        """Of where it stood (square mm)."""
        steps = np.sqrt(np.diag(self.covariance)) * 0.1 + 1e-9
        slopes = np.column_stack(
            [
                (_stand(self.values + step * unit) - _stand(self.values - step * unit)) / (2 * step)
                for step, unit in zip(steps, np.eye(len(steps)), strict=True)
            ]
        )
        return np.asarray(slopes @ self.covariance @ slopes.T)

    @property
    def tilt(self) -> Degrees:
        """Between where the camera looks and straight down."""
        down = -_turn(self.values[4:7])[2, 2]
        return math.degrees(math.acos(min(1.0, max(-1.0, float(down)))))


@dataclass(frozen=True, slots=True)
class Stand:
    """Where the camera stood with one of the lenses that it may have had: `place` (x, y, z in mm), the covariance of x
    and y, and how likely that lens is beside the others."""

    place: Row
    spread: Row
    chance: float


def fit_camera(places: Row, pixels: Row, flat: Row, lens: Lens) -> Camera:
    """The camera that draws points of the sheet (x, y in mm) where they are in a picture.

    Args:
        places, pixels: of the same points.
        flat: the homography from sheet to picture, as a first guess.
        lens: what is known of it.
    """
    wish, doubt = lens.usual()
    start = np.concatenate([wish[:4], _first_pose(flat, wish), wish[4:]])
    return _fitted(_Marks(np.column_stack([places, np.zeros(len(places))]), pixels), start, wish, doubt)[0]


def possible_stands(camera: Camera, places: Row, pixels: Row, lens: Lens) -> list[Stand]:
    """Where the camera stood with each of the lenses, short to long, that it may have had; arguments as of
    `fit_camera`, which gave `camera`."""
    wish, doubt = lens.usual()
    marks = _Marks(np.column_stack([places, np.zeros(len(places))]), pixels)
    noise, weight = marks.told_by(camera.values)
    marks = replace(marks, noise=noise, weight=weight)
    found, misfits = [], []
    values = camera.values
    for step in LENSES:
        tried = wish.copy()
        tried[0] += step * doubt[0]
        held = np.concatenate([[HELD], doubt[1:]])
        values = values.copy()
        values[0] = tried[0]
        one, misfit = _fitted(marks, values, tried, held)
        values = one.values
        found.append(one)
        misfits.append(misfit + step**2)
    chances = np.exp((min(misfits) - np.array(misfits)) / 2)
    return [
        Stand(one.stand, one.stand_covariance[:2, :2], float(chance))
        for one, chance in zip(found, chances / chances.sum(), strict=True)
    ]


@dataclass(frozen=True, slots=True)
class _Marks:
    """Corners of marks on the sheet and in the picture; how far off they lie (pixels) and how much each counts, where
    that is known."""

    places: Row
    pixels: Row
    noise: float | None = None
    weight: Row | None = None

    def told_by(self, values: Row) -> tuple[float, Row]:
        """Noise and weights by how far the corners lie off: one that is covered counts the less."""
        far = np.hypot(*(self.pixels - _seen(values, self.places)).T)
        noise = max(MARK_DOUBT, 0.85 * float(np.median(far)))
        return noise, np.minimum(1.0, 3 * noise / np.maximum(far, 1e-9))


def _fitted(marks: _Marks, start: Row, wish: Row, doubt: Row) -> tuple[Camera, float]:
    """The camera that fits best, by steps of K. Levenberg and D. Marquardt, and how badly it fits: the sum of squares
    in standard uncertainties."""
    values: Row = start
    pull = np.zeros((len(HOLDS), len(values)))
    pull[range(len(HOLDS)), HOLDS] = 1 / doubt
    known = marks.noise is not None and marks.weight is not None
    noise = marks.noise or MARK_DOUBT
    weight: Row = np.ones(len(marks.places))
    if marks.weight is not None:
        weight = marks.weight
    damping = 1e-3

    def off(tried: Row) -> Row:
        root = np.repeat(np.sqrt(weight), 2) / noise
        return np.concatenate(
            [(marks.pixels - _seen(tried, marks.places)).ravel() * root, (wish - tried[HOLDS]) / doubt]
        )

    covariance = np.eye(len(values))
    for round_ in range(ROUNDS):
        if round_ == FIRST_ROUNDS and not known:
            noise, weight = marks.told_by(values)
        rows = np.vstack(
            [_slopes(values, marks.places) * (np.repeat(np.sqrt(weight), 2) / noise)[:, None], pull]
        )
        left = off(values)
        normal = rows.T @ rows
        covariance = np.linalg.inv(normal)
        step: Row = np.zeros(len(values))
        for _ in range(8):
            step = np.asarray(np.linalg.solve(normal + damping * np.diag(np.diag(normal)), rows.T @ left))
            after = off(values + step)
            if float(after @ after) <= float(left @ left) + 1e-9:
                values, damping = values + step, damping / 10
                break
            damping *= 10
        is_settled = known or round_ > FIRST_ROUNDS
        if is_settled and float(np.abs(step / np.sqrt(np.diag(covariance))).max()) < 1e-2:
            break
    left = off(values)
    far = marks.pixels - _seen(values, marks.places)
    per_mm = float(np.exp(values[0]) / max(_stand(values)[2], 1e-6))
    camera = Camera(values, covariance, float(np.sqrt((far**2).sum(axis=1).mean())) / per_mm)
    return camera, float(left @ left)


def _turn(turn: Row) -> Row:
    """The matrix of a turn by an axis times an angle (O. Rodrigues 1840)."""
    angle = float(np.linalg.norm(turn))
    if angle < 1e-12:
        return np.eye(3)
    x, y, z = turn / angle
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.asarray(np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross)


def _axis(matrix: Row) -> Row:
    """The axis times the angle of a turn; near half a turn too, which a camera over a sheet makes."""
    values, vectors = np.linalg.eig(matrix)
    axis = np.real(vectors[:, int(np.argmin(np.abs(values - 1)))])
    axis = axis / np.linalg.norm(axis)
    other = np.cross(axis, [1.0, 0, 0] if abs(axis[0]) < 0.7 else [0, 1.0, 0])
    other /= np.linalg.norm(other)
    turned = matrix @ other
    return np.asarray(axis * math.atan2(float(axis @ np.cross(other, turned)), float(other @ turned)))


def _stand(values: Row) -> Row:
    return np.asarray(-_turn(values[4:7]).T @ values[7:10])


def _seen(values: Row, places: Row) -> Row:
    stretch = np.array([math.exp(values[10]), 1.0, 1.0])
    from_camera = places * stretch @ _turn(values[4:7]).T + values[7:10]
    flat = from_camera[:, :2] / from_camera[:, 2:]
    bent = flat * (1 + values[3] * (flat**2).sum(axis=1, keepdims=True))
    return np.asarray(math.exp(values[0]) * bent + values[1:3])


def _slopes(values: Row, places: Row) -> Row:
    steps = np.array([1e-5, 1e-2, 1e-2, 1e-5, *([1e-6] * 3), *([1e-3] * 3), 1e-6])
    return np.column_stack(
        [
            ((_seen(values + step * unit, places) - _seen(values - step * unit, places)) / (2 * step)).ravel()
            for step, unit in zip(steps, np.eye(len(steps)), strict=True)
        ]
    )


def _first_pose(flat: Row, guess: Row) -> Row:
    """Turn and shift out of a homography (Z. Zhang 2000)."""
    focal = math.exp(guess[0])
    inverse = np.array([[1 / focal, 0, -guess[1] / focal], [0, 1 / focal, -guess[2] / focal], [0, 0, 1]])
    columns = inverse @ flat
    columns = columns / math.sqrt(float(np.linalg.norm(columns[:, 0]) * np.linalg.norm(columns[:, 1])))
    if columns[2, 2] < 0:
        columns = -columns
    one, two = columns[:, 0], columns[:, 1]
    u, _, vt = np.linalg.svd(np.column_stack([one, two, np.cross(one, two)]))
    return np.concatenate([_axis(u @ np.diag([1, 1, np.linalg.det(u @ vt)]) @ vt), columns[:, 2]])
