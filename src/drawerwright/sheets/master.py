"""Column generation for sheets cut in columns: bounds that hold, and the columns that good plans are made of.

Two kinds of variables: stacks (what fills a column) and sheet patterns (how many columns of each kind a sheet
holds). A link per frame and kind of column says that no more stacks are used than patterns provide. That is
as strong as patterns of whole sheets (Gilmore and Gomory, Oper. Res. 13, 1965) and lets stacks change places
freely. Frames that are `apart` (offcuts) take patterns of whole sheets instead.

Bounds: parts get whole-number values; no sheet of frame f can hold more than V_f, counted exactly. Scaled so
that V_f <= cost of f for every frame in unlimited supply, the values of all parts add up to a lower bound
(Farley, Oper. Res. 38, 1990), less what limited frames could hold beyond their cost.
"""

from __future__ import annotations

import math
import random
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from drawerwright.sheets.columns import CutSheet, Frame, Sizing, Stack
from drawerwright.sheets.knapsack import FillTable, all_fillings
from drawerwright.sheets.solve import INFINITY, Column, GrowingProgram
from drawerwright.sheets.stacks import Offer, StackSource

VALUE_SCALE = 10**8
"""Whole-number value that stands for the cost of a mean sheet."""
TINY_AREA_VALUE = 200
"""Value of a sheet filled with worthless parts: small beside VALUE_SCALE, so that room is not left empty."""
PRICED = 3e-6
"""A column is worth adding when it beats its cost by this share of a mean sheet."""


