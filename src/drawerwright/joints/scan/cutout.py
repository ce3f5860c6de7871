"""Each piece in a picture, cut out of it: a slice on a whole sheet of glass is small, and may not lie alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.ground import (
    DARK_PLIES,
    EVERY,
    LEAST_PIXELS,
    WORKING_SIZE,
    plain_colours,
    small_picture,
)
from drawerwright.joints.scan.pixels import Row

T = TypeVar("T")
ROOM = 0.12
"""So much is left around a piece, as a share of its longer side."""
LEAST_ROOM = 40
"""But so many pixels at least."""
NEARLY_ALL = 0.6
"""A piece that takes so much of the picture with its room is not cut out."""
LEAST_STANDS_OFF = 20.0
"""What differs from the ground's colour by less (of 255) is the ground's own pattern."""
LEAST_BESIDE = 0.05
"""A piece that covers less than this share of the largest one is left aside as dust or a label."""


@dataclass(frozen=True, slots=True)
class Cutout:
    """A part of a picture, and the pixel of the whole one that its first is."""

    pixels: NDArray[np.uint8]
    corner: Row
    is_whole: bool


def read_parts(picture: NDArray[np.uint8], read: Callable[[Cutout], T]) -> list[T]:
    """What `read` gives of each piece in a picture, the largest first; of the whole picture where it refuses all.

    Raises:
        InvalidValueError: it refuses the whole picture too; the text is that of the first refusal.
    """
    refused: InvalidValueError | None = None
    found: list[T] = []
    for part in _cutouts(picture):
        if found and part.is_whole:
            break
        try:
            found.append(read(part))
        except InvalidValueError as error:
            refused = refused or error
    if refused is not None and not found:
        raise refused
    return found


def _cutouts(picture: NDArray[np.uint8]) -> Iterator[Cutout]:
    rows = picture if picture.ndim == 3 else picture[:, :, None]
    height, width = rows.shape[:2]
    boxes = _boxes(rows) if min(height, width) >= LEAST_PIXELS else []
    if len(boxes) > 1 or (boxes and _share(boxes[0], height, width) < NEARLY_ALL):
        for left, top, right, bottom in boxes:
            part = np.ascontiguousarray(picture[top:bottom, left:right])
            yield Cutout(part, np.array([left, top], np.float64), is_whole=False)
    yield Cutout(picture, np.zeros(2), is_whole=True)


def _share(box: tuple[int, int, int, int], height: int, width: int) -> float:
    return (box[2] - box[0]) * (box[3] - box[1]) / (height * width)


def _boxes(rows: NDArray[np.uint8]) -> list[tuple[int, int, int, int]]:
    """Left, top, right and bottom of each piece with the room around it."""
    height, width = rows.shape[:2]
    factor = max(1.0, max(height, width) / WORKING_SIZE)
    small = small_picture(rows, factor)
    colours = plain_colours(small)
    if not colours:
        return []
    off = np.abs(small - colours[0].astype(np.float32)).max(axis=2)
    level = DARK_PLIES * pixels.split_level(np.clip(off, 0, np.quantile(off[::EVERY, ::EVERY], 0.999)))
    mask = pixels.closed((off > max(LEAST_STANDS_OFF, level)).astype(np.uint8), 3)
    found = pixels.pieces(mask)
    boxes = []
    for area, outline, _ in found:
        low, high = outline.min(axis=0) * factor, (outline.max(axis=0) + 1) * factor
        if area < LEAST_BESIDE * found[0][0] or (high - low).min() < LEAST_PIXELS / 2:
            continue
        room = max(ROOM * float((high - low).max()), LEAST_ROOM)
        left, top = np.maximum(low - room, 0).astype(int).tolist()
        right, bottom = np.minimum(high + room, [width, height]).astype(int).tolist()
        if min(right - left, bottom - top) >= LEAST_PIXELS:
            boxes.append((left, top, right, bottom))
    return boxes
