"""The best whole-number choice among the columns that a programme knows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from drawerwright.sheets.solver.columns import Stack
from drawerwright.sheets.solver.programme.highs import INFINITY, Column, solve_whole
from drawerwright.sheets.solver.programme.master import Master


@dataclass(frozen=True, slots=True)
class Choice:
    """How often each column (by number) is used, None when nothing was found; `finished` when nothing is better."""

    values: dict[int, int] | None
    finished: bool


def choose(
    master: Master,
    *,
    seconds: float,
    stop: Callable[[], bool],
    bound: int,
    allowed: int | None,
    left: Sequence[int] | None = None,
    placed: Mapping[tuple[int, int], int] | None = None,
    stock: Sequence[int | None] | None = None,
    presolve: bool = True,
) -> Choice:
    """The cheapest use of the columns known.

    Args:
        master: the programme.
        seconds: time limit.
        stop: asked now and then; True ends the search.
        bound: cost that no choice undercuts.
        allowed: cost that is still of use (None: any).
        left: what is still to be cut (None: the whole demand); columns with more of a part are left out.
        placed: columns that are there already and want sheets, by class and kind.
        stock: sheets of each size (None: the task's limits).
        presolve: see `solve_whole`.
    """
    numbers: list[int] = []
    columns: list[Column] = []
    row = len(master.lower)
    scale = master.mean_cost
    for number in range(master.first, len(master.columns)):
        content = master.meanings[number][2]
        if (
            left is not None
            and isinstance(content, Stack)
            and any(count > left[demand] for demand, count in content.takes)
        ):
            continue
        cost, rows, values = master.columns[number]
        numbers.append(number)
        columns.append((cost, [*rows, row], [*values, cost]) if cost else (cost, rows, values))
    lower, upper = list(master.lower), list(master.upper)
    if left is not None:
        lower[: len(left)] = [float(count) for count in left]
        for row_number in master.least_row.values():
            lower[row_number] = 0.0
    for key, count in (placed or {}).items():
        lower[master.link[key]] = float(count)
    for size, row_number in master.limit_row.items():
        if stock is not None:
            upper[row_number] = float(stock[size] or 0)
    if any(column[0] for column in columns):
        lower.append(bound / scale - 1e-6)
        upper.append(INFINITY if allowed is None else allowed / scale + 1e-6)
    else:
        lower.append(-INFINITY)
        upper.append(INFINITY)
    answer = solve_whole(columns, lower, upper, seconds=seconds, stop=stop, presolve=presolve)
    if answer.values is None:
        return Choice(None, answer.finished)
    used = {number: value for number, value in zip(numbers, answer.values, strict=True) if value}
    return Choice(used, answer.finished)
