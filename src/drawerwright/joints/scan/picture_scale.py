"""How many pixels a picture has to a millimetre: what the file says, what the caliper says, and which is believed."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.scan.instrument import EDGE_SHIFT, SCANNER, Instrument, ScaleSource

INCH: Mm = 25.4
QUARREL = 2.5
"""Two figures that differ by more standard uncertainties than this contradict each other."""
IMPOSSIBLE = 6.0
"""The same of a photo, whose marks tell the scale: then the caliper was misread. A file may say any dpi."""
THICKNESSES: tuple[Mm, Mm] = (5.0, 45.0)
"""A thickness outside these means that the scale is wrong."""


@dataclass(frozen=True, slots=True)
class PictureScale:
    """Pixels to a millimetre, and the standard uncertainty of that as a share; `agrees`: the thickness by caliper (mm)
    that bears it out, None where there is none."""

    per_mm: float
    share: float
    source: ScaleSource
    agrees: Mm | None = None


def settled_scale(
    seen: tuple[float, float],
    per_mm: float | None,
    source: ScaleSource,
    thickness: Estimate | None,
    instrument: Instrument = SCANNER,
) -> tuple[PictureScale, list[Phrase]]:
    """The scale that dpi and thickness agree on, and doubts; where they do not, the thickness is believed.

    `seen`: the thickness in the picture (pixels), with its standard uncertainty.
    """
    if instrument.is_photo and thickness is None:
        raise InvalidValueError(
            phrase("a photo alone gives the scale too roughly: give the piece's thickness by caliper as well")
        )
    by_dpi = None if per_mm is None else PictureScale(per_mm, instrument.share, source)
    by_thickness = None
    if thickness is not None:
        if thickness.value <= 0:
            raise InvalidValueError(
                phrase(
                    "the thickness must be more than 0 mm, not {value}",
                    value=millimetres(thickness.value, "g"),
                )
            )
        if not THICKNESSES[0] < thickness.value < THICKNESSES[1]:
            raise InvalidValueError(
                phrase(
                    "a thickness of {value} was given, and stock is {least:g} to {most:g} mm thick: check "
                    "its decimal sign and its unit",
                    value=millimetres(thickness.value, "g"),
                    least=THICKNESSES[0],
                    most=THICKNESSES[1],
                )
            )
        share = math.hypot(thickness.uncertainty / thickness.value, math.hypot(seen[1], EDGE_SHIFT) / seen[0])
        by_thickness = PictureScale(seen[0] / thickness.value, share, ScaleSource.THICKNESS)
    if by_dpi is None and by_thickness is None:
        raise InvalidValueError(
            phrase(
                "the file does not state its dots per inch: give its dpi, or the piece's thickness by caliper"
            )
        )
    if by_dpi is not None and not THICKNESSES[0] < seen[0] / by_dpi.per_mm < THICKNESSES[1]:
        if by_thickness is None:
            raise InvalidValueError(
                phrase(
                    "at {dpi:.0f} dpi the piece would be {thickness} thick, which no stock is: give the dpi that it "
                    "was scanned at, or its thickness by caliper",
                    dpi=by_dpi.per_mm * INCH,
                    thickness=millimetres(seen[0] / by_dpi.per_mm, ".1f"),
                )
            )
        by_dpi = None
    if by_dpi is None:
        assert by_thickness is not None
        return by_thickness, []
    if by_thickness is None:
        return by_dpi, []
    off = by_thickness.per_mm / by_dpi.per_mm - 1
    unsure = math.hypot(by_dpi.share, by_thickness.share)
    if instrument.is_photo and abs(off) > QUARREL * unsure:
        assert thickness is not None
        words = _photo_words(seen[0] / by_dpi.per_mm, thickness.value, 1 / (1 + off))
        if abs(off) > IMPOSSIBLE * unsure:
            raise InvalidValueError(words)
        return by_thickness, [phrase("{text}. The caliper is believed.", text=words)]
    if abs(off) > QUARREL * unsure:
        return by_thickness, [
            phrase(
                "by the scale of {dpi:.0f} dpi the piece is {seen} thick, by caliper {thickness}: the caliper is "
                "believed, and all lengths are {percent:.1f} % {way} than by the dpi. Check both.",
                dpi=by_dpi.per_mm * INCH,
                seen=millimetres(seen[0] / by_dpi.per_mm),
                thickness=millimetres(thickness.value if thickness else 0.0),
                percent=abs(1 / (1 + off) - 1) * 100,
                way=phrase("smaller") if off > 0 else phrase("larger"),
            )
        ]
    weights = by_dpi.share**-2, by_thickness.share**-2
    mean = (weights[0] * by_dpi.per_mm + weights[1] * by_thickness.per_mm) / sum(weights)
    return PictureScale(mean, sum(weights) ** -0.5, source, thickness.value if thickness else None), []


def _photo_words(seen: Mm, thickness: Mm, printed: float) -> Phrase:
    """What is said where sheet and caliper contradict each other; the sheet would be `printed` by such a share."""
    return phrase(
        "by the marks of the sheet the slice is {seen} thick, by caliper {thickness}, and its height does not explain "
        "that: measure thickness and height again, and the sheet's bars of 100 mm. If they are {bar} long, the sheet "
        "was not printed at full size",
        seen=millimetres(seen),
        thickness=millimetres(thickness),
        bar=millimetres(100 * printed, ".1f"),
    )
