"""What is doubtful about the settings of a corner."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints.cutter import CutterKind
from drawerwright.joints.readings import FitRange, misfit
from drawerwright.joints.setting import CornerSetting, is_one_setting

THIN_NECK_SHARE = 0.3
"""A neck under this share of the upright's thickness breaks in handling (common practice, no source)."""
THIN_NECK: Mm = 3.0
"""The least neck at any thickness (common practice, no source)."""
THIN_ROOF: Mm = 2.5
"""A roof thinner than this dents and shows the glue line (common practice, no source)."""
THIN_LIP: Mm = 1.0
"""A lip narrower than this chips at the first knock (common practice, no source)."""
ROUNDING: Mm = 1e-6
"""Settings are sums of lengths; differences below this are arithmetic."""


def least_neck(upright_thickness: Mm) -> Mm:
    """The least neck that is usual in stock of this thickness (mm)."""
    return max(THIN_NECK, THIN_NECK_SHARE * upright_thickness)


def setting_findings(setting: CornerSetting, where: str) -> tuple[Finding, ...]:
    """Findings about one corner's settings; `where` names the corner in the user's words."""
    return tuple(_findings(setting, where))


def height_findings(setting: CornerSetting, where: str, fit: FitRange) -> tuple[Finding, ...]:
    """What follows from a bit height that is not the one at which the corner closes exactly.

    Args:
        setting: of the corner.
        where: names the corner in the user's words.
        fit: what counts as a fit.
    """
    off = misfit(setting)
    if is_one_setting(off, 0.0):
        return ()
    cutter, height = setting.cutter, setting.bit_height
    right = cutter.bit_height(setting.corner.flat_thickness)
    low, high = fit.misfits(cutter.kind)
    severity = Severity.NOTE if low - ROUNDING <= off <= high + ROUNDING else Severity.WARNING
    values = {"height": millimetres(height), "right": millimetres(right), "off": millimetres(abs(off))}
    if cutter.kind is CutterKind.LOCK_MITRE:
        text = (
            phrase(
                "at the bit height {height}, not {right}, the upright piece's tip stands {off} out of the flat piece's "
                "outer face.",
                **values,
            )
            if off > 0
            else phrase(
                "at the bit height {height}, not {right}, the upright piece's tip ends {off} short of the flat piece's "
                "outer face.",
                **values,
            )
        )
    elif off > 0:
        severity = Severity.STOP
        text = phrase(
            "at the bit height {height}, not {right}, the corner does not close: the upright piece stands {proud} "
            "proud of its seat.",
            **values,
            proud=millimetres(setting.stands_proud),
        )
    else:
        text = phrase(
            "at the bit height {height}, not {right}, the corner closes with a play of {off}: pulled, gaps as wide "
            "show at the roof and at the shoulder.",
            **values,
        )
    remedy = (
        phrase("It counts as a fit. Without the kept bit height the corner closes exactly.")
        if severity is Severity.NOTE
        else phrase("Set the bit to {right}, or take the kept bit height out.", right=millimetres(right))
    )
    return (Finding("bit-height-off", severity, where, text, remedy),)


def _findings(setting: CornerSetting, where: str) -> Iterator[Finding]:
    cutter, corner, height = setting.cutter, setting.corner, setting.bit_height
    step = cutter.step.value
    if cutter.cutting_height is not None and height > cutter.cutting_height + ROUNDING:
        yield Finding(
            "bit-height-above-cutter",
            Severity.STOP,
            where,
            phrase(
                "bit height {height} is above the cutter's {cutting_height} cutting height.",
                height=millimetres(height),
                cutting_height=millimetres(cutter.cutting_height, "g"),
            ),
            phrase("Choose a taller cutter, or check the mid depth."),
        )
    if cutter.kind is CutterKind.DRAWER_LOCK:
        yield from _roof_findings(setting, where)
        yield from _neck_findings(setting, where)
    for piece, fence in (
        (phrase("flat piece"), setting.fence_flat),
        (phrase("upright piece"), setting.fence_upright),
    ):
        if fence < step - ROUNDING and cutter.kind is CutterKind.DRAWER_LOCK:
            yield Finding(
                "fence-below-step",
                Severity.STOP,
                where,
                phrase(
                    "the fence setting {fence} for the {piece} is less than the step {step}, so "
                    "part of the profile cuts nothing and the corner cannot close.",
                    fence=millimetres(fence),
                    piece=piece,
                    step=millimetres(step),
                ),
                phrase("Give this piece at least the step and take the difference from the other piece."),
            )
        if cutter.diameter is not None and fence > cutter.diameter / 2:
            yield Finding(
                "fence-beyond-cutter",
                Severity.STOP,
                where,
                phrase(
                    "the fence setting {fence} for the {piece} is more than the cutter's radius {radius}.",
                    fence=millimetres(fence),
                    piece=piece,
                    radius=millimetres(cutter.diameter / 2),
                ),
                phrase(
                    "Choose a larger cutter, a smaller lip or thinner stock, or share the cut differently."
                ),
            )
    if 0 < corner.lip < THIN_LIP:
        yield Finding(
            "thin-lip",
            Severity.WARNING,
            where,
            phrase("a lip of {lip} chips easily.", lip=millimetres(corner.lip)),
            phrase("Make it at least {thin_lip}, or flush.", thin_lip=millimetres(THIN_LIP, "g")),
        )
    if corner.lip < -ROUNDING:
        yield Finding(
            "front-short-of-sides",
            Severity.WARNING,
            where,
            phrase("the front ends {inside} inside the sides' outer faces.", inside=millimetres(-corner.lip)),
            phrase("Make the front as wide as the box, or narrow the box."),
        )


def _roof_findings(setting: CornerSetting, where: str) -> Iterator[Finding]:
    if setting.roof <= ROUNDING:
        yield Finding(
            "bit-height-above-stock",
            Severity.STOP,
            where,
            phrase(
                "bit height {bit_height} goes through the flat piece of {flat_thickness}.",
                bit_height=millimetres(setting.bit_height),
                flat_thickness=millimetres(setting.corner.flat_thickness),
            ),
            phrase("Take thicker stock for the flat piece, or a smaller cutter."),
        )
    elif setting.roof < THIN_ROOF:
        yield Finding(
            "thin-roof",
            Severity.WARNING,
            where,
            phrase("only {roof} are left over the cut on the flat piece.", roof=millimetres(setting.roof)),
            phrase(
                "Take thicker stock for the flat piece: {thin_roof} or more should be left.",
                thin_roof=millimetres(THIN_ROOF, "g"),
            ),
        )


def _neck_findings(setting: CornerSetting, where: str) -> Iterator[Finding]:
    thickness = setting.corner.upright_thickness
    limit = least_neck(thickness)
    if setting.neck <= ROUNDING:
        yield Finding(
            "no-neck",
            Severity.STOP,
            where,
            phrase(
                "the fence setting {fence_upright} cuts the upright piece of {thickness} through.",
                fence_upright=millimetres(setting.fence_upright),
                thickness=millimetres(thickness),
            ),
            phrase("Give the upright piece a smaller fence setting, for instance only the tooth."),
        )
    elif setting.neck < limit - ROUNDING:
        yield Finding(
            "thin-neck",
            Severity.WARNING,
            where,
            phrase(
                "the upright piece's neck is {neck} thick; {limit} or more is usual.",
                neck=millimetres(setting.neck),
                limit=millimetres(limit, ".1f"),
            ),
            phrase("Give the upright piece a smaller fence setting and the flat piece a larger one."),
        )
