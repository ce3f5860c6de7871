"""What if: another sheet size, a thinner blade, one more drawer from the rest, fewer sheets, work over days."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import ceil, inf, log2
from typing import Literal

from drawerwright.basics.errors import InvalidValueError, NoPlanError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.sheets.blanks import LooseDemand, MatchedSet, StripDemand, name_of
from drawerwright.sheets.grid import planned_length
from drawerwright.sheets.plan import PlanProgress, find_plan, plan_sheets
from drawerwright.sheets.problem import SheetPlan, SheetProblem
from drawerwright.sheets.sheet_stock import SheetSize

THIN_BLADE: Mm = 2.2
"""Kerf of a thin saw blade, for the comparison. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Batch:
    """What one drawer, or one project, needs of a stock."""

    label: str
    strips: tuple[StripDemand, ...] = ()
    loose: tuple[LooseDemand, ...] = ()
    matched: tuple[MatchedSet, ...] = ()


@dataclass(frozen=True, slots=True)
class Alternative:
    """A change, and the plan that it would lead to; without plan `reason` says why there is none.

    `saving` is what it would cost less (negative: more), in the currency of the prices, or in sheets where a size
    has no price (`saves_money` is false); None without plan.
    """

    change: str
    plan: SheetPlan | None
    saving: float | None
    reason: str | None = None
    saves_money: bool = False


@dataclass(frozen=True, slots=True)
class FreeDrawers:
    """How many more of a batch the plan's sheets would give at no further cost, and the plan that shows it."""

    batch: Batch
    count: int
    plan: SheetPlan | None


@dataclass(frozen=True, slots=True)
class BatchesWithinStock:
    """The first `count` of the batches that the sheets on hand give, with their plan (None for none)."""

    count: int
    plan: SheetPlan | None


def with_batches(problem: SheetProblem, batches: Sequence[Batch]) -> SheetProblem:
    """`problem` with what `batches` need added; equal keys of equal size are counted together.

    Raises:
        InvalidValueError: a key stands for parts of different size.
    """
    strips: dict[str, StripDemand] = {}
    loose: dict[str, LooseDemand] = {}
    for strip in (*problem.strips, *(strip for batch in batches for strip in batch.strips)):
        before = strips.get(strip.key)
        if before is not None and replace(before, count=0) != replace(strip, count=0):
            raise InvalidValueError(
                phrase("{key} stands for strips of different size: give them different keys", key=strip.key)
            )
        strips[strip.key] = replace(strip, count=strip.count + (before.count if before else 0))
    for part in (*problem.loose, *(part for batch in batches for part in batch.loose)):
        known = loose.get(part.key)
        if known is not None and replace(known, count=0) != replace(part, count=0):
            raise InvalidValueError(
                phrase("{key} stands for parts of different size: give them different keys", key=part.key)
            )
        loose[part.key] = replace(part, count=part.count + (known.count if known else 0))
    matched = (*problem.matched, *(block for batch in batches for block in batch.matched))
    return replace(problem, strips=tuple(strips.values()), loose=tuple(loose.values()), matched=matched)


def compare_alternatives(
    plan: SheetPlan,
    *,
    other_sizes: Sequence[SheetSize] = (),
    unit: Literal["mm", "in"] = "mm",
    time_limit: float = 2.0,
) -> tuple[Alternative, ...]:
    """The same parts with one thing changed at a time: each sheet size alone, and a thinner blade.

    Args:
        plan: the plan to compare with.
        other_sizes: further sizes that could be bought.
        unit: what the parts are sized in.
        time_limit: seconds for each.
    """
    problem = plan.problem
    offcuts = tuple(size for size in problem.sizes if size.is_offcut)
    new = [size for size in problem.sizes if not size.is_offcut]
    found = [
        _changed(
            plan,
            phrase("only sheets {size}", size=size.label),
            replace(problem, sizes=(size, *offcuts)),
            time_limit,
        )
        for size in [*new, *other_sizes]
        if len(new) > 1 or size not in new
    ]
    if problem.saw.kerf > THIN_BLADE:
        kerf = planned_length(THIN_BLADE, unit)
        thinner = replace(problem, saw=replace(problem.saw, kerf=kerf))
        found.append(
            _changed(
                plan,
                phrase("a blade with a kerf of {kerf}", kerf=millimetres(THIN_BLADE, ".1f")),
                thinner,
                time_limit,
            )
        )
    return tuple(found)


def _changed(plan: SheetPlan, change: str, problem: SheetProblem, time_limit: float) -> Alternative:
    try:
        other = plan_sheets(problem, time_limit=time_limit)
    except NoPlanError as error:
        if not _allows_all(problem, plan):
            return Alternative(change, None, None, _why_not(error, problem))
        other = plan
    if _dearness(other) > _dearness(plan) and _allows_all(problem, plan):
        other = plan
    if plan.cost is None or other.cost is None:
        return Alternative(change, other, float(plan.figures.new_sheets - other.figures.new_sheets))
    return Alternative(change, other, plan.cost - other.cost, saves_money=True)


