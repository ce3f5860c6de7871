"""Pictures of sawn test pieces whose truth is known: a scanner, a saw and a piece of plywood in numbers.

The section that is drawn is the law's own (`drawerwright.joints.corner`); what it is drawn with, and all that spoils a
picture, is made here, without anything of the reader's. Areas are covered exactly: a pixel's share of wood is reckoned,
not sampled, so that the picture itself adds no error.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Any

import cv2
import numpy as np

from drawerwright.joints.corner import Cuts, flat_section, upright_section
from drawerwright.joints.profile import Profile, drawer_lock_profile, lock_mitre_profile

INCH = 25.4
ROWS_PER_PIXEL = 8


@dataclass(frozen=True)
class Truth:
    """What was cut (mm, degrees)."""

    mid_depth: float
    step: float
    slope: float
    bit_height: float
    fence: float
    thickness: float
    kind: str = "drawer-lock"
    is_flat: bool = True

    @property
    def profile(self) -> Profile:
        make = drawer_lock_profile if self.kind == "drawer-lock" else lock_mitre_profile
        return make(self.mid_depth, self.step, self.slope)

    def outline(self, length: float) -> np.ndarray:
        """The section, `length` mm long, in the piece's own frame: along it from the cut end, and through it."""
        cuts = Cuts(self.profile, self.thickness, self.thickness, self.bit_height, self.fence, self.fence)
        if self.is_flat:
            return np.array(flat_section(cuts, length))
        corner = np.array(upright_section(cuts, 0.0, 0.0, length))
        return np.column_stack([-corner[:, 1], corner[:, 0]])


@dataclass(frozen=True)
class Look:
    """How it looks, and what spoils it. Lengths in mm unless said."""

    dpi: float = 300.0
    angle: float = 0.0
    mirrored: bool = False
    length: float = 34.0
    frame: str = "whole"
    """`whole` slice, or cut by the picture's edge: `end`."""
    margin: float = 6.0
    ground: tuple[int, int, int] = (25, 25, 25)
    """Blue, green, red, as the library has them."""
    wood: tuple[int, int, int] = (130, 175, 205)
    plies: int = 9
    glue: float = 0.03
    """A third of a glue line's width."""
    contrast: float = 25.0
    """Of neighbouring plies."""
    saw_marks: float = 6.0
    roughness: float = 0.008
    """Root mean square; routed wood has 0.004 to 0.012 mm (from memory)."""
    chips: int = 2
    fuzz: int = 2
    dust: int = 10
    shadow: float = 0.0
    """Share of the light that it takes."""
    uneven: float = 4.0
    blur: float = 0.7
    """Standard deviation in pixels."""
    noise: float = 3.0
    jpeg: int | None = None
    is_grey: bool = False
    scale: tuple[float, float] = (1.0, 1.0)
    """What the scanner makes of a mm, across and along."""
    wobble: float = 0.0
    seed: int = 0


@dataclass(frozen=True)
class Photo:
    """What a picture would be with everything known."""

    pixels: np.ndarray
    truth: Truth
    look: Look
    to_pixels: Any = field(compare=False, default=None)
    """From the piece's own frame to the picture."""


def coverage(outline: np.ndarray, height: int, width: int) -> np.ndarray:
    """The share of each pixel that lies inside an outline given in pixels, where pixel (0, 0) reaches from -0.5 to 0.5.

    Exact along rows; `ROWS_PER_PIXEL` lines are laid across each pixel.
    """
    ax, ay = (outline + 0.5).T
    bx, by = np.roll(ax, -1), np.roll(ay, -1)
    levels = (np.arange(height * ROWS_PER_PIXEL) + 0.5) / ROWS_PER_PIXEL
    first = np.searchsorted(levels, np.minimum(ay, by))
    count = np.searchsorted(levels, np.maximum(ay, by)) - first
    edge = np.repeat(
        np.arange(len(ax)), count
    )  # each edge of the outline, once for each line that it crosses
    line = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count) + first[edge]
    run = (levels[line] - ay[edge]) / (by - ay)[edge]
    at = np.clip(ax[edge] + (bx - ax)[edge] * run, 0.0, width)
    sign = np.where((by > ay)[edge], 1.0, -1.0)
    cell = np.minimum(at.astype(int), width - 1)
    # The lines across a pixel are summed at once: an outline that does not cross itself winds one way everywhere.
    place = line // ROWS_PER_PIXEL * (width + 2) + cell
    size = height * (width + 2)
    starts = np.bincount(place, sign * (1 - at + cell), size) + np.bincount(
        place + 1, sign * (at - cell), size
    )
    starts = starts.reshape(height, width + 2)
    return np.abs(np.cumsum(starts, axis=1)[:, :width]) / ROWS_PER_PIXEL


