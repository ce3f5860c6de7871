"""Whether a photo of the sheet of marks can be read, and if not, why and what to do better."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Degrees, Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.camera import Camera
from drawerwright.joints.scan.mark_corners import edge_width
from drawerwright.joints.scan.pixels import Picture, Row
from drawerwright.joints.scan.sheet_marks import MARKS, SQUARES

LEAST_MARKS = 12
MOST_TILT: Degrees = 15.0
LEAST_FINE = 5.0
"""Pixels to a millimetre on the slice, at least."""
MOST_MISFIT: Mm = 0.25
"""Marks that lie off by more (root mean square) are on a sheet that is not flat."""
MOST_BLUR: Mm = 0.5
"""Edges of marks that are wider are too blurred."""
LEAST_LIGHT = 45.0
"""White of a mark is lighter than its black by so much (of 255), at least."""
LEAST_EVEN = 0.4
"""The darkest white beside the lightest."""
SHAPES = (1.0, 5 / 4, 4 / 3, 3 / 2, 16 / 10, 16 / 9, 2.0, 18.5 / 9, 19.5 / 9, 20 / 9, 21 / 9)
"""How many times as long as wide pictures come from cameras (from memory)."""
SAME_SHAPE = 0.008
"""Shapes that differ by less, as a share, are the same."""
MOST_FORESHORTENED = 1.08
"""A sheet that looks so much longer one way than the other was not seen from above."""
HOLD_STILL = phrase(
    "hold the camera still, let it focus on the slice, give it more light, and zoom in until "
    "the marks nearly fill the picture"
)


def check_sheet(grey: Picture, found: Mapping[int, Row], flat: Row) -> None:
    """Refuse a photo in which too few marks are seen, or which was taken from the side or in bad light.

    Args:
        grey: the picture.
        found: corners of the marks that are seen, by number.
        flat: the homography from sheet to picture.
    """
    missing = [mark for mark in MARKS if mark.number not in found]
    if len(found) < LEAST_MARKS and foreshortened(flat) > MOST_FORESHORTENED:
        raise InvalidValueError(
            phrase(
                "the photo was taken from the side, and only {count} of the sheet's {all} marks can be made out: hold "
                "the camera level, straight above the slice",
                count=len(found),
                all=len(MARKS),
            )
        )
    _check_light(grey, found)
    if len(found) >= LEAST_MARKS:
        return
    outside = len(_outside(found, flat, grey.shape))
    counts = {"count": len(found), "all": len(MARKS), "least": LEAST_MARKS}
    if outside > len(missing) / 2:
        raise InvalidValueError(
            phrase(
                "{outside} of the sheet's {all} marks lie outside the picture, and at least {least} have to be in it: "
                "get the whole sheet into the picture, and load it as the camera saved it, not cropped to the slice",
                outside=outside,
                **counts,
            )
        )
    raise InvalidValueError(
        phrase(
            "{count} of the sheet's {all} marks can be seen, and at least {least} are needed. Some are missing "
            "{where}: keep hands, tools and the slice off them, and shadow and glare too",
            where=_where([np.array(mark.middle) for mark in missing], flat),
            **counts,
        )
    )


def foreshortened(flat: Row) -> float:
    """How many times longer a length on the sheet looks one way than another, at the middle of its field."""
    ends = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
    middle, along, across = _drawn(flat, ends)
    sizes = np.linalg.svd(np.column_stack([along - middle, across - middle]), compute_uv=False)
    return float(sizes[0] / max(sizes[1], 1e-9))


def cropped_words(found: Mapping[int, Row], flat: Row, shape: tuple[int, ...]) -> Phrase | None:
    """What is said of a photo that was cut smaller, as far as that can be seen: then its middle is no longer the
    lens's.

    Raises:
        InvalidValueError: it was, through the sheet.
    """
    high, wide = shape[:2]
    ratio = max(wide, high) / min(wide, high)
    is_odd = min(abs(ratio / usual - 1) for usual in SHAPES) > SAME_SHAPE
    outside = len(_outside(found, flat, shape))
    if is_odd and outside:
        raise InvalidValueError(
            phrase(
                "the photo was cropped: {outside} of the sheet's {all} marks are cut off, and {wide} by {high} pixels "
                "is no camera's picture size. The picture's middle tells where the camera stood: load the photo as the "
                "camera saved it",
                outside=outside,
                all=len(MARKS),
                wide=wide,
                high=high,
            )
        )
    if is_odd:
        return phrase(
            "the photo seems to be cropped, as {wide} by {high} pixels is no camera's picture size: that makes it less "
            "certain where the camera stood. Load the photo as the camera saved it.",
            wide=wide,
            high=high,
        )
    if outside:
        return phrase(
            "{outside} of the sheet's {all} marks lie outside the picture: if the photo was cropped, load it as the "
            "camera saved it.",
            outside=outside,
            all=len(MARKS),
        )
    return None


def _outside(found: Mapping[int, Row], flat: Row, shape: tuple[int, ...]) -> list[int]:
    """Numbers of the marks that do not lie in the picture with all of their corners."""
    high, wide = shape[:2]
    out = []
    for mark in MARKS:
        at = _drawn(flat, np.array(mark.corners))
        if mark.number not in found and ((at < 0) | (at > [wide - 1, high - 1])).any():
            out.append(mark.number)
    return out


def _drawn(flat: Row, places: Row) -> Row:
    at = np.column_stack([places, np.ones(len(places))]) @ flat.T
    return np.asarray(at[:, :2] / at[:, 2:])


def _where(places: list[Row], flat: Row) -> Phrase:
    """On which side of the picture these places of the sheet are."""
    away = (_drawn(flat, np.array(places)) - _drawn(flat, np.zeros((1, 2)))).mean(axis=0)
    if abs(away[0]) > abs(away[1]):
        return phrase("on the left") if away[0] < 0 else phrase("on the right")
    return phrase("at the top") if away[1] < 0 else phrase("at the bottom")


def _check_light(grey: Picture, found: Mapping[int, Row]) -> None:
    module = 1 / (SQUARES + 2)
    whites: list[float] = []
    blacks: list[float] = []
    for corners in found.values():
        middle = corners.mean(axis=0)
        sides = (corners + np.roll(corners, -1, axis=0)) / 2 - middle
        for depth, heap in ((1 + 0.9 * module, whites), (1 - module, blacks)):
            at = middle + depth * sides
            values = pixels.sampled(grey, at[:, :1], at[:, 1:])
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


def check_camera(camera: Camera) -> None:
    """Refuse a photo by a camera that was tilted, or of a sheet that does not lie flat."""
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
                "the marks lie {off} away from where they should: lay the sheet flat, on a board or under glass",
                off=millimetres(camera.misfit),
            )
        )


def check_sharp(grey: Picture, found: Mapping[int, Row], fine: float) -> float:
    """How many pixels an edge is wide; refuse a photo that is too coarse or blurred, of `fine` pixels to a mm of the
    slice."""
    if fine < LEAST_FINE:
        raise InvalidValueError(
            phrase(
                "the photo has {fine:.1f} pixels per millimetre of the slice, and {least:g} are needed: "
                "go closer or zoom in until the marks just fit into the picture",
                fine=fine,
                least=LEAST_FINE,
            )
        )
    wide = float(np.nanmedian([edge_width(grey, corners) for corners in found.values()]))
    if wide / fine > MOST_BLUR:
        raise InvalidValueError(
            phrase(
                "the photo is blurred: edges are {blur} wide, and at most {most} can be read: {remedy}.",
                blur=millimetres(wide / fine),
                most=millimetres(MOST_BLUR),
                remedy=HOLD_STILL,
            )
        )
    return wide
