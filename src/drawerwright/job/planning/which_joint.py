"""Which joint each drawer should have: the one at hand beside the others, by what it bears and by what it takes.

Drawers that are alike in all but their size, their load and their place make one batch: those of a bank that have one
joint, or boxes of one make. For each joint the batch is planned as if it were the job, so that set-ups, metres and
minutes are those of the real order of work; what it bears is reckoned with the fences of the whole job, as `strength`
says it. A joint is enough for a drawer where its weaker end bears the stop of the loaded drawer, time and again
(`drawerwright.strength.weak_corners`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.loads import Kg, WrittenLoad
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.duty import Use
from drawerwright.job.job import Job
from drawerwright.job.planning.corner_strengths import rounded
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.entries_concerned import OF_BANK
from drawerwright.job.planning.job_findings import joint_findings
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.job.planning.joint_outcome import JointChoice, JointOutcome, WorkTaken
from drawerwright.job.planning.joint_verdict import JointVerdict, recommended
from drawerwright.job.planning.other_joints import drawer_bears, joint_choices, use_of, with_joints
from drawerwright.joints.plain_joint import plain_joints
from drawerwright.strength.drawer_load import DrawerLoad

SECONDS = 0.3
"""For the sheets of each stock in each comparison: the order of work hardly hangs on the last sheet."""
QUICK = phrase("Sheets are found by a quick search for each joint: the plan itself may need fewer.")
HARD_SHARE = 0.5
"""Drawers that carry this share of what the fullest carries, or more, are the heavy ones (our own choice)."""

Step = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class DrawerAdvice:
    """Which joint drawers of a batch should have that are alike in use and come out alike. `carries`: what lies in each
    of which that is known."""

    drawers: tuple[str, ...]
    use: Use
    carries: Mapping[str, Kg]
    present: JointOutcome
    recommended: JointOutcome
    reason: Phrase

    @property
    def load(self) -> Kg | None:
        """The most that one of them carries."""
        return max(self.carries.values(), default=None)

    @property
    def about(self) -> Phrase:
        """Which drawers, how they are used and what they carry."""
        says = {"drawers": names_in_row(self.drawers), "use": self.use.words}
        if self.load is None:
            return phrase("{drawers}, {use}", **says)
        if len(set(self.carries.values())) == 1:
            return phrase("{drawers}, {use}, {load}", load=WrittenLoad(self.load), **says)
        return phrase("{drawers}, {use}, up to {load}", load=WrittenLoad(self.load), **says)

    @property
    def is_changed(self) -> bool:
        """Whether another joint than that at hand is recommended."""
        return self.recommended.choice != self.present.choice


@dataclass(frozen=True, slots=True)
class BatchJoints:
    """One batch and its joints, that at hand first; and what each of its drawers should have."""

    name: str
    drawers: tuple[str, ...]
    outcomes: tuple[JointOutcome, ...]
    advice: tuple[DrawerAdvice, ...]

    @property
    def title(self) -> str:
        """What it is called where people read: a bank by its name, loose boxes by all of theirs."""
        return names_in_row(self.drawers) if self.name in self.drawers else self.name

    @property
    def present(self) -> JointOutcome:
        return self.outcomes[0]

    def is_recommended(self, outcome: JointOutcome) -> bool:
        """Whether it is what some of the drawers should have."""
        return any(each.recommended.choice == outcome.choice for each in self.advice)

    @property
    def has_figures(self) -> bool:
        """Whether more than an order is known of what its joints bear."""
        return any(outcome.pull_off is not None for outcome in self.outcomes)

    def place_of(self, outcome: JointOutcome) -> int | None:
        """Its place among the joints by what they bear, 1 the weakest; None where nothing is known."""
        levels = sorted({rounded(each.pulls) for each in self.outcomes if each.pulls})
        return levels.index(rounded(outcome.pulls)) + 1 if outcome.pulls else None


@dataclass(frozen=True, slots=True)
class JointChange:
    """Another joint for some drawers."""

    drawers: tuple[str, ...]
    choice: JointChoice


@dataclass(frozen=True, slots=True)
class WholeJob:
    """The whole job with other joints: what is changed, and what it then takes; None where it cannot be."""

    words: Phrase
    taken: WorkTaken | None
    reason: str = ""
    changes: tuple[JointChange, ...] = ()


@dataclass(frozen=True, slots=True)
class JointComparison:
    """Every batch, the job as it is, and what if others had other joints."""

    batches: tuple[BatchJoints, ...]
    present: WorkTaken | None
    alternatives: tuple[WholeJob, ...]

    @property
    def has_assumed(self) -> bool:
        """Whether some joints have only an order, since their wood's strengths are assumed."""
        outcomes = [outcome for batch in self.batches for outcome in batch.outcomes]
        return any(outcome.pulls and outcome.pull_off is None for outcome in outcomes)