def _walked(outline: np.ndarray, stride: float = 0.05) -> tuple[np.ndarray, np.ndarray]:
    """Points along an outline and the outward normal at each."""
    points, normals = [], []
    for a, b in zip(outline, np.roll(outline, -1, axis=0), strict=True):
        size = float(np.hypot(*(b - a)))
        count = max(2, int(size / stride))
        shares = (np.arange(count) + 0.5) / count
        points.append(a + shares[:, None] * (b - a))
        normals.append(np.tile(np.array([b[1] - a[1], a[0] - b[0]]) / size, (count, 1)))
    found, out = np.concatenate(points), np.concatenate(normals)
    turns = (outline[:, 0] * np.roll(outline[:, 1], -1) - outline[:, 1] * np.roll(outline[:, 0], -1)).sum()
    return found, out if turns > 0 else -out


def worn_outline(outline: np.ndarray, look: Look, rng: np.random.Generator) -> np.ndarray:
    """The outline as a saw and a router leave it: rough, chipped, with fibres that stand off."""
    points, normals = _walked(outline)
    size = len(points)
    kernel = np.exp(-0.5 * (np.arange(-20, 21) / 5.0) ** 2)
    rough = np.convolve(rng.standard_normal(size + 40), kernel / np.sqrt((kernel**2).sum()), "valid")
    off = look.roughness * rough
    place = np.arange(size)
    for _ in range(look.chips):
        centre, half = rng.integers(size), rng.uniform(0.15, 0.6) / 0.05
        deep = rng.uniform(0.1, 0.6)
        off -= deep * np.clip(1 - (np.abs(place - centre) / half) ** 2, 0, None)
    for _ in range(look.fuzz):
        centre, half = rng.integers(size), rng.uniform(0.05, 0.15) / 0.05
        off += rng.uniform(0.1, 0.5) * np.clip(1 - np.abs(place - centre) / half, 0, None)
    return points + off[:, None] * normals


def _noise(shape: tuple[int, int], across: float, along: float, rng: np.random.Generator) -> np.ndarray:
    rough = rng.standard_normal(shape).astype(np.float32)
    soft = cv2.GaussianBlur(rough, (0, 0), sigmaX=max(along, 0.3), sigmaY=max(across, 0.3))
    return soft / max(float(soft.std()), 1e-6)


def wood_colours(
    along: np.ndarray, through: np.ndarray, truth: Truth, look: Look, per_mm: float, rng: np.random.Generator
) -> np.ndarray:
    """Sawn wood at every place of a piece (mm): plies, glue lines, saw marks, fibres."""
    height, width = along.shape
    shade = np.zeros((height, width), np.float32)
    if look.plies > 1:
        ply = through / truth.thickness * look.plies
        shade += look.contrast * np.where(np.floor(ply) % 2 == 0, 0.5, -0.5)
        nearest = np.abs(ply - np.round(ply)) * truth.thickness / look.plies
        inside = (np.round(ply) > 0) & (np.round(ply) < look.plies)
        shade -= 2.2 * look.contrast * np.clip(1.5 - nearest / max(look.glue, 1e-6), 0, 1) * inside
    stripe = along * math.cos(0.4) + through * math.sin(0.4)
    shade += look.saw_marks * np.sin(2 * math.pi * stripe / rng.uniform(0.6, 1.6) + rng.uniform(0, 6))
    shade += 5.0 * _noise((height, width), 0.05 * per_mm, 0.4 * per_mm, rng)
    return np.array(look.wood, np.float32) + shade[..., None] * np.array([0.8, 1.0, 1.05], np.float32)


