"""The one thing to do next. The questions have an order, and the first that is not settled is the answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.errors import Fault
from drawerwright.basics.findings import FindingGroup
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.glance.known_rows import KnownRow
from drawerwright.job.glance.topics import Sign, Topic, topic_of
from drawerwright.job.glance.tried_cuts import CornerCuts, CutAsks


class Asked(StrEnum):
    """Which question is open."""

    FAULT = "fault"
    STOP = "stop"
    NO_PLAN = "no-plan"
    CUTTER = "cutter"
    STOCK = "stock"
    TEST_CUT = "test-cut"
    CORRECTION = "correction"
    LESSON = "lesson"
    PLANNING = "planning"
    RUN = "run"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class RunSoFar:
    """How far the order of work has come: steps done of how many, and the number (from 1) and title of the first that
    is not, with its `day` where the job is split; no title where all are done."""

    done: int
    count: int
    number: int
    title: str
    day: int | None = None


@dataclass(frozen=True, slots=True)
class JobState:
    """All that decides what is next.

    faults: of the job file. stops: findings before which nothing may be cut, each with the entry that settles it.
    no_plan: why there can be no plan. rows: what is known and missing. tried: corners with test cuts. run: None until
    the job is planned. has_begun: whether a step of the run is done. warnings: findings to weigh first.
    """

    faults: tuple[Fault, ...] = ()
    stops: tuple[tuple[FindingGroup, EntryPath], ...] = ()
    no_plan: str = ""
    rows: tuple[KnownRow, ...] = ()
    tried: tuple[CornerCuts, ...] = ()
    run: RunSoFar | None = None
    has_begun: bool = False
    warnings: int = 0
    is_cut: bool = False
    """Whether all its runs are booked at the rack."""


@dataclass(frozen=True, slots=True)
class NextStep:
    """What to do next, in a sentence; where, and what the button that leads there says.

    `entry` is the entry of the job file that is asked for; a fault's entry is known by its name, `field`; `corner` is
    the token of a corner, `step` the number of a step of the run on its `day`. Without a topic there is nowhere to go.
    """

    asked: Asked
    words: str
    action: str = ""
    topic: Topic | None = None
    entry: EntryPath = ()
    field: str = ""
    corner: str = ""
    step: int | None = None
    day: int | None = None


def next_step(state: JobState) -> NextStep:
    """The first open question of: faults; stops; a plan that cannot be; a correction that test cuts ask for; the run,
    once it is begun; cutter, stock, test cut, and what that taught; and the run.

    What is cut already goes before what could have been measured better.
    """
    if state.faults:
        return _fault(state.faults)
    if state.stops:
        return _stop(*state.stops[0])
    if state.no_plan:
        words = phrase("there is no plan: {reason}", reason=state.no_plan)
        return NextStep(Asked.NO_PLAN, words, phrase("See the sheets"), Topic.SHEETS)
    if state.is_cut:
        words = phrase("nothing. It is cut, and what was left is on the rack.")
        return NextStep(Asked.DONE, words, phrase("See the papers"), Topic.PAPERS)
    if state.run is not None and not state.run.title:
        words = phrase("nothing. Every step of the run is done.")
        return NextStep(Asked.DONE, words, phrase("See the papers"), Topic.PAPERS)
    correction = next((one for one in state.tried if one.asks.is_about_the_cut), None)
    if correction is not None:
        return _correction(correction)
    if not state.has_begun:
        missing = _missing(state.rows)
        if missing is not None:
            return missing
        taught = next((one for one in state.tried if one.asks is CutAsks.KEEP), None)
        if taught is not None:
            words = phrase("accept what the test cut found: lengths, settings and odds then follow it.")
            token = taught.corner.key.token
            return NextStep(Asked.LESSON, words, phrase("Test cut"), Topic.TEST_CUT, corner=token)
    if state.run is None:
        return NextStep(Asked.PLANNING, phrase("wait a moment; the sheets are being planned."))
    return _run(state.run, state.warnings)


def _fault(faults: Sequence[Fault]) -> NextStep:
    first = faults[0]
    place = first.field or (phrase("line {line}", line=first.line) if first.line else phrase("the job file"))
    words = plural(
        "mend {count} fault, at {place}.",
        "mend {count} faults, first that at {place}.",
        len(faults),
        place=place,
    )
    return NextStep(Asked.FAULT, words, phrase("Show it"), Topic.FILE, field=first.field)


def _stop(group: FindingGroup, entry: EntryPath) -> NextStep:
    words = phrase(
        "settle {where}: {text} {remedy}",
        where=group.where,
        text=group.finding.text,
        remedy=group.finding.remedy,
    )
    topic = topic_of(entry) if entry else Topic.CORNER
    return NextStep(Asked.STOP, words, phrase("Show it"), topic, entry)


def _correction(tried: CornerCuts) -> NextStep:
    corner = tried.corner
    if tried.asks is CutAsks.LOOK:
        words = phrase(
            "look at the test cut again ({corner}): its readings leave open how it fits.",
            corner=corner.name,
        )
        return NextStep(Asked.CORRECTION, words, phrase("Answer"), Topic.TEST_CUT, corner=corner.key.token)
    words = phrase("cut once more ({corner}): {to_set}.", corner=corner.name, to_set=tried.to_set)
    return NextStep(Asked.CORRECTION, words, phrase("Test cut"), Topic.TEST_CUT, corner=corner.key.token)


def _missing(rows: Sequence[KnownRow]) -> NextStep | None:
    """The first of what is missing that has something to do about it."""
    for topic, asked, action in (
        (Topic.CUTTER, Asked.CUTTER, phrase("Enter measures")),
        (Topic.STOCK, Asked.STOCK, phrase("Enter readings")),
    ):
        for row in rows:
            if row.topic is topic and row.ask:
                return NextStep(asked, joined((row.ask, row.rests), " "), action, topic, row.entry)
    for row in rows:
        if row.topic is Topic.TEST_CUT and row.sign is not Sign.KNOWN:
            words = phrase("make a test cut on two scraps. It shows what cutter and gauges really do.")
            return NextStep(Asked.TEST_CUT, words, phrase("Test cut"), Topic.TEST_CUT)
    return None


def _run(run: RunSoFar, warnings: int) -> NextStep:
    if not run.done:
        words = phrase("begin the run. Step 1 of {count}: {title}.", count=run.count, title=run.title)
        if warnings:
            words = joined((_weigh(warnings), words), " ")
        return NextStep(Asked.RUN, words, phrase("Begin the run"), Topic.RUN, step=1, day=run.day)
    words = phrase("step {number} of {count}: {title}.", number=run.number, count=run.count, title=run.title)
    action = phrase("Go to this step")
    return NextStep(Asked.RUN, words, action, Topic.RUN, step=run.number, day=run.day)


def _weigh(warnings: int) -> Phrase:
    """Somebody may know better than a warning, so it stops nobody; but it is read before anything is cut."""
    return plural(
        "read {count} warning among the findings and decide about it; then",
        "read {count} warnings among the findings and decide about them; then",
        warnings,
    )
