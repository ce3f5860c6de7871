"""The exact search for the fewest fence positions, and for the best plan among as many.

Position counts are tried upwards, so the first one that works is proven the fewest. Among plans with as many
positions those with the thickest neck win, and among equally thick ones those whose lips are truest. Each of these
is proven by a search for a better one that ends without any.
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.lengths import Mm
from drawerwright.joints import law
from drawerwright.joints.setting import SAME_SETTING
from drawerwright.run.fence_joints import FenceJoint
from drawerwright.run.fence_numbers import least_slack, most_promising, settings, thickest_neck
from drawerwright.run.fence_pairs import Demands, OutOfTimeError, PairingTree
from drawerwright.run.fence_plans import FencePlan, FenceRoutine
from drawerwright.run.octagons import Indices
from drawerwright.run.routines import shared_settings

NECK_WORTH: Mm = 0.05
"""Necks closer than this are equally thick: the truer lips win."""
NECK_STEP: Mm = 0.01
"""A plan with a neck thicker by this is looked for until there is none."""
CLIMBING_SHARE = 0.6
"""Share of the time for trying counts upwards; after it the search goes on downwards from the best plan."""
DIVES = 4
"""Searches downwards share what is left of the time in about so many."""


@dataclass(frozen=True, slots=True)
class Found:
    """The best plan, what any plan needs at least, and whether the time ran out over plans with as few positions."""

    plan: FencePlan
    lower_bound: int
    ties_open: bool


def search_fences(
    joints: Sequence[FenceJoint], tolerance: Mm, time_limit: float, fallback: FencePlan
) -> Found:
    """The plan with the fewest positions and, among those, the thickest neck and the truest lips.

    Args:
        joints: what each kind of corner asks for.
        tolerance: how far a lip may be off, either way (mm).
        time_limit: seconds; after it the best plan so far is given with its lower bound.
        fallback: a plan that keeps all limits, to be improved.
    """
    return _Search(joints, tolerance, time_limit, fallback).found()


class _Search:
    """Joints that ask for the same are one kind."""

    def __init__(
        self, joints: Sequence[FenceJoint], tolerance: Mm, time_limit: float, fallback: FencePlan
    ) -> None:
        self.joints = joints
        self.tolerance = tolerance
        self.time_limit = time_limit
        self.deadline = time.perf_counter() + time_limit
        self.kinds = _kinds(joints, tolerance)
        self.demands = Demands.of(self.kinds)
        self.lower_bound = _counting_bound(self.kinds, tolerance)
        self.best = fallback
        self.neck = fallback.thinnest_neck

    def found(self) -> Found:
        ties_open = False
        try:
            self._climb()
        except OutOfTimeError:
            self._dive()
        try:
            self._thicken()
            self._true_up()
        except OutOfTimeError:
            ties_open = True
        return Found(self.best, self.lower_bound, ties_open)

    def _climb(self) -> None:
        """Try counts upwards until one works."""
        deadline = self.deadline - (1 - CLIMBING_SHARE) * self.time_limit
        for count in range(self.lower_bound, self.best.moves):
            pairs = self._first(count, deadline=deadline)
            if pairs is not None:
                self._take(pairs)
                return
            self.lower_bound = count + 1
        self.lower_bound = self.best.moves

    def _dive(self) -> None:
        """Out of time below: halve what lies between the best plan and the least count not ruled out."""
        untried = self.lower_bound
        while untried < self.best.moves:
            count = (untried + self.best.moves) // 2
            now = time.perf_counter()
            try:
                pairs = self._first(count, deadline=now + max(self.deadline - now, 0.0) / DIVES)
            except OutOfTimeError:
                untried = count + 1
                continue
            if pairs is None:
                self.lower_bound = untried = max(self.lower_bound, count + 1)
            else:
                self._take(pairs)

    def _thicken(self) -> None:
        """Look for thicker necks with as many positions until there are none: a far one first, then near ones."""
        if self.neck is None:
            return
        most = float(law.neck(self.demands.thickness, self.demands.least).min())
        step = max((most - self.neck) / 2, NECK_STEP)
        while True:
            pairs = self._first(self.best.moves, least_neck=self.neck + step)
            if pairs is not None:
                self._take(pairs)
            elif step > NECK_STEP:
                step = NECK_STEP
            else:
                return

    def _true_up(self) -> None:
        """Look for truer lips with as many positions and necks as thick until there are none."""
        floor = -math.inf if self.neck is None else self.neck - NECK_WORTH
        while self.best.lip_error > SAME_SETTING:
            slack = self.best.lip_error - SAME_SETTING
            pairs = self._first(self.best.moves, tolerance=slack, least_neck=floor)
            if pairs is None:
                return
            self.best = self._plan(pairs, slack, floor)

    def _first(
        self,
        count: int,
        *,
        tolerance: Mm | None = None,
        least_neck: Mm = -math.inf,
        deadline: float | None = None,
    ) -> Indices | None:
        """The most promising of the first ways that a search finds; None when there is none at all."""
        tree = PairingTree(
            self.demands,
            count,
            self.tolerance if tolerance is None else tolerance,
            self.deadline if deadline is None else deadline,
            least_neck,
        )
        solutions = next(tree.solutions(), None)
        return None if solutions is None else most_promising(self.demands, solutions)

    def _take(self, pairs: Indices) -> None:
        self.neck = thickest_neck(self.demands, pairs, self.tolerance)
        floor = -math.inf if self.neck is None else self.neck - NECK_WORTH
        self.best = self._plan(pairs, self.tolerance, floor)

    def _plan(self, pairs: Indices, tolerance: Mm, neck: Mm) -> FencePlan:
        slack = least_slack(self.demands, pairs, tolerance, neck)
        at = settings(self.demands, pairs, slack, neck)
        chosen = {_demand(kind): pair for kind, pair in zip(self.kinds, pairs, strict=True)}
        settled = [[float(at[position]) for position in chosen[_demand(joint)]] for joint in self.joints]
        return FencePlan.of(FenceRoutine.FEWEST, self.joints, [(flat, upright) for flat, upright in settled])


def _demand(joint: FenceJoint) -> FenceJoint:
    """What makes two joints the same for the fence: all but their names, as finely as lengths are written."""
    return replace(
        joint,
        key="",
        wanted_sum=round(joint.wanted_sum, 6),
        upright_thickness=round(joint.upright_thickness, 6),
    )


def _kinds(joints: Sequence[FenceJoint], tolerance: Mm) -> list[FenceJoint]:
    """One joint of each demand; far-apart sums first, so that the search fails early, their likes last."""
    unique = list({_demand(joint): joint for joint in reversed(joints)}.values())
    unique.sort(key=lambda joint: joint.wanted_sum)
    leaders: list[FenceJoint] = []
    likes: list[FenceJoint] = []
    for joint in unique:
        near = leaders and joint.wanted_sum - leaders[-1].wanted_sum <= 2 * tolerance
        (likes if near else leaders).append(joint)
    ordered = []
    while leaders:
        ordered.append(leaders.pop())
        if leaders:
            ordered.append(leaders.pop(0))
    return ordered + likes


def _counting_bound(kinds: Sequence[FenceJoint], tolerance: Mm) -> int:
    """p positions make at most p (p + 1) / 2 sums, and this many different sums are needed."""
    needed = len(set(shared_settings([kind.wanted_sum for kind in kinds], tolerance)))
    count = 1
    while count * (count + 1) // 2 < needed:
        count += 1
    return count
