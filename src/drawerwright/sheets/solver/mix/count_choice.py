"""How many columns of each width the sheets of each height give, for what the offcuts leave.

A programme over counts of columns, of which each width takes one, and over sheets in whole columns. It may divide
both; how many sheets of each size there are is then tried out, the cheapest first, and counts are drawn for them.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawerwright.sheets.solver.mix.column_counts import ColumnCounts, Counts, Wanted
from drawerwright.sheets.solver.mix.sheet_counts import Kind, SheetCounts
from drawerwright.sheets.solver.programme.highs import INFINITY, GrowingProgram, NothingFitsError
from drawerwright.sheets.solver.programme.master import Master

MOST_CHOICES = 30
"""Counts of columns of one width to choose from."""
USED = 1e-6
"""From this value on the programme uses a column."""
REACH, MOST_NUMBERS = 8, 5_000
"""How many sheets of a size more or less than the programme's own number are tried, and how many numbers in all."""
SWEEPS = 60
"""Draws for each width before numbers of sheets are given up."""
HOT, COOL = 0.1, 0.003
"""Share of a mean sheet that a draw may be short, at the beginning and at the end."""
ENOUGH = 1e-9
"""Share of a mean sheet by which sheets may be short by the rules."""
MOST_RULES = 12
"""Rules learnt from one choice of numbers."""


@dataclass(frozen=True, slots=True)
class Prices:
    """What a column of each kind takes of the sheets, in mean sheets, and what sheets on hand take off the total."""

    of: dict[Kind, float]
    off: float = 0.0


class CountChoice:
    """The programme for what is wanted of each width."""

    def __init__(
        self, master: Master, widths: Sequence[ColumnCounts], sheets: SheetCounts, wanted: Sequence[Wanted]
    ) -> None:
        self._master, self._widths, self._sheets, self._wanted = master, widths, sheets, wanted
        task = master.task
        limits = [task.limits[task.frames[number].size] for number in sheets.frames]
        self._most = [INFINITY if limit is None else float(limit) for limit in limits]
        kinds, frames = list(master.link), len(sheets.frames)
        self._given = {key: row for row, key in enumerate(kinds)}
        self._counted = range(len(kinds), len(kinds) + frames)
        ones = range(len(kinds) + frames, len(kinds) + frames + len(widths))
        self._program = GrowingProgram(
            [*(0.0 for _ in kinds), *(-INFINITY for _ in sheets.frames), *(1.0 for _ in widths)],
            [*(INFINITY for _ in kinds), *self._most, *(INFINITY for _ in widths)],
        )
        self._patterns: list[list[int]] = [[] for _ in sheets.frames]
        for number, content in sheets.patterns:
            frame, place = task.frames[number], sheets.frames.index(number)
            rows = [self._given[master.class_of(frame), kind] for kind, _ in content]
            counts = [float(count) for _, count in content]
            column = (frame.cost / master.mean_cost, [*rows, self._counted[place]], [*counts, 1.0])
            self._patterns[place].append(self._program.add_column(column))
        self._choices: list[dict[int, Counts]] = [{} for _ in widths]
        self._seen: list[set[Counts]] = [set() for _ in widths]
        self._one = list(ones)
        for place in range(len(widths)):
            self._offer(place)

    def _offer(self, place: int) -> None:
        """Offer the counts for the width at `place` that may hold what is wanted, as far as is known now."""
        width = self._widths[place]
        rows = [self._one[place], *(self._given[group, width.kind] for group in width.groups)]
        for chosen in width.choices(self._wanted[place], MOST_CHOICES):
            if chosen not in self._seen[place]:
                self._seen[place].add(chosen)
                column = (0.0, rows, [1.0, *(-float(count) for count in chosen)])
                self._choices[place][self._program.add_column(column)] = chosen

    def relax(self) -> tuple[float, Prices]:
        """The least cost (in mean sheets) if counts and sheets may be divided, and the prices that go with it.

        Counts that do not hold what is wanted are found out and left out.

        Raises:
            NothingFitsError: the sheets on hand do not hold it.
        """
        cost, duals, _ = self._solve()
        prices = {key: max(0.0, float(duals[row])) for key, row in self._given.items()}
        taken = [
            float(duals[row]) * most
            for row, most in zip(self._counted, self._most, strict=True)
            if most < INFINITY
        ]
        return cost, Prices(prices, sum(taken))

    def numbers(self, cost: float, known: int) -> list[tuple[int, ...]]:
        """Numbers of sheets of each frame that cost from `cost` (mean sheets) to less than `known`, by cost."""
        task = self._master.task
        _, _, values = self._program.solve()
        reach = REACH
        while reach > 1 and (2 * reach + 1) ** len(self._patterns) > MOST_NUMBERS:
            reach -= 1
        ranges = []
        for columns, most in zip(self._patterns, self._most, strict=True):
            used = round(float(values[columns].sum()))
            ranges.append(range(max(0, used - reach), int(min(used + reach, most)) + 1))
        costs = [task.frames[number].cost for number in self._sheets.frames]
        least = cost * self._master.mean_cost - task.unit / 1000
        priced = (
            (sum(count * each for count, each in zip(numbers, costs, strict=True)), numbers)
            for numbers in itertools.islice(itertools.product(*ranges), MOST_NUMBERS)
        )
        return [numbers for _, numbers in sorted(pair for pair in priced if least <= pair[0] < known)]

    def settle(
        self, numbers: Sequence[int], dice: random.Random, is_over: Callable[[], bool]
    ) -> list[Counts] | None:
        """Counts for each width from so many sheets of each frame; None when none were found.

        Whole columns may yet not hold what is wanted, nor whole sheets the columns.
        """
        for row, count in zip(self._counted, numbers, strict=True):
            self._program.set_row(row, -INFINITY, float(count))
        try:
            _, _, values = self._solve()
        except NothingFitsError:
            return None
        finally:
            for row, most in zip(self._counted, self._most, strict=True):
                self._program.set_row(row, -INFINITY, most)
        chosen = [choices[max(choices, key=values.__getitem__)] for choices in self._choices if choices]
        for _ in range(MOST_RULES):
            if len(chosen) < len(self._widths) or is_over():
                return None
            offered = [list(choices.values()) for choices in self._choices]
            drawn = _Drawing(self._sheets, self._widths, offered, numbers, chosen).play(dice)
            if drawn is None:
                return None
            columns = {
                (group, width.kind): count
                for width, counts in zip(self._widths, drawn, strict=True)
                for group, count in zip(width.groups, counts, strict=True)
            }
            wrong = [
                place
                for place, width in enumerate(self._widths)
                if not width.holds(self._wanted[place], drawn[place])
            ]
            for place in wrong:
                self.leave_out(place, drawn[place])
            if not wrong and self._sheets.holds(columns, numbers):
                return drawn
            chosen = [
                counts if counts in choices.values() else next(iter(choices.values()))
                for counts, choices in zip(drawn, self._choices, strict=True)
                if choices
            ]
        return None

    def leave_out(self, place: int, counts: Counts) -> None:
        """Offer these counts for the width at `place` no more: they do not hold what is wanted."""
        for column in [column for column, known in self._choices[place].items() if known == counts]:
            del self._choices[place][column]
            self._program.allow(column, False)

    def _solve(self) -> tuple[float, NDArray[np.float64], NDArray[np.float64]]:
        """Solve until no counts are in use that do not hold what is wanted."""
        while True:
            cost, duals, values = self._program.solve()
            wrong = [
                (place, counts)
                for place, choices in enumerate(self._choices)
                for column, counts in choices.items()
                if values[column] > USED and not self._widths[place].holds(self._wanted[place], counts)
            ]
            if not wrong:
                return cost, duals, values
            for place, counts in wrong:
                self.leave_out(place, counts)
                self._offer(place)


