"""Stacks measured in coarse steps: quick, never too tall, never worth more than the best."""

from __future__ import annotations

import random

from drawerwright.sheets.solver.columns import Piece
from drawerwright.sheets.solver.filling.pieces import PieceStacks

TALL, KERF = 100_000, 32


def source(dice: random.Random) -> PieceStacks:
    return PieceStacks(
        [Piece(demand, 1, dice.randint(20_000, 35_000)) for demand in range(40)],
        kerf=KERF,
        tallest=TALL,
        exact=True,
    )


def test_coarse_stacks_fit_and_come_close_to_the_best() -> None:
    dice = random.Random(11)
    for _ in range(10):
        stacks = source(dice)
        values = [dice.randint(200, 350) for _ in range(40)]
        best = stacks.offers(values, [1] * 40)[0].value(TALL)
        for steps in stacks.coarse_steps:
            offer = stacks.offers(values, [1] * 40, steps=steps)[0]
            stack = offer.stack(TALL)
            assert stack.v <= TALL
            assert sum(values[demand] * count for demand, count in stack.takes) == offer.value(TALL)
            assert 0.98 * best <= offer.value(TALL) <= best


def test_short_columns_have_no_coarse_steps() -> None:
    assert PieceStacks([Piece(0, 1, 40)], kerf=0, tallest=150, exact=True).coarse_steps == ()
