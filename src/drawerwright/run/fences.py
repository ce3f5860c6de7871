r"""The fewest fence positions that serve every corner of a job.

A corner needs two settings of the fence that add up to its fence sum (`drawerwright.joints.law`), within what
may be seen of a lip that is a little off. Which two is free, so corners can share positions:

::

      lipped front  S = o + t + d  =  (p + o) + p       flat pieces at p + o, sides at p
      flush back    S =     t + d  =     p    + p       backs at p, sides at p

      positions:  p,  p + o        two set-ups of the fence instead of three

The search is exact. It hands each corner a pair of positions (two that are there, one that is there and a new
one, or new ones), and keeps all inequalities on positions closed under their consequences; they only ever
bound a position, a sum or a difference of two, which shortest paths decide (the octagon of static analysis:
Miné, The octagon abstract domain, 2006; over the reals it is exact). Position counts are tried upwards, so the
first one that works is the fewest, and among its solutions the one with the thickest neck is kept.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.joints import law
from drawerwright.joints.cutter import Cutter, CutterKind
from drawerwright.joints.setting import CornerGeometry

Matrix: TypeAlias = NDArray[np.float64]
Split: TypeAlias = tuple[int, int]
"""Positions of the flat and of the upright piece, by number."""

FLUSH: Mm = 0.05
"""Default flushness tolerance: a step that a finger just feels, and a sanding stroke removes."""
NECK_WORTH: Mm = 0.05
"""Necks closer than this are equally thick."""
ROUNDING: Mm = 1e-9
SETTLED: Mm = 1e-5
"""How exactly slack and necks of a found plan are settled."""


class FenceRoutine(StrEnum):
    """How a job shares out its fence positions."""

    FEWEST = "fewest"
    """As few positions as there can be."""
    TOOTH = "tooth"
    """The usual three-position routine: sides with the tooth alone, then lipped and flush flat pieces."""
    ONE = "one"
    """Every corner with one setting for both of its pieces."""
    TWO = "two-position"
    """Sides as for a flush corner with one setting; lipped flat pieces further out by their lip."""


@dataclass(frozen=True, slots=True)
class FenceJoint:
    """What one kind of corner asks of the fence (mm).

    `key` names it in the caller's words. `least_neck` and `least_head` are limits on the upright piece;
    where even the tooth alone leaves less, the tooth alone is what it gets. A corner whose split is not
    free (a lock-mitre: its knife edges leave no wood to shift) needs one setting for both pieces.
    """

    key: str
    wanted_sum: Mm
    upright_thickness: Mm
    step: Mm
    least_neck: Mm = 0.0
    least_head: Mm = 0.0
    is_split_free: bool = True

    def __post_init__(self) -> None:
        if not self.wanted_sum > 0:
            raise InvalidValueError(
                f"{self.key}: a fence sum must be more than 0 mm, not {self.wanted_sum:g}"
            )

    @classmethod
    def of(cls, key: str, cutter: Cutter, corner: CornerGeometry, *, least_neck: Mm = 0.0) -> FenceJoint:
        """What a corner cut with a cutter asks of the fence."""
        return cls(
            key=key,
            wanted_sum=corner.fence_sum(cutter),
            upright_thickness=corner.upright_thickness,
            step=cutter.step.value,
            least_neck=least_neck,
            is_split_free=cutter.kind is CutterKind.DRAWER_LOCK,
        )

    @property
    def least_setting(self) -> Mm:
        """Below this the cutter's smaller radius would no longer reach the wood."""
        return law.tooth_only_setting(self.step) if self.is_split_free else 0.0

    @property
    def most_upright(self) -> Mm:
        """Largest setting of the upright piece that keeps its limits, as far as they can be kept."""
        if not self.is_split_free:
            return math.inf
        by_neck = self.upright_thickness - self.least_neck
        by_head = self.upright_thickness + self.step - self.least_head
        return max(min(by_neck, by_head), self.least_setting)


@dataclass(frozen=True, slots=True)
class FenceSplit:
    """The two positions of one kind of corner (mm)."""

    joint: FenceJoint
    flat: Mm
    upright: Mm

    @property
    def lip_error(self) -> Mm:
        """How much further than wanted the flat piece's end stands out."""
        return self.flat + self.upright - self.joint.wanted_sum

    @property
    def neck(self) -> Mm:
        """The upright piece's neck."""
        return law.neck(self.joint.upright_thickness, self.upright)


