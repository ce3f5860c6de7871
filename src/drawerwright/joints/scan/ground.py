"""Wood told from the ground that it lies on.

The ground is plain: one colour, lit a little unevenly. What differs from it is wood, however its plies, glue lines and
saw marks look. A shadow differs from the ground too, by its light more than by its colour: the channel in which wood
and ground are compared is the one that tells them apart best over what the ground near the piece really shows
(R. Fisher 1936; from memory), and so it leaves shadows out where there is colour to do it with.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.pixels import Mask, Picture, Row

WORKING_SIZE = 900
"""The outline is first sought in a picture with no more rows and columns than this."""
EVERY = 3
"""The ground's light is found from each third row and column."""
DARK_PLIES = 0.4
"""Where light and dark plies part, wood and ground part at such a share of it."""
RING = 2000
"""So many pixels along the picture's edge tell the ground's colour."""
FEW = 6000
"""Colours of wood and ground are known from so many pixels each."""
LEAST_PIXELS = 72
"""A picture with fewer rows or columns shows no section."""
LEAST_SHARE = 0.02
"""A piece that covers less of the picture than this is dust, or too small to be read."""
LEAST_BRIGHTER = 18.0
"""From this difference on (of 255) edges are placed by brightness alone: cameras and files blur colours more."""
DEEP_SHADOW = 0.08
"""From this depth on (1 is as dark as wood) a shadow beside the wood makes edges doubtful."""
LEAST_CONTRAST = 3.0
"""How many standard deviations of the ground wood must stand off it."""


@dataclass(frozen=True, slots=True)
class WoodTold:
    """Wood and ground of a picture.

    `contrast` is 0 on the ground and about 1 on wood, at full size, and leaves shadows out as far as colours
    allow; `brightness` is the same without colours: sharper. `mask` and `outline` are the piece's, in the
    smaller picture whose pixels are `factor` pixels wide.
    """

    contrast: Picture
    brightness: Picture
    mask: Mask
    outline: Row
    factor: float
    apart: float
    """How many standard deviations of the ground wood stands off it."""
    shadow: float
    """How deep a shadow lies beside the wood: 1 is as dark as wood."""
    faint: float
    """A tenth of the wood stands off the ground by less than this."""


def tell_wood(picture: NDArray[np.uint8]) -> Iterator[WoodTold]:
    """Every way to tell wood from ground that makes sense, the likeliest first, each made when it is asked for.

    Raises:
        InvalidValueError: nothing in the picture stands off a plain ground.
    """
    rows = picture if picture.ndim == 3 else picture[:, :, None]
    height, width = rows.shape[:2]
    if min(height, width) < LEAST_PIXELS:
        raise InvalidValueError(
            phrase(
                "the picture is {width} by {height} pixels, too few to measure on: scan at 300 dpi or more, "
                "with some room around the slice",
                width=width,
                height=height,
            )
        )
    factor = max(1.0, max(height, width) / WORKING_SIZE)
    small = small_picture(rows, factor)
    is_told = False
    colours = plain_colours(small)
    for share in (1.0, DARK_PLIES):
        for level in colours:
            told = _told(rows, small, level, factor, share)
            if told is not None:
                is_told = True
                yield told
    if not is_told:
        raise InvalidValueError(
            phrase(
                "nothing stands out from the ground: lay the slice on a plain ground much darker or "
                "much lighter than the wood; for a photo, in the middle of the sheet's dark field"
            )
        )


def small_picture(rows: NDArray[np.uint8], factor: float) -> Picture:
    """The picture with `factor` times as few rows and columns, without specks."""
    small = pixels.smaller(rows, factor) if factor > 1 else rows
    plain = pixels.without_specks(np.ascontiguousarray(small)).reshape(*small.shape[:2], -1)
    return np.asarray(plain.astype(np.float32))


