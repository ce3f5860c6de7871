"""Two boards edge to edge: both lie flat, one with its face up, the other turned over, and are cut at one setting.

Law: the corner's equation with the boards' thickness as engagement, ``h = m + t / 2``. A bit that is off by so much
sets the faces off by twice as much. With the smaller radius level with the fence, ``F = d``, the edge keeps touching
the outfeed fence, and each joint takes ``2 F - d = d`` off the width of the panel.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Degrees, LengthStyle, Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints import law
from drawerwright.joints.corner import Cuts, Gap, Outline, corner_gaps
from drawerwright.joints.kinds.through import Through
from drawerwright.joints.mating import L
from drawerwright.joints.profile import Profile, drawer_lock_profile
from drawerwright.joints.reach import Reach
from drawerwright.joints.readings import FitRange, ReadingKind
from drawerwright.joints.section_marks import Span, Spans
from drawerwright.joints.setting import ROUNDING, SAME_SETTING, CornerSetting

UNEVEN: Mm = 0.05
"""Boards that differ by more cannot be flush on both faces: what a fingertip feels (common practice, no source)."""
SHOWN = 3.0
"""So many thicknesses of each board are drawn beyond the joint."""


class Edge(Through):
    """The flat piece is the board that lies with its face up, the upright piece the one that is turned over."""

    name = "edge"
    words = phrase("edge joint")
    meaning = phrase("edge joint: boards side by side")
    makes_corners = False
    has_lip = False
    """A panel is cut to its width when it is dry."""
    upright_lies = True
    readings = (ReadingKind.DEEPEST_CUT, ReadingKind.TURN_OVER, ReadingKind.OVERLAP)

    def span(self, upright_thickness: L, step: L) -> L:
        """The boards overlap by the step: the least that lets all of the edge mate."""
        return step

    def least_fence(self, step: L) -> L:
        return step

    def profile(self, mid_depth: Mm, step: Mm, slope: Degrees, depth: Mm | None) -> Profile:
        return drawer_lock_profile(mid_depth, step, slope, depth)

    @property
    def piece_names(self) -> tuple[Phrase, Phrase]:
        return phrase("board, face up"), phrase("board, turned over")

    @property
    def holds_flat(self) -> Phrase:
        return phrase("flat on the table, face up, edge to the fence")

    @property
    def holds_upright(self) -> Phrase:
        return phrase("flat on the table, face down, edge to the fence")

    @property
    def glue_lines(self) -> tuple[Phrase, ...]:
        return (
            phrase("Lay the boards out, every other one turned over, and dry-fit them."),
            phrase("Spread glue sparingly on the edges, clamp across the panel, and press the faces level."),
        )

    def upright_outline(
        self, made: CornerSetting, lip: Mm = 0.0, engagement: Mm = 0.0, length: Mm | None = None
    ) -> Outline:
        """The board that is turned over: its face lies at the engagement, its edge reaches into the other's."""
        thickness, height = made.corner.upright_thickness, made.bit_height
        end = lip + self.span(thickness, made.cutter.step.value)
        far = end - (length or SHOWN * thickness)
        top = max(height - thickness, 0.0)
        face = (
            (end - max(law.cut(made.fence_upright, inset), 0.0), engagement - height + depth)
            for depth, inset in made.cutter.profile().between(top, height)
        )
        return (far, engagement), (far, engagement - thickness), *face

    def gaps(self, made: CornerSetting) -> tuple[Gap, ...]:
        span = self.span(made.corner.upright_thickness, made.cutter.step.value)
        cuts = replace(Cuts.of(made), upright_thickness=span)
        return corner_gaps(cuts, made.seated_lip, made.engagement)

    def reaches(self, made: CornerSetting) -> tuple[Mm, Mm]:
        return made.fence_flat, made.fence_upright

    def spans(self, made: CornerSetting) -> Spans:
        tip = made.engagement
        off = tip - made.corner.flat_thickness
        step = Span(made.corner.flat_thickness, tip, phrase("step"), (0.0, None))
        return Spans(
            above=(Span(0.0, self._overlap(made), phrase("overlap")),),
            left=(
                Span(tip - made.corner.upright_thickness, tip),
                *((step,) if abs(off) > SAME_SETTING else ()),
            ),
            right=(Span(0.0, made.corner.flat_thickness),),
        )

    @staticmethod
    def _overlap(made: CornerSetting) -> Mm:
        return law.overlap(made.fence_flat, made.fence_upright, made.cutter.step.value)

    def findings(self, made: CornerSetting, where: str, reach: Reach) -> tuple[Finding, ...]:
        return tuple(_findings(made, where))

    def off_height(self, setting: CornerSetting, recommended: Mm) -> str:
        off = self.misfit(setting.bit_height, setting.cutter.mid_depth.value, setting.corner.flat_thickness)
        return phrase(
            "at a bit height of {height} instead of {right}, the boards' faces are {off} out of line.",
            height=millimetres(setting.bit_height),
            right=millimetres(recommended),
            off=millimetres(abs(off)),
        )

    def shows_measures(self, setting: CornerSetting) -> Phrase:
        return phrase(
            "The joint this cutter makes: at a bit height of {height} its middle lies in the "
            "middle of the boards; the step is how far one reaches into the other.",
            height=millimetres(setting.tight_bit_height),
        )

    @property
    def misfit_ways(self) -> tuple[str, str]:
        return phrase("steps down"), phrase("steps up")

    def misfit_words(self, size: object, is_high: bool) -> str:
        if is_high:
            return phrase("the turned board {size} above the other", size=size)
        return phrase("the turned board {size} below the other", size=size)

    def fit_words(self, fit: FitRange, style: LengthStyle) -> str:
        return phrase(
            "the faces are flush within {flushness}", flushness=style.written(fit.flushness, fine=True)
        )

    @property
    def piece_measure(self) -> str:
        return phrase("board width")

    def piece_size(self, setting: CornerSetting, outer: Mm, other_flat: Mm | None, pieces: int) -> Mm:
        """The width of each board of a panel."""
        return law.board_width(outer, pieces, self._overlap(setting))

    def figures(self, setting: CornerSetting) -> tuple[tuple[Phrase, Mm], ...]:
        return ((phrase("width lost per joint"), self._overlap(setting)),)


def _findings(setting: CornerSetting, where: str) -> Iterator[Finding]:
    cutter, corner = setting.cutter, setting.corner
    most = law.thickest_through(cutter.mid_depth.value)
    if corner.flat_thickness > most + ROUNDING:
        yield Finding(
            "cutter-too-short",
            Severity.STOP,
            where,
            phrase(
                "the cutter's middle lies {mid_depth} below its top, so it joins boards of {most} at most "
                "(2 × mid depth), not {thickness}.",
                mid_depth=millimetres(cutter.mid_depth.value, "g"),
                most=millimetres(most),
                thickness=millimetres(corner.flat_thickness),
            ),
            phrase("Use thinner boards, or a taller cutter."),
        )
    uneven = abs(corner.flat_thickness - corner.upright_thickness)
    if uneven > UNEVEN:
        yield Finding(
            "boards-differ",
            Severity.WARNING,
            where,
            phrase(
                "the boards differ by {uneven}, so they are flush on one face only.",
                uneven=millimetres(uneven),
            ),
            phrase("Plane them to one thickness, or flatten the panel afterwards."),
        )


JOINT = Edge()