def picture(truth: Truth, look: Look) -> Photo:
    """The picture of a section."""
    rng = np.random.default_rng(look.seed)
    per_mm = look.dpi / INCH
    outline = truth.outline(look.length)
    worn = worn_outline(outline, look, rng)
    angle = math.radians(look.angle)
    turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    if look.mirrored:
        turn = turn @ np.diag([1.0, -1.0])
    turned = outline @ turn.T
    low = turned.min(axis=0) - look.margin
    high = turned.max(axis=0) + look.margin
    if look.frame == "end":  # the far end lies outside the picture
        reach = max(truth.fence, truth.bit_height) + 8.0
        kept = outline.copy()
        kept[:, 0] = np.minimum(kept[:, 0], kept[:, 0].min() + reach)
        seen = kept @ turn.T
        centre = (seen.min(axis=0) + seen.max(axis=0)) / 2
        toward = turn @ np.array([1.0, 0.0])
        half = (seen.max(axis=0) - seen.min(axis=0)) / 2 + look.margin
        low, high = centre - half, centre + half
        for axis in (0, 1):  # no air beyond the cut-off side
            if abs(toward[axis]) > 0.5:
                if toward[axis] > 0:
                    high[axis] -= look.margin + 1.0
                else:
                    low[axis] += look.margin + 1.0
    width, height = (round(size * per_mm) for size in high - low)
    shift = rng.uniform(0, 1, 2)
    scale = np.array(look.scale)
    phase, period = rng.uniform(0, 2 * math.pi, 2), rng.uniform(8, 30, 2)

    def to_pixels(points: np.ndarray) -> np.ndarray:
        placed = np.asarray(points) @ turn.T - low
        wave = look.wobble * np.sin(2 * math.pi * placed[:, ::-1] / period + phase)
        return (placed * scale + wave) * per_mm + shift - 0.5

    share = coverage(to_pixels(worn), height, width).astype(np.float32)

    # Every pixel's place in the piece: along it and through it.
    columns, rows = np.meshgrid(np.arange(width), np.arange(height))
    flat = (np.column_stack([columns.ravel(), rows.ravel()]) + 0.5 - shift) / per_mm / scale + low
    along, through = (flat @ turn).T.reshape(2, height, width).astype(np.float32)
    wood = wood_colours(along, through, truth, look, per_mm, rng)
    ground = np.tile(np.array(look.ground, np.float32), (height, width, 1))
    drift = (columns / width * rng.uniform(-1, 1) + rows / height * rng.uniform(-1, 1)).astype(np.float32)
    ground += look.uneven * drift[..., None]
    if look.shadow:
        away = rng.uniform(0, 2 * math.pi)
        reach = rng.uniform(0.3, 1.0) * per_mm
        move = np.float32([[1, 0, reach * math.cos(away)], [0, 1, reach * math.sin(away)]])
        cast = cv2.warpAffine(share, move, (width, height), borderMode=cv2.BORDER_REPLICATE)
        cast = cv2.GaussianBlur(cast, (0, 0), 0.4 * per_mm)
        ground *= (1 - look.shadow * cast)[..., None]
    image = ground * (1 - share[..., None]) + wood * share[..., None]
    for _ in range(look.dust):
        at = (int(rng.integers(width)), int(rng.integers(height)))
        colour = [float(rng.uniform(60, 220))] * 3
        cv2.circle(image, at, max(1, int(rng.uniform(0.04, 0.15) * per_mm)), colour, -1)
    if look.blur:
        image = cv2.GaussianBlur(image, (0, 0), look.blur)
    image += rng.standard_normal(image.shape).astype(np.float32) * look.noise
    pixels = np.clip(np.round(image), 0, 255).astype(np.uint8)
    if look.is_grey:
        pixels = cv2.cvtColor(pixels, cv2.COLOR_BGR2GRAY)
    if look.jpeg is not None:
        pixels = cv2.imdecode(
            cv2.imencode(".jpg", pixels, [cv2.IMWRITE_JPEG_QUALITY, look.jpeg])[1], cv2.IMREAD_UNCHANGED
        )
    return Photo(pixels, truth, look, to_pixels)


