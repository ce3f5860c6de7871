"""How sure the first cuts of a job are: for each corner, each drawer, each bank, and all of it at one setting."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeAlias

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
from drawerwright.joints.setting import CornerSetting
from drawerwright.wood.stock import Stock

REMEMBERED = 16
"""How many jobs' odds are kept: most of what is changed in a job leaves its corners as they are."""
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
        """The banks that have joints (false fronts have none), and everything where that is more than one of them."""
        jointed = tuple(bank for bank in self.banks if bank.joints)
        is_one_bank = len(jointed) == 1 and jointed[0].joints == self.whole.joints
        return jointed if is_one_bank or not self.whole.joints else (*jointed, self.whole)

    @property
    def least_sure(self) -> tuple[Corner, JointOdds] | None:
        """The corner with the poorest odds at the aim, and these; None for a job without corners."""
        return min(self.corners, key=lambda each: each[1].aimed.both, default=None)

    @property
    def worst(self) -> JointOdds | None:
        """The odds of the least sure corner; None for a job without corners."""
        return None if self.least_sure is None else self.least_sure[1]

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
    corners = tuple((corner, corner_odds(draft, corner, tries=tries)) for corner in draft.corners)
    known = _known(draft, corners)
    odds = [
        _no_likelier_than_each(found, [known[joint] for joint in group])
        for group, found in zip(asked, _together(asked, tries), strict=True)
    ]
    together = [
        TogetherOdds(name, group.total(), as_it_is, at_the_aim)
        for (name, group), as_it_is, at_the_aim in zip(
            groups, odds[: len(groups)], odds[len(groups) :], strict=True
        )
    ]
    return JobOdds(
        job.fit_range,
        corners,
        tuple(together[: len(joints)]),
        tuple(together[len(joints) : -1]),
        together[-1],
    )


def corner_odds(draft: JobDraft, corner: Corner, *, tries: int = TRIES) -> JointOdds:
    """How sure the first cut of one corner of a job is, in its own stock."""
    job = draft.job
    cut = job.first_cut(job.cutter_of(corner.key.cutter))
    return joint_odds(cut, cut_corner(corner.keyed, corner.setting), tries=tries)


def _known(
    draft: JobDraft, corners: Iterable[tuple[Corner, JointOdds]]
) -> dict[tuple[FirstCut, CutCorner], Odds]:
    """The odds of each joint alone, as it is set and at its aim, reckoned and not drawn."""
    found: dict[tuple[FirstCut, CutCorner], Odds] = {}
    for corner, odds in corners:
        cut = draft.job.first_cut(draft.job.cutter_of(corner.key.cutter))
        found |= {(cut, odds.aimed_corner): odds.aimed, (cut, odds.corner): odds.odds}
    return found


def _no_likelier_than_each(together: Odds, each: Sequence[Odds]) -> Odds:
    """The drawn odds of joints together, none above those of one of them alone.

    Those of one are reckoned; what draws are off by must not put joints that all hang on one setting above them.
    """
    if not each:
        return together
    return Odds(
        closes=min(together.closes, *(odds.closes for odds in each)),
        fits=min(together.fits, *(odds.fits for odds in each)),
        flush=min(together.flush, *(odds.flush for odds in each)),
        both=min(together.both, *(odds.both for odds in each)),
    )


def _together(groups: Sequence[Joints], tries: int) -> tuple[Odds, ...]:
    """The odds of each group; those whose joints have one cutter are judged with all others of that cutter."""
    return _reckoned_together(tuple(tuple(group.items()) for group in groups), tries)


@lru_cache(maxsize=REMEMBERED)
def _reckoned_together(
    groups: tuple[tuple[tuple[tuple[FirstCut, CutCorner], int], ...], ...], tries: int
) -> tuple[Odds, ...]:
    different = {frozenset(group): dict(group) for group in groups}
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
    return tuple(answers[frozenset(group)] for group in groups)


def _joints(draft: JobDraft, box: DrawerBox) -> Joints:
    found: Joints = Counter()
    for keyed in box.routed_corners:
        cut = draft.job.first_cut(draft.job.cutter_of(keyed.cutter.key))
        found[cut, cut_corner(keyed, draft.settings[keyed.key])] += 1
    return found


def cut_corner(keyed: KeyedCorner, setting: CornerSetting) -> CutCorner:
    """A corner at a setting, with what is known of the job's stock."""
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
