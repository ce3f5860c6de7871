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
from drawerwright.basics.lengths import Degrees, Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.camera import Camera, fit_camera
from drawerwright.joints.scan.instrument import Instrument
from drawerwright.joints.scan.mark_corners import edge_width, exact_corners
from drawerwright.joints.scan.pixels import Row
from drawerwright.joints.scan.sheet_marks import FIELD, MARKS, RIGHT_DIFFERENCES, SQUARES
from drawerwright.joints.scan.side_walls import SeenWalls

USUAL_SLICE = Estimate(7.0, 2.5)
"""How high a slice is that nobody has measured (mm, assumed)."""
LEAST_MARKS = 12
MOST_TILT: Degrees = 15.0
LEAST_FINE = 5.0
"""Pixels to a millimetre on the slice, at least."""
MOST_FINE = 40.0
MOST_MISFIT: Mm = 0.25
"""Marks that lie off by more (root mean square) are on a sheet that is not flat."""
MOST_BLUR: Mm = 0.5
"""Edges of marks that are wider are too blurred."""
HOLD_STILL = phrase(
    "hold the camera still, let it focus on the slice, give it more light, and zoom in until "
    "the marks nearly fill the picture"
)
EDGE_TO_SPREAD = 2.0
"""How many standard deviations of the blur an edge's width is, as it is measured: 0.8 times the square root of 2 pi."""
LEAST_SPREAD = 0.5
"""Pixels themselves blur an edge by so many of them."""
LEAST_LIGHT = 45.0
"""White of a mark is lighter than its black by so much (of 255), at least."""
LEAST_EVEN = 0.4
"""The darkest white beside the lightest."""
PRINTED = 0.002
"""Standard uncertainty of the scale of what a printer prints, across and along (assumed; it is off by more at times,
which the check bars on the sheet show)."""
PHOTO_WOBBLE: Mm = 0.01
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
        InvalidValueError: marks are hidden or cut off, or the photo is tilted, too small or badly lit.
    """
    grey = pixels.grey(picture)
    codes = np.array([np.array(mark.squares, np.uint8) for mark in MARKS])
    found = pixels.find_marks(grey, codes, RIGHT_DIFFERENCES // 3)
    if not found:
        return None
    if len(found) < LEAST_MARKS:
        raise InvalidValueError(
            phrase(
                "{count} of the sheet's {all} marks can be seen, and at least {least} are needed: get "
                "the whole sheet into the picture, with nothing over the marks, in even light without "
                "glare",
                count=len(found),
                all=len(MARKS),
                least=LEAST_MARKS,
            )
        )
    _check_light(grey, found)
    light = grey.astype(np.float32)
    found = {number: exact_corners(light, corners) for number, corners in found.items()}
    places = np.array([corner for number in found for corner in MARKS[number].corners])
    seen = np.concatenate(list(found.values()))
    size = (grey.shape[1], grey.shape[0])
    camera = fit_camera(places, seen, size, pixels.homography(places, seen), focal_35)
    height = slice_height or USUAL_SLICE
    _check_camera(camera)
    middle = camera.seen(np.array([[-0.5, 0, height.value], [0.5, 0, height.value]]))
    fine = float(np.hypot(*(middle[1] - middle[0])))
    if fine < LEAST_FINE:
        raise InvalidValueError(
            phrase(
                "the photo has {fine:.1f} pixels per millimetre of the slice, and {least:g} are needed: "
                "go closer or zoom in until the marks just fit into the picture",
                fine=fine,
                least=LEAST_FINE,
            )
        )
    wide = float(np.nanmedian([edge_width(light, corners) for corners in found.values()])) / fine
    spread = wide * fine / EDGE_TO_SPREAD
    if wide > MOST_BLUR:
        raise InvalidValueError(
            phrase(
                "the photo is blurred: edges are {blur} wide, and at most {most} can be read: {remedy}.",
                blur=millimetres(wide),
                most=millimetres(MOST_BLUR),
                remedy=HOLD_STILL,
            )
        )
    spread *= min(1.0, MOST_FINE / fine)
    fine = min(fine, MOST_FINE)
    wide, high = (size - 2 * INSIDE for size in FIELD)
    columns, rows = round(wide * fine), round(high * fine)
    x = (np.arange(columns) + 0.5) / fine - wide / 2
    y = high / 2 - (np.arange(rows) + 0.5) / fine
    places = np.stack([*np.meshgrid(x, y), np.full((rows, columns), height.value)], axis=-1)
    at = camera.seen(places.reshape(-1, 3)).reshape(rows, columns, 2)
    flat = pixels.resampled(picture, at[..., 0], at[..., 1])
    stand, doubt = camera.stand, camera.stand_doubt
    foot = np.array([(stand[0] + wide / 2) * fine - 0.5, (high / 2 - stand[1]) * fine - 0.5])
    rise = height.value / stand[2]
    walls = SeenWalls(
        foot,
        rise,
        math.hypot(height.uncertainty / height.value, doubt[2] / stand[2]),
        float(np.hypot(doubt[0], doubt[1])) * fine / math.sqrt(2),
        max(spread, LEAST_SPREAD),
    )
    share = math.hypot(PRINTED, height.uncertainty / stand[2], rise * doubt[2] / stand[2])
    instrument = Instrument(
        share=share,
        stretch=PRINTED,
        wobble=math.hypot(PHOTO_WOBBLE, 0.5 * camera.misfit / math.sqrt(len(found))),
        walls=walls,
        is_photo=True,
        to_sharpen=HOLD_STILL,
    )
    return FlatPhoto(flat, fine, instrument)


def _check_light(grey: NDArray[np.uint8], found: dict[int, Row]) -> None:
    module = 1 / (SQUARES + 2)
    whites: list[float] = []
    blacks: list[float] = []
    for corners in found.values():
        middle = corners.mean(axis=0)
        sides = (corners + np.roll(corners, -1, axis=0)) / 2 - middle
        for depth, heap in ((1 + 0.9 * module, whites), (1 - module, blacks)):
            at = middle + depth * sides
            values = pixels.sampled(grey.astype(np.float32), at[:, :1], at[:, 1:])
            heap.append(float(np.nanmedian(values)) if np.isfinite(values).any() else math.nan)
    light, dark = np.array(whites), np.array(blacks)
    if float(np.nanmin(light - dark)) < LEAST_LIGHT:
        raise InvalidValueError(
            phrase(
                "the photo is badly lit: beside a mark white and black differ by {found:.0f} of 255, and {least:.0f} "
                "are needed. Take it in daylight, without flash and without glare.",
                found=float(np.nanmin(light - dark)),
                least=LEAST_LIGHT,
            )
        )
    if float(np.nanmin(light) / np.nanmax(light)) < LEAST_EVEN:
        raise InvalidValueError(
            phrase(
                "the photo is unevenly lit: white is {share:.0f} % as light at one end of the sheet as at the other, "
                "and {least:.0f} % are needed. Keep your shadow off the sheet and lamps away from its side.",
                share=100 * float(np.nanmin(light) / np.nanmax(light)),
                least=100 * LEAST_EVEN,
            )
        )


def _check_camera(camera: Camera) -> None:
    if camera.tilt > MOST_TILT:
        raise InvalidValueError(
            phrase(
                "the camera was tilted by {tilt:.0f}°, and at most {most:.0f}° can be corrected: hold it "
                "level, straight above the slice",
                tilt=camera.tilt,
                most=MOST_TILT,
            )
        )
    if camera.misfit > MOST_MISFIT:
        raise InvalidValueError(
            phrase(
                "the marks lie {off} away from where they should: lay the sheet flat, on a board or "
                "under glass, and print it at 100 %",
                off=millimetres(camera.misfit),
            )
        )