def plain_colours(small: Picture) -> list[Row]:
    """The commonest plain colours along the picture's edge, as the ground's."""
    grey = small.mean(axis=2)
    busy = np.sqrt(np.maximum(pixels.soft(grey**2, 2.0) - pixels.soft(grey, 2.0) ** 2, 0.0))
    ring = np.zeros(grey.shape, bool)
    ring[:4], ring[-4:], ring[:, :4], ring[:, -4:] = True, True, True, True
    few = max(1, int(ring.sum()) // RING)
    colours, weights = small[ring][::few].astype(np.float64), 1.0 / (1.0 + (busy[ring][::few] / 6.0) ** 2)
    apart = np.ascontiguousarray(colours.T)  # the largest of few is found sooner down columns
    found: list[Row] = []
    for _ in range(2):
        if weights.sum() < 0.05 * len(weights):
            break
        best, most = None, 0.0
        for colour in colours[:: max(1, len(colours) // 60)]:
            near = weights[np.abs(apart - colour[:, None]).max(axis=0) < 14].sum()
            if near > most:
                best, most = colour, float(near)
        if best is None:
            break
        off = np.abs(apart - best[:, None]).max(axis=0)
        found.append(np.average(colours[off < 14], axis=0, weights=weights[off < 14]))
        weights = np.where(off < 40, 0.0, weights)
    return found


def _surface(shape: tuple[int, ...]) -> Picture:
    """Terms of a surface of second degree, over a picture of this shape."""
    y, x = np.mgrid[-1 : 1 : shape[0] * 1j, -1 : 1 : shape[1] * 1j]
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1).astype(np.float32)


def _told(
    rows: NDArray[np.uint8], small: Picture, level: Row, factor: float, share: float
) -> WoodTold | None:
    """Wood told from a ground of this colour: what differs by `share` of what parts two heaps best, or more."""
    few = small[::EVERY, ::EVERY]
    terms = _surface(few.shape[:2])
    ground = np.broadcast_to(level.astype(np.float32), few.shape)
    reach = 18.0
    for _ in range(4):
        plain = _largest(few - ground) < reach
        if plain.sum() < 200:
            return None
        known = terms[plain].astype(np.float64)
        coefficients = np.linalg.solve(known.T @ known + 1e-6 * np.eye(terms.shape[-1]), known.T @ few[plain])
        ground = terms @ coefficients.astype(np.float32)
        reach = float(np.clip(4 * np.median(_largest(few - ground)[plain]), 8.0, 18.0))
    ground = pixels.sized(ground, small.shape[:2])
    off = np.sqrt(((small - ground) ** 2).sum(axis=2))
    split = share * pixels.split_level(np.clip(off, 0, np.quantile(off[::EVERY, ::EVERY], 0.99)))
    rough = pixels.closed((off > split).astype(np.uint8), 3)
    if not LEAST_SHARE < rough.mean() < 0.97:
        return None
    stands_off = small - ground
    channel, apart = _best_channel(stands_off, rough)
    if apart < LEAST_CONTRAST:
        return None
    marked = stands_off @ channel.astype(np.float32)
    mask = (marked > 0.5 * share).astype(np.uint8)
    found = pixels.pieces(pixels.closed(mask, 3))
    if not found or found[0][0] < LEAST_SHARE * mask.size:
        return None
    _, outline, whole = found[0]
    contrast = _levelled(rows, ground, channel)
    brightness, shadow = _brightness(stands_off, whole)
    sharp = contrast if brightness is None else _levelled(rows, ground, brightness)
    inside = pixels.soft(whole.astype(np.float32), 2.0) > 0.98
    faint = float(np.quantile(marked[inside][::EVERY], 0.1)) if inside.any() else 0.0
    return WoodTold(contrast, sharp, whole, outline, factor, apart, shadow, faint)


def _levelled(rows: NDArray[np.uint8], ground: Picture, channel: Row) -> Picture:
    """One channel of the picture at full size, less what the ground shows in it."""
    return pixels.mixed(rows, channel) - pixels.sized((ground @ channel).astype(np.float32), rows.shape[:2])


def _brightness(off: Picture, mask: Mask) -> tuple[Row | None, float]:
    """Equal weights of all colours, by which wood is at 1, and how deep a shadow lies beside the wood by them.

    None where wood is about as bright as the ground, or a shadow lies beside it and there are colours to tell by.
    """
    count = off.shape[2]
    levels = off.mean(axis=2)
    wood, ground = float(np.median(levels[mask > 0])), levels[mask == 0]
    scatter = 1.4826 * float(np.median(np.abs(ground - np.median(ground)))) + 1.0
    if abs(wood) < max(LEAST_BRIGHTER, 4 * scatter):
        return None, 0.0
    grown = pixels.soft(mask.astype(np.float32), 4.0)
    beside = levels[(mask == 0) & (grown < 0.2) & (grown > 0.004)] / wood
    shadow = float(np.quantile(beside, 0.9)) if len(beside) else 0.0
    weights = np.full(count, 1 / (count * wood))
    return (None if shadow > DEEP_SHADOW and count > 1 else weights), shadow


def _largest(off: Picture) -> Picture:
    """The largest of the colours of each pixel."""
    return np.asarray(functools.reduce(np.maximum, np.moveaxis(np.abs(off), 2, 0)))


def _best_channel(off: Picture, rough: Mask) -> tuple[Row, float]:
    """Weights of the colours in which wood, at 1, stands off the ground near it, at 0, best; and how far."""
    near = pixels.closed(rough, 1)
    spread = pixels.soft(near.astype(np.float32), 8.0)
    wood = off[(spread > 0.9) & (near > 0)].astype(np.float64)
    ground = off[(spread < 0.5) & (spread > 0.005) & (near == 0)].astype(np.float64)
    if len(wood) < 50 or len(ground) < 50:
        return np.zeros(off.shape[2]), 0.0
    wood, ground = wood[:: max(1, len(wood) // FEW)], ground[:: max(1, len(ground) // FEW)]
    middle, base = np.median(wood, axis=0), np.median(ground, axis=0)
    count = off.shape[2]
    both = np.cov(ground.T).reshape(count, count) + 0.25 * np.cov(wood.T).reshape(count, count)
    both = both + np.eye(count) * (4.0 + 0.1 * np.trace(both) / count)
    direction = np.linalg.solve(both, middle - base)
    size = float(direction @ (middle - base))
    if size <= 0:
        return np.zeros(count), 0.0
    channel = direction / size
    scatter = float(np.std(ground @ channel)) + 1e-3
    return channel, 1.0 / scatter
