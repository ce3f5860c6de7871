"""Which joint each drawer should have: the one at hand beside the others, by what it bears and by what it takes.

Drawers that are alike in all but their size and their place make one batch: a bank, or boxes of one make. For each
joint the batch is planned as if it were the job, so that set-ups, metres and minutes are those of the real order of
work. A joint is enough where its weaker end bears the stop of the loaded drawer, time and again
(`drawerwright.strength.weak_corners`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.basics.loads import Kg
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.box import JOINTS_AT_AN_END, DrawerBox
from drawerwright.drawers.duty import Use
from drawerwright.job.job import Job
from drawerwright.job.planning.corner_strengths import bounds_words
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.holding import Bond, PullOff
from drawerwright.joints.joint import joint_named, joint_of
from drawerwright.joints.plain_joint import ChosenJoint, plain_joints
from drawerwright.run.bench_work import bench_works
from drawerwright.run.work import CutBandEdges
from drawerwright.strength.assembled_corners import EndStrength, end_strengths
from drawerwright.strength.bounds import Bounds
from drawerwright.strength.drawer_load import DrawerLoad
from drawerwright.strength.weak_corners import USUAL_USE, bears_repeatedly, stop_energy

SECONDS = 0.3
"""For the sheets of each stock in each comparison: the order of work hardly hangs on the last sheet."""
WORTH_CHANGING = 0.2
"""A joint that is enough is left for another that is too where this saves more of the time (our own choice)."""

Step = Callable[[int, int], None]


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
        works = [work for _drawer, _corner, work in bench_works(plan.draft.assembled)]
        edges = (work for step in plan.run.steps for work in step.work if isinstance(work, CutBandEdges))
        effort = plan.run.effort
        return cls(
            plan.setups,
            effort.by_bands.metres
            + JOINTS_AT_AN_END * sum(work.metres for work in works)
            + sum(edge.metres for edge in edges),
            effort.minutes,
            sum(stock.sheets.figures.new_sheets for stock in plan.stocks),
        )


@dataclass(frozen=True, slots=True)
class JointOutcome:
    """A batch with one joint. `bears`: how many of its stops its weakest drawer bears, 1 and more is enough; None where
    load or wood is not known. `pull_off` (N) where the wood's figures allow forces. `obstacle`: why it cannot be."""

    choice: JointChoice
    taken: WorkTaken | None
    bears: float | None = None
    pulls: float = 0.0
    pull_off: Bounds | None = None
    obstacle: str = ""
    is_end_glued: bool = False
    """Whether nothing but glue on end grain holds it."""

    @property
    def pull_off_words(self) -> Phrase | None:
        """The force in words, in the reader's unit too."""
        return None if self.pull_off is None else bounds_words(self.pull_off)

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


@dataclass(frozen=True, slots=True)
class BatchJoints:
    """One batch and its joints, that at hand first."""

    name: str
    drawers: tuple[str, ...]
    use: Use
    load: Kg | None
    outcomes: tuple[JointOutcome, ...]
    recommended: JointOutcome
    reason: Phrase

    @property
    def title(self) -> str:
        """What it is called where people read: a bank by its name, loose boxes by all of theirs."""
        return names_in_row(self.drawers) if self.name in self.drawers else self.name

    @property
    def present(self) -> JointOutcome:
        return self.outcomes[0]

    @property
    def is_changed(self) -> bool:
        """Whether another joint than that at hand is recommended."""
        return self.recommended is not self.present


@dataclass(frozen=True, slots=True)
class WholeJob:
    """The whole job with other joints: what is changed, and what it then takes; None where it cannot be."""

    words: Phrase
    taken: WorkTaken | None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class JointComparison:
    """Every batch, the job as it is, and what if others had other joints."""

    batches: tuple[BatchJoints, ...]
    present: WorkTaken | None
    alternatives: tuple[WholeJob, ...]


