"""Values as plain data, as every file and answer for other programs holds them. Lengths are millimetres."""

from __future__ import annotations

from typing import Any, TypeAlias

from drawerwright.basics.findings import Finding
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.plain_joint import PlainCorner, plain_joint
from drawerwright.joints.setting import CornerSetting

Data: TypeAlias = dict[str, Any]


def mm(length: float) -> float:
    """A length as it is written into data: a thousandth of a millimetre is finer than any tool."""
    return round(length, 3) + 0.0


def finding_data(finding: Finding) -> Data:
    """A finding as data."""
    return {
        "code": finding.code,
        "severity": str(finding.severity),
        "where": finding.where,
        "drawers": list(finding.drawers),
        "text": finding.text,
        "remedy": finding.remedy,
    }


def setting_data(setting: CornerSetting) -> Data:
    """The machine settings of one corner."""
    return {
        "bit_height": mm(setting.bit_height),
        "engagement": mm(setting.engagement),
        "fence_flat": mm(setting.fence_flat),
        "fence_upright": mm(setting.fence_upright),
        "neck": mm(setting.neck),
        "head": mm(setting.head),
        "roof": mm(setting.roof),
        "lip": mm(setting.lip),
    }


def clean(length: float | None) -> float | None:
    """Rounded to a hundredth of a micrometre: what lies below is arithmetic."""
    return None if length is None else round(length, 5) + 0.0


def estimate_data(estimate: Estimate) -> Data:
    """A value with its standard uncertainty, and where that is from, as plain data."""
    return {
        "value": clean(estimate.value),
        "uncertainty": clean(estimate.uncertainty),
        "origin": str(estimate.origin),
    }


def key_data(key: CornerKey) -> Data:
    """The key of a corner, as it stands in a plan's data and beside a kept test cut."""
    return {
        "joint": key.joint,
        "cutter": key.cutter,
        "flat": key.flat,
        "upright": key.upright,
        "lip": key.lip,
        "orientation": str(key.orientation),
        **({"measures": dict(key.measures)} if key.measures else {}),
    }


def bench_data(made: PlainCorner, width: float) -> Data:
    """What follows for the bench from a joint without a self-mating cutter, in an edge of this width (mm)."""
    joint = plain_joint(made.kind)
    figures = {figure.name: mm(figure.value) for figure in joint.figures(made, width)}
    return {**figures, **joint.data(made, width)}
