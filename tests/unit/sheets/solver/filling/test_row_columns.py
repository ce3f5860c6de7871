"""Columns of loose parts: their widths, and the best rows above each other, against counts that share no code."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache
from itertools import product

import numpy as np
import pytest

from drawerwright.sheets.solver.columns import Piece, Sizing
from drawerwright.sheets.solver.filling import row_widths as widths_module
from drawerwright.sheets.solver.filling.bands import BandStacks
from drawerwright.sheets.solver.filling.raster import Raster
from drawerwright.sheets.solver.filling.row_widths import row_widths

KERF = 3


def sums(sizes: Sequence[int], most: int) -> set[int]:
    """Every sum of the sizes up to `most`, one size after the other added to what is reached."""
    reached = {0}
    waiting = [0]
    while waiting:
        total = waiting.pop()
        for size in sizes:
            if total + size <= most and total + size not in reached:
                reached.add(total + size)
                waiting.append(total + size)
    return reached


def test_a_raster_knows_what_every_room_can_still_hold() -> None:
    dice = random.Random(5)
    for _ in range(30):
        sizes = sorted(dice.sample(range(20, 120), 4))
        capacity = dice.randint(150, 500)
        raster = Raster(sizes, capacity)
        reached = sums(sizes, capacity)
        assert raster.rooms[-1] == max(reached)
        for room, *left in zip(raster.rooms.tolist(), *raster.after.tolist(), strict=True):
            for size, place in zip(sizes, left, strict=True):
                fits = room >= size
                assert (place >= 0) == fits
                if fits:
                    assert raster.rooms[place] == max(total for total in reached if total <= room - size)


@pytest.mark.parametrize("beside", [(), (140,)])
def test_widths_that_stand_for_others_leave_room_for_the_same_neighbours(
    beside: tuple[int, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(widths_module, "MOST_WIDTHS", 0)
    dice = random.Random(8)
    for _ in range(20):
        pieces = [Piece(demand, dice.randint(50, 170), 10) for demand in range(4)]
        copies = [dice.randint(1, 3) for _ in pieces]
        lengths = [330, 500]
        standing, classes = row_widths(pieces, copies, KERF, lengths, beside=beside)
        assert not classes
        ways = product(*(range(count + 1) for count in copies))
        rows = [sum(n * (piece.u + KERF) for n, piece in zip(counts, pieces, strict=True)) for counts in ways]
        every = {total - KERF for total in rows if 0 < total <= max(lengths) + KERF}
        assert standing <= every
        for length, width in product(lengths, every):
            for neighbours in sums([piece.u + KERF for piece in pieces] + [w + KERF for w in beside], length):
                if width + neighbours <= length:
                    assert any(width <= other <= length - neighbours for other in standing)


@pytest.mark.parametrize("alike", [False, True])
def test_the_best_column_of_every_width_is_worth_what_a_plain_search_finds(alike: bool) -> None:
    dice = random.Random(3)
    tall, wide = 300, 360
    for _ in range(12):
        pieces = [Piece(demand, dice.randint(60, 200), dice.choice((55, 80, 111))) for demand in range(5)]
        wanted = [dice.randint(0, 2) for _ in pieces]
        values = [dice.randint(1, 40) * piece.u for piece in pieces]
        source = BandStacks(
            (), pieces, Sizing(KERF), longest=tall, tallest=tall, widest=wide, copies=[2] * 5, alike=alike
        )
        rows = [
            (
                max(piece.v for n, piece in zip(counts, pieces, strict=True) if n),
                sum(n * (piece.u + KERF) for n, piece in zip(counts, pieces, strict=True)) - KERF,
                sum(n * value for n, value in zip(counts, values, strict=True)),
            )
            for counts in product(*(range(count + 1) for count in wanted))
            if any(counts) and (not alike or sum(map(bool, counts)) == 1)
        ]

        for offer in source.offers(values, wanted):
            width = source.widths[offer.kind]
            fitting = [(height, worth) for height, across, worth in rows if across <= width]

            @cache
            def best(room: int, fitting: tuple[tuple[int, int], ...] = tuple(fitting)) -> int:
                return max(
                    (worth + best(room - h - KERF, fitting) for h, worth in fitting if h <= room), default=0
                )

            for height in (tall, 170):
                assert offer.value(height) == best(height)
                stack = offer.stack(height)
                assert stack.v <= height
                assert sum(values[demand] * count for demand, count in stack.takes) == best(height)
                assert all(element.u <= width for element in stack.elements)
            taken = [demand for demand, _ in offer.stack(tall).takes]
            assert all(wanted[demand] for demand in taken)


def test_values_may_change_between_two_questions() -> None:
    pieces = [Piece(0, 100, 50), Piece(1, 150, 60)]
    source = BandStacks((), pieces, Sizing(KERF), longest=200, tallest=200, widest=300, copies=[4, 4])
    first = [offer.value(200) for offer in source.offers([10, 1], [4, 4])]
    second = [offer.value(200) for offer in source.offers([1, 10], [4, 4])]
    assert first != second
    assert first == [offer.value(200) for offer in source.offers([10, 1], [4, 4])]
    assert np.all(np.diff(first) >= 0)


def test_what_a_column_holds_is_known_before_it_is_made() -> None:
    dice = random.Random(11)
    for alike in (False, True):
        for _ in range(10):
            sizes = [(dice.randint(60, 160), dice.randint(50, 190)) for _ in range(5)]
            pieces = [Piece(demand, *size) for demand, size in enumerate(sizes)]
            pieces += [Piece(demand, *reversed(size), turned=True) for demand, size in enumerate(sizes)]
            source = BandStacks(
                (), pieces, Sizing(KERF), longest=400, tallest=400, widest=500, copies=[3] * 5, alike=alike
            )
            for offer in source.offers([dice.randint(1, 90) for _ in sizes], [3] * 5):
                held = {demand: count for demand, count in offer.takes(400) if count}
                assert held == dict(offer.stack(400).takes)


@pytest.mark.parametrize("seed", range(5))
def test_taking_twice_as_many_each_time_leaves_what_one_after_the_other_leaves(seed: int) -> None:
    dice = random.Random(seed)
    raster = Raster(sorted(dice.sample(range(20, 120), 4)), 500)
    for after, moves in zip(raster.after.tolist(), raster.moves, strict=True):
        for copies, first, left in moves:
            for place in range(len(after)):
                reached = place
                for _ in range(copies):
                    reached = after[reached] if reached >= 0 else -1
                assert reached == (int(left[place - first]) if place >= first else -1)
