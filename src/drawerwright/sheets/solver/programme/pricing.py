"""What a sheet can hold at most for given values of the parts, and the bound on cost that follows.

Parts get whole-number values; no sheet of frame f can hold more than V_f, counted exactly. Scaled so that
V_f <= cost of f for every frame in unlimited supply, the values of all parts add up to a lower bound
(Farley, Oper. Res. 38, 1990), less what limited frames could hold beyond their cost.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from drawerwright.sheets.solver.columns import Frame
from drawerwright.sheets.solver.filling.fill_table import FillTable
from drawerwright.sheets.solver.filling.stacks import Offer
from drawerwright.sheets.solver.task import Task

VALUE_SCALE = 10**8
"""Whole-number value that stands for the cost of a mean sheet."""
TINY_AREA_VALUE = 200
"""Value of a sheet filled with worthless parts: small beside VALUE_SCALE, so that room is not left empty."""


@dataclass(frozen=True, slots=True)
class Certificate:
    """Why a bound holds: whole-number values of the parts (and of columns by width), and what one unit of value
    costs at the least.

    `total` is the value of all that is wanted, `tops` what a sheet of each frame holds at the most.
    """

    values: list[int]
    least: dict[int, int]
    scale: Fraction
    bound: Fraction
    total: int
    tops: tuple[int, ...]


def whole_values(task: Task, duals: Sequence[float]) -> list[int]:
    """Whole-number values of one part of each demand from the programme's `duals`, never above them but for a
    trifle for its area."""
    biggest = max(frame.length * frame.width for frame in task.frames)
    return [
        max(0, math.floor(duals[demand] * VALUE_SCALE)) + TINY_AREA_VALUE * area // biggest
        for demand, area in enumerate(task.areas)
    ]


def best_sheet(
    task: Task,
    frame: Frame,
    offers: Sequence[Offer],
    least: Mapping[int, int],
    standing: Mapping[int, int] | None = None,
) -> tuple[int, tuple[tuple[int, int], ...], dict[int, Offer]]:
    """The most that a sheet of `frame` can hold: its value, its columns (kind, count), and the offers to choose from.

    `least` are values of a column by its width, beside those of its parts; `standing` are values by kind of
    columns that are there already and want a place.
    """
    kerf = task.sizing.kerf
    widths = task.sources[frame.transposed].widths
    table = FillTable(frame.length + kerf)
    chosen: dict[int, Offer] = {}
    reached = 0
    for offer in offers:
        width = widths[offer.kind]
        worth = offer.value(frame.width)
        worth += least.get(width, 0) if worth else 0
        if standing is not None:
            worth = max(worth, standing.get(offer.kind, 0))
        if worth > reached and width <= frame.length:  # else a narrower column is worth as much
            reached = worth
            chosen[offer.kind] = offer
            table.offer(offer.kind, width + kerf, worth, frame.length // width)
    counts, _ = table.taken(frame.length + kerf)
    return int(table.best[-1]), tuple(sorted(counts.items())), chosen


def certify(
    task: Task, values: Sequence[int], least: dict[int, int], tops: Sequence[int], mean_cost: float
) -> Certificate:
    """The bound that `values` prove when a sheet of each frame holds no more than `tops`."""
    total = sum(value * count for value, count in zip(values, task.demand, strict=True))
    total += sum(value * task.least_columns[width] for width, value in least.items())
    scale: Fraction | None = None
    highest: dict[int, list[tuple[int, int]]] = {}
    for frame, top in zip(task.frames, tops, strict=True):
        if task.limits[frame.size] is None:
            if top:
                share = Fraction(frame.cost, top)
                scale = share if scale is None else min(scale, share)
        else:
            highest.setdefault(frame.size, []).append((top, frame.cost))
    if scale is None:
        scale = Fraction(int(mean_cost), VALUE_SCALE)
    bound = scale * total
    for size, pairs in highest.items():
        excess = max(scale * top - cost for top, cost in pairs)
        bound -= (task.limits[size] or 0) * max(Fraction(0), excess)
    return Certificate(list(values), dict(least), scale, bound, total, tuple(tops))
