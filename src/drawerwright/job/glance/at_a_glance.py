"""The use case `at a glance`: all that the first page of a job says."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from drawerwright.basics.findings import Finding, FindingGroup, Severity, grouped
from drawerwright.basics.lengths import Mm
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.glance.known_rows import KnownRow, known_rows
from drawerwright.job.glance.next_step import JobState, NextStep, RunSoFar, next_step
from drawerwright.job.glance.topics import Sign, Topic, gravest, topic_of
from drawerwright.job.glance.tried_cuts import CornerCuts
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.planning.entries_concerned import entries_concerned
from drawerwright.job.planning.first_cut_odds import TogetherOdds
from drawerwright.job.planning.job_findings import gravest_first
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.planning.odds_words import advice_words, unknown_odds_words
from drawerwright.job.planning.shown_job import ShownJob
from drawerwright.job.run_list import tick_names

SHOWN = 3
"""Decimals (mm) to which readings of a gauge are told apart."""


@dataclass(frozen=True, slots=True)
class JobFacts:
    """What is known of a job when it is looked at.

    data: the entries of its file. shown: what the file is worth. plans: one, or one for each day of a split job;
    none while they are made, or where `no_plan` says why there are none. tried: corners with test cuts. ticked: the
    steps of the run that are done. is_cut: whether all its runs are booked at the rack.
    """

    data: Any
    shown: ShownJob
    plans: tuple[JobPlan, ...] = ()
    no_plan: str = ""
    tried: tuple[CornerCuts, ...] = ()
    ticked: Collection[str] = ()
    is_cut: bool = False


@dataclass(frozen=True, slots=True)
class GaugesToSet:
    """What height gauge and fence scale have to show for the next cut with a cutter (mm), each fence once.

    `setups` are the numbers of the set-ups with these fences; empty until the job is planned.
    """

    cutter: str
    height: Mm
    fences: tuple[Mm, ...]
    setups: tuple[int, ...] = ()

    def as_set_up(self, plan: JobPlan) -> GaugesToSet:
        """The same in the order of a plan's set-ups; unchanged where the plan does not have them all, as on one day of
        several."""
        numbers = {
            round(setup.fence_reading, SHOWN): setup.number
            for setup in reversed(plan.run.setups)
            if (setup.cutter.name, round(setup.height_reading, SHOWN)) == (self.cutter, self.height)
        }
        if not numbers.keys() >= set(self.fences):
            return self
        fences = tuple(sorted(self.fences, key=numbers.__getitem__))
        return replace(self, fences=fences, setups=tuple(numbers[fence] for fence in fences))


@dataclass(frozen=True, slots=True)
class SheetsToHave:
    """So many sheets of one size; `cost` is None where one has no price."""

    stock: str
    label: str
    count: int
    cost: float | None
    is_offcut: bool


@dataclass(frozen=True, slots=True)
class KindOfWork:
    """What is done at one machine, in minutes."""

    machine: str
    minutes: float


@dataclass(frozen=True, slots=True)
class PlacedFinding:
    """What is said alike of several places, by its number on the page, and the first entry that it concerns."""

    number: int
    group: FindingGroup
    entry: EntryPath
    topic: Topic


@dataclass(frozen=True)
class Glance:
    """A job at a glance. `sheets`, `work`, `together` and `advice` are empty until it is planned."""

    next: NextStep
    rows: tuple[KnownRow, ...] = ()
    findings: tuple[PlacedFinding, ...] = ()
    gauges: tuple[GaugesToSet, ...] = ()
    sheets: tuple[SheetsToHave, ...] = ()
    is_proven: bool = False
    work: tuple[KindOfWork, ...] = ()
    together: TogetherOdds | None = None
    advice: tuple[str, ...] = ()
    run: RunSoFar | None = None
    is_next_cut: bool = False
    """Whether test cuts were made before."""
    signs: Mapping[Topic, Sign] = field(default_factory=dict)

    @property
    def cost(self) -> float | None:
        """What all the sheets cost; None where one has no price."""
        costs = [line.cost for line in self.sheets]
        return sum(cost for cost in costs if cost is not None) if all(c is not None for c in costs) else None

    @property
    def minutes(self) -> float:
        """Of the whole work."""
        return sum(kind.minutes for kind in self.work)


def at_a_glance(facts: JobFacts) -> Glance:
    """What to do next, what is known, and what follows from it."""
    draft = facts.shown.draft
    rows = () if draft is None else known_rows(draft, facts.tried)
    findings = () if draft is None else _placed(draft, facts, rows)
    run = _run_so_far(facts)
    state = JobState(
        facts.shown.faults,
        tuple((placed.group, placed.entry) for placed in findings if placed.group.stops),
        facts.no_plan,
        rows,
        facts.tried,
        run,
        bool(facts.ticked),
        sum(placed.group.severity is Severity.WARNING for placed in findings),
        facts.is_cut,
    )
    # Odds of several days are those of each day; the first is the one that is cut next.
    again = next((one for one in facts.tried if one.gauges), None)
    odds = facts.plans[0].odds if facts.plans and again is None else None
    worst = None if odds is None else odds.worst
    return Glance(
        next_step(state),
        rows,
        findings,
        _gauges(facts) if again is None else _gauges_for_another(again),
        tuple(_sheets(facts.plans)),
        _are_proven(facts.plans),
        _work(facts.plans),
        None if odds is None or worst is None or not worst.is_judged else odds.whole,
        () if worst is None else advice_words(worst) if worst.is_judged else (unknown_odds_words(),),
        run,
        again is not None or (draft is not None and _has_accepted_cuts(draft)),
        _signs(facts, rows, findings, run),
    )


def _has_accepted_cuts(draft: JobDraft) -> bool:
    return any(cutter.table.settled is not None for cutter in draft.job.cutters_in_use)


def _gauges_for_another(tried: CornerCuts) -> tuple[GaugesToSet, ...]:
    """What a test cut says to set for another one: nothing else is cut before it."""
    height, *fences = (round(value, SHOWN) for value in tried.gauges)
    return (GaugesToSet(tried.corner.key.cutter, height, tuple(sorted(set(fences)))),)


def gauges_to_set(draft: JobDraft) -> tuple[GaugesToSet, ...]:
    """What the gauges have to show for every corner of a job: each bit height once, with the fences cut at it."""
    found: dict[tuple[str, Mm], list[Mm]] = {}
    for corner in draft.corners:
        cutter, setting = draft.job.cutter_of(corner.key.cutter), corner.setting
        height = round(cutter.table.height_reading(setting.bit_height), SHOWN)
        fences = found.setdefault((cutter.name, height), [])
        fences += [
            round(cutter.table.fence_reading(fence), SHOWN)
            for fence in (setting.fence_flat, setting.fence_upright)
        ]
    return tuple(
        GaugesToSet(cutter, height, tuple(sorted(set(fences)))) for (cutter, height), fences in found.items()
    )


def _gauges(facts: JobFacts) -> tuple[GaugesToSet, ...]:
    if facts.shown.draft is None:
        return ()
    gauges = gauges_to_set(facts.shown.draft)
    return tuple(each.as_set_up(facts.plans[0]) for each in gauges) if facts.plans else gauges


def _placed(draft: JobDraft, facts: JobFacts, rows: Sequence[KnownRow]) -> tuple[PlacedFinding, ...]:
    found: Iterable[Finding] = facts.shown.findings
    if facts.plans:
        found = gravest_first(finding for plan in facts.plans for finding in plan.findings)
    missing = next((row.entry for row in rows if row.sign is not Sign.KNOWN and row.entry), ())
    return placed_findings(draft, found, facts.data, missing)


def placed_findings(
    draft: JobDraft, findings: Iterable[Finding], data: Any, otherwise: EntryPath = ()
) -> tuple[PlacedFinding, ...]:
    """Findings in their order, what is said alike together, each with its number and the first entry that it concerns:
    `otherwise` where it concerns none."""
    placed = []
    for number, group in enumerate(grouped(findings), start=1):
        entries = (path for one in group.members for path in entries_concerned(one, draft, data))
        entry = next(entries, otherwise)
        placed.append(PlacedFinding(number, group, entry, topic_of(entry) if entry else Topic.CORNER))
    return tuple(placed)


def _sheets(plans: Sequence[JobPlan]) -> Iterator[SheetsToHave]:
    """What to have ready; of a job that is split, offcuts of an earlier day are not asked for."""
    counts: dict[tuple[str, str, bool], tuple[int, float | None]] = {}
    for day, plan in enumerate(plans):
        for stock in plan.stocks:
            for line in stock.sheets.shopping_list:
                if day and line.size.is_offcut:
                    continue
                key = stock.blanks.stock.name, line.size.label, line.size.is_offcut
                count, cost = counts.get(key, (0, 0.0))
                total = None if cost is None or line.cost is None else cost + line.cost
                counts[key] = count + line.count, total
    for (stock_name, label, is_offcut), (count, cost) in counts.items():
        yield SheetsToHave(stock_name, label, count, cost, is_offcut)


def _work(plans: Sequence[JobPlan]) -> tuple[KindOfWork, ...]:
    minutes: dict[str, float] = {}
    for plan in plans:
        for step in plan.run.steps:
            minutes[step.machine] = minutes.get(step.machine, 0.0) + step.minutes
    return tuple(KindOfWork(machine, spent) for machine, spent in minutes.items())


def _run_so_far(facts: JobFacts) -> RunSoFar | None:
    if not facts.plans or facts.shown.draft is None:
        return None
    days = range(1, len(facts.plans) + 1) if facts.shown.draft.job.days else [None]
    steps = [
        (day, number, step.title, key in facts.ticked)
        for day, plan in zip(days, facts.plans, strict=True)
        for number, (key, step) in enumerate(
            zip(tick_names(plan, facts.ticked, day), plan.run.steps, strict=True), start=1
        )
    ]
    done = sum(is_done for *_step, is_done in steps)
    for day, number, title, is_done in steps:
        if not is_done:
            return RunSoFar(done, len(steps), number, title, day)
    return RunSoFar(done, len(steps), len(steps), "")


def _signs(
    facts: JobFacts, rows: Sequence[KnownRow], findings: Sequence[PlacedFinding], run: RunSoFar | None
) -> Mapping[Topic, Sign]:
    if facts.shown.draft is None:
        faulty = {
            topic_of((fault.field.split(".")[0].split("[")[0],))
            for fault in facts.shown.faults
            if fault.field
        }
        return {topic: Sign.STOP if topic in faulty else Sign.OPEN for topic in _SIGNED}
    marks: dict[Topic, list[Sign]] = {topic: [] for topic in _SIGNED}
    for row in rows:
        marks[row.topic].append(row.sign)
    for placed in findings:
        if placed.group.severity is not Severity.NOTE:
            marks[placed.topic].append(Sign.STOP if placed.group.stops else Sign.DOUBTFUL)
    marks[Topic.CORNER] += [row.sign for row in rows if row.topic is Topic.CUTTER]
    marks[Topic.CORNER] += [
        row.sign for row in rows if row.entry[1:2] and row.entry[1] in _corner_stocks(facts.shown.draft)
    ]
    marks[Topic.SHEETS].append(_sheet_sign(facts))
    marks[Topic.RUN].append(Sign.KNOWN if run is not None and not run.title else Sign.OPEN)
    marks[Topic.PAPERS].append(Sign.KNOWN if facts.plans else Sign.OPEN)
    return {topic: gravest(*found) for topic, found in marks.items()}


_SIGNED = tuple(topic for topic in Topic if topic is not Topic.FILE)


def _corner_stocks(draft: JobDraft) -> frozenset[str]:
    """The stocks whose thickness a corner rests on."""
    return frozenset(
        stock.name for corner in draft.corners for stock in (corner.keyed.flat, corner.keyed.upright)
    )


def _sheet_sign(facts: JobFacts) -> Sign:
    if facts.no_plan:
        return Sign.STOP
    if not facts.plans:
        return Sign.OPEN
    return Sign.KNOWN if _are_proven(facts.plans) else Sign.DOUBTFUL


def _are_proven(plans: Sequence[JobPlan]) -> bool:
    """Whether there is a plan, and the sheets of each stock are proven."""
    return bool(plans) and all(stock.sheets.proven for plan in plans for stock in plan.stocks)
