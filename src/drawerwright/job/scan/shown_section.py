"""Pictures for a page: read in a process of their own, and shown with the outline that was found."""

from __future__ import annotations

import base64
import multiprocessing
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import ParamSpec, TypeVar

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.job.scan.picture_files import OpenedPicture
from drawerwright.joints.scan.cut_measures import SectionReading
from drawerwright.joints.scan.pixels import Row
from drawerwright.joints.scan.section import SeenSection

ENDINGS = (".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp")
SECONDS = 30.0
"""A picture that takes longer than this is given up."""
SHOWN = 1000
"""Rows or columns of the picture that is shown."""
KEPT, LEFT_OUT, BETWEEN = (60, 60, 220), (220, 120, 0), (20, 20, 20)
"""Colours of dots: red for what counts, blue for what was left out, black between two stretches of a face."""
BESIDE = 26.0
"""So many dots of the shown picture the name of a stretch stands inside its face."""
ROOM = 0.06
"""Around what was found so much of the picture is shown, as a share of its longer side."""
LEAST_SHARE = 0.05
"""Of a face: less than this left out needs no words."""
P = ParamSpec("P")
R = TypeVar("R")


def is_picture(name: str) -> bool:
    """Whether a file is called like a picture."""
    return Path(name).suffix.lower() in ENDINGS


def in_own_process(read: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
    """What `read` gives. Whatever a broken file does to the library that unpacks it, the app goes on.

    Raises:
        InvalidValueError: it takes too long; what `read` raises beside.
    """
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        try:
            return pool.apply_async(read, args, kwargs).get(SECONDS)
        except multiprocessing.TimeoutError:
            raise InvalidValueError(
                phrase(
                    "reading the picture took more than {seconds:.0f} s: crop a scan to the piece or scan at "
                    "300 dpi, set a camera to fewer pixels",
                    seconds=SECONDS,
                )
            ) from None


def shown_section(opened: OpenedPicture, reading: SectionReading) -> bytes:
    """The picture about the outline with a dot for each place where an edge was found, as a small JPEG: nothing of what
    the file told beside, such as place and time, is left."""
    from drawerwright.joints.scan import pixels
    from drawerwright.joints.scan.by_hand import STRETCHES
    from drawerwright.joints.scan.mitre import SeenMitre

    seen = reading.seen
    dots: list[tuple[Row, tuple[int, int, int]]] = []
    for letter, found in seen.points.items():
        kept = (
            seen.slope.kept
            if letter == "L" and isinstance(seen, SeenSection)
            else seen.faces.lines[letter].kept
        )
        dots += [(found.points[kept], KEPT), (found.points[~kept], LEFT_OUT), (found.lost, LEFT_OUT)]
    if isinstance(seen, SeenMitre):
        dots += [(piece, KEPT) for piece in seen.in_picture]
    dots = [(places + seen.corner, colour) for places, colour in dots if len(places)]
    part, corner = _about([places for places, _ in dots], opened.pixels)
    words: list[tuple[str, Row]] = []
    if isinstance(seen, SeenSection):
        away = BESIDE * max(part.shape[:2]) / SHOWN
        for letter, face in ((letter, found.face) for letter, found in seen.points.items()):
            start, run = face.start + seen.corner - away * face.outward, (face.end - face.start) / STRETCHES
            ends = [start + number * run + 0.6 * away * face.outward for number in range(1, STRETCHES)]
            dots.append((np.array(ends), BETWEEN))
            words += [(f"{letter}1", start + run), (f"{letter}{STRETCHES}", start + (STRETCHES - 1) * run)]
    return pixels.drawn_over(
        part,
        [(places - corner, colour) for places, colour in dots],
        SHOWN,
        [(word, place - corner) for word, place in words],
    )


def _about(places: Sequence[Row], picture: NDArray[np.uint8]) -> tuple[NDArray[np.uint8], Row]:
    """The part of a picture in which all places lie, with some room around, and its first pixel."""
    every = np.concatenate(places)
    low, high = every.min(axis=0), every.max(axis=0)
    room = ROOM * float((high - low).max()) + 1
    left, top = np.maximum(low - room, 0).astype(int).tolist()
    right, bottom = (high + room).astype(int).tolist()
    return np.ascontiguousarray(picture[top:bottom, left:right]), np.array([left, top], np.float64)


def data_uri(jpeg: bytes) -> str:
    """A small picture as an address that holds all of it."""
    return "data:image/jpeg;base64," + base64.b64encode(jpeg).decode("ascii")


def left_out_words(reading: SectionReading) -> Iterator[Phrase]:
    """What was left out of the picture, where it is worth saying."""
    out = [
        phrase("{face} {share:.0f} %", face=left.face, share=left.share * 100)
        for left in reading.left_out
        if left.share >= LEAST_SHARE
    ]
    if out:
        yield phrase("Left out: {faces}", faces=joined(out, ", "))
