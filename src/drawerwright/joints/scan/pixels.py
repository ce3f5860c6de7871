"""What is asked of the picture library: the only door to it from the joints.

Pictures are arrays of rows and columns; the centre of the first pixel is (0, 0), x runs along a row. Where nothing of
the library is installed, `MissingLibraryError` says how to get it.
"""

from __future__ import annotations

from collections.abc import Sequence
from types import ModuleType
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import MissingLibraryError
from drawerwright.basics.phrases import phrase

Row: TypeAlias = NDArray[np.float64]
Picture: TypeAlias = NDArray[np.float32]
Mask: TypeAlias = NDArray[np.uint8]


def library() -> ModuleType:
    """The library.

    Raises:
        MissingLibraryError: it is not installed.
    """
    try:
        import cv2
    except ImportError:
        raise MissingLibraryError(
            phrase(
                "reading pictures needs a library that is not installed: install it with pip install "
                "'drawerwright[scan]'"
            )
        ) from None
    module: ModuleType = cv2
    return module


def unpacked(content: bytes) -> NDArray[np.uint8] | None:
    """The pixels in the bytes of a picture's file, as they lie in it; None where it is broken."""
    cv2 = library()
    try:
        found = cv2.imdecode(
            np.frombuffer(content, np.uint8), cv2.IMREAD_ANYCOLOR | cv2.IMREAD_IGNORE_ORIENTATION
        )
    except cv2.error:
        return None
    return None if found is None else np.asarray(found, np.uint8)


def drawn_over(
    picture: NDArray[np.uint8],
    dots: Sequence[tuple[Row, tuple[int, int, int]]],
    most: int,
    words: Sequence[tuple[str, Row]] = (),
) -> bytes:
    """A picture as a JPEG of at most so many rows and columns, with dots (their places, and blue, green, red)
    and words about places."""
    cv2 = library()
    factor = most / max(picture.shape[:2])
    factor = min(factor, 4.0)
    shown = cv2.resize(
        picture, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA if factor < 1 else cv2.INTER_CUBIC
    )
    shown = cv2.cvtColor(shown, cv2.COLOR_GRAY2BGR) if shown.ndim == 2 else shown[:, :, :3].copy()
    for places, colour in dots:
        for x, y in np.round((places + 0.5) * factor - 0.5).astype(int).tolist():
            cv2.circle(shown, (x, y), 2, colour, -1, cv2.LINE_AA)
    for word, place in words:
        x, y = np.round((place + 0.5) * factor - 0.5).astype(int).tolist()
        for colour, thick in ((255, 255, 255), 5), ((0, 0, 0), 2):
            cv2.putText(
                shown, word, (x - 16, y + 9), cv2.FONT_HERSHEY_SIMPLEX, 0.8, colour, thick, cv2.LINE_AA
            )
    return bytes(cv2.imencode(".jpg", shown, [cv2.IMWRITE_JPEG_QUALITY, 88])[1])


def smaller(picture: NDArray[Any], factor: float) -> NDArray[Any]:
    """The picture with `factor` times as few rows and columns, each pixel the mean of those it stands for."""
    height, width = picture.shape[:2]
    size = max(1, round(width / factor)), max(1, round(height / factor))
    return np.asarray(library().resize(picture, size, interpolation=library().INTER_AREA))


def stretched(picture: NDArray[Any], across: float, along: float) -> NDArray[Any]:
    """The picture with so many times as many columns and rows."""
    cv2 = library()
    return np.asarray(cv2.resize(picture, None, fx=across, fy=along, interpolation=cv2.INTER_LINEAR))


def mixed(picture: NDArray[np.uint8], weights: Row) -> Picture:
    """The sum of a picture's colours, each times its weight."""
    cv2 = library()
    if picture.shape[2] == 1:
        return np.asarray(picture[:, :, 0].astype(np.float32) * np.float32(weights[0]))
    return np.asarray(cv2.transform(picture.astype(np.float32), weights.astype(np.float32).reshape(1, -1)))


def sized(picture: Picture, shape: tuple[int, ...]) -> Picture:
    """A smooth picture made as large as `shape` says (rows, columns)."""
    cv2 = library()
    found = np.asarray(cv2.resize(picture, (shape[1], shape[0]), interpolation=cv2.INTER_LINEAR))
    return found.reshape(*shape[:2], *picture.shape[2:])


def soft(picture: NDArray[Any], pixels: float) -> NDArray[Any]:
    """The picture blurred by a normal distribution of this standard deviation."""
    return np.asarray(library().GaussianBlur(picture, (0, 0), pixels))


