"""Bounds by numbers of sheets, against every way to put the parts onto them, tried by plain recursion."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from dataclasses import replace

from drawerwright.sheets.solver.columns import Frame, Sizing
from drawerwright.sheets.solver.filling.bands import BandStacks
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.mix.number_proofs import NumberProofs
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.task import Task

KERF, HEIGHT = 3, 60
LENGTHS, COSTS = (200, 130), (5, 3)
OFFCUT = 95


def task_of(widths: Sequence[int], demand: Sequence[int], offcuts: int) -> Task:
    """Parts of one height, one to a column, so that sheets are bars; two sizes are bought, offcuts lie there."""
    families = [Family(n, width, (n,)) for n, width in enumerate(widths)]
    sizing = Sizing(KERF, (HEIGHT,) * len(widths))
    source = BandStacks(families, (), sizing, longest=100, tallest=100, widest=200, copies=demand)
    frames = [
        Frame(n, length, 100, cost) for n, (length, cost) in enumerate(zip(LENGTHS, COSTS, strict=True))
    ]
    if offcuts:
        frames.append(Frame(2, OFFCUT, 100, 0, False, True))
    areas = tuple(HEIGHT * width for width in widths)
    return Task(tuple(frames), tuple(demand), areas, (None, None, offcuts), sizing, {False: source})


def hold(left: tuple[int, ...], rooms: tuple[int, ...], widths: Sequence[int]) -> bool:
    """Whether bars of these lengths hold what is left, one bar after another filled in every way."""
    if not any(left):
        return True
    if not rooms:
        return False
    for taken in itertools.product(*(range(count + 1) for count in left)):
        used = sum((width + KERF) * count for width, count in zip(widths, taken, strict=True))
        rest = tuple(a - b for a, b in zip(left, taken, strict=True))
        if used <= rooms[0] + KERF and hold(rest, rooms[1:], widths):
            return True
    return False


def test_no_numbers_that_do_are_ruled_out_and_the_bound_is_never_above_the_least_cost() -> None:
    dice = random.Random(21)
    higher = 0
    for _ in range(15):
        widths = sorted(dice.sample(range(30, 90), 2))
        demand = tuple(dice.randint(1, 4) for _ in widths)
        offcuts = dice.randint(0, 2)
        task = task_of(widths, demand, offcuts)
        proofs = NumberProofs(task)
        least = 40
        for numbers in itertools.product(range(4), repeat=2):
            rooms = (LENGTHS[0],) * numbers[0] + (LENGTHS[1],) * numbers[1] + (OFFCUT,) * offcuts
            if hold(demand, rooms, widths):
                assert not proofs.rules_out(numbers, lambda: False), (widths, demand, offcuts, numbers)
                least = min(least, sum(n * cost for n, cost in zip(numbers, COSTS, strict=True)))
        master = Master(task)
        master.generate(float("inf"))
        plain = task.round_up(master.bound)
        bound = NumberProofs(task, master).least_cost(plain, 40, lambda: False)
        assert plain <= bound <= least
        higher += bound > plain
        if not offcuts:
            alone = {
                size: next(n for n in range(9) if hold(demand, (length,) * n, widths))
                for size, length in enumerate(LENGTHS)
            }
            proofs = NumberProofs(replace(task, least_alone=alone), master)
            assert bound <= proofs.least_cost(plain, 40, lambda: False) <= least
    assert higher >= 2
