"""How sure a cut is, in words: how often it comes out right, where the doubt is from, and what to do about it first."""

from __future__ import annotations

from enum import Enum, auto

from drawerwright.basics.lengths import LengthStyle, assumed_doubt
from drawerwright.basics.phrases import joined, phrase
from drawerwright.basics.told_lengths import DOUBT_EXAMPLE
from drawerwright.joints.chances import Odds
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.odds import JointOdds
from drawerwright.joints.setting import is_one_setting
from drawerwright.joints.table import RouterTable


def percent_words(share: float) -> str:
    """Odds in words: no finer than they are known."""
    shown = percent(share)
    return shown if _is_nearly_certain(share) else phrase("about {percent}", percent=shown)


def percent(chance: float) -> str:
    """A probability in words that promise nothing for certain.

    >>> percent(0.964), percent(0.9999), percent(0.0001)
    ('96 %', 'more than 99 %', 'less than 1 %')
    """
    if _is_nearly_certain(chance):
        return phrase("more than 99 %") if chance > 0.5 else phrase("less than 1 %")
    return phrase("{percent:.0f} %", percent=100 * chance)


def _is_nearly_certain(chance: float) -> bool:
    return not 0.005 <= chance <= 0.995


def unknown_odds_words() -> str:
    """The sentence in place of odds while nothing that decides the fit is in doubt."""
    return phrase(
        "There are no odds to give: everything that decides the fit is stated as exact (± 0). "
        "Say how sure you are of the mid depth and the height gauge, for instance {example}.",
        example=DOUBT_EXAMPLE,
    )


class CutToCome(Enum):
    """Which cut odds are about."""

    FIRST = auto()
    NEXT = auto()
    """After a test cut, with what it advises to leave left as it stands."""
    AGAIN = auto()
    """After test cuts that were accepted, with everything dialled in again."""


def fit_and_lip_words(odds: Odds, cutter: Cutter, which: CutToCome) -> str:
    """How often a cut to come turns out right."""
    if not cutter.mating.has_lip:
        fits = percent_words(odds.fits)
        match which:
            case CutToCome.NEXT:
                return phrase("The next cut fits {fits} of the time.", fits=fits)
            case CutToCome.AGAIN:
                return phrase("Dialled in again, the next cut fits {fits} of the time.", fits=fits)
            case CutToCome.FIRST:
                return phrase("The first cut fits {fits} of the time.", fits=fits)
    shares = {
        "both": percent_words(odds.both),
        "fits": percent_words(odds.fits),
        "flush": percent_words(odds.flush),
    }
    match which:
        case CutToCome.NEXT:
            return phrase(
                "The next cut gets both fit and lip right {both} of the time: the fit {fits}, the lip {flush}.",
                **shares,
            )
        case CutToCome.AGAIN:
            return phrase(
                "Dialled in again, the next cut gets both fit and lip right {both} of the time: "
                "the fit {fits}, the lip {flush}.",
                **shares,
            )
        case CutToCome.FIRST:
            return phrase(
                "The first cut gets both fit and lip right {both} of the time: the fit {fits}, the lip {flush}.",
                **shares,
            )


def dialled_in_again_words(odds: Odds, cutter: Cutter) -> str:
    """How often the cuts to come turn out right once a setting that stands now has been given up."""
    if not cutter.mating.has_lip:
        return phrase(
            "Dialled in again later, for any board of the job, it fits {fits} of the time.",
            fits=percent_words(odds.fits),
        )
    return phrase(
        "Dialled in again later, for any board of the job, both come out right {both} of the time.",
        both=percent_words(odds.both),
    )


def _cutter(odds: JointOdds) -> Cutter:
    return odds.corner.setting.cutter


def corner_words(odds: JointOdds, style: LengthStyle) -> tuple[str, ...]:
    """The odds of a corner in sentences: how often it comes out right, where the doubt is from, what to do first."""
    height = style.written(odds.aimed_height, fine=True)
    return (cut_words(odds, phrase("the bit at {height}", height=height)), *doubt_words(odds))


def card_words(odds: JointOdds, table: RouterTable, style: LengthStyle) -> tuple[str, ...]:
    """The same for the card of a set-up, in what the height gauge of the table shows."""
    height = style.written(table.height_reading(odds.aimed_height), fine=True)
    return (
        cut_words(odds, phrase("the height gauge at {height}", height=height)),
        *advice_words(odds),
    )


def cut_words(odds: JointOdds, at_the_aim: str) -> str:
    """How often the cut to come is right at its setting; and at the recommended height, of which `at_the_aim` says
    where it is, where a job keeps another."""
    if not odds.is_judged:
        return unknown_odds_words()
    which = CutToCome.AGAIN if odds.is_next else CutToCome.FIRST
    as_set = fit_and_lip_words(odds.odds, _cutter(odds), which)
    if is_one_setting(odds.aim_change, 0.0):
        return as_set
    recommended = phrase(
        "With {there}, as recommended, both come out right {aimed} of the time.",
        there=at_the_aim,
        aimed=percent_words(odds.aimed.both),
    )
    return joined((as_set, recommended), " ")


def doubt_words(odds: JointOdds) -> tuple[str, ...]:
    """Where most of the doubt is from, and what to do about it first."""
    if not odds.is_judged:
        return ()
    lines: list[str] = []
    of_fit, of_lip = odds.greatest_of_misfit, odds.greatest_of_lip
    if of_fit is not None:
        lines.append(
            phrase(
                "Most doubt about the fit comes from {what} ({percent:.0f} %).",
                what=of_fit.what,
                percent=100 * of_fit.of_misfit,
            )
        )
    if of_lip is not None and _cutter(odds).mating.has_lip:
        lines.append(
            phrase(
                "Most doubt about the lip comes from {what} ({percent:.0f} %).",
                what=of_lip.what,
                percent=100 * of_lip.of_lip,
            )
        )
    return (*lines, *advice_words(odds))


def advice_words(odds: JointOdds) -> tuple[str, ...]:
    """What to do first: to state what is only assumed; then what raises the odds most."""
    if not odds.is_judged:
        return ()
    lines: list[str] = []
    if odds.assumed:
        measures = [
            phrase("{what} ± {uncertainty}", what=share.what, uncertainty=assumed_doubt(share.assumed or 0.0))
            for share in odds.assumed
        ]
        lines.append(
            phrase(
                "First, state how well you know these: {assumed}.",
                assumed=joined(measures, ", "),
            )
        )
    if (first := odds.measure_first) is not None:
        after = {
            "remedy": first.remedy,
            "better": percent_words(odds.aimed.both + first.gain),
            "now": percent_words(odds.aimed.both),
        }
        if not _cutter(odds).mating.has_lip:
            lines.append(
                phrase(
                    "What helps most: {remedy}. It then fits {better} of the time, against {now} today.",
                    **after,
                )
            )
            return tuple(lines)
        lines.append(
            phrase(
                "What helps most: {remedy}. Fit and lip then both come out right {better} of "
                "the time, against {now} today.",
                **after,
            )
            if odds.assumed
            else phrase(
                "First: {remedy}. Fit and lip then both come out right {better} of the time, "
                "against {now} today.",
                **after,
            )
        )
    return tuple(lines)
