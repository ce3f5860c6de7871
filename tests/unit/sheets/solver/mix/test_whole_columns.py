"""Whole columns and whole sheets, against every way there is, counted by plain recursion."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator, Sequence

import numpy as np

from drawerwright.sheets.solver.columns import Frame, Sizing
from drawerwright.sheets.solver.filling.bands import BandStacks
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.mix.column_counts import ColumnCounts
from drawerwright.sheets.solver.mix.offcut_ways import ways_of
from drawerwright.sheets.solver.mix.sheet_counts import SheetCounts
from drawerwright.sheets.solver.mix.whole_columns import WholeColumns
from drawerwright.sheets.solver.outcome import Watch
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.search.cheapest import search
from drawerwright.sheets.solver.task import Task

KERF = 3


def bands(
    heights: Sequence[int], sizing: Sizing, longest: int, tallest: int, copies: Sequence[int]
) -> BandStacks:
    family = Family(0, 50, tuple(range(len(heights))))
    return BandStacks([family], (), sizing, longest=longest, tallest=tallest, widest=900, copies=copies)


def fillings(
    heights: Sequence[int], copies: Sequence[int], room: int, longest: int, overhead: int
) -> set[tuple[int, ...]]:
    """Every choice of strips that one or two bands of a column hold: strips part by part into one band or the other."""

    def length(strips: Sequence[int]) -> int:
        total = sum(height * count for height, count in zip(heights, strips, strict=True))
        return total + KERF * (sum(strips) - 1) + overhead if any(strips) else 0

    found = set()
    for first in itertools.product(*(range(count + 1) for count in copies)):
        rest = [count - taken for count, taken in zip(copies, first, strict=True)]
        for second in itertools.product(*(range(count + 1) for count in rest)):
            lengths = [length(first), length(second)]
            used = sum(lengths) + KERF * (sum(1 for one in lengths if one) - 1)
            if max(lengths) <= longest and used <= room:
                found.add(tuple(a + b for a, b in zip(first, second, strict=True)))
    return found


def test_every_full_column_of_two_bands_is_listed() -> None:
    dice = random.Random(5)
    seen = 0
    for _ in range(60):
        heights = [dice.randint(20, 60) for _ in range(dice.randint(1, 3))]
        copies = [dice.randint(1, 4) for _ in heights]
        longest, room = dice.randint(110, 190), dice.randint(120, 300)
        sizing = Sizing(KERF, tuple(heights), 8, 2)
        listed = bands(heights, sizing, longest, 400, copies).listing(
            0, room, [1] * len(heights), copies, 0, 500
        )
        if listed is None:
            continue
        seen += room > longest
        holds = fillings(heights, copies, room, longest, sizing.overhead)
        mine = {tuple(dict(stack.takes).get(demand, 0) for demand in range(len(heights))) for stack in listed}
        assert mine <= holds
        for strips in holds - {(0,) * len(heights)}:
            assert any(all(a >= b for a, b in zip(full, strips, strict=True)) for full in mine), strips
    assert seen > 20


def master_of(
    heights: Sequence[int], demand: Sequence[int], frames: Sequence[tuple[int, int, int]]
) -> Master:
    tallest = max(width for _, width, _ in frames)
    sizing = Sizing(KERF, tuple(heights))
    source = bands(heights, sizing, tallest, tallest, demand)
    return Master(
        Task(
            tuple(Frame(n, length, width, cost) for n, (length, width, cost) in enumerate(frames)),
            tuple(demand),
            tuple(50 * height for height in heights),
            (None,) * len(frames),
            sizing,
            {False: source},
        )
    )


def hold(left: tuple[int, ...], rooms: tuple[int, ...], heights: Sequence[int]) -> bool:
    """Whether bars of these lengths hold what is left: one bar after another, filled in every way."""
    if not any(left):
        return True
    if not rooms:
        return False
    return any(
        hold(tuple(a - b for a, b in zip(left, taken, strict=True)), rooms[1:], heights)
        for taken in fillable(left, rooms[0] + KERF, heights)
    )


def fillable(left: tuple[int, ...], room: int, heights: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Every choice from `left` to which nothing can be added."""
    for taken in itertools.product(*(range(count + 1) for count in left)):
        free = room - sum((height + KERF) * count for height, count in zip(heights, taken, strict=True))
        more = [h for h, a, b in zip(heights, left, taken, strict=True) if a > b]
        if free >= 0 and all(h + KERF > free for h in more):
            yield taken


def test_counts_of_columns_that_do_are_never_ruled_out() -> None:
    dice = random.Random(8)
    for _ in range(12):
        heights = tuple(dice.sample(range(20, 70), 2))
        wanted = tuple(dice.randint(2, 6) for _ in heights)
        master = master_of(heights, wanted, [(200, 120, 3), (200, 150, 4)])
        width = ColumnCounts(master, 0, master.task.sources[False], [0, 1])
        width.reprice(np.array([[3.0], [4.0]]))
        width.settle(wanted)
        least = None
        for counts in itertools.product(range(7), repeat=2):
            rooms = (120,) * counts[0] + (150,) * counts[1]
            if hold(wanted, rooms, heights):
                assert width.holds(wanted, counts)
                price = 3 * counts[0] + 4 * counts[1]
                least = price if least is None else min(least, price)
        assert least is not None
        assert float(width.cheapest(wanted)[0]) <= least
        while (filled := width.fill(wanted, width.choices(wanted, 1)[0], 5.0, lambda: False)) is None:
            pass
        assert sum(3 if group == 0 else 4 for group, _ in filled) <= least
        held = [sum(dict(stack.takes).get(demand, 0) for _, stack in filled) for demand in range(2)]
        assert all(count >= need for count, need in zip(held, wanted, strict=True))