@dataclass(frozen=True, slots=True)
class FencePlan:
    """Fence positions of a job, ascending, and the pair that each kind of corner uses.

    `lower_bound` is how many positions any plan needs; `is_proven` says that none has fewer than this one.
    """

    routine: FenceRoutine
    positions: tuple[Mm, ...]
    splits: tuple[FenceSplit, ...]
    lower_bound: int
    seconds: float = field(default=0.0, compare=False)

    @property
    def is_proven(self) -> bool:
        """Whether no plan has fewer positions."""
        return len(self.positions) <= self.lower_bound

    @property
    def moves(self) -> int:
        """How often the fence is set, the first time included."""
        return len(self.positions)

    @property
    def thinnest_neck(self) -> Mm | None:
        """The thinnest neck of all; None where there is none to speak of (lock-mitres)."""
        return min((split.neck for split in self.splits if split.joint.is_split_free), default=None)

    @property
    def lip_error(self) -> Mm:
        """How far the worst lip is off (mm), without its sign."""
        return max((abs(split.lip_error) for split in self.splits), default=0.0)

    @property
    def keeps_limits(self) -> bool:
        """Whether every upright keeps its limits on neck and head, as far as they can be kept."""
        return all(split.upright <= split.joint.most_upright + SETTLED for split in self.splits)

    def split(self, key: str) -> FenceSplit:
        """The positions of one corner, by its key."""
        for split in self.splits:
            if split.joint.key == key:
                return split
        raise KeyError(key)


@dataclass(frozen=True, slots=True)
class FenceComparison:
    """The plan with the fewest positions beside the routines it competes with.

    Routines that share out the cut are None for a job with corners whose split is not free.
    """

    fewest: FencePlan
    one: FencePlan
    tooth: FencePlan | None
    two_position: FencePlan | None

    @property
    def plans(self) -> tuple[FencePlan, ...]:
        """All plans that there are, the one with the fewest positions first."""
        return tuple(p for p in (self.fewest, self.tooth, self.one, self.two_position) if p is not None)

    def plan(self, routine: FenceRoutine) -> FencePlan:
        """The plan of one routine.

        Raises:
            InvalidValueError: a corner of the job has no free split, which the routine needs.
        """
        for plan in self.plans:
            if plan.routine is routine:
                return plan
        raise InvalidValueError(
            f"the fence plan {routine!s} shares out the cut between the two pieces, which a lock-mitre cannot "
            f"bear: use {FenceRoutine.FEWEST!s} or {FenceRoutine.ONE!s}"
        )


def plan_fences(
    joints: Sequence[FenceJoint], tolerance: Mm = FLUSH, *, time_limit: float = 5.0
) -> FenceComparison:
    """Fence positions for all corners that one cutter cuts.

    Args:
        joints: what each kind of corner asks for; keys differ.
        tolerance: how far a lip may be off, either way (mm).
        time_limit: seconds for the search; after it the best plan so far is returned with its lower bound.

    Raises:
        InvalidValueError: no joints, a key given twice, or a tolerance below zero.
    """
    if not joints:
        raise InvalidValueError("there is no corner to plan fence positions for")
    if len({joint.key for joint in joints}) < len(joints):
        raise InvalidValueError("two corners have one key: name each of them once")
    if tolerance < 0:
        raise InvalidValueError(f"a flushness tolerance must be zero or more, not {tolerance:g} mm")
    started = time.perf_counter()
    deadline = started + time_limit
    one = _by_one_setting(joints, tolerance)
    tooth = two = None
    if all(joint.is_split_free for joint in joints):
        tooth = _by_uprights(
            FenceRoutine.TOOTH, joints, [law.tooth_only_setting(joint.step) for joint in joints], tolerance
        )
        flush = [law.fence_sum(0.0, joint.upright_thickness, joint.step) for joint in joints]
        two = _by_uprights(FenceRoutine.TWO, joints, [law.one_setting(total) for total in flush], tolerance)
    sound = [plan for plan in (one, tooth, two) if plan is not None and plan.keeps_limits]
    fallback = min(sound, key=_worse, default=None)
    search = _Search(joints, tolerance, deadline)
    fewest = search.best_plan(fallback or _each_its_own(joints))
    fewest = FencePlan(
        FenceRoutine.FEWEST,
        fewest.positions,
        fewest.splits,
        search.lower_bound,
        time.perf_counter() - started,
    )
    others = [plan and replace(plan, lower_bound=search.lower_bound) for plan in (tooth, two)]
    return FenceComparison(fewest, replace(one, lower_bound=search.lower_bound), *others)


def _worse(plan: FencePlan) -> tuple[int, float]:
    neck = plan.thinnest_neck
    return plan.moves, 0.0 if neck is None else -neck