class _Drawing:
    """Counts of columns drawn so that sheets in given numbers are not short, by the rules known so far.

    One width after another draws its counts anew, those the likelier that leave the sheets less short, at falling
    heat (S. and D. Geman, IEEE Trans. Pattern Anal. Mach. Intell. 6, 1984).
    """

    def __init__(
        self,
        sheets: SheetCounts,
        widths: Sequence[ColumnCounts],
        offered: Sequence[Sequence[Counts]],
        numbers: Sequence[int],
        chosen: Sequence[Counts],
    ) -> None:
        self._offered = offered
        self._taken = [choices.index(counts) for choices, counts in zip(offered, chosen, strict=True)]
        self._terms: list[list[NDArray[np.float64]]] = []
        """By width and class: what each choice costs by each rule (choices × rules)."""
        for width, choices in zip(widths, offered, strict=True):
            counts = np.array(choices, np.float64)
            self._terms.append(
                [
                    np.outer(counts[:, width.groups.index(group)], prices[:, width.kind])
                    if group in width.groups
                    else np.zeros((len(choices), len(prices)))
                    for group, prices in enumerate(sheets.prices)
                ]
            )
        self._short = [
            np.sum([terms[group][n] for terms, n in zip(self._terms, self._taken, strict=True)], axis=0)
            - worths @ np.array(numbers, np.float64)
            for group, worths in enumerate(sheets.worths)
        ]

    def play(self, dice: random.Random) -> list[Counts] | None:
        """Draw until no rule is broken; None when that does not come about."""
        draws = SWEEPS * len(self._terms)
        for draw in range(draws):
            if sum(max(0.0, float(short.max(initial=0.0))) for short in self._short) < ENOUGH:
                return [choices[n] for choices, n in zip(self._offered, self._taken, strict=True)]
            self._draw(draw % len(self._terms), HOT * (COOL / HOT) ** (draw / draws), dice)
        return None

    def _draw(self, width: int, heat: float, dice: random.Random) -> None:
        terms, place = self._terms[width], self._taken[width]
        others = [short - term[place] for short, term in zip(self._short, terms, strict=True)]
        short = np.sum(
            [
                np.maximum((other + term).max(axis=1, initial=0.0), 0.0)
                for other, term in zip(others, terms, strict=True)
            ],
            axis=0,
        )
        weights = np.cumsum(np.exp((short.min() - short) / heat))
        place = int(np.searchsorted(weights, dice.random() * weights[-1]))
        self._taken[width] = place
        self._short = [other + term[place] for other, term in zip(others, terms, strict=True)]
