"""A photo of a slice on the sheet of marks, made flat: as if a scanner had looked at the slice's upper face.

The marks say where the camera stood and how its lens bends. The upper face is a plane above the sheet's; seen through
the same camera it is laid flat as the sheet would be. How high it lies is known less well, and is a pure change of
scale: the thickness by caliper settles it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.camera import Lens, fit_camera, possible_stands
from drawerwright.joints.scan.instrument import Instrument
from drawerwright.joints.scan.mark_corners import exact_corners
from drawerwright.joints.scan.photo_checks import (
    HOLD_STILL,
    check_camera,
    check_sharp,
    check_sheet,
    cropped_words,
)
from drawerwright.joints.scan.sheet_marks import FIELD, MARKS, RIGHT_DIFFERENCES
from drawerwright.joints.scan.side_walls import seen_walls

USUAL_SLICE = Estimate(7.0, 2.5)
"""How high a slice is that nobody has measured (mm, assumed)."""
SLICES: tuple[Mm, Mm] = (1.0, 30.0)
"""A height outside these is a slip (common practice, no source)."""
MOST_FINE = 40.0
EDGE_TO_SPREAD = 2.0
"""How many standard deviations of the blur an edge's width is, as it is measured: 0.8 times the square root of 2 pi."""
LEAST_SPREAD = 0.5
"""Pixels themselves blur an edge by so many of them."""
PRINTED = 0.002
"""Standard uncertainty of the scale of what a printer prints, across and along (assumed; it is off by more at times,
which the check bars on the sheet show)."""
PHOTO_WOBBLE: Mm = 0.006
"""Standard uncertainty of a single face's place from paper that is not flat, and from the lens (assumed)."""
INSIDE: Mm = 2.0
"""So much of the dark field is left out along its edge."""


@dataclass(frozen=True, slots=True)
class FlatPhoto:
    """The dark field seen straight from above, with so many pixels to a mm of the slice's upper face, and what it was
    taken with."""

    picture: NDArray[np.uint8]
    per_mm: float
    instrument: Instrument


def flatten_photo(
    picture: NDArray[np.uint8], *, slice_height: Estimate | None = None, focal_35: Mm | None = None
) -> FlatPhoto | None:
    """The slice in a photo of the sheet; None where no mark of the sheet is seen.

    Args:
        picture: rows and columns, grey or of three colours.
        slice_height: of the slice, from the sheet to its upper face (mm); None: the usual one.
        focal_35: the lens's focal length as the file tells it (mm, compared by 35 mm film).

    Raises:
        InvalidValueError: marks are hidden or cut off, or the photo is tilted, too small or badly lit; no slice is so
            high.
    """
    if slice_height is not None and not SLICES[0] <= slice_height.value <= SLICES[1]:
        raise InvalidValueError(
            phrase(
                "a slice that stands {height} above the sheet was given, and slices are {least:g} to {most:g} mm high: "
                "check the decimal point and the unit",
                height=millimetres(slice_height.value, "g"),
                least=SLICES[0],
                most=SLICES[1],
            )
        )
    grey = pixels.grey(picture)
    codes = np.array([np.array(mark.squares, np.uint8) for mark in MARKS])
    found = pixels.find_marks(grey, codes, RIGHT_DIFFERENCES // 3)
    if not found:
        return None
    light = grey.astype(np.float32)
    size = (grey.shape[1], grey.shape[0])
    found = {number: exact_corners(light, corners) for number, corners in found.items()}
    places = np.array([corner for number in found for corner in MARKS[number].corners])
    seen = np.concatenate(list(found.values()))
    flat = pixels.homography(places, seen)
    check_sheet(light, found, flat)
    cropped = cropped_words(found, flat, grey.shape)
    lens = Lens(size, focal_35, is_middle=cropped is None)
    camera = fit_camera(places, seen, flat, lens)
    check_camera(camera)
    height = slice_height or USUAL_SLICE
    middle = camera.seen(np.array([[-0.5, 0, height.value], [0.5, 0, height.value]]))
    fine = float(np.hypot(*(middle[1] - middle[0])))
    spread = check_sharp(light, found, fine) / EDGE_TO_SPREAD
    spread *= min(1.0, MOST_FINE / fine)
    fine = min(fine, MOST_FINE)
    wide, high = (size - 2 * INSIDE for size in FIELD)
    columns, rows = round(wide * fine), round(high * fine)
    x = (np.arange(columns) + 0.5) / fine - wide / 2
    y = high / 2 - (np.arange(rows) + 0.5) / fine
    field = np.stack([*np.meshgrid(x, y), np.full((rows, columns), height.value)], axis=-1)
    at = camera.seen(field.reshape(-1, 3)).reshape(rows, columns, 2)
    straight = pixels.resampled(picture, at[..., 0], at[..., 1])
    stand = camera.stand
    rise = height.value / stand[2]
    walls = seen_walls(
        possible_stands(camera, places, seen, lens),
        height,
        rise,
        (np.array([wide, high]) * fine / 2 - 0.5, np.array([fine, -fine])),
        max(spread, LEAST_SPREAD),
    )
    unsure = math.hypot(height.uncertainty, rise * math.sqrt(camera.stand_covariance[2, 2]))
    share = math.hypot(PRINTED, unsure / stand[2])
    instrument = Instrument(
        share=share,
        stretch=PRINTED,
        wobble=math.hypot(PHOTO_WOBBLE, 0.5 * camera.misfit / math.sqrt(len(found))),
        walls=walls,
        is_photo=True,
        to_sharpen=HOLD_STILL,
        doubts=() if cropped is None else (cropped,),
    )
    return FlatPhoto(straight, fine, instrument)
