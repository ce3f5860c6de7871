"""Sheet tasks so small that every way to cut them is counted, by recursion that shares no code with the planner."""

from __future__ import annotations

import random
from collections.abc import Sequence

from drawerwright.sheets.solver.columns import Frame, Sizing
from drawerwright.sheets.solver.filling.bands import BandStacks
from drawerwright.sheets.solver.filling.families import Family
from drawerwright.sheets.solver.task import Task

KERF, SACRIFICIAL = 3, 5
OVERHEAD = 2 * (SACRIFICIAL + KERF)

Part = tuple[int, int]
"""Width of its column, and height."""


def fits(parts: Sequence[Part], sheets: Sequence[Frame]) -> bool:
    """Whether these sheets hold the parts, one part after the other into every column there is or a new one."""
    columns: list[tuple[int, int, int]] = []
    room = [frame.length + KERF for frame in sheets]

    def put(place: int) -> bool:
        if place == len(parts):
            return True
        width, height = parts[place]
        for number, (sheet, own, left) in enumerate(columns):
            if own == width and height + KERF <= left:
                columns[number] = (sheet, own, left - height - KERF)
                if put(place + 1):
                    return True
                columns[number] = (sheet, own, left)
        for sheet, frame in enumerate(sheets):
            left = frame.width + KERF - OVERHEAD - height - KERF
            if room[sheet] >= width + KERF and left >= 0:
                room[sheet] -= width + KERF
                columns.append((sheet, width, left))
                if put(place + 1):
                    return True
                columns.pop()
                room[sheet] += width + KERF
        return False

    return put(0)


def random_task(seed: int) -> tuple[Task, list[Part], int]:
    dice = random.Random(seed)
    widths = dice.sample(range(30, 70), 3)
    kinds = [(dice.choice(widths), dice.randint(12, 60)) for _ in range(dice.randint(4, 6))]
    kinds = list(dict.fromkeys(kinds))
    demand = [dice.choice((1, 1, 2)) for _ in kinds]
    frames = [Frame(0, 150, 120, 7), Frame(1, 110, 90, 5)]
    offcuts = dice.randint(0, 2)
    for _ in range(offcuts):
        frames.append(Frame(len(frames), dice.randint(40, 90), dice.randint(50, 110), 0, False, True))
    families = [
        Family(number, width, tuple(d for d, (own, _) in enumerate(kinds) if own == width))
        for number, width in enumerate(sorted({width for width, _ in kinds}))
    ]
    sizing = Sizing(KERF, tuple(height for _, height in kinds), SACRIFICIAL, 2)
    tallest, widest = max(f.width for f in frames), max(f.length for f in frames)
    source = BandStacks(families, (), sizing, longest=tallest, tallest=tallest, widest=widest, copies=demand)
    task = Task(
        tuple(frames),
        tuple(demand),
        tuple(width * height for width, height in kinds),
        tuple(None if frame.cost else 1 for frame in frames),
        sizing,
        {False: source},
    )
    parts = [kind for kind, count in zip(kinds, demand, strict=True) for _ in range(count)]
    return task, parts, offcuts
