"""A cutter drawn: where to measure it, the corner that it makes, and a profile that was read point by point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.cutter_profile import draw_profile
from drawerwright.job.job import Job, JobCutter
from drawerwright.job.pictures.on_screen import at_lettering_size, on_screen
from drawerwright.job.tried_corner import FIRST_MEASURES
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_of, self_mating
from drawerwright.joints.mate import Mate
from drawerwright.joints.mating import mating
from drawerwright.joints.profile import Point
from drawerwright.joints.setting import CornerGeometry, set_corner

CORNER_SCALE = 2.4
SCALE, TALLEST = 5.0, 75.0
"""Of the picture of the cutter: paper per thing, and how tall it may become (mm of paper)."""


@dataclass(frozen=True, slots=True)
class CutterPictures:
    """A cutter with its measures and the corner that it makes, each with what is said below it.

    Without a cutter, or a job without faults, there is no corner: then both are empty.
    """

    measures: str
    where_to_measure: str
    corner: str = ""
    shows_measures: str = ""


def any_cutter(style: LengthStyle) -> CutterPictures:
    """Where to measure a cutter, without any figures: until the job has its own."""
    first = FIRST_MEASURES
    profile = mating(first.kind).profile(first.mid_depth, first.step, first.slope, None)
    shape = profile.between(0.0, 2 * first.mid_depth)
    drawing = draw_profile(shape, first.mid_depth, first.step, style=style, dots=False, figures=False)
    return CutterPictures(on_screen(drawing), self_mating(first.kind).where_to_measure)


def one_cutter(cutter: Cutter, style: LengthStyle) -> CutterPictures:
    """A cutter with its own figures; no corner, since nothing is known of its stock."""
    middle, step = cutter.mid_depth.value, cutter.step.value
    shape = cutter.profile().between(0.0, max(2 * middle, middle + step))
    scale = min(SCALE, TALLEST / shape[-1][0])
    drawing = draw_profile(shape, middle, step, style=style, dots=False, scale=scale)
    return CutterPictures(on_screen(drawing), joint_of(cutter).where_to_measure)


def cutter_of_job(job: Job, used: JobCutter, style: LengthStyle) -> CutterPictures:
    """A cutter of a job, and the corner that it makes in the first stock that it cuts, or in one that it could."""
    cutter = used.cutter
    stocks = [*(corner.flat for corner in job.corners_of(used)), *job.stock.values()]
    thickness = max(stocks[0].thickness.value, cutter.mid_depth.value * 2 + 2)
    setting = set_corner(cutter, CornerGeometry(thickness, thickness))
    return replace(
        one_cutter(cutter, style),
        corner=at_lettering_size(draw_corner(setting, scale=CORNER_SCALE, beside_figures=True, style=style)),
        shows_measures=joint_of(cutter).shows_measures(setting),
    )


def profile_picture(points: Sequence[Point], mate: Mate, style: LengthStyle) -> str:
    """Points of a profile, with the middle and the step that they have."""
    return on_screen(draw_profile(points, mate.mid_depth.value, mate.step.value, style=style))
