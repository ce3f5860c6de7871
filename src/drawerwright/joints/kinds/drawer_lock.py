"""The drawer lock: the cutter's top ends inside the flat piece, and the upright's tip meets the roof that it leaves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Degrees, LengthStyle, Mm, at_most, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.told_lengths import RoughLength
from drawerwright.joints import law
from drawerwright.joints.corner import Cuts
from drawerwright.joints.holding import Holding, PullOff, hook_of
from drawerwright.joints.joint import Doubtful, SelfMating
from drawerwright.joints.mating import L
from drawerwright.joints.profile import Profile, drawer_lock_profile
from drawerwright.joints.reach import Reach, least_neck
from drawerwright.joints.readings import FitRange, ReadingKind
from drawerwright.joints.section_marks import NamedPlace, Span, Spans
from drawerwright.joints.setting import ROUNDING, CornerSetting
from drawerwright.joints.sharing import share_remedy

THIN_ROOF: Mm = 2.5
"""A roof thinner than this dents and shows the glue line (common practice, no source)."""
LEAST_ROOF: Mm = 1.5
"""A roof thinner than this tears out or breaks while it is cut (common practice, no source)."""
SEEN: Mm = 0.05
"""Differences below this cannot be seen."""


class DrawerLock(SelfMating):
    """Law: ``h = 2 m``; lower it has play, higher it stays open."""

    name = "drawer-lock"
    words = phrase("drawer lock")
    meaning = phrase("drawer lock: ends inside the wood")
    where_to_measure = phrase(
        "Where to measure. Mid depth: from the top of the cutter (its free end) to halfway "
        "along the slope. Step: from the edge of the tooth to the edge below the slope, square "
        "to the axis; on a test cut, head less neck."
    )
    has_play = True
    shares_freely = True
    readings = (
        ReadingKind.ROOF,
        ReadingKind.DEEPEST_CUT,
        ReadingKind.SHALLOW_CUT,
        ReadingKind.NECK,
        ReadingKind.HEAD,
        ReadingKind.TIP_TO_SLOPE,
        ReadingKind.PLAY,
        ReadingKind.SHOULDER_GAP,
        ReadingKind.STANDS_PROUD,
        ReadingKind.LIP,
        ReadingKind.OVERLAP,
    )

    def bit_height(self, mid_depth: Mm, flat_thickness: Mm) -> Mm:
        return law.bit_height_for_roof(mid_depth)

    def engagement(self, bit_height: Mm, mid_depth: Mm) -> Mm:
        """A tip under a roof goes up to it at any height; only where the profiles mate is that what they ask for."""
        return bit_height

    def misfit(self, bit_height: Mm, mid_depth: Mm, flat_thickness: Mm) -> Mm:
        return law.misfit(bit_height, mid_depth)

    def play(self, bit_height: Mm, mid_depth: Mm) -> Mm:
        return law.play(bit_height, mid_depth)

    def stands_proud(self, bit_height: Mm, mid_depth: Mm, step: Mm, slope: Degrees) -> Mm:
        return law.stands_proud(bit_height, mid_depth, step, slope)

    def span(self, upright_thickness: L, step: L) -> L:
        return upright_thickness

    def least_fence(self, step: L) -> L:
        return step

    def fitting(self, least_play: Mm, most_play: Mm, flushness: Mm) -> tuple[Mm, Mm]:
        return -most_play, -least_play

    def profile(self, mid_depth: Mm, step: Mm, slope: Degrees, depth: Mm | None) -> Profile:
        return drawer_lock_profile(mid_depth, step, slope, depth)

    def through(self, thickness: Mm | None) -> Mm | None:
        return None

    @property
    def first_reading(self) -> ReadingKind | None:
        """It always shows either play or how far it stands proud, which says what matters."""
        return ReadingKind.PLAY

    @property
    def glue_lines(self) -> tuple[Phrase, ...]:
        return (
            phrase("Dry-fit one drawer first. Spread glue sparingly on shoulder, neck and head."),
            phrase(
                "Slide each side home along the cuts of front and back, clamp across the "
                "sides, and compare the diagonals."
            ),
        )

    def holding(self, made: CornerSetting, pull: PullOff) -> Holding:
        """The hook holds the flat piece against a pull along the upright; the other way only the glue does."""
        holding = super().holding(made, pull)
        if made.roof <= 0:
            return holding
        lip = made.seated_lip
        face = Cuts.of(made).upright_face(lip, made.engagement)
        return replace(holding, hook=hook_of(face, lip, lip + made.corner.upright_thickness, made.roof))

    def spans(self, made: CornerSetting) -> Spans:
        lip = made.seated_lip
        inside, neck = lip + made.corner.upright_thickness, lip + made.neck
        spans = super().spans(made)
        return replace(
            spans,
            above=(Span(0.0, made.fence_flat, phrase("fence, flat"), is_detail=True), *spans.above),
            below=(
                *spans.below,
                Span(lip, neck, phrase("neck"), is_detail=True),
                Span(neck, inside, phrase("fence, upright"), is_detail=True),
            ),
        )

    def places(self, made: CornerSetting) -> tuple[NamedPlace, ...]:
        lip, tip, flat = made.seated_lip, made.engagement, made.corner.flat_thickness
        step, inside = made.cutter.step.value, lip + made.corner.upright_thickness
        middle = made.bit_height - made.cutter.mid_depth.value
        slope_half = (made.bit_height - middle) * 0.5
        neck = lip + made.neck
        return (
            NamedPlace(
                phrase("roof"),
                ((lip + made.fence_flat) / 2, (tip + flat) / 2),
                (made.fence_flat, made.roof),
                on_upright=False,
            ),
            NamedPlace(
                phrase("head"),
                (lip + made.head / 2, tip - slope_half / 2),
                (made.head, slope_half),
                on_upright=True,
            ),
            NamedPlace(
                phrase("neck"), (lip + made.neck / 2, middle / 2), (made.neck, middle), on_upright=True
            ),
            NamedPlace(
                phrase("hook"),
                (neck + step / 2 + 1.2, middle / 3),
                (step + 2, middle / 2),
                on_upright=False,
            ),
            NamedPlace(
                phrase("shoulder"), ((neck + inside) / 2, -1.0), (inside - neck, 2.0), on_upright=True
            ),
        )

    def findings(self, made: CornerSetting, where: str, reach: Reach) -> tuple[Finding, ...]:
        return (
            *_swapped_findings(made, where),
            *_roof_findings(made, where),
            *_neck_findings(made, where, reach),
        )

    def groove_shows(self, made: CornerSetting, depth: Mm) -> Doubtful | None:
        height = made.bit_height
        if depth <= height + SEEN:
            return None
        return Doubtful(
            phrase(
                "the groove is {depth} deep, but beyond {height} the end has only {left} left: "
                "the groove breaks out where it shows.",
                depth=millimetres(depth, ".1f"),
                left=millimetres(made.roof, ".1f"),
                height=millimetres(height, ".1f"),
            ),
            phrase(
                "Make the groove at most {height} deep, or stop it short of the end.",
                height=at_most(height),
            ),
        )

    def shows_measures(self, setting: CornerSetting) -> Phrase:
        return phrase(
            "The corner this cutter makes: the mid depth is half the tight bit height, "
            "{height}; the step is how far the head stands out beyond the neck.",
            height=millimetres(setting.tight_bit_height),
        )

    def off_height(self, setting: CornerSetting, recommended: Mm) -> str:
        values = {"height": millimetres(setting.bit_height), "right": millimetres(recommended)}
        if not setting.closes:
            return phrase(
                "at a bit height of {height} instead of {right}, the corner does not close: the "
                "upright piece stands {proud} proud of its seat.",
                **values,
                proud=millimetres(setting.stands_proud),
            )
        return phrase(
            "at a bit height of {height} instead of {right}, the corner closes with {play} of "
            "play: pulled, it shows gaps as wide at roof and shoulder.",
            **values,
            play=millimetres(setting.play or 0.0),
        )

    def figures(self, setting: CornerSetting) -> tuple[tuple[Phrase, Mm], ...]:
        return (
            *super().figures(setting),
            (phrase("neck"), setting.neck),
            (phrase("head"), setting.head),
            (phrase("roof"), setting.roof),
        )

    def lip_caution(self, setting: CornerSetting, style: LengthStyle) -> str:
        """The cut runs right through under a lip."""
        if setting.corner.lip <= 0:
            return ""
        return phrase(
            "The front's lip of {lip} is no thicker than the roof, {roof}: protect it from "
            "knocks until the drawer is fitted.",
            lip=style.written(setting.corner.lip),
            roof=style.written(setting.roof, fine=True),
        )

    @property
    def misfit_ways(self) -> tuple[str, str]:
        return phrase("more play"), phrase("stands proud")

    def misfit_words(self, size: object, is_high: bool) -> str:
        if is_high:
            return phrase("too high by {size}: it stands proud", size=size)
        return phrase("play {size}", size=size)

    def fit_words(self, fit: FitRange, style: LengthStyle) -> str:
        return phrase(
            "it closes with a play of {least} to {most}",
            least=style.written(fit.least_play, fine=True),
            most=style.written(fit.most_play, fine=True),
        )


def _swapped_findings(setting: CornerSetting, where: str) -> Iterator[Finding]:
    """A drawer-lock cutter's step is usually the smaller of its two measures (common practice, no source)."""
    mid_depth, step = setting.cutter.mid_depth.value, setting.cutter.step.value
    if step > mid_depth:
        yield Finding(
            "step-over-mid-depth",
            Severity.WARNING,
            where,
            phrase(
                "the cutter's step of {step} is more than its mid depth of {mid_depth}, which is unusual.",
                step=millimetres(step),
                mid_depth=millimetres(mid_depth),
            ),
            phrase("Have you swapped the two? Measure the cutter again."),
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
            _lower(setting)
            or _slip(setting)
            or phrase("Use thicker stock for the flat piece, or a smaller cutter."),
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
            _lower(setting)
            or phrase(
                "Use thicker stock for the flat piece: leave {thin_roof} or more; less than "
                "{least_roof} breaks during the cut.",
                thin_roof=RoughLength("2.5 mm", "0.1 in"),
                least_roof=RoughLength("1.5 mm", "0.06 in"),
            ),
        )


def _slip(setting: CornerSetting) -> str:
    """A cutter whose very middle would lie beyond the wood was measured or typed amiss."""
    mid_depth, flat = setting.cutter.mid_depth.value, setting.corner.flat_thickness
    if mid_depth < flat:
        return ""
    return phrase(
        "Check the mid depth of {mid_depth} and its decimal sign: the middle of this cutter would lie above a flat "
        "piece of {flat}.",
        mid_depth=millimetres(mid_depth),
        flat=millimetres(flat),
    )


def _lower(setting: CornerSetting) -> str:
    """What mends a thin roof where it is the bit that is too high, not the stock that is too thin."""
    left = law.roof(setting.corner.flat_thickness, setting.tight_bit_height)
    if setting.bit_height <= setting.tight_bit_height + ROUNDING or left < THIN_ROOF - ROUNDING:
        return ""
    return phrase(
        "Lower the bit to {tight}, where the corner closes: that leaves {roof}.",
        tight=millimetres(setting.tight_bit_height),
        roof=millimetres(left),
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


JOINT = DrawerLock()
