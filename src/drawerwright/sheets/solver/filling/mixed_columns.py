"""Columns in which bands of several lengths lie, made in next to no time.

The widest element that is left opens a column, and of the others those come along that fill it with the most area.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterable, Sequence

from drawerwright.sheets.solver.columns import Element, Piece, Sizing
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.filling.fill_table import FillTable
from drawerwright.sheets.solver.filling.first_fit import first_fit

STEPS = 1_000
"""Steps in which a column is measured at the least; elements are rounded up to them."""


def mixed_columns(
    elements: Iterable[Element],
    height: int,
    kerf: int,
    dice: random.Random | None = None,
    spread: float = 0.0,
) -> list[list[Element]]:
    """Columns `height` ticks long for all `elements`, none of which is longer; the widest comes first in each.

    With `dice` what elements are worth differs from their area by a share of up to `spread`.
    """
    capacity = height + kerf
    grain = max(1, capacity // STEPS)
    left = sorted(elements, key=lambda element: (-element.u, -element.v))
    sizes = [-(-(element.v + kerf) // grain) for element in left]
    worths = [element.u * element.v for element in left]
    if dice is not None:
        worths = [int(worth * dice.uniform(1 - spread, 1 + spread)) for worth in worths]
    columns: list[list[Element]] = []
    places = list(range(len(left)))
    while places:
        first, *rest = places
        table = FillTable((capacity - left[first].v - kerf) // grain)
        for place in rest:
            if sizes[place] <= table.capacity:
                table.offer(place, sizes[place], worths[place], 1)
        taken = table.taken(table.capacity)[0]
        columns.append([left[first], *(left[place] for place in sorted(taken))])
        places = [place for place in rest if place not in taken]
    return columns


def whole_bands(
    families: Iterable[Family], sizing: Sizing, counts: Sequence[int], width: int, longest: int
) -> list[Element]:
    """`counts` of the strips by demand number in as few bands as go quickly, those wider than `width` left out.

    So are strips that fit no band of the `longest`.
    """
    room = longest + sizing.kerf - sizing.overhead
    bands: list[Element] = []
    for family in families if sizing.shortest <= longest else ():
        strips = [
            (size, demand)
            for demand in family.demands
            for size in [sizing.heights[demand] + sizing.kerf]
            for _ in range(counts[demand] if family.u <= width and size <= room else 0)
        ]
        bands += [sizing.band(family.number, family.u, Counter(b).items()) for b in first_fit(strips, room)]
    return bands


def single_pieces(pieces: Iterable[Piece], counts: Sequence[int], width: int, height: int) -> list[Element]:
    """`counts` of the parts by demand number, each turned so that it fits and is widest; others are left out."""
    widest: dict[int, Piece] = {}
    for piece in pieces:
        if piece.u <= width and piece.v <= height:
            widest[piece.demand] = max(widest.get(piece.demand, piece), piece, key=lambda each: each.u)
    return [piece for demand, piece in widest.items() for _ in range(counts[demand])]
