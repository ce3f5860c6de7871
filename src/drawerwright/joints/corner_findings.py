"""What is doubtful about the settings of a corner."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.joints import law
from drawerwright.joints.bit_heights import BitHeights
from drawerwright.joints.joint import joint_of
from drawerwright.joints.reach import Reach
from drawerwright.joints.readings import FitRange, misfit
from drawerwright.joints.setting import ROUNDING, SAME_SETTING, CornerSetting, is_one_setting
from drawerwright.joints.sharing import share_remedy

THIN_LIP: Mm = 1.0
"""A lip narrower than this chips at the first knock (common practice, no source)."""


def setting_findings(
    setting: CornerSetting, where: str, largest_setting: Mm | None = None
) -> tuple[Finding, ...]:
    """Findings about one corner's settings.

    Args:
        setting: of the corner.
        where: names the corner in the user's words.
        largest_setting: as far as the table lets the cutter stand out of the fence (mm); None when unknown.
    """
    return tuple(_findings(setting, where, Reach.of(setting.cutter, largest_setting)))


def height_findings(setting: CornerSetting, where: str, heights: BitHeights) -> tuple[Finding, ...]:
    """What follows from a bit height that is kept and not the recommended one, and from a gauge too coarse for it.

    Args:
        setting: of the corner.
        where: names the corner in the user's words.
        heights: the rule that its bit height comes from.
    """
    fit, flat = heights.fit or FitRange(), setting.corner.flat_thickness
    recommended = heights.unforced.of(setting.cutter, flat)
    if is_one_setting(setting.bit_height, recommended):
        return (
            ()
            if heights.serves_wanted_play(setting.cutter, flat)
            else (_coarse_gauge(heights, fit, setting),)
        )
    off = misfit(setting)
    cutter = setting.cutter
    low, high = fit.misfits(cutter.mating)
    severity = Severity.NOTE if low - ROUNDING <= off <= high + ROUNDING else Severity.WARNING
    if not setting.closes:
        severity = Severity.STOP
    text = joint_of(cutter).off_height(setting, recommended)
    remedy = (
        phrase(
            "That counts as a fit, but {right} has better odds: remove the kept bit height to get it.",
            right=millimetres(recommended),
        )
        if severity is Severity.NOTE
        else phrase("Set the bit to {right}, or remove the kept bit height.", right=millimetres(recommended))
    )
    return (Finding("bit-height-off", severity, where, text, remedy),)


def _coarse_gauge(heights: BitHeights, fit: FitRange, setting: CornerSetting) -> Finding:
    table = heights.table
    return Finding(
        "gauge-too-coarse",
        Severity.WARNING,
        phrase("height gauge"),
        phrase(
            "none of its marks gives a play of {least} to {most}; they are {step} apart.",
            least=millimetres(fit.least_play, with_unit=False),
            most=millimetres(fit.most_play),
            step=millimetres(table.height_gauge_step, ".3f"),
        ),
        phrase(
            "Set it between two marks, to {reading}, plane a block to {height}, or allow a wider range of play.",
            reading=millimetres(table.height_reading(setting.bit_height)),
            height=millimetres(setting.bit_height),
        ),
    )


def lip_findings(setting: CornerSetting, where: str, fit: FitRange) -> tuple[Finding, ...]:
    """What follows from fence settings whose lip is off by more than counts as flush.

    Args:
        setting: of the corner.
        where: names the corner in the user's words.
        fit: what counts as right.
    """
    wanted = setting.corner.lip
    least, most = setting.cutter.mating.lips(wanted, fit.flushness)
    if least - ROUNDING <= setting.lip <= most + ROUNDING:
        return ()
    return (
        Finding(
            "lip-off",
            Severity.WARNING,
            where,
            phrase(
                "with the fence at {flat} and {upright} the lip comes out at {lip}, not {wanted}.",
                flat=millimetres(setting.fence_flat, with_unit=False),
                upright=millimetres(setting.fence_upright),
                lip=millimetres(setting.lip),
                wanted=millimetres(wanted),
            ),
            phrase("Give a finer step for the fence scale, or name positions that suit this corner."),
        ),
    )


def _findings(setting: CornerSetting, where: str, reach: Reach) -> Iterator[Finding]:
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
    yield from joint_of(cutter).findings(setting, where, reach)
    least = cutter.mating.least_fence(step)
    for piece, fence in (
        (phrase("flat piece"), setting.fence_flat),
        (phrase("upright piece"), setting.fence_upright),
    ):
        if fence < least - ROUNDING:
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
                phrase("Give this piece at least the step and take the difference from the other piece.")
                if corner.fence_sum(cutter) >= 2 * law.tooth_only_setting(step)
                else phrase(
                    "Both settings together come to {sum}, less than twice the step: use "
                    "thicker stock for the upright piece, or a cutter with a smaller step.",
                    sum=millimetres(corner.fence_sum(cutter)),
                ),
            )
        if fence > reach.radius + SAME_SETTING:
            yield Finding(
                "fence-beyond-cutter",
                Severity.STOP,
                where,
                phrase(
                    "the fence setting {fence} for the {piece} is more than the cutter's radius {radius}.",
                    fence=millimetres(fence),
                    piece=piece,
                    radius=millimetres(reach.radius),
                ),
                share_remedy(setting, reach),
            )
    largest = max(setting.fence_flat, setting.fence_upright)
    if reach.radius >= largest > reach.table + SAME_SETTING:
        yield Finding(
            "fence-beyond-table",
            Severity.STOP,
            where,
            phrase(
                "the fence setting {fence} is more than the {largest} that the router table allows.",
                fence=millimetres(largest),
                largest=millimetres(reach.table),
            ),
            share_remedy(setting, reach),
        )
    if not cutter.mating.makes_corners:
        return
    if 0 < corner.lip < THIN_LIP:
        yield Finding(
            "thin-lip",
            Severity.WARNING,
            where,
            phrase("a lip of {lip} chips easily.", lip=millimetres(corner.lip)),
            phrase("Make it at least {thin_lip}, or flush.", thin_lip=RoughLength("1 mm", "0.04 in")),
        )
    if corner.lip < -ROUNDING:
        yield Finding(
            "front-short-of-sides",
            Severity.WARNING,
            where,
            phrase(
                "the front stops {inside} inside the sides' outer faces.", inside=millimetres(-corner.lip)
            ),
            phrase("Make the front as wide as the box, or narrow the box."),
        )
