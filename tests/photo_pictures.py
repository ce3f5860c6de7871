"""Photos of slices on the sheet of marks whose truth is known: a camera, a printed sheet and a slice with sides.

The camera is stated here a second time, with nothing of the reader's; of the sheet only where its marks are is the
package's own. Areas of wood are covered exactly, its sides too where the camera sees them beside the sawn face.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, replace

import cv2
import numpy as np
import shapely

from drawerwright.joints.scan.sheet_marks import FIELD, MARKS
from scan_pictures import Look, Truth, any_look, any_truth, coverage, wood_colours, worn_outline

FINE = 16
"""Pixels to a mm of the printed sheet."""
ROOM = (200.0, 150.0)


@dataclass(frozen=True)
class Shot:
    """How the photo was taken. Lengths in mm, angles in degrees."""

    size: tuple[int, int] = (1700, 1275)
    focal_35: float = 38.0
    stand: tuple[float, float, float] = (4.0, -3.0, 400.0)
    tilt: tuple[float, float] = (1.0, -1.5)
    roll: float = 4.0
    bend: tuple[float, float] = (0.0, 0.0)
    """Of the lens, by the second and the fourth power of the distance from the middle."""
    off_middle: tuple[float, float] = (0.0, 0.0)
    """Of the lens's axis, as a share of the picture's width."""
    slice_height: float = 6.0
    place: tuple[float, float] = (0.0, 0.0)
    side_light: tuple[float, float] = (0.65, 0.15)
    """Of the wood's sides beside its sawn face: on average, and by how much more on the lit ones."""
    light: tuple[float, float] = (0.0, 0.0)
    """How much lighter the photo is at its right and its lower edge, as a share."""
    exposure: float = 1.0
    printed: tuple[float, float] = (1.0, 1.0)
    bow: float = 0.0
    """How far the paper stands off the table at the sheet's ends."""
    covered: int = 0
    """How many marks something lies on."""


@dataclass(frozen=True)
class SlicePhoto:
    """What a photo would be with everything known."""

    pixels: np.ndarray
    truth: Truth
    look: Look
    shot: Shot


class _Camera:
    def __init__(self, shot: Shot) -> None:
        self.focal = shot.focal_35 / 43.2666 * math.hypot(*shot.size)
        self.middle = np.array(
            [
                (side - 1) / 2 + off * shot.size[0]
                for side, off in zip(shot.size, shot.off_middle, strict=True)
            ]
        )
        self.bend = shot.bend
        a, b = (math.radians(angle) for angle in shot.tilt)
        c = math.radians(shot.roll)
        about_x = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
        about_y = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
        about_z = np.array([[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]])
        self.turn = about_z @ about_y @ about_x @ np.diag([1.0, -1.0, -1.0])
        self.stand = np.array(shot.stand)

    def seen(self, places: np.ndarray) -> np.ndarray:
        rays = (places - self.stand) @ self.turn.T
        flat = rays[..., :2] / rays[..., 2:]
        square = (flat**2).sum(axis=-1, keepdims=True)
        return flat * (1 + self.bend[0] * square + self.bend[1] * square**2) * self.focal + self.middle

    def back(self, pixels: np.ndarray, level: float) -> np.ndarray:
        """Where the sight of a pixel meets a level above the sheet."""
        bent = (pixels - self.middle) / self.focal
        flat = bent
        for _ in range(6):
            square = (flat**2).sum(axis=-1, keepdims=True)
            flat = bent / (1 + self.bend[0] * square + self.bend[1] * square**2)
        rays = np.concatenate([flat, np.ones((*flat.shape[:-1], 1))], axis=-1) @ self.turn
        far = (level - self.stand[2]) / rays[..., 2:]
        return (self.stand + far * rays)[..., :2]


def _between(few: np.ndarray, width: int, height: int) -> np.ndarray:
    """What is known for each eighth row and column, for all of them."""
    share = (np.arange(8, dtype=np.float32) / 8)[:, None, None, None]
    few = few.astype(np.float32)
    rows = (few[:-1] + share * (few[1:] - few[:-1])).swapaxes(0, 1).reshape(-1, *few.shape[1:])[:height]
    across = rows[:, :-1, None] + share.reshape(1, 1, 8, 1) * (rows[:, 1:, None] - rows[:, :-1, None])
    return across.reshape(height, -1, few.shape[2])[:, :width]


