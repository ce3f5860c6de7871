"""How many drawers the sheets on hand give: the first of a job that they hold, and their plan."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeAlias

from drawerwright.basics.errors import NoPlanError
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.phrases import joined, phrase, plural
from drawerwright.job.job import Job
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.planning.job_findings import gravest_first
from drawerwright.job.planning.job_plan import JobPlan, Watcher, plan_job
from drawerwright.job.planning.needs import drawer_batches
from drawerwright.sheets.alternatives import Batch, most_questions, most_within_stock
from drawerwright.sheets.patterns import Offcut
from drawerwright.sheets.sheet_stock import SheetSize

SECONDS = 2.0
"""How long each question to the sheet planner may take."""

Step: TypeAlias = Callable[[int, int], None]
"""Told how many questions are answered, and of how many at the most; may raise to stop."""


@dataclass(frozen=True, slots=True)
class SizeUse:
    """Sheets of one size: how many are cut up, and how many stay whole (None where there is no limit)."""

    stock: str
    size: SheetSize
    used: int
    left: int | None


@dataclass(frozen=True, slots=True)
class WithinStock:
    """The first drawers of a job that the sheets on hand hold.

    `plan` is of them alone, `left_out` names the others. `short` names the stocks whose sheets hold no more.
    """

    plan: JobPlan
    left_out: tuple[str, ...]
    short: tuple[str, ...]

    @property
    def drawers(self) -> tuple[str, ...]:
        """Those that are made, in their order."""
        return tuple(box.name for box in self.plan.job.all_boxes)

    @property
    def sizes(self) -> tuple[SizeUse, ...]:
        """Every size of the stocks that are cut, used or limited."""
        uses = []
        for stock in self.plan.stocks:
            used = [layout.size for layout in stock.sheets.layouts]
            for size in stock.sheets.problem.sizes:
                count = used.count(size)
                if count or size.on_hand:
                    left = None if size.on_hand is None else size.on_hand - count
                    uses.append(SizeUse(stock.blanks.stock.name, size, count, left))
        return tuple(uses)

    @property
    def offcuts(self) -> tuple[tuple[str, tuple[Offcut, ...]], ...]:
        """What is left over of each stock that is worth keeping, the largest first."""
        return tuple((stock.blanks.stock.name, stock.sheets.kept_offcuts) for stock in self.plan.stocks)


def counts_sheets(job: Job) -> bool:
    """Whether a job says of any size how many new sheets of it there are; without that the question has no answer."""
    sizes = [size for sizes in job.sheet_sizes.values() for size in sizes if not size.is_offcut]
    return any(size.on_hand is not None for size in sizes)


def plan_within_stock(
    job: Job,
    *,
    on_hand: int | None = None,
    step: Step | None = None,
    watch: Watcher | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> WithinStock:
    """Plan as many of a job's drawers, in their order, as the sheets on hand give; a finding names the others.

    Args:
        job: from `read_job`.
        on_hand: no more new sheets than this of every size; None takes the job's own limits.
        step: told how far it is.
        watch, time_limit, cancelled: as for `plan_job`.

    Raises:
        NoPlanError: they do not give a single drawer.
    """
    draft = draft_job(job)
    limited = {name: limited_sizes(job, name, on_hand) for name in job.sheet_sizes}
    names = [box.name for box in job.all_boxes]
    last = job.sheets_time_limit if time_limit is None else time_limit
    counts = _counts(draft, limited, last, step, cancelled or (lambda: False))
    for count in range(min([len(names), *counts.values()]), 0, -1):
        fewer = replace(job.only(names[:count]), sheet_sizes=limited)
        try:
            plan = plan_job(fewer, watch=watch, time_limit=time_limit, cancelled=cancelled)
        except NoPlanError:
            continue  # fronts that are matched to each other may need more room than each alone
        left_out = tuple(names[count:])
        if left_out:
            plan = replace(plan, findings=gravest_first([_left_out(left_out), *plan.findings]))
        short = tuple(stock for stock, most in counts.items() if most == min(counts.values()) < len(names))
        return WithinStock(plan, left_out, short)
    raise NoPlanError(
        phrase("the sheets on hand do not yield a single drawer: allow more sheets or add a size")
    )


def _counts(
    draft: JobDraft,
    limited: Mapping[str, tuple[SheetSize, ...]],
    last_seconds: float,
    step: Step | None,
    cancelled: Callable[[], bool],
) -> dict[str, int]:
    """How many drawers, in the order of the job, each stock gives that there is a limit of."""
    batches = drawer_batches(draft)
    stocks = [
        blanks.stock.name
        for blanks in draft.blanks
        if any(size.on_hand is not None for size in limited[blanks.stock.name])
    ]
    most = most_questions(len(batches)) + 1
    counts: dict[str, int] = {}
    asked = 0

    def answered() -> None:
        nonlocal asked
        asked = min(asked + 1, (len(counts) + 1) * most)
        if step is not None:
            step(asked, most * len(stocks) + 1)  # the last one is for the plan

    for name in stocks:
        counts[name] = count_within(
            draft,
            name,
            limited[name],
            batches,
            last_seconds=last_seconds,
            answered=answered,
            cancelled=cancelled,
        )
        asked = len(counts) * most
    return counts


def count_within(
    draft: JobDraft,
    name: str,
    sizes: Sequence[SheetSize],
    batches: Mapping[str, Mapping[str, Batch]],
    *,
    seconds: float = SECONDS,
    last_seconds: float | None = None,
    answered: Callable[[], None] = lambda: None,
    cancelled: Callable[[], bool] = lambda: False,
) -> int:
    """How many drawers, in the order of the job, these sheets of a stock give.

    Args:
        draft: of the job.
        name: of the stock.
        sizes: of its sheets, as many of each as are on hand.
        batches: what each drawer needs, from `drawer_batches`.
        seconds: for each question to the sheet planner.
        last_seconds: to look whether there is one more drawer after all; None for not.
        answered: called after each question.
        cancelled: True takes the number that is shown by then.
    """
    (blanks,) = (blanks for blanks in draft.blanks if blanks.stock.name == name)
    empty = replace(draft.sheet_problem(blanks), strips=(), loose=(), matched=(), sizes=tuple(sizes))
    in_order = [needed.get(name, Batch(drawer)) for drawer, needed in batches.items()]
    return most_within_stock(
        empty,
        in_order,
        time_limit=seconds,
        last_limit=last_seconds,
        answered=answered,
        cancelled=cancelled,
    ).count


def _left_out(names: Sequence[str]) -> Finding:
    return Finding(
        "drawers-left-out",
        Severity.WARNING,
        phrase("sheets"),
        plural(
            "the sheets on hand are not enough for {drawers}, left out of this plan.",
            "the sheets on hand are not enough for {drawers}, left out of this plan.",
            len(names),
            drawers=joined(names, ", "),
        ),
        phrase("Get more sheets for them, or make them another day."),
        tuple(names),
    )


def limited_sizes(job: Job, stock: str, on_hand: int | None) -> tuple[SheetSize, ...]:
    """The sizes of a stock, limited to this many new sheets of each."""
    return tuple(
        size
        if size.is_offcut or on_hand is None
        else replace(size, on_hand=on_hand if size.on_hand is None else min(on_hand, size.on_hand))
        for size in job.sheet_sizes[stock]
    )


def within_stock_words(found: WithinStock, on_hand: int | None) -> tuple[str, ...]:
    """The answer in sentences, the first of them how many drawers it is."""
    made, count = len(found.drawers), len(found.drawers) + len(found.left_out)
    if on_hand is None:
        answer = plural(
            "The sheets on hand yield {made} of {count} drawer.",
            "The sheets on hand yield {made} of {count} drawers.",
            count,
            made=made,
        )
    else:
        answer = plural(
            "{count} new sheet of each size yields {made} of {all} drawers.",
            "{count} new sheets of each size yield {made} of {all} drawers.",
            on_hand,
            made=made,
            all=count,
        )
    lines = [answer, phrase("To make: {drawers}.", drawers=joined(found.drawers, ", "))]
    if found.left_out:
        lines.append(phrase("No room for: {drawers}.", drawers=joined(found.left_out, ", ")))
    if found.short:
        lines.append(phrase("Running short: {stocks}.", stocks=joined(found.short, ", ")))
    return tuple(lines)


def within_stock_data(found: WithinStock) -> dict[str, Any]:
    """As JSON-ready data, lengths in mm."""
    return {
        "drawers": list(found.drawers),
        "left_out": list(found.left_out),
        "short": list(found.short),
        "sizes": [
            {"stock": use.stock, "size": use.size.label, "cut_up": use.used, "stay_whole": use.left}
            for use in found.sizes
        ],
        "left_over": [
            {"stock": stock, "length": offcut.length, "width": offcut.width}
            for stock, offcuts in found.offcuts
            for offcut in offcuts
        ],
    }
