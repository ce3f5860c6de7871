"""Pictures for a page: read in a process of their own, and shown with the outline that was found."""

from __future__ import annotations

import base64
import multiprocessing
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import ParamSpec, TypeVar

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.job.scan.picture_files import OpenedPicture
from drawerwright.joints.scan.cut_measures import SectionReading
from drawerwright.joints.scan.pixels import Row

ENDINGS = (".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp")
SECONDS = 30.0
"""A picture that takes longer than this is given up."""
SHOWN = 1000
"""Rows or columns of the picture that is shown."""
KEPT, LEFT_OUT = (60, 60, 220), (220, 120, 0)
"""Colours of dots: red for what counts, blue for what was left out."""
BESIDE = 16.0
"""So many dots of the shown picture the name of a stretch stands inside its face."""
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
                    "reading the picture took more than {seconds:.0f} s: cut it to the piece, or scan at 300 dpi",
                    seconds=SECONDS,
                )
            ) from None


def shown_section(opened: OpenedPicture, reading: SectionReading) -> bytes:
    """The picture with a dot for each place where an edge was found, as a small JPEG: nothing of what the file told
    beside, such as place and time, is left."""
    from drawerwright.joints.scan import pixels
    from drawerwright.joints.scan.by_hand import STRETCHES
    from drawerwright.joints.scan.mitre import SeenMitre
    from drawerwright.joints.scan.section import SeenSection

    dots = []
    words: list[tuple[str, Row]] = []
    if isinstance(seen := reading.seen, SeenMitre):
        for letter, found in seen.points.items():
            kept = seen.faces.lines[letter].kept
            dots += [(found.points[kept], KEPT), (found.points[~kept], LEFT_OUT), (found.lost, LEFT_OUT)]
        dots += [(piece, KEPT) for piece in seen.in_picture]
    elif isinstance(seen, SeenSection):
        away = BESIDE * max(opened.pixels.shape[:2]) / SHOWN
        words = [
            (
                f"{letter}{number}",
                face.start + (number - 0.5) / STRETCHES * (face.end - face.start) - away * face.outward,
            )
            for letter, face in ((letter, found.face) for letter, found in seen.points.items())
            for number in range(1, STRETCHES + 1)
        ]
        for letter, found in seen.points.items():
            kept = seen.slope.kept if letter == "L" else seen.faces.lines[letter].kept
            dots += [(found.points[kept], KEPT), (found.points[~kept], LEFT_OUT), (found.lost, LEFT_OUT)]
    corner = seen.corner
    return pixels.drawn_over(
        opened.pixels,
        [(places + corner, colour) for places, colour in dots if len(places)],
        SHOWN,
        [(word, place + corner) for word, place in words],
    )


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
        yield phrase("Left out: {faces}", faces=", ".join(out))
