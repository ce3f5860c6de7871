"""Which widths a column of loose parts can need."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Collection, Mapping, Sequence

import numpy as np

from drawerwright.sheets.solver.columns import Piece
from drawerwright.sheets.solver.filling.raster import down_to, sums_of

MOST_WIDTHS = 160
"""Column widths that are tried without asking whether fewer would do."""
MOST_STANDING = 600
"""Column widths tried where each stands for others; past this, sums of few parts are tried, `MOST_WIDTHS` of them."""
MOST_CLASSES = 200
"""Classes of all widths, for a bound."""

WidthClass = tuple[int, int]
"""The narrowest and the widest of some widths of column."""


def row_widths(
    pieces: Sequence[Piece],
    copies: Sequence[int],
    kerf: int,
    lengths: Sequence[int],
    *,
    beside: Collection[int] = (),
    alike: bool = False,
) -> tuple[set[int], list[WidthClass]]:
    """Widths that parts side by side can need; where not every plan can do with these, all widths in classes as well.

    A column may as well be wider by what no other column fits beside it: of the widths that leave the same room for
    others on each frame, the largest stands for all.

    Args:
        pieces: the parts.
        copies: how many of each demand are wanted.
        kerf: what the saw takes between two of them.
        lengths: of the frames, rising.
        beside: widths of other columns.
        alike: a row holds parts of one kind only.
    """
    most: Counter[int] = Counter()
    for piece in pieces:
        most[piece.u + kerf] += copies[piece.demand]
    capacity = lengths[-1] + kerf
    groups = [[(piece.u + kerf, copies[piece.demand])] for piece in pieces] if alike else [list(most.items())]
    sums = np.unique(
        np.concatenate([np.zeros(1, np.int64), *(sums_of(kinds, capacity) for kinds in groups)])
    )[1:]
    if len(sums) > MOST_WIDTHS:
        neighbours = sums_of(
            [(size, None) for size in {*most, *(width + kerf for width in beside)}], capacity
        )
        rooms = np.array([down_to(neighbours, length + kerf - sums) for length in lengths])
        _, last = np.unique(rooms[:, ::-1], axis=1, return_index=True)
        sums = np.sort(sums[::-1][last])
    if len(sums) > MOST_STANDING:
        return _sums_of_few(most, kerf, capacity), _in_classes((sums - kerf).tolist(), lengths)
    return {int(total) - kerf for total in sums}, []


def _in_classes(widths: Sequence[int], lengths: Sequence[int]) -> list[WidthClass]:
    """`widths` (rising) in `MOST_CLASSES` at the most, in none of which they lie further apart than need be.

    No class goes beyond one of the `lengths` of the frames.
    """
    low, high = 0, widths[-1]
    while low < high:
        apart = (low + high) // 2
        if len(_apart_at_most(apart, widths, lengths)) > MOST_CLASSES:
            low = apart + 1
        else:
            high = apart
    return _apart_at_most(low, widths, lengths)


def _apart_at_most(apart: int, widths: Sequence[int], lengths: Sequence[int]) -> list[WidthClass]:
    classes: list[WidthClass] = []
    place = 0
    while place < len(widths):
        first = widths[place]
        longest = min((length for length in lengths if length >= first), default=first)
        place = bisect_right(widths, min(first + apart, longest))
        classes.append((first, widths[place - 1]))
    return classes


def _sums_of_few(most: Mapping[int, int], kerf: int, capacity: int) -> set[int]:
    """Widths of as many parts side by side as lead to no more widths than may be tried."""
    layers = [{0}]
    everything: set[int] = set()
    while layers[-1]:
        grown = {
            total + size
            for total in layers[-1]
            for size, count in most.items()
            if len(layers) <= sum(most.values()) and total + size <= capacity and count
        } - everything
        if len(everything) + len(grown) > MOST_WIDTHS and len(layers) > 1:
            break
        everything |= grown
        layers.append(grown)
    return {total - kerf for total in everything}
