"""What else the sheets of a job could be: other sizes, a thinner blade, drawers for free, fewer sheets."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from drawerwright.basics.phrases import joined, phrase, plain
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.job.planning.needs import drawer_batches
from drawerwright.job.planning.within_stock import SECONDS, Step, count_within
from drawerwright.sheets.alternatives import Alternative, Batch, compare_alternatives, drawers_for_free

MOST_FOR_FREE = 4
"""More drawers for free than this are not looked for."""


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
    """How many of the job's drawers, in their order, come out of one sheet less of a stock; `size` is what one of its
    dearest sheets is called, which is left out."""

    stock: str
    sheets: int
    drawers: int
    size: str


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
        found = compare_alternatives(stock.sheets, unit=plan.job.style.typed_unit, time_limit=seconds)
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
    count = count_within(plan.draft, name, sizes, batches, seconds=seconds)
    return FewerSheets(name, sheets, count, dearest.label)


def free_words(kinds: Sequence[FreeKind]) -> str:
    """The drawers for free, in a sentence; what one kind takes is no longer there for another."""
    if not kinds:
        return phrase("The offcuts yield no further drawer.")
    more = [phrase("{count} more like {drawer}", count=kind.count, drawer=kind.drawers[0]) for kind in kinds]
    return phrase(
        "Free from the offcuts, one kind or the other: {kinds}.",
        kinds=joined(more, ", "),
    )


def fewer_words(fewer: FewerSheets, drawers: int) -> str:
    """What one sheet less gives, in a sentence."""
    return phrase(
        "One sheet fewer ({size}) is enough for the first {some} of the {drawers} drawers.",
        size=fewer.size,
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
                "cost": each.alternative.plan.cost if each.alternative.plan else None,
                "saving": each.alternative.saving,
                "saving_in": "currency" if each.alternative.saves_money else "sheets",
                "reason": each.alternative.reason,
            }
            for each in found.alternatives
        ],
        "drawers_for_free": [{"like": list(kind.drawers), "count": kind.count} for kind in found.free],
        "one_sheet_less": [
            {
                "stock": fewer.stock,
                "size": plain(fewer.size),
                "sheets": fewer.sheets,
                "first_drawers": fewer.drawers,
            }
            for fewer in found.fewer
        ],
        "drawers": found.drawers,
    }
