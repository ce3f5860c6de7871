"""A batch of drawers with one joint: what it takes, and what each of its drawers bears."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from drawerwright.basics.findings import Finding
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.duty import Use
from drawerwright.job.planning.corner_strengths import bounds_words
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import ChosenJoint
from drawerwright.run.bench_work import bench_works
from drawerwright.run.work import CutBandEdges
from drawerwright.strength.bounds import Bounds


@dataclass(frozen=True, slots=True)
class JointChoice:
    """A joint that a batch could have: the name that stands under `joint`, or that of a cutter; and what makes it."""

    joint: str
    cutter: str
    words: Phrase
    made_by: Cutter | ChosenJoint


@dataclass(frozen=True, slots=True)
class WorkTaken:
    """What a plan takes: set-ups at router table and bench, metres past a cutter, minutes, new sheets."""

    setups: int
    metres: float
    minutes: float
    new_sheets: int

    @classmethod
    def of(cls, plan: JobPlan) -> WorkTaken:
        works = [work for _drawer, _corner, work in bench_works(plan.draft.assembled, plan.job.learnt_joints)]
        edges = (work for step in plan.run.steps for work in step.work if isinstance(work, CutBandEdges))
        effort = plan.run.effort
        return cls(
            plan.setups,
            effort.by_bands.metres + sum(work.metres for work in works) + sum(edge.metres for edge in edges),
            effort.minutes,
            sum(stock.sheets.figures.new_sheets for stock in plan.stocks),
        )


@dataclass(frozen=True, slots=True)
class DrawerBears:
    """What a drawer with one joint bears. `stops`: how many of its stops, 1 and more is enough; None where load or wood
    is not known. `pull`: the middle of what pulls its weaker end off, for an order. `pull_off` (N) where the
    wood's figures allow forces."""

    drawer: str
    stops: float | None = None
    pull: float = 0.0
    pull_off: Bounds | None = None
    weak_plane: Phrase | None = None
    is_end_glued: bool = False
    """Whether nothing but glue on end grain holds it."""


@dataclass(frozen=True, slots=True)
class JointOutcome:
    """A batch, or some of its drawers, with one joint: what the batch takes, and what each drawer bears. `obstacle`:
    why it cannot be. `doubts`: what is doubtful about the joint's own measures."""

    choice: JointChoice
    taken: WorkTaken | None
    drawers: tuple[DrawerBears, ...] = ()
    obstacle: str = ""
    doubts: tuple[Finding, ...] = ()

    def of(self, drawers: Collection[str]) -> JointOutcome:
        """The same about some of the drawers."""
        return replace(
            self,
            drawers=tuple(each for each in self.drawers if each.drawer in drawers),
            doubts=tuple(each for each in self.doubts if each.concerns(drawers)),
        )

    @property
    def bears(self) -> float | None:
        """How many of its stops the weakest drawer bears; None where that is not known of any."""
        return min((each.stops for each in self.drawers if each.stops is not None), default=None)

    @property
    def bears_shown(self) -> float | None:
        """The same where it is more than an order: of strengths that are only assumed no figure is shown."""
        return None if self.pull_off is None else self.bears

    @property
    def bears_words(self) -> Phrase | None:
        """The same with the digits that it deserves: what is short of one stop is told apart more finely."""
        bears = self.bears_shown
        if bears is None:
            return None
        return phrase("{times:.2f}", times=bears) if bears < 1 else phrase("{times:.1f}", times=bears)

    @property
    def pulls(self) -> float:
        """The middle of what pulls its weakest drawer's end off, for an order alone."""
        return min((each.pull for each in self.drawers), default=0.0)

    @property
    def pull_off(self) -> Bounds | None:
        """What pulls the end of its weakest drawer off (N); None where only an order is known."""
        forces = [each.pull_off for each in self.drawers if each.pull_off is not None]
        return Bounds.least(forces) if forces else None

    @property
    def pull_off_words(self) -> Phrase | None:
        """The force in words, in the reader's unit too."""
        return None if self.pull_off is None else bounds_words(self.pull_off)

    @property
    def weak_plane(self) -> Phrase | None:
        """Where its weakest drawer parts first."""
        weakest = min(self.drawers, key=lambda each: each.pull, default=None)
        return None if weakest is None else weakest.weak_plane

    @property
    def is_end_glued(self) -> bool:
        """Whether in some drawer nothing but glue on end grain holds."""
        return any(each.is_end_glued for each in self.drawers)

    @property
    def is_possible(self) -> bool:
        return self.taken is not None and not self.obstacle

    @property
    def is_enough(self) -> bool:
        """Whether it bears what its drawers do to it; also where nobody can say."""
        return self.bears is None or self.bears >= 1

    def suits(self, use: Use) -> bool:
        """Whether it is enough for a use. In heavy use glue on end grain alone is not trusted, whatever it bears when
        it is new (common practice, no source)."""
        return self.is_enough and not (use is Use.HEAVY and self.is_end_glued)
