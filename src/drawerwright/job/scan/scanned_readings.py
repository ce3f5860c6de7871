"""What pictures of a test cut say, as the readings that calipers would give."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from drawerwright.job.scan.picture_files import TakenWith, open_picture
from drawerwright.job.scan.scanning import PictureGiven, ScannedCut, scan_pictures
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.trial_cut import TakenReading, TrialCut

_OF_CUTTER_AND_HEIGHT = {
    ReadingKind.CUT_HEIGHT: "bit_height",
    ReadingKind.TOP_TO_SLOPE: "mid_depth",
    ReadingKind.CUT_STEP: "step",
    ReadingKind.TIP_TO_SLOPE: "mid_to_tip",
}
"""What both pieces tell alike."""


def with_scan(
    cut: TrialCut,
    flat: Sequence[Path],
    upright: Sequence[Path],
    *,
    kind: str,
    taken: TakenWith,
) -> TrialCut:
    """A test cut with the readings that pictures of its pieces give; their thicknesses check the scale.

    Raises:
        OSError: a file cannot be read.
        InvalidValueError: a picture cannot be read.
        MissingLibraryError: the library that reads pictures is not installed.
    """
    given = [
        PictureGiven(open_picture(path, taken), is_flat, thickness)
        for paths, is_flat, thickness in (
            (flat, True, cut.flat_thickness),
            (upright, False, cut.upright_thickness),
        )
        for path in paths
    ]
    height = cut.height_shown if cut.by_block else None
    scanned = scan_pictures(given, kind=kind, bit_height=height)
    return replace(cut, readings=(*cut.readings, *readings_of(scanned)))


def readings_of(cut: ScannedCut) -> Iterable[TakenReading]:
    """The readings that the pictures of a cut give: distances of faces as they are in the pictures, none of them out of
    another."""
    for _, reading in cut.readings:
        measures = reading.measures
        # Of a cut through the wood the height is what somebody said, and mid depth is reckoned from it.
        goes_through = "mid_to_tip" in measures
        told = {"step", "mid_to_tip"} if goes_through else {"bit_height", "mid_depth", "step"}
        for kind, name in _OF_CUTTER_AND_HEIGHT.items():
            if name in told and name in measures:
                yield TakenReading(kind, measures[name].value, measures[name].uncertainty)
        if "fence" not in measures:
            continue
        fence = measures["fence"]
        if reading.is_flat:
            yield TakenReading(ReadingKind.DEEPEST_CUT, fence.value, fence.uncertainty)
        else:
            thickness = measures["thickness"]
            neck = thickness.value - fence.value
            own = math.hypot(thickness.own, fence.own)
            common = abs(thickness.common - fence.common)
            yield TakenReading(ReadingKind.NECK, neck, math.hypot(own, common))
