"""Where a camera stood over the sheet and how its lens draws, from the marks in one picture.

A camera is a pinhole with a lens that bends a little, as k of the square of the distance from the picture's middle
(D. Brown 1966; from memory). One picture of a flat sheet does not tell all of that: what it leaves open is held by what
cameras are like, as a first guess with a doubt, and what is found carries what is left of that doubt.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.joints.scan.pixels import Row

DIAGONAL_35: Mm = 43.27
"""Of the picture that focal lengths are compared by (36 mm by 24 mm)."""
USUAL_35: Mm = 30.0
FOCAL_DOUBT = 0.35
"""Standard uncertainty of the logarithm of a focal length that the file does not tell: telephones have 24 to 28 mm, or
twice that where the picture was magnified (from memory)."""
TOLD_FOCAL_DOUBT = 0.05
BEND = 0.05
"""Standard uncertainty of k before the marks tell it, at the distance of a focal length (assumed)."""
OFF_MIDDLE = 0.008
"""Standard uncertainty of where the lens's axis meets the picture, as a share of its longer side (assumed)."""
STRETCH = 0.003
"""Standard uncertainty of how much longer a printed sheet is across than along, as a share (assumed)."""
MARK_DOUBT = 0.06
"""Standard uncertainty of a mark's corner in pixels, at least (assumed)."""
FIRST_ROUNDS, ROUNDS = 12, 30
"""Steps by K. Levenberg and D. Marquardt until corners far off are weighed less, and in all."""


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
    def stand_doubt(self) -> Row:
        """Standard uncertainties of that."""
        steps = np.sqrt(np.diag(self.covariance)) * 0.1 + 1e-9
        slopes = np.column_stack(
            [
                (_stand(self.values + step * unit) - _stand(self.values - step * unit)) / (2 * step)
                for step, unit in zip(steps, np.eye(len(steps)), strict=True)
            ]
        )
        return np.asarray(np.sqrt(np.diag(slopes @ self.covariance @ slopes.T)))

    @property
    def tilt(self) -> Degrees:
        """Between where the camera looks and straight down."""
        down = -_turn(self.values[4:7])[2, 2]
        return math.degrees(math.acos(min(1.0, max(-1.0, float(down)))))


def fit_camera(
    places: Row, pixels: Row, size: tuple[int, int], flat: Row, focal_35: Mm | None = None
) -> Camera:
    """The camera that draws points of the sheet (x, y in mm) where they are in a picture of `size` (width, height).

    Args:
        places, pixels: of the same points.
        flat: the homography from sheet to picture, as a first guess.
        focal_35: as the file tells it (mm, compared by the diagonal of 35 mm film); None where it does not.
    """
    diagonal = math.hypot(*size)
    focal = (focal_35 or USUAL_35) / DIAGONAL_35 * diagonal
    guess = np.array([math.log(focal), (size[0] - 1) / 2, (size[1] - 1) / 2, 0.0])
    off_middle = OFF_MIDDLE * max(size)
    doubt = np.array([TOLD_FOCAL_DOUBT if focal_35 else FOCAL_DOUBT, off_middle, off_middle, BEND])
    wish = np.concatenate([guess, [0.0]])
    held = np.concatenate([doubt, [STRETCH]])
    values = np.concatenate([guess, _first_pose(flat, guess), [0.0]])
    pull = np.zeros((5, len(values)))
    pull[range(4), range(4)] = 1 / doubt
    pull[4, -1] = 1 / STRETCH
    above = np.column_stack([places, np.zeros(len(places))])
    noise, weight = MARK_DOUBT, np.ones(len(places))
    damping = 1e-3
    covariance = np.eye(len(values))
    for round_ in range(ROUNDS):
        off = pixels - _seen(values, above)
        if round_ == FIRST_ROUNDS:
            far = np.hypot(*off.T)
            noise = max(MARK_DOUBT, 0.85 * float(np.median(far)))
            weight = np.minimum(1.0, 3 * noise / np.maximum(far, 1e-9))  # one that is covered counts the less
        root = np.repeat(np.sqrt(weight), 2)[:, None] / noise
        rows = np.vstack([_slopes(values, above) * root, pull])
        left = np.concatenate([off.ravel() * root[:, 0], (wish - values[[0, 1, 2, 3, -1]]) / held])
        normal = rows.T @ rows
        covariance = np.linalg.inv(normal)
        for _ in range(8):
            step = np.linalg.solve(normal + damping * np.diag(np.diag(normal)), rows.T @ left)
            tried = values + step
            after = (pixels - _seen(tried, above)).ravel() * root[:, 0]
            own = (wish - tried[[0, 1, 2, 3, -1]]) / held
            if float(after @ after + own @ own) <= float(left @ left) + 1e-9:
                values, damping = tried, damping / 10
                break
            damping *= 10
        if round_ > FIRST_ROUNDS and float(np.abs(step / np.sqrt(np.diag(covariance))).max()) < 1e-2:
            break
    off = pixels - _seen(values, above)
    per_mm = float(np.exp(values[0]) / max(_stand(values)[2], 1e-6))
    return Camera(values, covariance, float(np.sqrt((off**2).sum(axis=1).mean())) / per_mm)


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
