"""The use case `settings`: one corner straight from its measures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.job.plain_data import finding_data, mm, setting_data
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.judgement import setting_findings
from drawerwright.joints.setting import CornerGeometry, CornerSetting, FenceRule, set_corner


@dataclass(frozen=True, slots=True)
class SettledCorner:
    """One corner with its settings, the length of its upright pieces when asked for, and what is doubtful."""

    setting: CornerSetting
    upright_length: Mm | None
    findings: tuple[Finding, ...]

    @property
    def data(self) -> dict[str, Any]:
        """As JSON-ready data, lengths in mm."""
        length = {} if self.upright_length is None else {"upright_length": mm(self.upright_length)}
        return {**setting_data(self.setting), **length, "findings": [finding_data(f) for f in self.findings]}


def settle_corner(
    cutter: Cutter,
    corner: CornerGeometry,
    *,
    fence: FenceRule | Mm = FenceRule.ONE,
    outer: Mm | None = None,
    other_flat: Mm | None = None,
) -> SettledCorner:
    """Settings of one corner.

    Args:
        cutter: the cutter.
        corner: measured thicknesses and lip (mm).
        fence: how the fence sum is shared, or the upright piece's setting (mm).
        outer: finished size over both flat pieces (mm), for the length of the upright piece between them.
        other_flat: thickness of the flat piece at the far end (mm), when it differs.

    Raises:
        InvalidValueError: a thickness is not more than 0, or the outer size leaves no upright piece.
    """
    for name, value in (
        (phrase("flat piece"), corner.flat_thickness),
        (phrase("upright piece"), corner.upright_thickness),
    ):
        if value <= 0:
            raise InvalidValueError(
                phrase(
                    "the thickness of the {name} must be more than 0 mm, not {value}",
                    name=name,
                    value=millimetres(value, "g"),
                )
            )
    setting = set_corner(cutter, corner, fence)
    length = None if outer is None else setting.upright_length(outer, other_flat)
    if outer is not None and length is not None and length <= 0:
        raise InvalidValueError(
            phrase(
                "an outer size of {outer} leaves an upright piece of {length}: give a larger outer size",
                outer=millimetres(outer, "g"),
                length=millimetres(length, "g"),
            )
        )
    return SettledCorner(setting, length, setting_findings(setting, "corner"))
