"""Which widths a column of loose parts can need."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

import numpy as np

from drawerwright.sheets.solver.columns import Piece
from drawerwright.sheets.solver.filling.raster import down_to, sums_of

MOST_WIDTHS = 160
"""Column widths that are tried without asking whether fewer would do."""
MOST_STANDING = 600
"""Column widths tried where each stands for others; past this, sums of few parts are tried, `MOST_WIDTHS` of them."""


def row_widths(
    pieces: Sequence[Piece],
    copies: Sequence[int],
    kerf: int,
    lengths: Sequence[int],
    *,
    beside: Collection[int] = (),
    alike: bool = False,
) -> tuple[set[int], bool]:
    """Widths that parts side by side can need, and whether every plan can do with these.

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
        sums = sums[::-1][last]
    if len(sums) > MOST_STANDING:
        return _sums_of_few(most, kerf, capacity), False
    return {int(total) - kerf for total in sums}, True


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