def _by_one_setting(joints: Sequence[FenceJoint], tolerance: Mm) -> FencePlan:
    settings = _shared([law.one_setting(joint.wanted_sum) for joint in joints], tolerance / 2)
    return _plan(FenceRoutine.ONE, joints, list(zip(settings, settings, strict=True)))


def _by_uprights(
    routine: FenceRoutine, joints: Sequence[FenceJoint], wanted: Sequence[Mm], tolerance: Mm
) -> FencePlan:
    """Upright pieces at these settings, flat pieces at what is left of their sums; the slack is halved."""
    uprights = _shared(wanted, tolerance / 2)
    flats = _shared(
        [law.other_setting(joint.wanted_sum, u) for joint, u in zip(joints, uprights, strict=True)],
        tolerance / 2,
    )
    return _plan(routine, joints, list(zip(flats, uprights, strict=True)))


def _each_its_own(joints: Sequence[FenceJoint]) -> FencePlan:
    """What always works: each corner by itself, as near to one setting as its limits allow."""
    pairs = []
    for joint in joints:
        upright = law.one_setting(joint.wanted_sum)
        if joint.is_split_free:
            upright = min(upright, joint.most_upright)
        pairs.append((law.other_setting(joint.wanted_sum, upright), upright))
    return _plan(FenceRoutine.FEWEST, joints, pairs)


def _shared(wanted: Sequence[Mm], tolerance: Mm) -> list[Mm]:
    """For each wanted setting one within the tolerance, as few different ones as can be."""
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    settings = [0.0] * len(wanted)
    while order:
        reach = wanted[order[0]] + 2 * tolerance + ROUNDING
        cluster = [index for index in order if wanted[index] <= reach]
        middle = (wanted[cluster[0]] + wanted[cluster[-1]]) / 2
        for index in cluster:
            settings[index] = middle
        order = order[len(cluster) :]
    return settings


def _plan(
    routine: FenceRoutine, joints: Sequence[FenceJoint], pairs: Sequence[tuple[Mm, Mm]], bound: int = 1
) -> FencePlan:
    positions = sorted({round(setting, 6) for pair in pairs for setting in pair})
    return FencePlan(
        routine,
        tuple(positions),
        tuple(
            FenceSplit(joint, round(flat, 6), round(upright, 6))
            for joint, (flat, upright) in zip(joints, pairs, strict=True)
        ),
        bound,
    )


class _OutOfTimeError(Exception):
    """The search met its deadline."""


@dataclass(slots=True)
class _Search:
    """The exact search. Joints that ask for the same are one; `lower_bound` rises as counts are ruled out."""

    joints: Sequence[FenceJoint]
    tolerance: Mm
    deadline: float
    lower_bound: int = 1

    def best_plan(self, fallback: FencePlan) -> FencePlan:
        """The plan with the fewest positions, or the best one found in time."""
        kinds = _kinds(self.joints, self.tolerance)
        self.lower_bound = _counting_bound(kinds, self.tolerance)
        best = fallback
        tree = _Tree(kinds, self.tolerance, self.deadline)
        try:
            for count in range(self.lower_bound, best.moves):
                first = next(tree.solutions(count), None)
                if first is not None:
                    best = self._as_plan(kinds, first)
                    break
                self.lower_bound = count + 1
        except _OutOfTimeError:
            return self._dive(kinds, best)
        self.lower_bound = best.moves
        return self._strongest(kinds, best)

    def _dive(self, kinds: Sequence[FenceJoint], best: FencePlan) -> FencePlan:
        """Out of time below: take what short searches with one position fewer find, from above."""
        while best.moves > self.lower_bound:
            tree = _Tree(kinds, self.tolerance, time.perf_counter() + DIVE_SECONDS)
            try:
                found = next(tree.solutions(best.moves - 1), None)
            except _OutOfTimeError:
                return best
            if found is None:
                self.lower_bound = best.moves
                return best
            best = self._as_plan(kinds, found)
        return best

    def _strongest(self, kinds: Sequence[FenceJoint], best: FencePlan) -> FencePlan:
        """Among plans with as few positions, the one with the thickest neck (as far as time allows)."""
        thinnest = best.thinnest_neck
        if thinnest is None:
            return best
        tree = _Tree(kinds, self.tolerance, self.deadline)
        tree.neck_floor = thinnest + NECK_WORTH
        try:
            for splits in tree.solutions(best.moves):
                plan = self._as_plan(kinds, splits)
                neck = plan.thinnest_neck
                if neck is not None and neck > thinnest:
                    best, thinnest = plan, neck
                    tree.neck_floor = max(tree.neck_floor, thinnest + NECK_WORTH)
        except _OutOfTimeError:
            pass
        return best

    def _as_plan(self, kinds: Sequence[FenceJoint], splits: Sequence[Split]) -> FencePlan:
        settings = _settled(kinds, splits, self.tolerance)
        chosen = {_demand(kind): split for kind, split in zip(kinds, splits, strict=True)}
        pairs = []
        for joint in self.joints:
            flat, upright = chosen[_demand(joint)]
            pairs.append((settings[flat], settings[upright]))
        return _plan(FenceRoutine.FEWEST, self.joints, pairs, self.lower_bound)


