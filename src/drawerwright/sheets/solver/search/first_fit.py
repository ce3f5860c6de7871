"""A plan in a moment: every part into the first column that has room for it, every column onto the first such sheet.

Far from the cheapest, but there in milliseconds whatever the job's size, so that a search that has to end at once has
something to show.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from drawerwright.sheets.solver.columns import FilledSheet, Stack
from drawerwright.sheets.solver.task import Task


def first_fit(task: Task, begun: Sequence[FilledSheet] = ()) -> list[FilledSheet] | None:
    """Sheets for all parts, those `begun` among them; None where this simple way runs out of limited sheets."""
    left = Counter({demand: count for demand, count in enumerate(task.demand) if count})
    sheets = list(begun)
    for sheet in begun:
        for stack in sheet.stacks:
            left.subtract(dict(stack.takes))
    left = +left
    numbers = [number for number, frame in enumerate(task.frames) if frame.cost]
    numbers.sort(key=lambda n: (task.limits[task.frames[n].size] is not None, _rate(task, n)))
    used = Counter(task.frames[sheet.frame].size for sheet in begun)
    for number in numbers:
        if not left:
            break
        frame = task.frames[number]
        stacks = task.sources[frame.transposed].first_fit(frame.width, frame.length, left)
        made = _side_by_side(stacks, frame.length + task.sizing.kerf, task.sizing.kerf)
        limit = task.limits[frame.size]
        if limit is not None:
            made = made[: max(0, limit - used[frame.size])]
        used[frame.size] += len(made)
        for held in made:
            for stack in held:
                left.subtract(dict(stack.takes))
        left = +left
        sheets += [FilledSheet(number, tuple(held)) for held in made]
    return None if left else sheets


def _rate(task: Task, number: int) -> float:
    frame = task.frames[number]
    return frame.cost / (frame.length * frame.width)


def _side_by_side(stacks: list[Stack], room: int, kerf: int) -> list[list[Stack]]:
    """Columns onto the first sheet that has room for them, the widest first."""
    sheets: list[list[Stack]] = []
    rooms: list[int] = []
    for stack in sorted(stacks, key=lambda stack: -stack.u):
        size = stack.u + kerf
        place = next((place for place, free in enumerate(rooms) if free >= size), None)
        if place is None:
            sheets.append([])
            rooms.append(room)
            place = len(rooms) - 1
        sheets[place].append(stack)
        rooms[place] -= size
    return sheets