@dataclass(frozen=True)
class Task:
    """What is to be cut, in the planner's own terms.

    `demand` counts by demand number; `areas` are a part's area in square ticks; `limits` say how many sheets
    of each size there are (None: any number); `least_columns` are proven least numbers of columns by width
    (only for tasks in which a demand fits one width alone).
    """

    frames: tuple[Frame, ...]
    demand: tuple[int, ...]
    areas: tuple[int, ...]
    limits: tuple[int | None, ...]
    sizing: Sizing
    sources: dict[bool, StackSource]
    least_columns: dict[int, int] = field(default_factory=dict)

    @property
    def unit(self) -> int:
        """Costs are whole multiples of this."""
        return math.gcd(*(frame.cost for frame in self.frames)) or 1

    def round_up(self, bound: Fraction | int) -> int:
        """The least cost that any whole number of sheets can have, from `bound` upwards."""
        unit = self.unit
        steps = max(0, math.ceil(Fraction(bound) / unit))
        costs = sorted({frame.cost // unit for frame in self.frames if frame.cost})
        if len(costs) < 2 or steps > 2_000_000:
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


@dataclass(frozen=True, slots=True)
class Certificate:
    """Why a bound holds: whole-number values of the parts (and of columns by width), and what one unit of value
    costs at the least."""

    values: list[int]
    least: dict[int, int]
    scale: Fraction
    bound: Fraction


@dataclass
class Pool:
    """Columns found so far, as the whole-number programme needs them."""

    stacks: dict[tuple[int, Stack], int] = field(default_factory=dict)
    patterns: dict[tuple[int, tuple[tuple[int, int], ...]], int] = field(default_factory=dict)
    whole: dict[tuple[int, tuple[Stack, ...]], int] = field(default_factory=dict)


class Master:
    """The growing programme over a task."""

    def __init__(self, task: Task) -> None:
        self.task = task
        frames = task.frames
        self.classes: list[tuple[bool, int]] = sorted(
            {(frame.transposed, frame.width) for frame in frames if not frame.apart}
        )
        self._class_of = {pair: number for number, pair in enumerate(self.classes)}
        self.mean_cost = max(1.0, max((frame.cost for frame in frames), default=1))
        self.columns: list[Column] = []
        self.meanings: list[tuple[str, int, object]] = []
        self.pool = Pool()
        self.bound = Fraction(0)
        self.certificate: Certificate | None = None
        self.ideal = 0.0
        self.prices: list[float] = [0.0] * len(task.demand)
        self._lay_rows()
        self.program = GrowingProgram(self.lower, self.upper)
        big = 20.0
        self.spare: list[int] = []
        for demand in range(len(task.demand)):
            self.spare.append(self.program.add_column((big, [demand], [1.0])))
            self.columns.append((big, [demand], [1.0]))
            self.meanings.append(("spare", demand, None))
        for row in self.least_row.values():
            self.spare.append(self.program.add_column((big, [row], [1.0])))
            self.columns.append((big, [row], [1.0]))
            self.meanings.append(("spare", row, None))

    def _lay_rows(self) -> None:
        task = self.task
        self.lower: list[float] = [float(count) for count in task.demand]
        self.upper: list[float] = [INFINITY] * len(task.demand)
        self.link: dict[tuple[int, int], int] = {}
        for number, (transposed, _) in enumerate(self.classes):
            for kind in range(len(task.sources[transposed].widths)):
                self.link[number, kind] = len(self.lower)
                self.lower.append(0.0)
                self.upper.append(INFINITY)
        self.limit_row: dict[int, int] = {}
        for size, limit in enumerate(task.limits):
            if limit is not None:
                self.limit_row[size] = len(self.lower)
                self.lower.append(-INFINITY)
                self.upper.append(float(limit))
        self.least_row: dict[int, int] = {}
        for width, count in task.least_columns.items():
            self.least_row[width] = len(self.lower)
            self.lower.append(float(count))
            self.upper.append(INFINITY)

    @property
    def first(self) -> int:
        """Number of the first column that stands for something to be cut."""
        return len(self.spare)

    @property
    def target(self) -> int:
        """What the bound cannot exceed with the columns known so far."""
        return self.task.round_up(Fraction(self.ideal * (1 - 1e-9)))

    def class_of(self, frame: Frame) -> int:
        """Number of the class in which a frame's stacks are exchanged."""
        return self._class_of[frame.transposed, frame.width]

    # -- columns ---------------------------------------------------------------------------------------

    def add_stack(self, number: int, stack: Stack) -> int | None:
        """Let `stack` be used in class `number`; its column, None when it was there already."""
        key = (number, stack)
        if key in self.pool.stacks or not stack.elements:
            return None
        rows = [demand for demand, _ in stack.takes]
        coefficients = [float(count) for _, count in stack.takes]
        rows.append(self.link[number, stack.kind])
        coefficients.append(-1.0)
        if stack.u in self.least_row:
            rows.append(self.least_row[stack.u])
            coefficients.append(1.0)
        self.pool.stacks[key] = self._add((0.0, rows, coefficients), ("stack", number, stack))
        return self.pool.stacks[key]

    def add_pattern(self, frame_number: int, counts: tuple[tuple[int, int], ...]) -> int | None:
        """Let sheets of a frame hold these columns (kind, count)."""
        key = (frame_number, counts)
        if key in self.pool.patterns or not counts:
            return None
        frame = self.task.frames[frame_number]
        number = self._class_of[frame.transposed, frame.width]
        rows = [self.link[number, kind] for kind, _ in counts]
        coefficients = [float(count) for _, count in counts]
        if frame.size in self.limit_row:
            rows.append(self.limit_row[frame.size])
            coefficients.append(1.0)
        column = (frame.cost / self.mean_cost, rows, coefficients)
        self.pool.patterns[key] = self._add(column, ("pattern", frame_number, counts))
        return self.pool.patterns[key]

    def add_whole(self, frame_number: int, stacks: tuple[Stack, ...]) -> int | None:
        """Let a sheet of a frame that is apart be cut into these stacks."""
        stacks = tuple(sorted((stack for stack in stacks if stack.elements), key=repr))
        key = (frame_number, stacks)
        if key in self.pool.whole or not stacks:
            return None
        frame = self.task.frames[frame_number]
        total: dict[int, float] = {}
        for stack in stacks:
            for demand, count in stack.takes:
                total[demand] = total.get(demand, 0.0) + count
            if stack.u in self.least_row:
                row = self.least_row[stack.u]
                total[row] = total.get(row, 0.0) + 1
        if frame.size in self.limit_row:
            total[self.limit_row[frame.size]] = 1.0
        column = (frame.cost / self.mean_cost, list(total), list(total.values()))
        self.pool.whole[key] = self._add(column, ("whole", frame_number, stacks))
        return self.pool.whole[key]

    def _add(self, column: Column, meaning: tuple[str, int, object]) -> int:
        self.columns.append(column)
        self.meanings.append(meaning)
        return self.program.add_column(column)

    def add_sheets(self, sheets: Sequence[CutSheet]) -> None:
        """Make a plan known, so that the programme starts no worse than it."""
        for sheet in sheets:
            frame = self.task.frames[sheet.frame]
            if frame.apart:
                self.add_whole(sheet.frame, sheet.stacks)
                continue
            number = self._class_of[frame.transposed, frame.width]
            counts: dict[int, int] = {}
            for stack in sheet.stacks:
                self.add_stack(number, stack)
                counts[stack.kind] = counts.get(stack.kind, 0) + 1
            self.add_pattern(sheet.frame, tuple(sorted(counts.items())))

    def values_of(self, sheets: Sequence[CutSheet]) -> dict[int, int]:
        """How often each column (by number) is used by sheets that `add_sheets` has made known."""
        values: Counter[int] = Counter()
        for sheet in sheets:
            frame = self.task.frames[sheet.frame]
            if frame.apart:
                stacks = tuple(sorted((stack for stack in sheet.stacks if stack.elements), key=repr))
                values[self.pool.whole[sheet.frame, stacks]] += 1
                continue
            kinds = Counter(stack.kind for stack in sheet.stacks)
            values[self.pool.patterns[sheet.frame, tuple(sorted(kinds.items()))]] += 1
            values.update(self.pool.stacks[self.class_of(frame), stack] for stack in sheet.stacks)
        return dict(values)

    def share_stacks(self) -> None:
        """Offer every stack to every class it fits."""
        for _, stack in list(self.pool.stacks):
            for number, (transposed, width) in enumerate(self.classes):
                home = self.task.sources[transposed].widths
                fits = stack.v <= width and stack.kind < len(home) and home[stack.kind] == stack.u
                if fits and len({pair[0] for pair in self.classes}) == 1:
                    self.add_stack(number, stack)

    def want(self, left: Sequence[int], stock: Sequence[int | None]) -> None:
        """Ask the programme for this much of each demand, from so many sheets of each size."""
        for demand, count in enumerate(left):
            self.program.set_row(demand, float(count))
        for size, row in self.limit_row.items():
            self.program.set_row(row, -INFINITY, float(stock[size] or 0))
        whole = tuple(left) == self.task.demand
        for width, row in self.least_row.items():
            self.program.set_row(row, float(self.task.least_columns[width]) if whole else 0.0)

    # -- pricing ---------------------------------------------------------------------------------------

    def generate(
        self,
        deadline: float,
        *,
        cancelled: Callable[[], bool] = lambda: False,
        known: int | None = None,
        rounds: int = 10_000,
        left: Sequence[int] | None = None,
    ) -> bool:
        """Add columns until none is missing, the bound rounds up to `known` or to the programme's own cost, or
        time is up. True when the programme is as good as with all columns.

        With `left` (set by `want`) only that much is still to be cut: nothing is learnt about the bound.
        """
        task = self.task
        diving = left is not None
        wanted = task.demand if left is None else left
        demand_count = len(task.demand)
        centre: list[float] | None = None
        smooth = 0.6
        for turn in range(rounds):
            cost, duals, _ = self.program.solve()
            duals_now = [float(dual) for dual in duals]
            if not diving:
                self.ideal = cost * self.mean_cost
                self.prices = [max(0.0, dual) for dual in duals_now[:demand_count]]
                target = self.target
                if task.round_up(self.bound) >= min(target, known if known is not None else target):
                    return False
            if time.perf_counter() > deadline or cancelled():
                return False
            share = smooth if centre is not None else 0.0
            trial = (
                [share * c + (1 - share) * d for c, d in zip(centre, duals_now, strict=True)]
                if centre is not None and share
                else duals_now
            )
            apart = turn % 4 == 3 or not self.classes
            bound, added, better = self._price(trial, duals_now, wanted, apart=apart)
            if not added and not apart:
                bound, added, better = self._price(trial, duals_now, wanted, apart=True)
            if not diving and bound is not None and bound.bound > self.bound:
                self.bound, self.certificate = bound.bound, bound
                centre = trial
            elif centre is None:
                centre = trial
            if not added:
                if share:
                    smooth = 0.0 if smooth < 0.2 else smooth / 2
                    centre = duals_now if smooth == 0.0 else centre
                    continue
                return not better
        return False

    def add_near(self, dice: random.Random) -> None:
        """Add the best columns for values that differ from the best known ones by chance."""
        if self.certificate is None:
            return
        task = self.task
        spread = dice.choice((0.05, 0.15, 0.3))
        values = [int(value * dice.uniform(1 - spread, 1 + spread)) for value in self.certificate.values]
        for way, source in task.sources.items():
            offers = source.offers(values, task.demand)
            for frame_number, frame in enumerate(task.frames):
                if frame.transposed != way:
                    continue
                _, counts, chosen = self._best_sheet(frame, offers, {})
                if frame.apart:
                    self.add_whole(
                        frame_number,
                        tuple(
                            chosen[kind].stack(frame.width) for kind, count in counts for _ in range(count)
                        ),
                    )
                    continue
                self.add_pattern(frame_number, counts)
                for kind, offer in chosen.items():
                    if dice.random() < 0.5 or any(kind == used for used, _ in counts):
                        self.add_stack(self.class_of(frame), offer.stack(frame.width))

    def _whole_values(self, duals: Sequence[float]) -> list[int]:
        task = self.task
        biggest = max(frame.length * frame.width for frame in task.frames)
        return [
            max(0, math.floor(duals[demand] * VALUE_SCALE)) + TINY_AREA_VALUE * area // biggest
            for demand, area in enumerate(task.areas)
        ]

    def _price(
        self, trial: Sequence[float], duals: Sequence[float], wanted: Sequence[int], *, apart: bool
    ) -> tuple[Certificate | None, bool, bool]:
        """Best stacks and sheets at `trial` values.

        Returns a bound, whether columns came in, and whether any sheet beats its cost.
        """
        task = self.task
        values = self._whole_values(trial)
        least = {width: max(0, math.floor(trial[row] * VALUE_SCALE)) for width, row in self.least_row.items()}
        offers = {transposed: source.offers(values, wanted) for transposed, source in task.sources.items()}
        added = better = False
        tops: list[int] = []
        for frame_number, frame in enumerate(task.frames):
            if frame.apart and not apart:
                continue
            top, counts, chosen = self._best_sheet(frame, offers[frame.transposed], least)
            tops.append(top)
            dual = duals[self.limit_row[frame.size]] if frame.size in self.limit_row else 0.0
            gain = top / VALUE_SCALE - frame.cost / self.mean_cost + min(0.0, dual)
            better = better or gain > PRICED
            if frame.apart:
                if gain > PRICED:
                    stacks = tuple(
                        chosen[kind].stack(frame.width) for kind, count in counts for _ in range(count)
                    )
                    added = self.add_whole(frame_number, stacks) is not None or added
                continue
            number = self._class_of[frame.transposed, frame.width]
            if gain > PRICED:
                added = self.add_pattern(frame_number, counts) is not None or added
        for number, (transposed, width) in enumerate(self.classes):
            for offer in offers[transposed]:
                worth = (
                    offer.value(width) + least.get(task.sources[transposed].widths[offer.kind], 0)
                ) / VALUE_SCALE
                needed = max(0.0, duals[self.link[number, offer.kind]]) + PRICED
                if worth > needed:
                    added = self.add_stack(number, offer.stack(width)) is not None or added
                    more = least.get(task.sources[transposed].widths[offer.kind], 0)
                    for stack in offer.others(width, math.ceil(needed * VALUE_SCALE) - more):
                        self.add_stack(number, stack)
        complete = len(tops) == len(task.frames)
        return (self._farley(values, least, tops) if complete else None), added, better

    def _best_sheet(
        self, frame: Frame, offers: Sequence[Offer], least: dict[int, int]
    ) -> tuple[int, tuple[tuple[int, int], ...], dict[int, Offer]]:
        kerf = self.task.sizing.kerf
        widths = self.task.sources[frame.transposed].widths
        table = FillTable(frame.length + kerf)
        chosen: dict[int, Offer] = {}
        for offer in offers:
            width = widths[offer.kind]
            worth = offer.value(frame.width)
            if worth and width <= frame.length:
                chosen[offer.kind] = offer
                table.offer(offer.kind, width + kerf, worth + least.get(width, 0), frame.length // width)
        counts, _ = table.taken(frame.length + kerf)
        return int(table.best[-1]), tuple(sorted(counts.items())), chosen

    def _farley(self, values: Sequence[int], least: dict[int, int], tops: Sequence[int]) -> Certificate:
        task = self.task
        total = sum(value * count for value, count in zip(values, task.demand, strict=True))
        total += sum(value * task.least_columns[width] for width, value in least.items())
        scale: Fraction | None = None
        highest: dict[int, list[tuple[int, int]]] = {}
        for frame, top in zip(task.frames, tops, strict=True):
            if task.limits[frame.size] is None:
                if top:
                    share = Fraction(frame.cost, top)
                    scale = share if scale is None else min(scale, share)
            else:
                highest.setdefault(frame.size, []).append((top, frame.cost))
        if scale is None:
            scale = Fraction(int(self.mean_cost), VALUE_SCALE)
        bound = scale * total
        for size, pairs in highest.items():
            excess = max(scale * top - cost for top, cost in pairs)
            bound -= (task.limits[size] or 0) * max(Fraction(0), excess)
        return Certificate(list(values), dict(least), scale, bound)

    # -- all columns that can matter -------------------------------------------------------------------

    def complete(self, cost: int, most: int, share: float = 1.0) -> bool:
        """Add every column that a plan cheaper than `cost` could use; False when there are more than `most`.

        With a `share` below 1 only columns that fall short by less than that share of what is allowed.

        By the certificate a plan's cost is its bound plus what its columns fall short of their best, so a column
        that falls short by more than `cost` less one step less the bound is in none of them.
        """
        task, proof = self.task, self.certificate
        if proof is None or self.limit_row or any(frame.apart for frame in task.frames):
            return False
        room = math.floor((cost - task.unit - proof.bound) / proof.scale) + 1
        if room < 0:
            return True
        room = int(room * share)
        offers = {way: source.offers(proof.values, task.demand) for way, source in task.sources.items()}
        stacks: list[tuple[int, Stack]] = []
        patterns: list[tuple[int, tuple[tuple[int, int], ...]]] = []
        best: dict[tuple[int, int], int] = {}
        for number, (way, width) in enumerate(self.classes):
            source = task.sources[way]
            for offer in offers[way]:
                worth = offer.value(width)
                found = source.listing(
                    offer.kind, width, proof.values, task.demand, worth - room, most - len(stacks)
                )
                if found is None:
                    return False
                stacks += [(number, stack) for stack in found]
                if worth:
                    best[number, offer.kind] = worth + proof.least.get(source.widths[offer.kind], 0)
        for frame_number, frame in enumerate(task.frames):
            number = self.class_of(frame)
            widths = task.sources[frame.transposed].widths
            kinds = [
                kind for kind, width in enumerate(widths) if (number, kind) in best and width <= frame.length
            ]
            fillings = all_fillings(
                [widths[kind] + task.sizing.kerf for kind in kinds],
                [best[number, kind] for kind in kinds],
                [frame.length // widths[kind] for kind in kinds],
                frame.length + task.sizing.kerf,
                floor=math.ceil(frame.cost / proof.scale) - room,
                most=most - len(stacks) - len(patterns),
            )
            if fillings is None:
                return False
            patterns += [
                (frame_number, tuple((kinds[place], count) for place, count in sorted(filling.items())))
                for filling in fillings
            ]
        for number, stack in stacks:
            self.add_stack(number, stack)
        for frame_number, counts in patterns:
            self.add_pattern(frame_number, counts)
        return True
