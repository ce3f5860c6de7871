"""What is doubtful about the settings of a corner."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints import law
from drawerwright.joints.bit_heights import BitHeights
from drawerwright.joints.cutter import CutterKind
from drawerwright.joints.reach import LargestLip, Reach, largest_lip, least_neck, least_upright, most_upright
from drawerwright.joints.readings import FitRange, misfit
from drawerwright.joints.setting import SAME_SETTING, CornerSetting, is_one_setting

THIN_ROOF: Mm = 2.5
"""A roof thinner than this dents and shows the glue line (common practice, no source)."""
LEAST_ROOF: Mm = 1.5
"""A roof thinner than this tears out or breaks while it is cut (common practice, no source)."""
THIN_LIP: Mm = 1.0
"""A lip narrower than this chips at the first knock (common practice, no source)."""
LIP_TENTHS = 10
"""The largest lip is given in tenths of a millimetre, rounded down, so that whoever takes it keeps the limits."""
TRIMMED: Mm = 0.05
"""An end that is trimmed by more leaves the outfeed fence: what a sheet of paper shows (common practice, no source)."""
ROUNDING: Mm = 1e-6
"""Settings are sums of lengths; differences below this are arithmetic."""


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
    cutter, height = setting.cutter, setting.bit_height
    low, high = fit.misfits(cutter.kind)
    severity = Severity.NOTE if low - ROUNDING <= off <= high + ROUNDING else Severity.WARNING
    values = {
        "height": millimetres(height),
        "right": millimetres(recommended),
        "off": millimetres(abs(off)),
    }
    if cutter.kind is CutterKind.LOCK_MITRE:
        text = (
            phrase(
                "at a bit height of {height} instead of {right}, the upright piece's tip "
                "stands {off} proud of the flat piece's outer face.",
                **values,
            )
            if off > 0
            else phrase(
                "at a bit height of {height} instead of {right}, the upright piece's tip stops "
                "{off} short of the flat piece's outer face.",
                **values,
            )
        )
    elif not setting.closes:
        severity = Severity.STOP
        text = phrase(
            "at a bit height of {height} instead of {right}, the corner does not close: the "
            "upright piece stands {proud} proud of its seat.",
            **values,
            proud=millimetres(setting.stands_proud),
        )
    else:
        text = phrase(
            "at a bit height of {height} instead of {right}, the corner closes with {play} of "
            "play: pulled, it shows gaps as wide at roof and shoulder.",
            **values,
            play=millimetres(setting.play or 0.0),
        )
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
    if abs(setting.lip - wanted) <= fit.flushness + ROUNDING:
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
    if cutter.kind is CutterKind.DRAWER_LOCK:
        yield from _roof_findings(setting, where)
        yield from _neck_findings(setting, where, reach)
    else:
        yield from _through_findings(setting, where)
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
            phrase(
                "the front stops {inside} inside the sides' outer faces.", inside=millimetres(-corner.lip)
            ),
            phrase("Make the front as wide as the box, or narrow the box."),
        )


def _roof_findings(setting: CornerSetting, where: str) -> Iterator[Finding]:
    if setting.roof <= ROUNDING:
        yield Finding(
            "bit-height-above-stock",
            Severity.STOP,
            where,
            phrase(
                "bit height {bit_height} cuts through the flat piece of {flat_thickness}.",
                bit_height=millimetres(setting.bit_height),
                flat_thickness=millimetres(setting.corner.flat_thickness),
            ),
            phrase("Use thicker stock for the flat piece, or a smaller cutter."),
        )
    elif setting.roof < THIN_ROOF - ROUNDING:
        roof = millimetres(setting.roof)
        must = setting.roof < LEAST_ROOF - ROUNDING
        yield Finding(
            "thin-roof",
            Severity.STOP if must else Severity.WARNING,
            where,
            phrase(
                "only {roof} is left over the cut on the flat piece, and the lip is no thicker.", roof=roof
            )
            if setting.corner.lip > 0
            else phrase("only {roof} is left over the cut on the flat piece.", roof=roof),
            phrase(
                "Use thicker stock for the flat piece: leave {thin_roof} or more; less than "
                "{least_roof} breaks during the cut.",
                thin_roof=millimetres(THIN_ROOF, "g"),
                least_roof=millimetres(LEAST_ROOF, "g"),
            ),
        )


def _through_findings(setting: CornerSetting, where: str) -> Iterator[Finding]:
    """Of a cutter that goes right through the flat piece."""
    cutter, thickness = setting.cutter, setting.corner.flat_thickness
    mid_depth, step = cutter.mid_depth.value, cutter.step.value
    most = law.thickest_through(mid_depth)
    if thickness > most + ROUNDING:
        yield Finding(
            "cutter-too-short",
            Severity.STOP,
            where,
            phrase(
                "the cutter's middle lies {mid_depth} below its top, so it cuts through stock "
                "of {most} at most (2 × mid depth), not {thickness}: the corner cannot close.",
                mid_depth=millimetres(mid_depth, "g"),
                most=millimetres(most),
                thickness=millimetres(thickness),
            ),
            phrase(
                "Use stock of at most {most} for the flat piece, or a taller cutter.",
                most=millimetres(most),
            ),
        )
        return
    profile = cutter.profile().between(max(setting.bit_height - thickness, 0.0), setting.bit_height)
    trimmed = law.cut(setting.fence_flat, max(inset for _, inset in profile))
    if trimmed > TRIMMED and setting.roof <= SAME_SETTING:
        yield Finding(
            "end-trimmed",
            Severity.WARNING,
            where,
            phrase(
                "with a step of {step}, the cutter takes {trimmed} off the whole end of the flat piece, so the end no "
                "longer touches the outfeed fence behind the cutter.",
                step=millimetres(step, "g"),
                trimmed=millimetres(trimmed),
            ),
            phrase(
                "Shim the outfeed fence forward by {trimmed}, or use a cutter with a step as "
                "large as the stock is thick.",
                trimmed=millimetres(trimmed),
            ),
        )


def _neck_findings(setting: CornerSetting, where: str, reach: Reach) -> Iterator[Finding]:
    thickness = setting.corner.upright_thickness
    limit = least_neck(thickness)
    if setting.neck <= ROUNDING:
        yield Finding(
            "no-neck",
            Severity.STOP,
            where,
            phrase(
                "the fence setting {fence_upright} cuts right through the upright piece of {thickness}.",
                fence_upright=millimetres(setting.fence_upright),
                thickness=millimetres(thickness),
            ),
            share_remedy(setting, reach),
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
            share_remedy(setting, reach),
        )


def share_remedy(setting: CornerSetting, reach: Reach) -> str:
    """What to change where a fence setting is too large for one piece: how to share the cut, or, where no sharing
    helps, how large the lip can be and what ends it."""
    cutter, corner = setting.cutter, setting.corner
    step = cutter.step.value
    largest = largest_lip(cutter, corner.upright_thickness, reach)
    if largest is not None and corner.lip > largest.lip + SAME_SETTING:
        return _smaller_lip(largest, reach)
    tooth, most = law.tooth_only_setting(step), most_upright(cutter, corner.upright_thickness, reach)
    if setting.fence_upright <= tooth + SAME_SETTING:
        return phrase(
            "The upright piece already gets the least cut, the tooth alone: use stock of at "
            "least {least} for it, or a cutter with a smaller step.",
            least=millimetres(least_upright(step), ".1f"),
        )
    wanted = corner.fence_sum(cutter)
    return phrase(
        "Share the cut differently: {least} to {most} for the upright piece, and the rest of "
        "{sum} for the flat piece.",
        least=millimetres(max(tooth, law.other_setting(wanted, reach.largest))),
        most=millimetres(most),
        sum=millimetres(wanted),
    )


def _smaller_lip(largest: LargestLip, reach: Reach) -> str:
    ends = {
        "reach": reach.words,
        "further": reach.remedy,
        "upright": millimetres(largest.upright),
        "neck": millimetres(largest.neck, ".1f"),
    }
    lip = math.floor(largest.lip * LIP_TENTHS) / LIP_TENTHS
    if lip < 0:
        return phrase(
            "No fence plan helps: both settings end at {reach}, and even a flush corner needs "
            "more. Use {further}, or thinner stock for the upright piece.",
            **ends,
        )
    return phrase(
        "No fence plan helps. The lip can be at most {lip}: the flat piece's setting ends at "
        "{reach}, the upright piece's at {upright}, where its neck is {neck}. Make the lip "
        "smaller (in a bank: less overlay, or runners that need less room), or use {further}.",
        lip=millimetres(lip, ".1f"),
        **ends,
    )