def _why_not(error: NoPlanError, problem: SheetProblem) -> str:
    """Why there is no plan, in a line: of parts that fit nowhere, each of which the error tells, the first."""
    parts: list[StripDemand | LooseDemand] = [*problem.strips, *problem.loose]
    misfits = [name_of(part) for part in parts if part.key in error.keys]
    match misfits:
        case []:
            return str(error)
        case [name]:
            return phrase("{name} fits on none of these sheets", name=name)
    return phrase(
        "{name} and {count} more fit on none of these sheets", name=misfits[0], count=len(misfits) - 1
    )


def _allows_all(problem: SheetProblem, plan: SheetPlan) -> bool:
    """Whether everything that a plan does may be done in a changed problem too: with no wider a kerf its pieces come
    out of its own sheets. A search that ran out of time before it found as good a plan is then no news."""
    return problem.saw.kerf <= plan.problem.saw.kerf and {layout.size for layout in plan.layouts} <= set(
        problem.sizes
    )


def _dearness(plan: SheetPlan) -> float:
    return plan.figures.new_sheets if plan.cost is None else plan.cost


def drawers_for_free(plan: SheetPlan, batch: Batch, *, most: int = 8, time_limit: float = 2.0) -> FreeDrawers:
    """How many more of `batch` come out of the plan's own sheets without a further one, `most` at the most."""
    sheets = _as_stock(plan)
    best: tuple[int, SheetPlan | None] = (0, None)
    for count in range(1, most + 1):
        larger = replace(with_batches(plan.problem, [batch] * count), sizes=sheets)
        found = _first_that_holds(larger, time_limit)
        if found is None:
            break
        best = (count, found)
    return FreeDrawers(batch, *best)


def _first_that_holds(
    problem: SheetProblem, time_limit: float, cancelled: Callable[[], bool] = lambda: False
) -> SheetPlan | None:
    """Any plan that holds everything: where the sheets are there already, none is better than another."""
    found = False

    def watch(progress: PlanProgress) -> None:
        nonlocal found
        found = found or progress.best_cost is not None

    try:
        return find_plan(
            replace(problem, preferences=replace(problem.preferences, later_aims=())),
            progress=watch,
            time_limit=time_limit,
            cancelled=lambda: found or cancelled(),
        )
    except NoPlanError:
        return None


def _as_stock(plan: SheetPlan) -> tuple[SheetSize, ...]:
    """The sizes of a plan, with as many on hand as it uses."""
    counts: dict[SheetSize, int] = {}
    for layout in plan.layouts:
        counts[layout.size] = counts.get(layout.size, 0) + 1
    return tuple(replace(size, on_hand=count) for size, count in counts.items())


def most_within_stock(
    problem: SheetProblem,
    batches: Sequence[Batch],
    *,
    time_limit: float = 2.0,
    last_limit: float | None = None,
    answered: Callable[[], None] = lambda: None,
    cancelled: Callable[[], bool] = lambda: False,
) -> BatchesWithinStock:
    """How many of `batches`, taken in their order, the sheets on hand give.

    A number is only counted with a plan that shows it.

    Args:
        problem: holds what is wanted in any case.
        batches: in their order.
        time_limit: seconds for each of `most_questions`.
        last_limit: seconds to look whether they give one more after all, as often as they do; None for not.
        answered: called after each question; may raise to stop.
        cancelled: asked often; True takes the number that is shown by then.
    """
    low, high = -1, len(batches)
    plans: dict[int, SheetPlan] = {}
    while low < high and not (low > 0 and cancelled()):
        middle = (low + high + 1) // 2
        found = _first_that_holds(with_batches(problem, batches[:middle]), time_limit)
        if found is None:
            high = middle - 1
        else:
            plans[middle] = found
            low = middle
        answered()
    low = max(low, 0)
    while last_limit is not None and low < len(batches) and not cancelled():
        one_more = with_batches(problem, batches[: low + 1])
        found = _first_that_holds(one_more, last_limit, cancelled)
        answered()
        if found is None:
            break
        low += 1
        plans[low] = found
    return BatchesWithinStock(low, plans.get(low))


def most_questions(count: int) -> int:
    """How many questions at the most tell how many of `count` batches there are sheets for; each halves the answers.

    >>> [most_questions(count) for count in (0, 1, 2, 6, 7, 1000)]
    [1, 2, 2, 3, 4, 10]
    """
    return ceil(log2(count + 2))


def left_after(plan: SheetPlan, day: int) -> tuple[SheetSize, ...]:
    """The sizes that are there on the day after `day`: the sheets on hand less what was used, and its offcuts."""
    used: dict[SheetSize, int] = {}
    for layout in plan.layouts:
        used[layout.size] = used.get(layout.size, 0) + 1
    left: list[SheetSize] = []
    for size in plan.problem.sizes:
        on_hand = 1 if size.is_offcut and size.on_hand is None else size.on_hand
        rest = inf if on_hand is None else on_hand - used.get(size, 0)
        if rest == inf:
            left.append(size)
        elif rest > 0 or not size.is_offcut:
            left.append(replace(size, on_hand=int(rest)))
    left += [
        SheetSize(
            phrase("offcut {number} of day {day}", number=number, day=day),
            offcut.length,
            offcut.width,
            None,
            1,
            True,
        )
        for number, offcut in enumerate(plan.kept_offcuts, start=1)
    ]
    return tuple(left)
