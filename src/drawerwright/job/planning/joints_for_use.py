"""Whether the joints of loaded drawers are enough for their use, and which others would be: without any sheets planned.

What each takes in minutes and sheets is another question (`which_joint`), which takes longer to answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.basics.loads import Kg, WrittenLoad
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.duty import Use
from drawerwright.job.job import Job
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.planning.job_findings import joint_findings
from drawerwright.job.planning.joint_outcome import JointChoice, JointOutcome
from drawerwright.job.planning.other_joints import drawer_bears, joint_choices, use_of, with_joints
from drawerwright.strength.drawer_load import DrawerLoad


@dataclass(frozen=True, slots=True)
class JointForUse:
    """Drawers of one joint and use, what each of them carries, what their joint bears, and which others are enough, the
    weakest of them first."""

    drawers: tuple[str, ...]
    use: Use
    loads: tuple[Kg, ...]
    present: JointOutcome
    enough: tuple[JointOutcome, ...]

    @property
    def load(self) -> Kg:
        """What the fullest of them carries."""
        return max(self.loads)

    @property
    def load_words(self) -> Phrase:
        """What they carry."""
        load = WrittenLoad(self.load)
        return phrase("{load}", load=load) if len(set(self.loads)) == 1 else phrase("up to {load}", load=load)

    @property
    def is_enough(self) -> bool:
        return self.present.suits(self.use)

    @property
    def words(self) -> Phrase:
        """What is advised, and why."""
        says = {"joint": self.present.choice.words, "use": self.use.words}
        if self.is_enough:
            return phrase("{joint}: strong enough for {use}.", **says)
        others = joined([each.choice.words for each in self.enough], ", ")
        if not self.enough:
            return phrase("{joint}: not sure to bear this load in {use}, and no other joint is.", **says)
        if self.present.is_enough:
            return phrase(
                "{joint} relies on glued end grain alone, which {use} does not forgive. Strong enough: "
                "{others}.",
                others=others,
                **says,
            )
        if self.present.bears_shown is None:
            return phrase(
                "By the strengths assumed for plywood, {joint} may be too weak to take the stop in "
                "{use}. Strong enough: {others}.",
                others=others,
                **says,
            )
        return phrase(
            "{joint} bears {share:.2f} times what its stop demands in {use}. Strong enough: {others}.",
            share=self.present.bears_shown,
            others=others,
            **says,
        )


def joints_for_use(draft: JobDraft) -> tuple[JointForUse, ...]:
    """Drawers of which a load is stated and whose wood's strength is known, those together that are answered alike."""
    job = replace(draft.job, days=())
    loads = {drawer.box.name: load for drawer in draft.assembled if (load := DrawerLoad(drawer).contents)}
    loaded = [box for box in job.all_boxes if box.name in loads]
    alike: dict[tuple[object, ...], list[tuple[DrawerBox, JointOutcome, tuple[JointOutcome, ...]]]] = {}
    known: dict[JointChoice, _WithJoint | None] = {}
    for box in loaded:
        choices = joint_choices(job, [box])
        for choice in choices:
            if choice not in known:
                known[choice] = _with_joint(job, loaded, choice)
        present = _outcome(box, choices[0], draft)
        if present.bears is None:
            continue
        enough = tuple(_enough(box, choices[1:], known))
        names = tuple(each.choice for each in enough)
        key = (choices[0], use_of(box), present.suits(use_of(box)), present.is_enough, names)
        alike.setdefault(key, []).append((box, present, enough))
    return tuple(_together(some, loads) for some in alike.values())


@dataclass(frozen=True, slots=True)
class _WithJoint:
    """The job with one joint for all loaded drawers, and which of these cannot have it."""

    draft: JobDraft
    barred: frozenset[str]


def _with_joint(job: Job, boxes: Sequence[DrawerBox], choice: JointChoice) -> _WithJoint | None:
    """None where no such job can be made."""
    try:
        draft = draft_job(with_joints(job, {box.name: choice.made_by for box in boxes}))
        stops = [finding for finding in joint_findings(draft) if finding.stops]
    except DrawerwrightError:
        return None
    return _WithJoint(
        draft, frozenset(box.name for box in boxes if any(stop.concerns([box.name]) for stop in stops))
    )


def _outcome(box: DrawerBox, choice: JointChoice, draft: JobDraft) -> JointOutcome:
    return JointOutcome(choice, None, (drawer_bears(draft.drawer(box.name), draft),))


def _enough(
    box: DrawerBox, choices: Sequence[JointChoice], known: dict[JointChoice, _WithJoint | None]
) -> Iterator[JointOutcome]:
    found = []
    for choice in choices:
        made = known[choice]
        if made is not None and box.name not in made.barred:
            outcome = _outcome(box, choice, made.draft)
            if outcome.bears is not None and outcome.suits(use_of(box)):
                found.append(outcome)
    yield from sorted(found, key=lambda outcome: outcome.bears or 0.0)


def _together(
    some: Sequence[tuple[DrawerBox, JointOutcome, tuple[JointOutcome, ...]]], loads: dict[str, Kg]
) -> JointForUse:
    boxes = [box for box, _present, _enough in some]

    def of_all(outcomes: Sequence[JointOutcome]) -> JointOutcome:
        return replace(outcomes[0], drawers=tuple(each for one in outcomes for each in one.drawers))

    enough = tuple(of_all(each) for each in zip(*(row[2] for row in some), strict=True))
    return JointForUse(
        tuple(box.name for box in boxes),
        use_of(boxes[0]),
        tuple(loads[box.name] for box in boxes),
        of_all([present for _box, present, _enough in some]),
        enough,
    )
