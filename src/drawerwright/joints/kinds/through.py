"""What joints have in common whose cutter goes right through the stock: its middle lies in the middle of the wood."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Degrees, Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints import law
from drawerwright.joints.joint import SelfMating
from drawerwright.joints.reach import Reach
from drawerwright.joints.setting import ROUNDING, SAME_SETTING, CornerSetting

TRIMMED: Mm = 0.05
"""An end that is trimmed by more leaves the outfeed fence: what a sheet of paper shows (common practice, no source)."""


class Through(SelfMating):
    """Law: ``h = m + t / 2``. A wrong height shows as a step between faces, either way, and leaves no play."""

    where_to_measure = phrase(
        "Where to measure. Mid depth: from the top of the cutter (its free end) to the middle "
        "of the lock, about which the edge reads the same turned over. Step: twice the inset "
        "there."
    )
    has_play = False
    shares_freely = False

    def bit_height(self, mid_depth: Mm, flat_thickness: Mm) -> Mm:
        return law.bit_height_for_engagement(mid_depth, flat_thickness)

    def engagement(self, bit_height: Mm, mid_depth: Mm) -> Mm:
        return law.engagement(bit_height, mid_depth)

    def misfit(self, bit_height: Mm, mid_depth: Mm, flat_thickness: Mm) -> Mm:
        return law.tip_step(bit_height, mid_depth, flat_thickness)

    def play(self, bit_height: Mm, mid_depth: Mm) -> Mm:
        return 0.0

    def stands_proud(self, bit_height: Mm, mid_depth: Mm, step: Mm, slope: Degrees) -> Mm:
        return 0.0

    def fitting(self, least_play: Mm, most_play: Mm, flushness: Mm) -> tuple[Mm, Mm]:
        return -flushness, flushness

    def through(self, thickness: Mm | None) -> Mm | None:
        return thickness

    def findings(self, made: CornerSetting, where: str, reach: Reach) -> tuple[Finding, ...]:
        return tuple(_findings(made, where))


def _findings(setting: CornerSetting, where: str) -> Iterator[Finding]:
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
