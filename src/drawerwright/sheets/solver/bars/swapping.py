"""Parts into a given number of equal bars by swapping: what lies beside them goes in for what is worth less there.

Two kinds of moves take turns: up to two parts from beside the bars against up to two of one bar, never the
ones that moved lately (after Glover's tabu search, ORSA J. Comput. 1, 1989); and up to two parts of one bar against
up to two of another, so that full bars get fuller and the rest of the room gathers in few.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

NEVER = 10**12
"""Length that stands for a part that is not there."""
MOST_LOOKED_AT = 60_000
"""Moves compared at a time; beyond, a sample of the bars is looked at."""
MOST_PAIRS = 20
"""Pairs of parts beside the bars that are tried at a time."""
PATIENCE = 60
"""Moves without progress before bars are pressed."""
GATHERED = 0.05
"""How much worse (sum of squared fillings) gathered room may become, now and then."""


def fit_by_swapping(
    lengths: Sequence[int],
    capacity: int,
    bars: Sequence[Sequence[int]],
    beside: Sequence[int],
    *,
    dice: random.Random,
    is_over: Callable[[], bool],
) -> list[list[int]] | None:
    """Bars that hold every part, None when none were found before `is_over`.

    Args:
        lengths: of each part, with its kerf.
        capacity: of each bar, with one kerf.
        bars: numbers of the parts in each bar, to begin with.
        beside: numbers of the parts that are in none.
        dice: for ties and shakes.
        is_over: asked often.

    >>> fit_by_swapping([5, 4, 6, 3, 2], 10, [[0, 1], [2]], [3, 4], dice=random.Random(1), is_over=lambda: False)
    [[1, 2], [3, 0, 4]]
    """
    if sum(lengths) > capacity * len(bars):
        return None
    swaps = _Swaps(lengths, capacity, bars, beside, dice, is_over)
    if swaps.put_in(4 * PATIENCE):
        return swaps.bars
    reached: tuple[int, float, list[list[int]], list[int]] | None = None
    while not is_over():
        swaps.press()
        if swaps.put_in(PATIENCE):
            return swaps.bars
        length, gathered = swaps.length_beside, swaps.gathered
        lenience = GATHERED * dice.random() ** 3 / 2
        if (
            reached is None
            or length < reached[0]
            or (length == reached[0] and gathered >= reached[1] - lenience)
        ):
            reached = (length, gathered, [list(bar) for bar in swaps.bars], list(swaps.beside))
        else:
            swaps.take_up(reached[2], reached[3])
        swaps.shake(3)
    return None


class _Swaps:
    def __init__(
        self,
        lengths: Sequence[int],
        capacity: int,
        bars: Sequence[Sequence[int]],
        beside: Sequence[int],
        dice: random.Random,
        is_over: Callable[[], bool],
    ) -> None:
        self._lengths = np.array([*lengths, NEVER], np.int64)
        self._free_at = np.zeros(len(lengths) + 1, np.int64)
        """Turn from which each part may leave its bar again."""
        self._capacity, self._dice, self._is_over = capacity, dice, is_over
        self._turn = 0
        self.take_up(bars, beside)

    def take_up(self, bars: Sequence[Sequence[int]], beside: Sequence[int]) -> None:
        """Begin from this filling."""
        self.bars, self.beside = [list(bar) for bar in bars], list(beside)
        slots = max((len(bar) for bar in bars), default=0) + 2
        pairs = list(combinations(range(slots), 2))
        self._first = np.array([first for first, _ in pairs], np.intp)
        self._second = np.array([second for _, second in pairs], np.intp)
        self._slots = slots
        self._choices: list[tuple[int, ...]] = [(), *((slot,) for slot in range(slots)), *pairs]
        """Which slots of a bar a move takes out; `_taken` has their length, `_tied` their turn, bar by bar."""
        self._taken = np.zeros((len(self.bars), len(self._choices)), np.int64)
        self._tied = np.zeros_like(self._taken)
        self._loads = np.zeros(len(self.bars), np.int64)
        for bar in range(len(self.bars)):
            self._note(bar)

    @property
    def length_beside(self) -> int:
        return int(self._lengths[self.beside].sum()) if self.beside else 0

    @property
    def gathered(self) -> float:
        """The more, the fewer bars the free room lies in."""
        return float(((self._loads / self._capacity) ** 2).sum())

    def _note(self, bar: int) -> None:
        parts = self.bars[bar]
        if len(parts) > self._slots:
            self.take_up(self.bars, self.beside)
            return
        slots = np.array(parts + [-1] * (self._slots - len(parts)), np.intp)
        for table, values, join in (
            (self._taken, self._lengths[slots], np.add),
            (self._tied, self._free_at[slots], np.maximum),
        ):
            table[bar, 1 : 1 + self._slots] = values
            table[bar, 1 + self._slots :] = join(values[self._first], values[self._second])
        self._loads[bar] = self._lengths[parts].sum() if parts else 0

    def _sample(self, moves_each: int) -> NDArray[np.intp]:
        """Bars to look at in this turn."""
        most = max(8, MOST_LOOKED_AT // max(1, moves_each))
        if len(self.bars) <= most:
            return np.arange(len(self.bars))
        return np.array(self._dice.sample(range(len(self.bars)), most), np.intp)

    def put_in(self, patience: int) -> bool:
        """Bring parts into the bars, until `patience` moves in a row were no progress; True when all are in."""
        least = self.length_beside
        kept = ([list(bar) for bar in self.bars], list(self.beside))
        waited = 0
        while self.beside and waited < patience and not self._is_over():
            self._turn += 1
            if not self._put_in_once():
                break
            length = self.length_beside
            waited += 1
            if length < least:
                least, waited = length, 0
                kept = ([list(bar) for bar in self.bars], list(self.beside))
        if self.beside and self.length_beside > least:
            self.take_up(*kept)
        return not self.beside

    def _put_in_once(self) -> bool:
        """The move that brings in most (or loses least)."""
        pairs = list(combinations(self.beside, 2))
        if len(pairs) > MOST_PAIRS:
            pairs = self._dice.sample(pairs, MOST_PAIRS)
        incoming: list[tuple[int, ...]] = [*((part,) for part in self.beside), *pairs]
        brought = np.array([self._lengths[list(parts)].sum() for parts in incoming], np.int64)
        looked_at = self._sample(len(self._choices) * len(incoming))
        taken = self._taken[looked_at][:, :, None]
        may_move = (self._tied[looked_at] <= self._turn)[:, :, None] & (taken < NEVER)
        fits = taken >= (self._loads[looked_at] - self._capacity)[:, None, None] + brought
        gain = np.where(fits & may_move, brought - taken, -NEVER)
        top = int(gain.max(initial=-NEVER))
        if top <= -NEVER:
            return False
        best = np.flatnonzero(gain == top)
        place = np.unravel_index(int(best[self._dice.randrange(len(best))]), gain.shape)
        bar = int(looked_at[place[0]])
        parts_in = incoming[int(place[2])]
        parts_out = [self.bars[bar][slot] for slot in self._choices[int(place[1])]]
        self.bars[bar] = [part for part in self.bars[bar] if part not in parts_out] + list(parts_in)
        self.beside = [part for part in self.beside if part not in parts_in] + parts_out
        for part in parts_in:
            self._free_at[part] = self._turn + self._dice.randint(3, 12) + len(self.beside)
        self._free_at[parts_out] = 0
        self._note(bar)
        return True

    def press(self) -> None:
        """Swap between bars as long as the free room gathers in fewer of them."""
        order = list(range(len(self.bars)))
        self._dice.shuffle(order)
        order = order[:200]
        is_better = True
        while is_better and not self._is_over():
            is_better = False
            for bar in order:
                if self._is_over():
                    return
                is_better = self._press_once(bar) or is_better

    def _press_once(self, bar: int) -> bool:
        mine = np.flatnonzero(self._taken[bar] < NEVER)
        others = self._sample(len(mine) * len(self._choices))
        theirs = self._taken[others][:, :, None]
        moved = theirs - self._taken[bar, mine]
        load, loads = int(self._loads[bar]), self._loads[others][:, None, None]
        room = self._capacity - load
        allowed = (
            (moved <= room)
            & (loads - moved <= self._capacity)
            & (theirs < NEVER)
            & (others != bar)[:, None, None]
        )
        # (load + moved)² + (other - moved)² less what it was, halved
        gain = np.where(allowed, moved * (load - loads + moved), 0)
        best = int(gain.argmax())
        if gain.ravel()[best] <= 0:
            return False
        place = np.unravel_index(best, gain.shape)
        self._exchange(bar, int(mine[place[2]]), int(others[place[0]]), int(place[1]))
        return True

    def _exchange(self, bar: int, mine: int, other: int, theirs: int) -> None:
        leaving = [self.bars[bar][slot] for slot in self._choices[mine]]
        coming = [self.bars[other][slot] for slot in self._choices[theirs]]
        self.bars[bar] = [part for part in self.bars[bar] if part not in leaving] + coming
        self.bars[other] = [part for part in self.bars[other] if part not in coming] + leaving
        self._note(bar)
        self._note(other)

    def shake(self, times: int) -> None:
        """Swap at random what may be swapped."""
        if len(self.bars) < 2:
            return
        for _ in range(times):
            bar, other = self._dice.sample(range(len(self.bars)), 2)
            mine, theirs = self._taken[bar], self._taken[other][:, None]
            moved = theirs - mine
            allowed = np.flatnonzero(
                (self._loads[bar] + moved <= self._capacity)
                & (self._loads[other] - moved <= self._capacity)
                & (theirs < NEVER)
                & (mine < NEVER)
                & (moved != 0)
            )
            if len(allowed):
                place = int(allowed[self._dice.randrange(len(allowed))])
                self._exchange(bar, place % len(mine), other, place // len(mine))
