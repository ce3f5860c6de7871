"""What a source of columns answers: the best stack of every column width, for given values of the parts."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeAlias

from drawerwright.sheets.solver.columns import Element, Stack
from drawerwright.sheets.solver.filling.fill_table import Values

Takes: TypeAlias = Iterable[tuple[int, int]]
"""Demand number and count."""


class GivenUpError(Exception):
    """A table was left unfinished, because time is up: what depends on it is not known."""


def never() -> bool:
    """Asked whether to give up."""
    return False


class Offer:
    """What a column of one kind is worth, and how it is filled. Capacities count one kerf more than widths."""

    __slots__ = ("_build", "_build_others", "_kerf", "_worth", "kind")

    def __init__(
        self,
        kind: int,
        worth: Callable[[int], int],
        kerf: int,
        build: Callable[[int], Stack],
        others: Callable[[int, int], list[Stack]] | None = None,
    ) -> None:
        self.kind, self._worth, self._kerf, self._build = kind, worth, kerf, build
        self._build_others = others

    def value(self, width: int) -> int:
        """Value of the best stack in a column `width` ticks long."""
        return self._worth(width + self._kerf)

    def stack(self, width: int) -> Stack:
        """The best stack itself."""
        return self._build(width + self._kerf)

    def takes(self, width: int) -> Takes:
        """What the best stack holds: sooner known than the stack, where that is of many rows."""
        return self.stack(width).takes

    def others(self, width: int, floor: int) -> list[Stack]:
        """Some more stacks worth more than `floor`, different from each other."""
        return self._build_others(width + self._kerf, floor) if self._build_others else []


def lookup(best: Values, grain: int = 1) -> Callable[[int], int]:
    """The table's values by capacity, of which the table counts steps of `grain`."""
    return lambda capacity: int(best[capacity // grain])


class StackSource(Protocol):
    """Where stacks come from."""

    @property
    def widths(self) -> tuple[int, ...]:
        """Width along u of every kind of column, by kind number."""

    @property
    def demands(self) -> frozenset[int]:
        """Demand numbers that these stacks can meet."""

    @property
    def coarse_steps(self) -> tuple[int, ...]:
        """Numbers of steps for `offers` with which good stacks are found much quicker than the best ones."""

    @property
    def greedy_steps(self) -> int | None:
        """The number of steps that does for a plan made at once; None where the best stacks are found as quickly."""

    def offers(
        self, values: Sequence[int], at_most: Sequence[int], *, steps: int | None = None
    ) -> list[Offer]:
        """The best stacks for these values of one part of each demand, by kind.

        With `steps` (one of `coarse_steps`) columns are measured in so many steps: good stacks, not the best.

        Raises:
            GivenUpError: the source is a `watched` one.
        """

    @property
    def is_complete(self) -> bool:
        """Whether every useful width of column is tried, so that the best stacks found bound what is possible."""

    def bounding(self) -> StackSource:
        """Stacks for bounds alone, at least as good as any there is: some are wider within than what they take of a
        sheet. The source itself where it is complete.
        """

    def watched(self, give_up: Callable[[], bool]) -> StackSource:
        """The same source, of which `offers` ask `give_up` again and again wherever they take long, and then end."""

    def listing(
        self,
        kind: int,
        width: int,
        values: Sequence[int],
        at_most: Sequence[int],
        floor: int,
        most: int,
        deadline: float = math.inf,
    ) -> list[Stack] | None:
        """Every full stack of a kind within `width` worth at least `floor`.

        None beyond `most`, at the `deadline`, or when unknown.
        """

    def by_width(self) -> list[StackSource]:
        """One source for every width, where each demand fits a single width; else none."""

    def elements(self, counts: Sequence[int], width: int, height: int) -> list[Element]:
        """Bands about as long as they go and single parts that fit a column `height` long and up to `width` wide.

        They hold `counts` of the parts by demand number, but for parts that fit no such column.
        """

    def least_rooms(self, counts: Sequence[int]) -> dict[int, int]:
        """What `counts` of the parts take at the least, by demand number (see `least_room`)."""

    def bars(self, width: int) -> Bars | None:
        """Columns `width` ticks long as bars, where there is one width of column and only kerfs part its parts."""


@dataclass(frozen=True, slots=True)
class Bars:
    """Columns as bars of one length: `lengths` of one part by demand number, and `capacity`, each with one kerf."""

    lengths: dict[int, int]
    capacity: int
    build: Callable[[dict[int, int]], Stack]
    """The column that holds these demand numbers in these counts."""
