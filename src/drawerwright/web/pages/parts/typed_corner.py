"""The corner whose measures a form holds: a job's own where they are the job's, and what is recommended for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from drawerwright.web.fields import job_text
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.fields.posted_numbers import whole_number
from drawerwright.web.reader.preferences import Preferences

if TYPE_CHECKING:
    from drawerwright.job.job import Job
    from drawerwright.joints.bit_heights import BitHeights
    from drawerwright.joints.corner_key import KeyedCorner
    from drawerwright.joints.cutter import Cutter
    from drawerwright.joints.readings import FitRange
    from drawerwright.joints.setting import CornerGeometry, CornerSetting, FenceRule
    from drawerwright.web.server.shop import Shop

MEASURES = ("mid_depth", "step", "flat", "upright")
ONE = "one"
"""How the fence sum is shared where both pieces have one setting; else the upright piece's setting stands there."""


def typed_measures(cutter: Cutter, corner: CornerGeometry, reader: Preferences) -> dict[str, str]:
    """The cutter and the wood of a corner as the page's fields show them."""
    lengths = {
        "mid_depth": cutter.mid_depth.value,
        "step": cutter.step.value,
        "flat": corner.flat_thickness,
        "upright": corner.upright_thickness,
        "lip": corner.lip,
    }
    typed = {name: typed_length(value, reader) for name, value in lengths.items()}
    return typed | {"slope": f"{round(cutter.slope_angle, 1):g}", "kind": cutter.kind}


def typed_length(length: float, reader: Preferences) -> str:
    """A length as a field of the page shows it."""
    return reader.lengths.show(length, fine=True, with_unit=False)


def typed_split(setting: CornerSetting, reader: Preferences) -> str:
    """How a setting shares the fence sum, as a field holds it."""
    return ONE if setting.has_one_fence else typed_length(setting.fence_upright, reader)


def recommended_in_job(setting: CornerSetting, job: Job) -> CornerSetting:
    """What is recommended for a corner of a job that shares its fence sum as this setting does."""
    return _recommended(setting.cutter, setting.corner, setting.fence_rule, job.heights.unforced)


@dataclass(frozen=True, slots=True)
class TypedCorner:
    """What a form means. `heights` is the rule for bit heights that goes with it."""

    right: CornerSetting
    heights: BitHeights

    @property
    def fit(self) -> FitRange:
        """What counts as a fit."""
        from drawerwright.joints.readings import FitRange

        return self.heights.fit or FitRange()


def typed_corner(shop: Shop, form: LengthsForm, reader: Preferences) -> TypedCorner:
    """The corner that a form without faults holds, at the recommended settings.

    Raises:
        InvalidValueError: no cutter has such measures.
    """
    from drawerwright.basics.uncertain import Estimate
    from drawerwright.joints.bit_heights import BitHeights
    from drawerwright.joints.cutter import Cutter
    from drawerwright.joints.readings import FitRange
    from drawerwright.joints.registry import USUAL
    from drawerwright.joints.setting import CornerGeometry, FenceRule
    from drawerwright.joints.table import RouterTable, usual_gauge_step

    values = form.values
    job, corner = _of_job(shop, form)
    step = usual_gauge_step(reader.lengths.unit)
    table = RouterTable(height_gauge_step=step, fence_gauge_step=step)
    heights = BitHeights(FitRange(), table) if job is None else job.heights.unforced
    rule = values.get("split", FenceRule.ONE)
    if job is not None and corner is not None:
        shown = typed_measures(job.cutter, corner.geometry, reader)
        if all(form.typed.get(name, "").strip() == text for name, text in shown.items()):
            return TypedCorner(_recommended(job.cutter, corner.geometry, rule, heights), heights)
    cutter = Cutter(
        form.typed.get("kind") or USUAL,
        mid_depth=Estimate(values["mid_depth"]),
        step=Estimate(values["step"]),
        slope=Estimate(values["slope"]),
        edge=None if job is None else job.cutter.edge,
    )
    geometry = CornerGeometry(values["flat"], values["upright"], values["lip"])
    return TypedCorner(_recommended(cutter, geometry, rule, heights), heights)


def _of_job(shop: Shop, form: LengthsForm) -> tuple[Job | None, KeyedCorner | None]:
    """The job and its corner that a form names, where it does."""
    from drawerwright.job.planning.corners import corners_of

    number = whole_number(form.typed.get("job", ""))
    job = None if number is None else job_text.job_of(shop.jobs.load(number).text)
    if job is None:
        return None, None
    token = form.typed.get("of", "")
    return job, next((corner.keyed for corner in corners_of(job) if corner.key.token == token), None)


def _recommended(
    cutter: Cutter, corner: CornerGeometry, rule: FenceRule | float, heights: BitHeights
) -> CornerSetting:
    from drawerwright.basics.uncertain import Estimate
    from drawerwright.joints.readings import FitRange
    from drawerwright.joints.wanted import Wanted

    flat, upright = Estimate(corner.flat_thickness), Estimate(corner.upright_thickness)
    wanted = Wanted(flat, upright, corner.lip, rule, heights.fit or FitRange())
    return wanted.recommended(cutter, heights.table)
