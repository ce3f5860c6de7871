"""The profile of a cutter from the picture of a test piece, for a page: points, and the picture with what was found."""

from __future__ import annotations

import base64
import multiprocessing
from dataclasses import dataclass
from pathlib import Path

from drawerwright.basics.errors import DrawerwrightError, InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.job.scan.picture_files import read_picture
from drawerwright.job.scan.scanning import PictureGiven, scan_pictures
from drawerwright.joints.mating import mating
from drawerwright.joints.profile import Point
from drawerwright.joints.registry import USUAL

ENDINGS = (".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp")
SECONDS = 30.0
"""A picture that takes longer than this is given up."""
SHOWN = 1000
"""Rows or columns of the picture that is shown."""
KEPT, LEFT_OUT = (60, 60, 220), (220, 120, 0)
"""Colours of dots: red for what counts, blue for what was left out."""


@dataclass(frozen=True, slots=True)
class ScannedProfile:
    """Points of a profile (mm), the standard uncertainty of each inset, the picture with the outline as a data URI, and
    what is to be said: what was left out, and doubts."""

    points: tuple[Point, ...]
    uncertainty: Mm
    picture: str
    remarks: tuple[Phrase, ...]


def is_picture(name: str) -> bool:
    """Whether a file is called like a picture."""
    return Path(name).suffix.lower() in ENDINGS


def profile_of_picture(name: str, content: bytes, kind: str | None) -> ScannedProfile:
    """What the picture of a flat or an upright piece says of its cutter's profile.

    It is read in a process of its own: whatever a broken file does to the library that unpacks it, the app goes on.

    Raises:
        InvalidValueError: it cannot be read, or takes too long.
        MissingLibraryError: the library that reads pictures is not installed.
    """
    if mating(USUAL if kind is None else kind).through(1.0) is not None:
        raise InvalidValueError(
            phrase(
                "the picture of a cut right through the wood does not show how far below the cutter's top it is: type "
                "in points that you measured on the cutter"
            )
        )
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        try:
            return pool.apply_async(_read, (name, content)).get(SECONDS)
        except multiprocessing.TimeoutError:
            raise InvalidValueError(
                phrase(
                    "reading the picture took more than {seconds:.0f} s: cut it to the piece, or scan at 300 dpi",
                    seconds=SECONDS,
                )
            ) from None


def _read(name: str, content: bytes) -> ScannedProfile:
    opened = read_picture(name, content)
    refused: DrawerwrightError | None = None
    for is_flat in (True, False):
        try:
            cut = scan_pictures([PictureGiven(opened, is_flat)])
        except InvalidValueError as error:
            refused = refused or error
            continue
        break
    else:
        assert refused is not None
        raise refused
    from drawerwright.joints.scan import pixels
    from drawerwright.joints.scan.section import SeenSection

    _, reading = cut.readings[0]
    seen = reading.seen
    assert isinstance(seen, SeenSection)
    dots = []
    for letter, found in seen.points.items():
        kept = seen.slope.kept if letter == "L" else seen.faces.lines[letter].kept
        dots += [(found.points[kept], KEPT), (found.points[~kept], LEFT_OUT), (found.lost, LEFT_OUT)]
    shown = pixels.drawn_over(opened.pixels, [dot for dot in dots if len(dot[0])], SHOWN)
    out = [
        phrase("{face} {share:.0f} %", face=left.face, share=left.share * 100)
        for left in reading.left_out
        if left.share >= 0.05
    ]
    remarks = [phrase("Left out: {faces}", faces=", ".join(out))] if out else []
    return ScannedProfile(
        cut.points,
        cut.point_uncertainty,
        "data:image/png;base64," + base64.b64encode(shown).decode("ascii"),
        (*remarks, *cut.doubts),
    )