DIVE_SECONDS = 0.5
"""Time for each short search from above, once the long one is out of time."""


def _demand(joint: FenceJoint) -> tuple[float, float, float, float, bool]:
    """What makes two joints the same for the fence."""
    most = joint.most_upright
    return (
        round(joint.wanted_sum, 6),
        round(joint.upright_thickness, 6),
        round(joint.least_setting, 6),
        most if math.isinf(most) else round(most, 6),
        joint.is_split_free,
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
    needed = len(set(_shared([kind.wanted_sum for kind in kinds], tolerance)))
    count = 1
    while count * (count + 1) // 2 < needed:
        count += 1
    return count


class _Octagon:
    """Bounds on positions, their sums and differences, closed under all consequences.

    Variable 2 a stands for position a, 2 a + 1 for its negative; `bounds[i, j]` bounds variable i less
    variable j.
    """

    __slots__ = ("bounds",)

    def __init__(self, bounds: Matrix) -> None:
        self.bounds = bounds

    @classmethod
    def free(cls, count: int) -> _Octagon:
        bounds = np.full((2 * count, 2 * count), np.inf)
        np.fill_diagonal(bounds, 0.0)
        return cls(bounds)

    def with_sum(self, a: int, b: int, low: Mm, high: Mm) -> _Octagon | None:
        """With `low <= p_a + p_b <= high` added; None when that cannot be."""
        bounds = self.bounds
        if -bounds[2 * a + 1, 2 * b] > high + ROUNDING or bounds[2 * a, 2 * b + 1] < low - ROUNDING:
            return None
        edges = [(2 * a, 2 * b + 1, high), (2 * a + 1, 2 * b, -low)]
        if a != b:
            edges += [(2 * b, 2 * a + 1, high), (2 * b + 1, 2 * a, -low)]
        for i, j, most in edges:
            if most < bounds[i, j]:
                if most + bounds[j, i] < -ROUNDING:
                    return None
                bounds = np.minimum(bounds, bounds[:, i : i + 1] + (most + bounds[j : j + 1, :]))
        return _Octagon(bounds)

    def with_range(self, a: int, low: Mm, high: Mm) -> _Octagon | None:
        """With `low <= p_a <= high` added; None when that cannot be."""
        return self.with_sum(a, a, 2 * low, 2 * high)

    def sums(self, used: int) -> tuple[Matrix, Matrix]:
        """Least and greatest sum of each two of the first `used` positions."""
        n = 2 * used
        return -self.bounds[1:n:2, 0:n:2], self.bounds[0:n:2, 1:n:2]

    def range(self, a: int) -> tuple[Mm, Mm]:
        """Least and greatest value of a position."""
        return -float(self.bounds[2 * a + 1, 2 * a]) / 2, float(self.bounds[2 * a, 2 * a + 1]) / 2


class _Tree:
    """Depth-first search over which two positions serve which joint."""

    def __init__(self, kinds: Sequence[FenceJoint], tolerance: Mm, deadline: float) -> None:
        self.kinds = kinds
        self.tolerance = tolerance
        self.deadline = deadline
        self.neck_floor = -math.inf
        self.lows = np.array([kind.wanted_sum - tolerance for kind in kinds])
        self.highs = np.array([kind.wanted_sum + tolerance for kind in kinds])

    def solutions(self, count: int) -> Iterator[list[Split]]:
        """Every way to serve all joints with at most `count` positions: a split for each joint in order."""
        splits: list[Split | None] = [None] * len(self.kinds)
        yield from self._walk(_Octagon.free(count), count, 0, list(range(len(self.kinds))), splits)

    def _walk(
        self, octagon: _Octagon, count: int, used: int, open_kinds: list[int], splits: list[Split | None]
    ) -> Iterator[list[Split]]:
        if not open_kinds:
            yield [split for split in splits if split is not None]
            return
        if time.perf_counter() > self.deadline:
            raise _OutOfTimeError
        index = open_kinds[0]
        least, most = octagon.sums(used)
        fitting = (most[None] >= self.lows[open_kinds, None, None] - ROUNDING) & (
            least[None] <= self.highs[open_kinds, None, None] + ROUNDING
        )
        if used == count:
            choices = fitting.sum(axis=(1, 2))
            tightest = int(np.argmin(choices))
            if choices[tightest] == 0:
                return
            index, fits = open_kinds[tightest], fitting[tightest]
        else:
            fits = fitting[0]
        rest = [kind for kind in open_kinds if kind != index]
        for flat, upright in self._splits(octagon, index, fits, used, count):
            narrowed = self._narrowed(octagon, index, flat, upright)
            if narrowed is None:
                continue
            splits[index] = (flat, upright)
            yield from self._walk(narrowed, count, max(used, flat + 1, upright + 1), rest, splits)
            splits[index] = None

    def _splits(
        self, octagon: _Octagon, index: int, fits: NDArray[np.bool_], used: int, count: int
    ) -> Iterator[Split]:
        """Pairs worth trying; one way round is enough where the upright's limit holds already."""
        kind = self.kinds[index]
        most = self._most_upright(kind)
        if not kind.is_split_free:
            yield from ((a, a) for a in range(used) if fits[a, a])
            if used < count:
                yield used, used
            return
        tame = [octagon.range(a)[1] <= most for a in range(used)]
        for a in range(used):
            for b in range(a, used):
                if not fits[a, b]:
                    continue
                if tame[a] or not tame[b]:
                    yield b, a
                if a != b and not tame[a]:
                    yield a, b
        if used == count:
            return
        yield used, used
        for a in range(used):
            yield used, a
            if not tame[a]:
                yield a, used
        if used + 1 < count:
            yield used + 1, used

    def _narrowed(self, octagon: _Octagon, index: int, flat: int, upright: int) -> _Octagon | None:
        kind = self.kinds[index]
        narrowed = octagon.with_sum(flat, upright, float(self.lows[index]), float(self.highs[index]))
        if narrowed is not None and flat != upright:
            narrowed = narrowed.with_range(flat, kind.least_setting, math.inf)
        if narrowed is not None:
            narrowed = narrowed.with_range(upright, kind.least_setting, self._most_upright(kind))
        return narrowed

    def _most_upright(self, kind: FenceJoint) -> Mm:
        if not kind.is_split_free:
            return math.inf
        return min(kind.most_upright, kind.upright_thickness - self.neck_floor)


def _settled(kinds: Sequence[FenceJoint], splits: Sequence[Split], tolerance: Mm) -> list[Mm]:
    """Positions for given splits: lips as true as they can be, then necks as thick as that allows."""
    count = 1 + max(max(split) for split in splits)

    def octagon(slack: Mm, neck: Mm) -> _Octagon | None:
        shape: _Octagon | None = _Octagon.free(count)
        for kind, (flat, upright) in zip(kinds, splits, strict=True):
            if shape is not None:
                shape = shape.with_sum(flat, upright, kind.wanted_sum - slack, kind.wanted_sum + slack)
            if shape is not None:
                shape = shape.with_range(flat, kind.least_setting, math.inf)
            if shape is not None and kind.is_split_free:
                most = min(kind.most_upright, kind.upright_thickness - neck)
                shape = shape.with_range(upright, kind.least_setting, most)
        return shape

    slack = _least(0.0, tolerance + SETTLED, lambda value: octagon(value, -math.inf) is not None)
    thickest = max(kind.upright_thickness for kind in kinds)
    lost = _least(0.0, 2 * thickest, lambda value: octagon(slack, thickest - value) is not None)
    shape = octagon(slack, thickest - lost) or octagon(tolerance + SETTLED, -math.inf)
    if shape is None:
        raise AssertionError("splits come from a search that proved them possible")
    settings = []
    for a in range(count):
        low, high = shape.range(a)
        value = low if math.isinf(high) else (low + high) / 2
        settings.append(value)
        narrowed = shape.with_range(a, value - ROUNDING, value + ROUNDING)
        shape = narrowed or shape
    return settings


def _least(low: float, high: float, works: Callable[[float], bool]) -> float:
    """The least value that works, to `SETTLED`, where everything above a value that works does too."""
    if works(low):
        return low
    while high - low > SETTLED:
        middle = (low + high) / 2
        if works(middle):
            high = middle
        else:
            low = middle
    return high
