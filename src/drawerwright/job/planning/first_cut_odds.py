"""How sure the first cuts of a job are: for each corner, each drawer, each bank, and all of it at one setting."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from drawerwright.basics.lengths import LengthStyle, millimetres
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawers.box import DrawerBox
from drawerwright.job.planning.draft import Corner, JobDraft
from drawerwright.joints.chances import Odds
from drawerwright.joints.corner_key import CornerKey, KeyedCorner
from drawerwright.joints.doubts import Board, CutCorner, FirstCut
from drawerwright.joints.mixed_odds import mixed_odds
from drawerwright.joints.odds import (
    TRIES,
    Distribution,
    JointOdds,
    Share,
    aimed_corner,
    group_odds,
    joint_odds,
)
from drawerwright.joints.readings import FitRange
from drawerwright.joints.setting import CornerSetting, is_one_setting
from drawerwright.joints.table import RouterTable
from drawerwright.wood.stock import Stock

JOINTS_AT_AN_END = 2
"""A drawer has two corners at the front and two at the back."""
Joints: TypeAlias = Counter[tuple[FirstCut, CutCorner]]
"""Corners with what each is cut by, and how many joints of each."""


@dataclass(frozen=True, slots=True)
class TogetherOdds:
    """The odds that all joints of some drawers come out right when they are cut at one visit to the machine.

    `aimed` are the odds with the bit at the recommended height.
    """

    name: str
    joints: int
    odds: Odds
    aimed: Odds


@dataclass(frozen=True)
class JobOdds:
    """How sure the first cuts of a job are.

    `fit` is what counts as right; `corners` go in the order of the job's corners.
    """

    fit: FitRange
    corners: tuple[tuple[Corner, JointOdds], ...]
    drawers: tuple[TogetherOdds, ...]
    banks: tuple[TogetherOdds, ...]
    whole: TogetherOdds

    @property
    def together(self) -> tuple[TogetherOdds, ...]:
        """The banks, and everything where that is more than one bank."""
        is_one_bank = len(self.banks) == 1 and self.banks[0].joints == self.whole.joints
        return self.banks if is_one_bank else (*self.banks, self.whole)

    @property
    def worst(self) -> JointOdds | None:
        """The corner with the poorest odds at the aim; None for a job without corners."""
        return min((odds for _, odds in self.corners), key=lambda odds: odds.aimed.both, default=None)

    def of(self, key: CornerKey) -> JointOdds:
        """The odds of the corner with this key."""
        return {corner.key: odds for corner, odds in self.corners}[key]


def job_odds(draft: JobDraft, *, tries: int = TRIES) -> JobOdds:
    """How sure the first cuts of a job are."""
    job = draft.job
    joints = {box.name: _joints(draft, box) for box in job.all_boxes}
    groups: list[tuple[str, Joints]] = [
        *joints.items(),
        *((bank.bank.name, _all(joints[box.name] for box in bank.boxes)) for bank in job.banks),
        (job.name, _all(joints.values())),
    ]
    aimed = {(cut, corner): (cut, aimed_corner(cut, corner)) for cut, corner in groups[-1][1]}
    asked = [group for _, group in groups]
    asked += [Counter({aimed[joint]: count for joint, count in group.items()}) for group in asked]
    odds = _together(asked, tries)
    together = [
        TogetherOdds(name, group.total(), as_it_is, at_the_aim)
        for (name, group), as_it_is, at_the_aim in zip(
            groups, odds[: len(groups)], odds[len(groups) :], strict=True
        )
    ]
    return JobOdds(
        job.fit_range,
        tuple((corner, corner_odds(draft, corner, tries=tries)) for corner in draft.corners),
        tuple(together[: len(joints)]),
        tuple(together[len(joints) : -1]),
        together[-1],
    )


def corner_odds(draft: JobDraft, corner: Corner, *, tries: int = TRIES) -> JointOdds:
    """How sure the first cut of one corner of a job is, in its own stock."""
    job = draft.job
    cut = job.first_cut(job.cutter_of(corner.key.cutter))
    return joint_odds(cut, _cut_corner(corner.keyed, corner.setting), tries=tries)


def _together(groups: Sequence[Joints], tries: int) -> list[Odds]:
    """The odds of each group; those whose joints have one cutter are judged with all others of that cutter."""
    different = {frozenset(group.items()): group for group in groups}
    by_cutters: dict[frozenset[FirstCut], list[frozenset[Any]]] = defaultdict(list)
    for key, group in different.items():
        by_cutters[frozenset(cut for cut, _corner in group)].append(key)
    answers: dict[frozenset[Any], Odds] = {}
    for cuts, keys in by_cutters.items():
        alike = [different[key] for key in keys]
        if len(cuts) == 1:
            (cut,) = cuts
            corners = [{corner: count for (_cut, corner), count in group.items()} for group in alike]
            found = group_odds(cut, corners, tries=tries)
        else:
            found = mixed_odds(alike, tries=tries)
        answers |= zip(keys, found, strict=True)
    return [answers[frozenset(group.items())] for group in groups]


def _joints(draft: JobDraft, box: DrawerBox) -> Joints:
    found: Joints = Counter()
    cut = draft.job.first_cut(draft.job.cutter_of(box.cutter.key))
    for keyed in (box.front_corner, box.back_corner):
        found[cut, _cut_corner(keyed, draft.settings[keyed.key])] += JOINTS_AT_AN_END
    return found


def _cut_corner(keyed: KeyedCorner, setting: CornerSetting) -> CutCorner:
    return CutCorner(setting, _board(keyed.flat), _board(keyed.upright))


def _all(groups: Iterable[Joints]) -> Joints:
    together: Joints = Counter()
    for group in groups:
        together += group
    return together


def _board(stock: Stock) -> Board:
    thickness = stock.thickness
    return Board(
        stock.name,
        thickness.mean,
        thickness.scatter,
        by_calipers=bool(thickness.readings),
        scatter_is_assumed=thickness.scatter_is_assumed,
    )


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
    """What is said instead of odds while nothing that decides the fit is in doubt."""
    return phrase(
        "There are no odds to give: everything that decides the fit is stated as exact (± 0). "
        "Say how sure you are of the mid depth and the height gauge, for instance 5.65 ± 0.05."
    )


def fit_and_lip_words(odds: Odds, *, is_next: bool) -> str:
    """How often the first cut, or the next one after test cuts, comes out right."""
    shares = {
        "both": percent_words(odds.both),
        "fits": percent_words(odds.fits),
        "flush": percent_words(odds.flush),
    }
    if is_next:
        return phrase(
            "The next cut gets both fit and lip right {both} of the time: the fit {fits}, the lip {flush}.",
            **shares,
        )
    return phrase(
        "The first cut gets both fit and lip right {both} of the time: the fit {fits}, the lip {flush}.",
        **shares,
    )


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
    as_set = fit_and_lip_words(odds.odds, is_next=odds.is_next)
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
    if of_lip is not None:
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
            phrase(
                "{what} ± {uncertainty}", what=share.what, uncertainty=millimetres(share.assumed or 0.0, "g")
            )
            for share in odds.assumed
        ]
        lines.append(
            phrase(
                "First, say how sure you are of what is only assumed so far: {assumed}.",
                assumed=joined(measures, ", "),
            )
        )
    if (first := odds.measure_first) is not None:
        after = {
            "remedy": first.remedy,
            "better": percent_words(odds.aimed.both + first.gain),
            "now": percent_words(odds.aimed.both),
        }
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


def odds_data(odds: JobOdds) -> dict[str, Any]:
    """As JSON-ready data: probabilities 0 to 1, lengths in mm."""
    fit = odds.fit
    return {
        "fit": {"least_play": fit.least_play, "most_play": fit.most_play, "flushness": fit.flushness},
        "corners": [{"name": corner.name, **_joint_data(joint)} for corner, joint in odds.corners],
        "drawers": [_together_data(together) for together in odds.drawers],
        "banks": [_together_data(together) for together in odds.banks],
        "all": _together_data(odds.whole),
    }


def _joint_data(odds: JointOdds) -> dict[str, Any]:
    return {
        "judged": odds.is_judged,
        "joint": _group_data(odds.odds),
        "aim": {
            "bit_height": _fine(odds.aimed_height),
            "bit_height_change": _fine(odds.aim_change),
            "joint": _group_data(odds.aimed),
        },
        "first_order": {
            name: {"value": _fine(known.value), "uncertainty": _fine(known.uncertainty)}
            for name, known in (("misfit", odds.misfit_estimate), ("lip", odds.lip_estimate))
        },
        "misfit": _distribution_data(odds.misfit),
        "gap": _distribution_data(odds.gap),
        "stands_proud": _distribution_data(odds.stands_proud),
        "lip": _distribution_data(odds.lip),
        "doubts": [_share_data(share) for share in odds.shares],
        "greatest_doubt_of_misfit": odds.greatest_of_misfit.what if odds.greatest_of_misfit else None,
        "greatest_doubt_of_lip": odds.greatest_of_lip.what if odds.greatest_of_lip else None,
        "measure_first": odds.measure_first.what if odds.measure_first else None,
        "taken_as_exact": list(odds.taken_as_exact),
    }


def _share_data(share: Share) -> dict[str, Any]:
    return {
        "what": share.what,
        "remedy": share.remedy,
        "share_of_misfit": round(share.of_misfit, 4),
        "share_of_lip": round(share.of_lip, 4),
        "gain": round(share.gain, 4),
        "assumed": share.assumed,
    }


def _distribution_data(figure: Distribution) -> dict[str, Any]:
    shares, edges = figure.histogram()
    low, middle, high = figure.quantiles
    return {
        "mean": _fine(figure.mean),
        "standard_deviation": _fine(figure.deviation),
        "quantiles": {"5": _fine(low), "50": _fine(middle), "95": _fine(high)},
        "histogram": {
            "from": _fine(edges[0]),
            "to": _fine(edges[-1]),
            "shares": [round(share, 5) for share in shares],
        },
    }


def _together_data(together: TogetherOdds) -> dict[str, Any]:
    return {
        "name": together.name,
        "joints": together.joints,
        **_group_data(together.odds),
        "at_the_aim": _group_data(together.aimed),
    }


def _group_data(odds: Odds) -> dict[str, float]:
    return {
        "closes": round(odds.closes, 4),
        "fits": round(odds.fits, 4),
        "flush": round(odds.flush, 4),
        "both": round(odds.both, 4),
    }


def _fine(length: float) -> float:
    """A figure of a distribution: a micrometre is finer than any doubt."""
    return round(length, 4) + 0.0