def test_sheets_that_hold_the_columns_are_never_ruled_out() -> None:
    dice = random.Random(3)
    refused = 0
    for _ in range(12):
        widths = sorted(dice.sample(range(30, 90), 3))
        families = [Family(n, width, (n,)) for n, width in enumerate(widths)]
        sizing = Sizing(KERF, (40, 40, 40))
        demand = tuple(dice.randint(1, 4) for _ in widths)
        source = BandStacks(families, (), sizing, longest=100, tallest=100, widest=200, copies=demand)
        frames = (Frame(0, 200, 100, 5), Frame(1, 130, 100, 3))
        task = Task(frames, demand, (1, 1, 1), (None, None), sizing, {False: source})
        sheets = SheetCounts(Master(task))
        for numbers in itertools.product(range(4), repeat=2):
            rooms = (200,) * numbers[0] + (130,) * numbers[1]
            does = sheets.holds({(0, kind): count for kind, count in enumerate(demand)}, numbers)
            refused += not does
            if hold(demand, rooms, widths):
                assert does
            for prices, worths in zip(sheets.prices[0], sheets.worths[0], strict=True):
                for room, worth in zip((200, 130), worths, strict=True):
                    for taken in fillable(demand, room + KERF, widths):
                        assert sum(p * n for p, n in zip(prices, taken, strict=True)) <= worth + 1e-6
    assert refused > 50


def test_ways_to_cut_an_offcut_fit_and_differ() -> None:
    dice = random.Random(4)
    for _ in range(20):
        heights = [dice.randint(20, 60) for _ in range(4)]
        families = [Family(0, 70, (0, 1)), Family(1, 90, (2, 3))]
        sizing = Sizing(KERF, tuple(heights))
        demand = tuple(dice.randint(1, 5) for _ in heights)
        frame = Frame(0, dice.randint(100, 320), dice.randint(70, 150), 0, False, True)
        source = BandStacks(families, (), sizing, longest=150, tallest=150, widest=320, copies=demand)
        task = Task((frame,), demand, (1,) * 4, (1,), sizing, {False: source})
        values = [10**6 * height * (70 if n < 2 else 90) // 200 for n, height in enumerate(heights)]
        ways = ways_of(task, frame, values, {})
        worths = [sum(values[d] * n for stack in way for d, n in stack.takes) for way in ways]
        assert worths == sorted(worths, reverse=True)
        assert len({tuple(sorted((d, n) for stack in way for d, n in stack.takes)) for way in ways}) == len(
            ways
        )
        for way in ways:
            assert sum(stack.u for stack in way) + KERF * (len(way) - 1) <= frame.length
            assert all(stack.v <= frame.width for stack in way)


def test_the_bound_of_whole_columns_is_never_above_the_least_cost() -> None:
    """Two sizes of different heights: counts of columns of each width and height, all of them tried."""
    dice = random.Random(11)
    lengths, tall, costs = (200, 170), (100, 130), (5, 6)
    higher = 0
    for _ in range(14):
        widths = sorted(dice.sample(range(40, 100), 2))
        heights = [tuple(dice.sample(range(25, 70), 2)) for _ in widths]
        wanted = [tuple(dice.randint(1, 3) for _ in range(2)) for _ in widths]
        families = [Family(0, widths[0], (0, 1)), Family(1, widths[1], (2, 3))]
        sizing = Sizing(KERF, (*heights[0], *heights[1]))
        demand = (*wanted[0], *wanted[1])
        source = BandStacks(families, (), sizing, longest=130, tallest=130, widest=200, copies=demand)
        frames = tuple(Frame(n, lengths[n], tall[n], costs[n]) for n in range(2))
        areas = tuple(widths[n // 2] * height for n, height in enumerate(sizing.heights))
        task = Task(frames, demand, areas, (None, None), sizing, {False: source})
        master = Master(task)
        master.generate(float("inf"))
        finder = WholeColumns(master, Watch(float("inf")), dice, search)
        enough = [
            [
                counts
                for counts in itertools.product(range(5), repeat=2)
                if hold(wanted[w], (tall[0],) * counts[0] + (tall[1],) * counts[1], heights[w])
            ]
            for w in range(2)
        ]
        least = min(
            sum(
                costs[g] * next(n for n in range(9) if hold((a[g], b[g]), (lengths[g],) * n, widths))
                for g in range(2)
            )
            for a, b in itertools.product(*enough)
        )
        bound = finder.bound()
        assert 0 < bound <= least
        higher += task.round_up(bound) > task.round_up(master.bound)
    assert higher >= 1
