"""What is to be cut from which sheets, in the planner's own terms, and what follows from that alone."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from drawerwright.sheets.solver.columns import Frame, Sizing
from drawerwright.sheets.solver.filling.stacks import StackSource

MOST_STEPS = 2_000_000
"""Totals of costs that are gone through one by one."""


@dataclass(frozen=True)
class Task:
    """What is to be cut, in the planner's own terms.

    `demand` counts by demand number; `areas` are a part's area in square ticks; `limits` say how many sheets
    of each size there are (None: any number); `least_columns` are proven least numbers of columns by width
    (only for tasks in which a demand fits one width alone); `least_alone` are proven least numbers of sheets of
    a size, by its number, if there were no others; `untrimmed` are other sources of the same widths, without bands
    that are shorter than their column is wide (empty: `sources` make none).
    """

    frames: tuple[Frame, ...]
    demand: tuple[int, ...]
    areas: tuple[int, ...]
    limits: tuple[int | None, ...]
    sizing: Sizing
    sources: dict[bool, StackSource]
    least_columns: dict[int, int] = field(default_factory=dict)
    least_alone: dict[int, int] = field(default_factory=dict)
    untrimmed: dict[bool, StackSource] = field(default_factory=dict)

    def watched(self, give_up: Callable[[], bool]) -> Task:
        """The same task, of which `sources` raise `GivenUpError` where they would take long and `give_up` says so."""
        return replace(self, sources={way: source.watched(give_up) for way, source in self.sources.items()})

    @property
    def is_complete(self) -> bool:
        """Whether every useful width of column is tried, so that a bound on columns is one on all plans."""
        return all(source.is_complete for source in self.sources.values())

    @property
    def bounding(self) -> Task:
        """A complete task that costs no more than this one, for bounds alone; the task itself where it is complete."""
        if self.is_complete:
            return self
        sources = {way: source.bounding() for way, source in self.sources.items()}
        return replace(self, sources=sources, untrimmed={})

    @property
    def plain(self) -> Task:
        """The same task, in which every band is as long as its column is wide; the task itself where all are."""
        return replace(self, sources=self.untrimmed, untrimmed={}) if self.untrimmed else self

    @property
    def unit(self) -> int:
        """Costs are whole multiples of this."""
        return math.gcd(*(frame.cost for frame in self.frames)) or 1

    def round_up(self, bound: Fraction | int) -> int:
        """The least cost that any whole number of sheets can have, from `bound` upwards."""
        unit = self.unit
        steps = max(0, math.ceil(Fraction(bound) / unit))
        costs = sorted({frame.cost // unit for frame in self.frames if frame.cost})
        if len(costs) < 2 or steps + costs[0] > MOST_STEPS:
            return steps * unit
        return _least_sum(tuple(costs), steps) * unit


def _least_sum(costs: tuple[int, ...], least: int) -> int:
    """The least total of `costs`, each any number of times, that is at least `least`."""
    span = least + costs[0] + 1
    reach = 1
    mask = (1 << span) - 1
    for cost in costs:
        step = cost
        while step < span:
            reach |= (reach << step) & mask
            step *= 2
    rest = reach >> least
    return least + (rest & -rest).bit_length() - 1


def area_bound(task: Task) -> int:
    """No sheet holds more than its area, of which kerfs and sacrificial strips take their share.

    Limited sheets that cost nothing are taken for granted.
    """
    kerf, wanted = task.sizing.kerf, least_room(task)
    biggest: dict[int, tuple[int, int]] = {}
    for frame in task.frames:
        area = (frame.length + kerf) * (frame.width + kerf)
        if area >= biggest.get(frame.size, (0, 0))[0]:
            biggest[frame.size] = (area, frame.cost)
    rate: Fraction | None = None
    for size, (area, cost) in biggest.items():
        if cost == 0:
            limit = task.limits[size]
            if limit is None:
                return 0
            wanted -= limit * area
        else:
            each = Fraction(cost, area)
            rate = each if rate is None else min(rate, each)
    return task.round_up(max(0, wanted) * rate) if rate is not None else 0


def least_room(task: Task) -> int:
    """What all parts take of sheets at the least, if these were one kerf longer and wider than they are."""
    rooms: dict[int, int] = {}
    for source in task.sources.values():
        for demand, room in source.least_rooms(task.demand).items():
            rooms[demand] = min(room, rooms.get(demand, room))
    return sum(rooms.values())
