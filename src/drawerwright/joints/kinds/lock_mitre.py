"""The lock mitre: the cutter is taller than the stock, and the upright's tip ends flush with the flat's outer face."""

from __future__ import annotations

from drawerwright.basics.lengths import Degrees, LengthStyle, Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.joint import Doubtful
from drawerwright.joints.kinds.through import Through
from drawerwright.joints.mating import L
from drawerwright.joints.profile import Profile, lock_mitre_profile
from drawerwright.joints.readings import FitRange, ReadingKind
from drawerwright.joints.setting import CornerSetting


class LockMitre(Through):
    """Its knife edges leave no wood to shift, so both pieces have one fence setting."""

    name = "lock-mitre"
    words = phrase("lock mitre")
    meaning = phrase("lock mitre: taller than the stock")
    passes = 2
    """It takes the whole end, as deep as the stock is thick: in stock of 12 to 20 mm (common practice, no source)."""
    readings = (
        ReadingKind.CUT_AT_TABLE,
        ReadingKind.TIP_AT_TABLE,
        ReadingKind.LIP,
        ReadingKind.TIP_STEP,
        ReadingKind.TURN_OVER,
        ReadingKind.OVERLAP,
    )

    def span(self, upright_thickness: L, step: L) -> L:
        return upright_thickness

    def least_fence(self, step: L) -> L:
        return 0 * step

    def profile(self, mid_depth: Mm, step: Mm, slope: Degrees, depth: Mm | None) -> Profile:
        return lock_mitre_profile(mid_depth, step, slope, depth)

    @property
    def glue_lines(self) -> tuple[Phrase, ...]:
        return (
            phrase("Dry-fit one drawer first. Spread glue sparingly on the mitre and its lock."),
            phrase(
                "Slide each side home along the cuts of front and back, clamp across the "
                "sides, and compare the diagonals."
            ),
        )

    def groove_shows(self, made: CornerSetting, depth: Mm) -> Doubtful | None:
        return Doubtful(
            phrase("a mitred corner shows both ends, and with them any groove that runs through."),
            phrase("Stop the groove short of the ends, or fix the bottom from below."),
        )

    def shows_measures(self, setting: CornerSetting) -> Phrase:
        return phrase(
            "The corner this cutter makes: at a bit height of {height} the middle of its lock "
            "lies in the middle of the stock; the step is what the mitre spans.",
            height=millimetres(setting.tight_bit_height),
        )

    def off_height(self, setting: CornerSetting, recommended: Mm) -> str:
        off = self.misfit(setting.bit_height, setting.cutter.mid_depth.value, setting.corner.flat_thickness)
        values = {
            "height": millimetres(setting.bit_height),
            "right": millimetres(recommended),
            "off": millimetres(abs(off)),
        }
        if off > 0:
            return phrase(
                "at a bit height of {height} instead of {right}, the upright piece's tip "
                "stands {off} proud of the flat piece's outer face.",
                **values,
            )
        return phrase(
            "at a bit height of {height} instead of {right}, the upright piece's tip stops "
            "{off} short of the flat piece's outer face.",
            **values,
        )

    @property
    def misfit_ways(self) -> tuple[str, str]:
        return phrase("tip too short"), phrase("tip stands out")

    def misfit_words(self, size: object, is_high: bool) -> str:
        if is_high:
            return phrase("tip {size} beyond the outer face", size=size)
        return phrase("tip {size} short of the outer face", size=size)

    def fit_words(self, fit: FitRange, style: LengthStyle) -> str:
        return phrase(
            "the tip is flush within {flushness}", flushness=style.written(fit.flushness, fine=True)
        )


JOINT = LockMitre()