@functools.cache
def _sheet(covered: int) -> np.ndarray:
    """The printed sheet from above, grey, its rows from the top."""
    wide, high = ROOM
    image = np.full((round(high * FINE), round(wide * FINE)), 235, np.uint8)

    def fill(left: float, low: float, right: float, top: float, shade: int) -> None:
        columns = (round((edge + wide / 2) * FINE) for edge in (left, right))
        rows = (round((high / 2 - edge) * FINE) for edge in (top, low))
        image[slice(*rows), slice(*columns)] = shade

    fill(-FIELD[0] / 2, -FIELD[1] / 2, FIELD[0] / 2, FIELD[1] / 2, 28)
    for mark in MARKS:
        (left, top), _, (right, low), _ = mark.corners
        fill(left, low, right, top, 28)
        for x, y, side in mark.white():
            fill(x, y, x + side, y + side, 235)
        if mark.number < covered:
            fill(left - 1, low - 1, (left + right) / 2, top + 1, 150)
    return cv2.GaussianBlur(image, (0, 0), 0.6)


def photo(truth: Truth, look: Look, shot: Shot) -> SlicePhoto:
    """The photo of a slice."""
    rng = np.random.default_rng(look.seed)
    camera = _Camera(shot)
    width, height = shot.size
    columns, rows = np.meshgrid(np.arange(0, width + 8, 8), np.arange(0, height + 8, 8))
    place = camera.back(np.stack([columns, rows], axis=-1).astype(np.float64), 0.0)
    place *= 1 + shot.bow * (place[..., :1] / 80) ** 2 / shot.stand[2]
    place = _between(place / np.array(shot.printed), width, height)
    x = (place[..., 0] + ROOM[0] / 2) * FINE - 0.5
    y = (ROOM[1] / 2 - place[..., 1]) * FINE - 0.5
    sheet = cv2.remap(
        _sheet(shot.covered),
        x.astype(np.float32),
        y.astype(np.float32),
        cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_CONSTANT,
        borderValue=150,
    )
    image = np.repeat(sheet[..., None].astype(np.float32), 3, axis=2)

    outline = truth.outline(look.length)
    worn = worn_outline(outline, look, rng)
    angle = math.radians(look.angle)
    turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    if look.mirrored:
        turn = turn @ np.diag([1.0, -1.0])
    middle = (outline.min(axis=0) + outline.max(axis=0)) / 2

    def above(points: np.ndarray, level: float) -> np.ndarray:
        flat = (points - middle) @ turn.T + np.array(shot.place)
        return camera.seen(np.column_stack([flat, np.full(len(flat), level)]))

    top, foot = above(worn, shot.slice_height), above(worn, 0.0)
    both = np.vstack([top, foot])
    low = np.maximum(np.floor(both.min(axis=0)).astype(int) - 8, 0)
    high = np.minimum(np.ceil(both.max(axis=0)).astype(int) + 9, [width, height])
    box = (slice(low[1], high[1]), slice(low[0], high[0]))
    shape = (high[1] - low[1], high[0] - low[0])
    upper = shapely.Polygon(top - low).buffer(0)
    share = coverage(top - low, *shape).astype(np.float32)
    columns, rows = np.meshgrid(np.arange(low[0], high[0]), np.arange(low[1], high[1]))
    on_wood = camera.back(np.stack([columns, rows], axis=-1).astype(np.float64), shot.slice_height)
    along, through = (
        ((on_wood - np.array(shot.place)) @ turn + middle)
        .reshape(-1, 2)
        .T.reshape(2, *shape)
        .astype(np.float32)
    )
    per_mm = camera.focal / shot.stand[2]
    wood = wood_colours(along, through, truth, look, per_mm, rng)
    ground = image[box]
    if look.shadow:
        away = rng.uniform(0, 2 * math.pi)
        reach = rng.uniform(0.5, 2.0) * per_mm
        move = np.float32([[1, 0, reach * math.cos(away)], [0, 1, reach * math.sin(away)]])
        cast = cv2.GaussianBlur(cv2.warpAffine(share, move, shape[::-1]), (0, 0), 0.6 * per_mm)
        ground = ground * (1 - look.shadow * cast)[..., None]
    sides = np.zeros((*shape, 3), np.float32)
    shown = np.zeros(shape, np.float32)
    lit = rng.uniform(0, 2 * math.pi)
    ends = [int(np.argmin(((worn - corner) ** 2).sum(axis=1))) for corner in outline]
    for one, other in zip(ends, [*ends[1:], ends[0]], strict=True):
        chain = np.arange(one, other + 1 if other > one else other + 1 + len(worn)) % len(worn)
        swept = shapely.Polygon(np.vstack([top[chain], foot[chain][::-1]]) - low).buffer(0)
        run = top[chain[-1]] - top[chain[0]]
        bright = shot.side_light[0] + shot.side_light[1] * math.cos(math.atan2(run[1], run[0]) - lit)
        seen = shapely.difference(swept, upper)
        for part in shapely.get_parts(seen):
            if part.geom_type == "Polygon" and part.area > 0.05:
                covered = coverage(np.array(part.exterior.coords)[:-1], *shape).astype(np.float32)
                covered = np.minimum(covered, np.maximum(1 - share - shown, 0))
                shown += covered
                sides += covered[..., None] * np.array(look.wood, np.float32) * bright
    image[box] = ground * (1 - share - shown)[..., None] + wood * share[..., None] + sides
    gain = np.add.outer(
        1 + shot.light[1] * (np.arange(height) / height - 0.5),
        shot.light[0] * (np.arange(width) / width - 0.5),
    )
    image = cv2.GaussianBlur(image * (shot.exposure * gain)[..., None].astype(np.float32), (0, 0), look.blur)
    grain = rng.standard_normal((height // 3 + 1, width // 2 + 1, 3)).astype(np.float32) * look.noise
    image += np.tile(grain, (3, 2, 1))[:height, :width]
    found = np.clip(np.round(image), 0, 255).astype(np.uint8)
    if look.jpeg is not None:
        coded = cv2.imencode(".jpg", found, [cv2.IMWRITE_JPEG_QUALITY, look.jpeg])[1]
        found = cv2.imdecode(coded, cv2.IMREAD_UNCHANGED)
    return SlicePhoto(found, truth, look, shot)


def any_shot(rng: np.random.Generator, size: tuple[int, int] = (2400, 1800)) -> Shot:
    """Any of the ways somebody careful takes such a photo: the marks nearly fill it, the camera stands over the
    slice."""
    focal = float(rng.choice([26.0, 26.0, 52.0]))
    spread = float(rng.uniform(1.1, 1.4))  # of the picture's width beside the marks'
    far = 156.0 * spread * (focal / 43.2666 * math.hypot(*size)) / size[0]
    far = max(far, 250.0)
    place = rng.normal(0, 4, 2)
    stand = place + rng.normal(0, 0.025 * far, 2)
    # Pointed at the sheet's middle, more or less.
    tilt = np.degrees(np.array([stand[1], stand[0]]) / far) + rng.normal(0, 0.8, 2)
    return Shot(
        size=size,
        focal_35=focal,
        stand=(float(stand[0]), float(stand[1]), float(far)),
        tilt=(float(tilt[0]), float(tilt[1])),
        roll=float(rng.choice([0, 180]) + rng.normal(0, 5)),
        bend=(float(rng.normal(0, 0.02)), float(rng.normal(0, 0.01))),
        off_middle=tuple(rng.normal(0, 0.005, 2)),
        slice_height=float(rng.uniform(4, 9)),
        place=(float(place[0]), float(place[1])),
        side_light=(float(rng.uniform(0.5, 0.9)), float(rng.uniform(0, 0.25))),
        light=tuple(rng.uniform(-0.3, 0.3, 2)),
        exposure=float(rng.uniform(0.8, 1.05)),
        printed=tuple(1 + 0.002 * rng.standard_normal(2)),
        bow=float(abs(rng.normal(0, 0.3))),
    )


def any_slice_photo(seed: int, size: tuple[int, int] = (2400, 1800)) -> SlicePhoto:
    """Photo number `seed`."""
    rng = np.random.default_rng(seed)
    truth, look, shot = any_truth(rng, is_flat=seed % 2 == 0), any_look(rng), any_shot(rng, size)
    look = replace(
        look,
        angle=float(rng.uniform(0, 360)),
        length=min(look.length, 38.0),
        shadow=float(rng.uniform(0, 0.3)),
        blur=float(rng.uniform(0.6, 1.5)),
        noise=float(rng.uniform(1, 5)),
        jpeg=int(rng.integers(80, 96)),
        roughness=min(look.roughness, 0.01),
    )
    return photo(truth, look, shot)