def compare_joints(job: Job, *, seconds: float = SECONDS, step: Step | None = None) -> JointComparison:
    """Which joint each drawer should have.

    Args:
        job: to compare for.
        seconds: for the sheets of each stock, each time.
        step: told how far it is; may raise to stop.
    """
    job = replace(job, days=())
    batches = tuple(_batches(job))
    choices = {name: _choices(job, boxes) for name, boxes in batches}
    heavy = [name for name, boxes in batches if _use(boxes) is Use.HEAVY]
    count = sum(len(each) for each in choices.values()) + 1 + len(plain_joints()) + 1
    done = 0

    def answered() -> None:
        nonlocal done
        done += 1
        if step is not None:
            step(done, count)

    found = []
    for name, boxes in batches:
        outcomes = []
        for choice in choices[name]:
            outcomes.append(_outcome(job, boxes, choice, seconds))
            answered()
        found.append(_judged(name, boxes, outcomes, job))
    present = _whole(job, {}, phrase("as it is"), seconds).taken
    answered()
    changes: list[tuple[Phrase, dict[str, Cutter | ChosenJoint]]] = []
    recommended = {batch.name: batch.recommended.choice.made_by for batch in found if batch.is_changed}
    if recommended:
        changes.append((phrase("every recommendation taken"), recommended))
    for joint in plain_joints() if heavy else ():
        # Those that have it keep it, with its measures: else the row would be about other fingers, not other joints.
        others = [name for name in heavy if choices[name][0].joint != joint.name]
        if others:
            words = phrase("{joint} for all drawers in heavy use", joint=joint.words)
            changes.append((words, dict.fromkeys(others, ChosenJoint(joint))))
    alternatives = []
    for place, (words, change) in enumerate(changes):
        if change in [other for _, other in changes[:place]]:
            continue
        names = {box.name: change[name] for name, boxes in batches if name in change for box in boxes}
        alternatives.append(_whole(job, names, words, seconds))
        answered()
    return JointComparison(tuple(found), present, tuple(alternatives))


def _batches(job: Job) -> Iterable[tuple[str, tuple[DrawerBox, ...]]]:
    """Banks, and boxes that follow each other and differ in their names alone."""
    for bank in job.banks:
        yield bank.bank.name, bank.boxes
    alike: list[list[DrawerBox]] = []
    for box in job.boxes:
        if alike and replace(alike[-1][0], name=box.name) == box:
            alike[-1].append(box)
        else:
            alike.append([box])
    for boxes in alike:
        yield boxes[0].name, tuple(boxes)


def _use(boxes: Sequence[DrawerBox]) -> Use:
    return boxes[0].duty.use or USUAL_USE


def _choices(job: Job, boxes: Sequence[DrawerBox]) -> tuple[JointChoice, ...]:
    """What the batch has first, then the job's other cutters, then joints without one."""
    cutters = [used.cutter for used in job.cutters if used.cutter.mating.makes_corners]
    found = [_choice(boxes[0].made_by)]
    others: list[Cutter | ChosenJoint] = [*cutters, *(ChosenJoint(joint) for joint in plain_joints())]
    for made_by in others:
        choice = _choice(made_by)
        if (choice.joint, choice.cutter) not in [(each.joint, each.cutter) for each in found]:
            found.append(choice)
    return tuple(found)


def _choice(made_by: Cutter | ChosenJoint) -> JointChoice:
    if isinstance(made_by, Cutter):
        words = joined((joint_of(made_by).words, made_by.name), ", ")
        return JointChoice("", made_by.name, words, made_by)
    return JointChoice(made_by.joint.name, "", made_by.joint.words, made_by)


def _with(job: Job, made_by: dict[str, Cutter | ChosenJoint]) -> Job:
    """The job with other joints for some of its drawers, by their names."""

    def changed(box: DrawerBox) -> DrawerBox:
        return replace(box, made_by=made_by.get(box.name, box.made_by))

    banks = tuple(replace(bank, boxes=tuple(map(changed, bank.boxes))) for bank in job.banks)
    return replace(job, banks=banks, boxes=tuple(map(changed, job.boxes)))


def _outcome(job: Job, boxes: Sequence[DrawerBox], choice: JointChoice, seconds: float) -> JointOutcome:
    names = [box.name for box in boxes]
    try:
        plan = plan_job(_with(job, dict.fromkeys(names, choice.made_by)).only(names), time_limit=seconds)
    except DrawerwrightError as error:
        return JointOutcome(choice, None, obstacle=error.args[0] if error.args else str(error))
    stops = [finding.text for finding in plan.findings if finding.stops]
    ends = [
        (drawer, end) for drawer in plan.draft.assembled for end in end_strengths(drawer, plan.draft.made)
    ]
    shares = [share for drawer, end in ends if (share := _share(DrawerLoad(drawer), end)) is not None]
    forces = [end.pull_off for _drawer, end in ends if end.pull_off is not None]
    return JointOutcome(
        choice,
        WorkTaken.of(plan),
        min(shares, default=None),
        min((end.end.pull_off.middle for _drawer, end in ends), default=0.0),
        Bounds.least(forces) if forces else None,
        stops[0] if stops else "",
        any(_is_end_glued(end) for _drawer, end in ends),
    )