def without_specks(picture: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The picture without single specks: medians of five by five pixels."""
    return np.asarray(library().medianBlur(picture, 5), np.uint8)


def split_level(values: NDArray[Any]) -> float:
    """The level that parts two heaps of values best (N. Otsu 1979)."""
    cv2 = library()
    low, high = float(values.min()), float(values.max())
    if high <= low:
        return low
    scaled = np.clip((values - low) / (high - low) * 255, 0, 255).astype(np.uint8).reshape(-1, 1)
    level, _ = cv2.threshold(scaled, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    return low + (float(level) + 0.5) / 255 * (high - low)


def closed(mask: Mask, pixels: int) -> Mask:
    """The mask with gaps narrower than so many pixels closed, then without what is narrower than that."""
    cv2 = library()
    size = 2 * pixels + 1
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size))
    padded = cv2.copyMakeBorder(mask, size, size, size, size, cv2.BORDER_REPLICATE)
    padded = cv2.morphologyEx(padded, cv2.MORPH_CLOSE, kernel)
    padded = cv2.morphologyEx(padded, cv2.MORPH_OPEN, kernel)
    return np.asarray(padded[size:-size, size:-size], np.uint8)


def pieces(mask: Mask) -> list[tuple[float, Row, Mask]]:
    """The connected pieces of a mask, largest first: area in pixels, outline, and a mask of each without its holes."""
    cv2 = library()
    outlines, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    found = []
    for outline in sorted(outlines, key=cv2.contourArea, reverse=True)[:3]:
        filled = np.zeros(mask.shape, np.uint8)
        cv2.drawContours(filled, [outline], -1, 1, cv2.FILLED)
        found.append((float(cv2.contourArea(outline)), outline[:, 0, :].astype(np.float64), filled))
    return found


def simplified(outline: Row, pixels: float, *, is_closed: bool = True) -> Row:
    """The outline with as few corners as stay within so many pixels of it."""
    found = library().approxPolyDP(outline.astype(np.float32).reshape(-1, 1, 2), pixels, is_closed)
    return np.asarray(found[:, 0, :], np.float64)


def turned(mask: Mask, matrix: Row, size: tuple[int, int]) -> Mask:
    """The mask moved by an affine `matrix` (two rows of three) into a picture of (width, height)."""
    cv2 = library()
    return np.asarray(cv2.warpAffine(mask, matrix, size, flags=cv2.INTER_NEAREST), np.uint8)


def sampled(picture: Picture, x: Row, y: Row) -> Row:
    """The picture's values at points between pixels (bilinear); not a number outside."""
    cv2 = library()
    found = cv2.remap(
        picture,
        x.astype(np.float32),
        y.astype(np.float32),
        cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_CONSTANT,
        borderValue=float("nan"),
    )
    return np.asarray(found, np.float64)


def grey(picture: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The picture without its colours."""
    if picture.ndim == 2 or picture.shape[2] == 1:
        return np.asarray(picture.reshape(picture.shape[:2]), np.uint8)
    return np.asarray(library().cvtColor(picture, library().COLOR_BGR2GRAY), np.uint8)


def resampled(picture: NDArray[np.uint8], x: Row, y: Row) -> NDArray[np.uint8]:
    """The picture as seen at points between its pixels."""
    cv2 = library()
    return np.asarray(
        cv2.remap(picture, x.astype(np.float32), y.astype(np.float32), cv2.INTER_CUBIC), np.uint8
    )


def homography(places: Row, seen: Row) -> Row:
    """The matrix that takes points of a plane to where they are seen, however far off a few are."""
    matrix, _ = library().findHomography(places, seen, library().RANSAC, 3.0)
    return np.asarray(matrix, np.float64)


MARKS_SOUGHT_IN = 1600
"""Square marks are first sought in a picture of at most so many rows and columns."""


def find_marks(picture: NDArray[np.uint8], patterns: NDArray[np.uint8], wrong: int) -> dict[int, Row]:
    """Square marks in a grey picture: roughly the corners of each (clockwise from its own top left) by its number.

    Args:
        picture: grey.
        patterns: squares of each mark without its border, 1 for white, rows from the top.
        wrong: so many squares of a mark may be read wrongly.
    """
    cv2 = library()
    aruco = cv2.aruco
    listed = np.concatenate([aruco.Dictionary.getByteListFromBits(pattern) for pattern in patterns])
    detector = aruco.ArucoDetector(aruco.Dictionary(listed, patterns.shape[1], wrong))
    factor = max(1.0, max(picture.shape) / MARKS_SOUGHT_IN)
    small = smaller(picture, factor) if factor > 1 else picture
    squares, numbers, _ = detector.detectMarkers(small)
    found: dict[int, Row] = {}
    if numbers is None:
        return found
    for number, square in zip(numbers.ravel().tolist(), squares, strict=True):
        corners = (square.reshape(4, 2).astype(np.float64) + 0.5) * factor - 0.5
        found[int(number)] = corners
    return found