def compare_joints(job: Job, *, seconds: float = SECONDS, step: Step | None = None) -> JointComparison:
    """Which joint each drawer should have.

    Args:
        job: to compare for.
        seconds: for the sheets of each stock, each time.
        step: told how far it is; may raise to stop.
    """
    job = replace(job, days=())
    batches = tuple(_batches(job))
    choices = [joint_choices(job, boxes) for _name, boxes in batches]
    count = sum(map(len, choices)) + 1 + len(plain_joints()) + 1
    done = 0

    def answered() -> None:
        nonlocal done
        done += 1
        if step is not None:
            step(done, count)

    found = []
    for (name, boxes), possible in zip(batches, choices, strict=True):
        outcomes = []
        for choice in possible:
            outcomes.append(outcome_of(job, boxes, choice, seconds))
            answered()
        found.append(_advised(name, boxes, tuple(outcomes), job))
    present = _whole(job, (), phrase("as it is"), seconds)
    answered()
    alternatives: list[WholeJob] = []
    for words, changes in _changes(found):
        if not changes or changes in [other.changes for other in alternatives]:
            continue
        whole = _whole(job, changes, words, seconds)
        alternatives.append(replace(whole, reason=whole.reason or _mistrust(found, changes)))
        answered()
    return JointComparison(tuple(found), present.taken, tuple(alternatives))


def _changes(batches: Sequence[BatchJoints]) -> Iterator[tuple[Phrase, tuple[JointChange, ...]]]:
    """What could be otherwise in the whole job: every recommendation taken, and each joint without a cutter for the
    drawers that have the hardest life."""
    yield (
        phrase("every recommendation taken"),
        tuple(
            JointChange(each.drawers, each.recommended.choice)
            for batch in batches
            for each in batch.advice
            if each.is_changed
        ),
    )
    heavy = _hard_life(batches)
    for joint in plain_joints():
        changes = []
        for batch in batches:
            # Those that have it keep it, with its measures: else the row would be about other fingers.
            outcome = next(each for each in batch.outcomes if each.choice.joint == joint.name)
            if outcome is batch.present or not outcome.is_possible:
                continue
            drawers = tuple(name for name in batch.drawers if name in heavy)
            if drawers:
                changes.append(JointChange(drawers, outcome.choice))
        names = names_in_row([name for change in changes for name in change.drawers])
        yield phrase("{joint} for {drawers}", joint=joint.words, drawers=names), tuple(changes)


def _mistrust(batches: Sequence[BatchJoints], changes: Sequence[JointChange]) -> str:
    """Why a change is not to be taken that leaves some drawers to glue in which their use has no trust."""
    chosen = {name: change.choice for change in changes for name in change.drawers}
    mistrusted = [
        name
        for batch in batches
        for each in batch.advice
        if each.use is Use.HEAVY
        for outcome in batch.outcomes
        if outcome.is_end_glued and outcome.choice != each.recommended.choice
        for name in each.drawers
        if chosen.get(name) == outcome.choice
    ]
    if not mistrusted:
        return ""
    return phrase(
        "Not for {drawers}: glue on end grain alone is not trusted in heavy use.",
        drawers=names_in_row(mistrusted),
    )


def _hard_life(batches: Sequence[BatchJoints]) -> frozenset[str]:
    """The drawers that have it: those in heavy use; where none is, those that carry at least half of what the fullest
    does."""
    every = [each for batch in batches for each in batch.advice]
    slammed = frozenset(name for each in every if each.use is Use.HEAVY for name in each.drawers)
    if slammed:
        return slammed
    carries = {name: load for each in every for name, load in each.carries.items() if load}
    most = max(carries.values(), default=0.0)
    return frozenset(name for name, load in carries.items() if load >= HARD_SHARE * most)