def _is_end_glued(end: EndStrength) -> bool:
    pull = PullOff.ALONG_UPRIGHT if end.key.orientation is Orientation.FRONTS_FLAT else PullOff.ALONG_FLAT
    holding = joint_named(end.made.kind).holding(end.made, pull)
    return end.corner.unglued is None and all(face.bond is Bond.END for face in holding.faces)


def _share(load: DrawerLoad, end: EndStrength) -> float | None:
    """How many times its stop an end bears; None where the load is not known."""
    contents = load.contents
    if not contents:
        return None
    return bears_repeatedly(end).middle / stop_energy(contents, load.drawer.box.duty.use or USUAL_USE)


def _judged(name: str, boxes: Sequence[DrawerBox], outcomes: Sequence[JointOutcome], job: Job) -> BatchJoints:
    drawers = tuple(box.name for box in boxes)
    use = _use(boxes)
    loads = [DrawerLoad(assemble(box, job.heights_of(box))).contents for box in boxes]
    known = [load for load in loads if load is not None]
    recommended, reason = _recommended(outcomes, use)
    return BatchJoints(name, drawers, use, max(known, default=None), tuple(outcomes), recommended, reason)


def _recommended(outcomes: Sequence[JointOutcome], use: Use) -> tuple[JointOutcome, Phrase]:
    present = outcomes[0]
    possible = [each for each in outcomes if each.is_possible]
    says = {"joint": present.choice.words, "use": use.words}
    if not possible:
        return present, phrase("None can be made: see the findings.")
    enough = [each for each in possible if each.suits(use)]
    if not present.is_possible:
        best = min(enough or possible, key=_minutes)
        return best, phrase("{joint} cannot be made here: {why}", why=present.obstacle, **says)
    if present.bears is None:
        return _without_figures(present, possible, use)
    if not enough:
        trusted = [each for each in possible if not each.is_end_glued] or possible
        best = max(trusted, key=lambda each: each.bears or 0.0)
        return best, phrase("None is sure to bear this load in {use}; this one bears most.", **says)
    quickest = min(enough, key=_minutes)
    more = _minutes(quickest) - _minutes(present)
    if not present.is_enough:
        return quickest, phrase(
            "{joint} bears {share:.2f} times what its stop asks of it in {use}; this one is enough: {more:+.0f} min.",
            share=present.bears,
            more=more,
            **says,
        )
    if not present.suits(use):
        return quickest, phrase(
            "{joint} rests on glued end grain alone, which {use} does not forgive: {more:+.0f} min.",
            more=more,
            **says,
        )
    if _saves_much(quickest, present):
        return quickest, phrase("Enough for {use}, and saves {saved:.0f} min.", saved=-more, **says)
    untrusted = [each for each in possible if each.is_enough and not each.suits(use)]
    if untrusted and _saves_much(fastest := min(untrusted, key=_minutes), present):
        return present, phrase(
            "Enough for {use}. {other} would save {saved:.0f} min, but rests on glued end grain alone, "
            "which {use} does not forgive.",
            other=fastest.choice.words,
            saved=_minutes(present) - _minutes(fastest),
            **says,
        )
    return present, phrase("Enough for {use}; no other saves much.", **says)


def _saves_much(other: JointOutcome, present: JointOutcome) -> bool:
    return _minutes(present) - _minutes(other) > WORTH_CHANGING * _minutes(present)


def _without_figures(
    present: JointOutcome, possible: Sequence[JointOutcome], use: Use
) -> tuple[JointOutcome, Phrase]:
    """Where nobody can say what the stop does or what the wood bears, only the order of the joints is left."""
    if not any(outcome.pulls for outcome in possible):
        return present, phrase(
            "No strength is known of this wood: give its species, or say that it is plywood. It stays as it is."
        )
    strongest = max(possible, key=lambda each: each.pulls)
    if use is Use.HEAVY and strongest.pulls > present.pulls:
        return strongest, phrase(
            "No load is stated: in heavy use the joint that bears most is the safe choice."
        )
    return present, phrase("No load is stated: nothing says that it would not do. It stays as it is.")


def _minutes(outcome: JointOutcome) -> float:
    return outcome.taken.minutes if outcome.taken is not None else float("inf")


def _whole(job: Job, made_by: dict[str, Cutter | ChosenJoint], words: Phrase, seconds: float) -> WholeJob:
    try:
        plan = plan_job(_with(job, made_by), time_limit=seconds)
    except DrawerwrightError as error:
        return WholeJob(words, None, error.args[0] if error.args else str(error))
    stops = [finding.text for finding in plan.findings if finding.stops]
    return WholeJob(words, WorkTaken.of(plan), stops[0] if stops else "")
