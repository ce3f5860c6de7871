"""Columns of loose parts: some that hold every part no more often than it is wanted, by an independent count."""

from __future__ import annotations

import random

from drawerwright.sheets.solver.columns import Piece, Sizing
from drawerwright.sheets.solver.filling.bands import BandStacks


def test_other_columns_hold_no_part_more_often_than_it_is_wanted() -> None:
    dice = random.Random(2)
    kerf, tall, wide = 3, 300, 400
    for _ in range(20):
        pieces = [Piece(demand, dice.randint(40, 200), dice.randint(30, 150)) for demand in range(8)]
        wanted = [dice.randint(1, 2) for _ in pieces]
        values = [piece.u * piece.v for piece in pieces]
        source = BandStacks((), pieces, Sizing(kerf), longest=tall, tallest=tall, widest=wide, copies=wanted)
        for offer in source.offers(values, wanted):
            width = source.widths[offer.kind]
            for stack in offer.others(tall, 0):
                assert all(count <= wanted[demand] for demand, count in stack.takes)
                heights = [pieces[demand].v for demand, count in stack.takes for _ in range(count)]
                assert sum(heights) + kerf * (len(heights) - 1) == stack.v <= tall
                assert all(pieces[demand].u <= width for demand, _ in stack.takes)
                assert sum(values[demand] * count for demand, count in stack.takes) <= offer.value(tall)