def _batches(job: Job) -> Iterable[tuple[str, tuple[DrawerBox, ...]]]:
    """The drawers of a bank that have one joint, and boxes that follow each other and differ in their names alone."""
    for bank in job.banks:
        by_joint: list[list[DrawerBox]] = []
        for box in bank.boxes:
            same = next((some for some in by_joint if some[0].made_by == box.made_by), None)
            if same is None:
                by_joint.append([box])
            else:
                same.append(box)
        for boxes in by_joint:
            yield bank.bank.name if len(by_joint) == 1 else boxes[0].name, tuple(boxes)
    alike: list[list[DrawerBox]] = []
    for box in job.boxes:
        if alike and replace(alike[-1][0], name=box.name) == box:
            alike[-1].append(box)
        else:
            alike.append([box])
    for boxes in alike:
        yield boxes[0].name, tuple(boxes)


def outcome_of(job: Job, boxes: Sequence[DrawerBox], choice: JointChoice, seconds: float) -> JointOutcome:
    """What the batch takes by itself; what it bears among all the others, with whose corners it shares fences."""
    names = [box.name for box in boxes]
    changed = with_joints(job, dict.fromkeys(names, choice.made_by))
    try:
        plan = plan_job(changed.only(names), time_limit=seconds)
        whole = draft_job(changed)
        bears = tuple(drawer_bears(drawer, whole) for drawer in whole.assembled if drawer.box.name in names)
    except DrawerwrightError as error:
        return JointOutcome(choice, None, obstacle=error.args[0] if error.args else str(error))
    stops = [finding.text for finding in plan.findings if finding.stops]
    doubts = tuple(
        finding
        for finding in joint_findings(whole)
        if finding.severity is Severity.WARNING
        and OF_BANK.get(finding.code) == ("joint",)
        and finding.concerns(names)
    )
    return JointOutcome(choice, WorkTaken.of(plan), bears, stops[0] if stops else "", doubts)


def _advised(
    name: str, boxes: Sequence[DrawerBox], outcomes: tuple[JointOutcome, ...], job: Job
) -> BatchJoints:
    """A batch with what each of its drawers should have, those together that come out alike."""
    loads = {box.name: DrawerLoad(assemble(box, job.heights_of(box))).contents for box in boxes}
    # What is only quicker is so for the whole batch or not at all: two joints in one batch are two set-ups.
    is_one = len({_alone(box, outcomes).recommended.choice for box in boxes}) == 1
    alike: dict[tuple[object, ...], list[DrawerBox]] = {}
    for box in boxes:
        verdict = _alone(box, outcomes, may_save=is_one)
        alike.setdefault((use_of(box), verdict.recommended.choice, verdict.because), []).append(box)
    advice = []
    for some in alike.values():
        names = tuple(box.name for box in some)
        carries = {name: load for name in names if (load := loads[name]) is not None}
        own = [outcome.of(names) for outcome in outcomes]
        verdict = recommended(own, use_of(some[0]), may_save=is_one)
        reason = joined([verdict.reason, *map(_doubt_words, verdict.recommended.doubts)], " ")
        advice.append(DrawerAdvice(names, use_of(some[0]), carries, own[0], verdict.recommended, reason))
    return BatchJoints(name, tuple(box.name for box in boxes), outcomes, tuple(advice))


def _doubt_words(doubt: Finding) -> Phrase:
    return phrase(
        "One warning remains ({where}): {text} {remedy}",
        where=doubt.where,
        text=doubt.text,
        remedy=doubt.remedy,
    )


def _alone(box: DrawerBox, outcomes: Sequence[JointOutcome], *, may_save: bool = True) -> JointVerdict:
    return recommended([outcome.of((box.name,)) for outcome in outcomes], use_of(box), may_save=may_save)


def _whole(job: Job, changes: tuple[JointChange, ...], words: Phrase, seconds: float) -> WholeJob:
    made_by = {name: change.choice.made_by for change in changes for name in change.drawers}
    try:
        plan = plan_job(with_joints(job, made_by), time_limit=seconds)
    except DrawerwrightError as error:
        return WholeJob(words, None, error.args[0] if error.args else str(error), changes)
    stops = [finding.text for finding in plan.findings if finding.stops]
    return WholeJob(words, WorkTaken.of(plan), stops[0] if stops else "", changes)
