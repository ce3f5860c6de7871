"""What else the sheets of a job could be: other sizes, a thinner blade, drawers for free, fewer sheets."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from drawerwright.basics.errors import NoPlanError
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.phrases import joined, phrase, plural
from drawerwright.job.draft import JobDraft, draft_job
from drawerwright.job.job import Job
from drawerwright.job.judging import gravest_first
from drawerwright.job.planning import JobPlan, Watcher, plan_job
from drawerwright.sheets.alternatives import (
    Alternative,
    Batch,
    compare_alternatives,
    drawers_for_free,
    most_within_stock,
)
from drawerwright.sheets.blanks import LooseDemand
from drawerwright.sheets.from_parts import StockBlanks

MOST_FOR_FREE = 4
"""More drawers for free than this are not looked for."""
SECONDS = 2.0
"""How long each question to the sheet planner may take."""

Step = Callable[[int, int], None]
"""Told how many questions are answered, and of how many."""


@dataclass(frozen=True, slots=True)
class StockAlternative:
    """A change to the sheets of one stock, and what it would lead to."""

    stock: str
    alternative: Alternative


@dataclass(frozen=True, slots=True)
class FreeKind:
    """Drawers of one kind (alike in all their parts), and how many more of it the offcuts give for free."""

    drawers: tuple[str, ...]
    count: int


@dataclass(frozen=True, slots=True)
class FewerSheets:
    """How many of the job's drawers, in their order, come out of one sheet less of a stock."""

    stock: str
    sheets: int
    drawers: int


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What else the sheets of a plan could be. `drawers` is how many the job has."""

    alternatives: tuple[StockAlternative, ...]
    free: tuple[FreeKind, ...]
    fewer: tuple[FewerSheets, ...]
    drawers: int


def what_if(plan: JobPlan, *, seconds: float = SECONDS, step: Step | None = None) -> WhatIf:
    """Ask the sheet planner what else could be.

    Args:
        plan: the plan to compare with.
        seconds: for each question.
        step: told how far it is; may raise to stop.
    """
    batches = drawer_batches(plan.draft)
    kinds = _kinds(batches)
    count = 2 * len(plan.stocks) + len(kinds)
    done = 0

    def answered() -> None:
        nonlocal done
        done += 1
        if step is not None:
            step(done, count)

    alternatives: list[StockAlternative] = []
    fewer: list[FewerSheets] = []
    free: list[FreeKind] = []
    for stock in plan.stocks:
        name = stock.blanks.stock.name
        found = compare_alternatives(stock.sheets, time_limit=seconds)
        alternatives += [StockAlternative(name, alternative) for alternative in found]
        answered()
        if stock.sheets.figures.new_sheets > 1:
            fewer.append(_with_one_less(plan, name, batches, seconds))
        answered()
    for drawers in kinds:
        extra = _for_free(plan, batches[drawers[0]], seconds)
        if extra:
            free.append(FreeKind(drawers, extra))
        answered()
    return WhatIf(tuple(alternatives), tuple(free), tuple(fewer), len(batches))


def drawer_batches(draft: JobDraft) -> dict[str, dict[str, Batch]]:
    """What each drawer needs of each stock, by drawer and stock, in the order of the job."""
    found: dict[str, dict[str, Batch]] = {box.name: {} for box in draft.job.all_boxes}
    for blanks in draft.blanks:
        for drawer, batch in _stock_batches(blanks):
            found[drawer][blanks.stock.name] = batch
    return found


def _stock_batches(blanks: StockBlanks) -> Iterator[tuple[str, Batch]]:
    counts: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for key, parts in blanks.members.items():
        for part in parts:
            counts[part.drawer][key] += 1
    # A front that is matched to its neighbours is, on its own, a loose part like any other.
    alone = {
        key: LooseDemand(f"{key} alone", block.length, width, 1)
        for block in blanks.matched
        for key, width in zip(block.keys, block.widths, strict=True)
    }
    loose = {part.key: part for part in blanks.loose} | alone
    for drawer, wanted in counts.items():
        yield (
            drawer,
            Batch(
                drawer,
                tuple(replace(s, count=wanted[s.key]) for s in blanks.strips if s.key in wanted),
                tuple(replace(loose[key], count=number) for key, number in wanted.items() if key in loose),
            ),
        )


def _kinds(batches: Mapping[str, Mapping[str, Batch]]) -> list[tuple[str, ...]]:
    """Drawers that need the same of every stock, the smallest first."""
    alike: dict[Any, list[str]] = defaultdict(list)
    for drawer, needed in batches.items():
        sizes = [(stock, batch.strips, _unnamed(batch)) for stock, batch in needed.items()]
        alike[tuple(sizes)].append(drawer)
    return sorted((tuple(same) for same in alike.values()), key=lambda same: _area(batches[same[0]].values()))


def _unnamed(batch: Batch) -> tuple[tuple[float, float, int], ...]:
    return tuple((part.length, part.width, part.count) for part in batch.loose)


def _area(batches: Sequence[Batch] | Any) -> float:
    return sum(
        [s.length * s.height * s.count for batch in batches for s in batch.strips]
        + [p.length * p.width * p.count for batch in batches for p in batch.loose]
    )


def _for_free(plan: JobPlan, needed: Mapping[str, Batch], seconds: float) -> int:
    """How many more drawers of a kind come out of the sheets of every stock."""
    count = MOST_FOR_FREE
    for stock in sorted(plan.stocks, key=lambda stock: stock.sheets.offcuts_left):
        batch = needed.get(stock.blanks.stock.name)
        if batch is None:
            continue
        area = _area([batch])
        count = min(count, int(stock.sheets.offcuts_left // area)) if area else count
        if count:
            count = drawers_for_free(stock.sheets, batch, most=count, time_limit=seconds).count
        if not count:
            return 0
    return count


def _with_one_less(
    plan: JobPlan, name: str, batches: Mapping[str, Mapping[str, Batch]], seconds: float
) -> FewerSheets:
    (stock,) = (stock for stock in plan.stocks if stock.blanks.stock.name == name)
    sheets = stock.sheets.figures.new_sheets - 1
    used: dict[Any, int] = defaultdict(int)
    for layout in stock.sheets.layouts:
        if not layout.size.is_offcut:
            used[layout.size] += 1
    dearest = max(used, key=stock.sheets.problem.cost_of)
    used[dearest] -= 1
    sizes = tuple(
        size if size.is_offcut else replace(size, on_hand=used.get(size, 0))
        for size in stock.sheets.problem.sizes
    )
    return FewerSheets(name, sheets, _count_within(plan.draft, name, sizes, batches, seconds))


def _count_within(
    draft: JobDraft,
    name: str,
    sizes: Sequence[Any],
    batches: Mapping[str, Mapping[str, Batch]],
    seconds: float,
) -> int:
    """How many drawers, in the order of the job, these sheets of a stock give."""
    (blanks,) = (blanks for blanks in draft.blanks if blanks.stock.name == name)
    empty = replace(draft.sheet_problem(blanks), strips=(), loose=(), matched=(), sizes=tuple(sizes))
    in_order = [needed.get(name, Batch(drawer)) for drawer, needed in batches.items()]
    return most_within_stock(empty, in_order, time_limit=seconds).count


def drawers_within_stock(draft: JobDraft, *, on_hand: int | None = None, seconds: float = SECONDS) -> int:
    """How many drawers, in the order of the job, the sheets on hand give.

    Args:
        draft: of the job.
        on_hand: no more new sheets than this of every size; None takes the job's own limits.
        seconds: for each question to the sheet planner.
    """
    batches = drawer_batches(draft)
    counts = [len(batches)]
    for blanks in draft.blanks:
        sizes = limited_sizes(draft.job, blanks.stock.name, on_hand)
        if any(size.on_hand is not None for size in sizes):
            counts.append(_count_within(draft, blanks.stock.name, sizes, batches, seconds))
    return min(counts)


def plan_within_stock(
    job: Job,
    *,
    on_hand: int | None = None,
    watch: Watcher | None = None,
    time_limit: float | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> JobPlan:
    """Plan as many of a job's drawers, in their order, as the sheets on hand give; a finding names the others.

    Args:
        job: from `read_job`.
        on_hand: no more new sheets than this of every size; None takes the job's own limits.
        watch, time_limit, cancelled: as for `plan_job`.

    Raises:
        NoPlanError: they do not give a single drawer.
    """
    draft = draft_job(job)
    names = [box.name for box in job.all_boxes]
    limited = {name: limited_sizes(job, name, on_hand) for name in job.sheet_sizes}
    for count in range(drawers_within_stock(draft, on_hand=on_hand), 0, -1):
        fewer = replace(job.only(names[:count]), sheet_sizes=limited)
        try:
            plan = plan_job(fewer, watch=watch, time_limit=time_limit, cancelled=cancelled)
        except NoPlanError:
            continue  # fronts that are matched to each other may need more room than each alone
        if count == len(names):
            return plan
        return replace(plan, findings=gravest_first([_left_out(names[count:]), *plan.findings]))
    raise NoPlanError(
        phrase("the sheets on hand do not give a single drawer: allow more sheets or add a size")
    )


def _left_out(names: Sequence[str]) -> Finding:
    return Finding(
        "drawers-left-out",
        Severity.WARNING,
        phrase("sheets"),
        plural(
            "the sheets on hand are not enough for {drawers}, which is left out of this plan.",
            "the sheets on hand are not enough for {drawers}, which are left out of this plan.",
            len(names),
            drawers=joined(names, ", "),
        ),
        phrase("Get more sheets for them, or make them another day."),
    )


def limited_sizes(job: Job, stock: str, on_hand: int | None) -> tuple[Any, ...]:
    """The sizes of a stock with at most so many new sheets of each."""
    return tuple(
        size
        if size.is_offcut or on_hand is None
        else replace(size, on_hand=on_hand if size.on_hand is None else min(on_hand, size.on_hand))
        for size in job.sheet_sizes[stock]
    )


def free_words(kinds: Sequence[FreeKind]) -> str:
    """The drawers for free, in a sentence; what one kind takes is no longer there for another."""
    if not kinds:
        return phrase("No further drawer comes out of the offcuts.")
    more = [phrase("{count} more like {drawer}", count=kind.count, drawer=kind.drawers[0]) for kind in kinds]
    return phrase(
        "For free out of the offcuts, one kind or another: {kinds}.",
        kinds=joined(more, ", "),
    )


def fewer_words(fewer: FewerSheets, drawers: int) -> str:
    """What one sheet less gives, in a sentence."""
    return plural(
        "{count} sheet of {stock} is enough for the first {some} of the {drawers} drawers.",
        "{count} sheets of {stock} are enough for the first {some} of the {drawers} drawers.",
        fewer.sheets,
        stock=fewer.stock,
        some=fewer.drawers,
        drawers=drawers,
    )


def what_if_words(found: WhatIf) -> tuple[str, ...]:
    """Everything but the table of alternatives, in sentences."""
    return (free_words(found.free), *(fewer_words(fewer, found.drawers) for fewer in found.fewer))


def what_if_data(found: WhatIf) -> dict[str, Any]:
    """As JSON-ready data; savings in the currency of the prices, or in sheets where a size has none."""
    return {
        "alternatives": [
            {
                "stock": each.stock,
                "change": each.alternative.change,
                "new_sheets": each.alternative.plan.figures.new_sheets if each.alternative.plan else None,
                "cost": each.alternative.plan.figures.new_sheet_cost if each.alternative.plan else None,
                "saving": each.alternative.saving,
                "reason": each.alternative.reason,
            }
            for each in found.alternatives
        ],
        "drawers_for_free": [{"like": list(kind.drawers), "count": kind.count} for kind in found.free],
        "one_sheet_less": [
            {"stock": fewer.stock, "sheets": fewer.sheets, "first_drawers": fewer.drawers}
            for fewer in found.fewer
        ],
        "drawers": found.drawers,
    }