WOODS = ((130, 175, 205), (150, 190, 215), (95, 140, 180), (70, 100, 140), (165, 200, 220))
DARK = ((20, 20, 20), (35, 30, 28), (45, 30, 20), (20, 35, 20))
LIGHT = ((245, 245, 245), (232, 236, 238), (250, 248, 246))


def any_truth(rng: np.random.Generator, *, is_flat: bool) -> Truth:
    """A cutter and its cut as shops have them."""
    while True:
        mid, step, slope = rng.uniform(4.5, 6.5), rng.uniform(2.6, 4.0), rng.uniform(40, 70)
        height = 2 * mid + rng.uniform(-0.4, 0.4)
        thick = rng.uniform(max(12.0, height + 1.8), max(12.0, height + 1.8) + 4)
        fence = (thick + step) / 2 + rng.uniform(-0.6, 0.6)
        rise = step / math.tan(math.radians(slope))
        if mid - rise / 2 > 0.9 and height - mid - rise / 2 > 0.9:
            return Truth(mid, step, slope, height, fence, thick, is_flat=is_flat)


WOBBLE = 0.006
"""Standard deviation of a face's place (mm) over scanners and places, as the reader assumes it; of a wave, its height
by the square root of two."""


def any_look(rng: np.random.Generator, *, least_dpi: float = 200.0, scanner_scale: float = 0.0015) -> Look:
    """Any of the ways a flatbed scanner shows a slice."""
    is_dark = rng.random() < 0.6
    grounds = DARK if is_dark else LIGHT
    woods = WOODS if is_dark else WOODS[:4]
    choices = [dpi for dpi in (200.0, 300.0, 300.0, 400.0, 600.0, 1200.0) if dpi >= least_dpi]
    dpi = float(choices[rng.integers(len(choices))])
    frame = "end" if rng.random() < 0.4 else "whole"
    angle = (
        float(rng.uniform(0, 360))
        if frame == "whole"
        else float(rng.choice([0, 90, 180, 270]) + rng.uniform(-8, 8))
    )
    return Look(
        dpi=dpi,
        angle=angle,
        mirrored=bool(rng.random() < 0.5),
        length=float(rng.uniform(28, 45)),
        frame=frame,
        margin=float(rng.uniform(3, 8)),
        ground=grounds[rng.integers(len(grounds))],
        wood=woods[rng.integers(len(woods))],
        plies=int(rng.choice([1, 5, 7, 9, 11, 13])),
        glue=float(rng.uniform(0.01, 0.04)),
        contrast=float(rng.uniform(5, 32)),
        saw_marks=float(rng.uniform(0, 10)),
        roughness=float(rng.uniform(0.002, 0.012)),
        chips=int(rng.integers(0, 5)),
        fuzz=int(rng.integers(0, 6)),
        dust=int(rng.integers(0, 30)),
        shadow=0.0 if is_dark or rng.random() < 0.4 else float(rng.uniform(0.05, 0.25)),
        uneven=float(rng.uniform(0, 8)),
        blur=float(rng.uniform(0.4, 1.1)) * max(1.0, dpi / 600),
        noise=float(rng.uniform(0.5, 6)),
        jpeg=None if rng.random() < 0.5 else int(rng.integers(60, 96)),
        is_grey=bool(rng.random() < 0.25),
        scale=tuple(1 + scanner_scale * rng.standard_normal(2)),
        wobble=float(math.sqrt(2) * abs(rng.normal(0, WOBBLE))) if scanner_scale else 0.0,
        seed=int(rng.integers(1 << 30)),
    )


def plain(look: Look) -> Look:
    """The same picture with nothing that spoils it."""
    return replace(
        look,
        chips=0,
        fuzz=0,
        dust=0,
        noise=0.0,
        roughness=0.0,
        shadow=0.0,
        jpeg=None,
        scale=(1.0, 1.0),
        wobble=0.0,
    )
