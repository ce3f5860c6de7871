"""Fence positions of a job, the pair that each corner uses, and ways to choose them side by side."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.run.fence_joints import FenceJoint, FenceSplit
from drawerwright.run.visits import order_of_visits

FLUSH: Mm = 0.05
"""Default flushness tolerance: a step that a finger just feels, and a sanding stroke removes."""


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
    GIVEN = "given"
    """Only positions that the user names."""

    @property
    def words(self) -> Phrase:
        """The routine's name in the reader's language."""
        return _ROUTINE_WORDS[self][0]

    @property
    def meaning(self) -> Phrase:
        """What the routine does."""
        return _ROUTINE_WORDS[self][1]


_ROUTINE_WORDS = {
    FenceRoutine.FEWEST: (phrase("fewest"), phrase("fewest positions")),
    FenceRoutine.TOOTH: (phrase("tooth"), phrase("usual: tooth alone")),
    FenceRoutine.ONE: (phrase("one"), phrase("one setting per corner")),
    FenceRoutine.TWO: (phrase("two-position"), phrase("fronts moved out by their lip")),
    FenceRoutine.GIVEN: (phrase("given"), phrase("named by the job")),
}


@dataclass(frozen=True, slots=True)
class FenceWishes:
    """How the fence positions of a job are to be chosen.

    A `plan` other than `FEWEST` forces a routine; `GIVEN` goes with `positions` (mm), to which the choice is limited.
    `flushness` is how far a face may stand off flush (mm) for one position to serve two corners.
    """

    plan: FenceRoutine = FenceRoutine.FEWEST
    flushness: Mm = FLUSH
    positions: tuple[Mm, ...] = ()


@dataclass(frozen=True, slots=True)
class FencePlan:
    """Fence positions in the order in which they are set, and the pair that each kind of corner uses.

    The order completes whole corners as early as it can, so that a test corner is cut before much else is.
    `lower_bound` is how many positions any plan needs that keeps all limits. `ties_open` says that the time ran out
    before all plans with as few positions had been compared: one with a thicker neck or a truer lip may exist.
    """

    routine: FenceRoutine
    positions: tuple[Mm, ...]
    splits: tuple[FenceSplit, ...]
    lower_bound: int = 1
    ties_open: bool = False
    seconds: float = field(default=0.0, compare=False)

    @classmethod
    def of(
        cls, routine: FenceRoutine, joints: Sequence[FenceJoint], pairs: Iterable[tuple[Mm, Mm]]
    ) -> FencePlan:
        """A plan from the (flat, upright) settings of each joint (mm)."""
        splits = tuple(
            FenceSplit(joint, round(flat, 6), round(upright, 6))
            for joint, (flat, upright) in zip(joints, pairs, strict=True)
        )
        return cls(routine, tuple(order_of_visits([(split.flat, split.upright) for split in splits])), splits)

    @property
    def is_proven(self) -> bool:
        """Whether it keeps all limits and no plan that does has fewer positions."""
        return self.keeps_limits and self.moves <= self.lower_bound

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
        """Whether every corner keeps its limits; the least neck as far as stock and cutter allow it."""
        return all(split.keeps_limits for split in self.splits)

    @property
    def is_as_near_as_can_be(self) -> bool:
        """Whether no limit is broken that another plan could keep."""
        return not any(split.broken_limit for split in self.splits)

    @property
    def impossible(self) -> tuple[FenceJoint, ...]:
        """The corners that no plan can cut."""
        return tuple(split.joint for split in self.splits if not split.joint.can_be_cut)

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
        raise no_free_split(routine)

    def each(self, change: Callable[[FencePlan], FencePlan]) -> FenceComparison:
        """Every plan changed in one way."""
        return FenceComparison(
            change(self.fewest),
            change(self.one),
            self.tooth and change(self.tooth),
            self.two_position and change(self.two_position),
        )

    def bounded(self, plan: FencePlan) -> FencePlan:
        """Another plan for the same corners with what is known about how few positions they need."""
        return replace(plan, lower_bound=self.fewest.lower_bound)


def no_free_split(routine: FenceRoutine) -> InvalidValueError:
    """The error of a routine that shares out a cut which cannot be shared."""
    return InvalidValueError(
        phrase(
            "the fence plan {plan} shares the cut between the two pieces, which this joint "
            "does not allow: use {fewest} or {one}",
            plan=str(routine),
            fewest=str(FenceRoutine.FEWEST),
            one=str(FenceRoutine.ONE),
        )
    )
