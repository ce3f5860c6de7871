"""Plans from few sizes and many offcuts: first how many columns of each width, then what fills them.

The waste of a plan arises where a width needs a fraction of a column, and where columns need a fraction of a
sheet. So each offcut is cut in that one of its good ways after which the columns for all that is left come out
whole. One programme then decides how many columns of each width the sheets of each height give, and how many
sheets are taken. Then parts are put into columns, width by width, and columns into sheets, height by height:
one-dimensional tasks that nearly always come out. Counts that do not come out are left out from then on.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence
from fractions import Fraction

import numpy as np

from drawerwright.sheets.solver.columns import FilledSheet, Frame, Piece, Sizing, Stack
from drawerwright.sheets.solver.filling.fill_table import all_fillings
from drawerwright.sheets.solver.filling.pieces import PieceStacks
from drawerwright.sheets.solver.filling.stacks import StackSource
from drawerwright.sheets.solver.mix.column_counts import ColumnCounts
from drawerwright.sheets.solver.mix.count_choice import CountChoice, Prices
from drawerwright.sheets.solver.mix.offcut_choice import COLD, WARM, OffcutChoice, Rest
from drawerwright.sheets.solver.mix.offcut_ways import ways_of
from drawerwright.sheets.solver.mix.sheet_counts import Kind, SheetCounts
from drawerwright.sheets.solver.outcome import Outcome, Watch
from drawerwright.sheets.solver.programme.highs import NothingFitsError
from drawerwright.sheets.solver.programme.master import Master
from drawerwright.sheets.solver.programme.pricing import VALUE_SCALE, whole_values
from drawerwright.sheets.solver.task import Task

MOST_ATTEMPTS = 12
"""Numbers of sheets, and counts of columns for them, that are tried for one choice of offcuts."""
ROUNDS, STEPS = 5, 1_500
"""How often prices are learnt for one choice of offcuts, and steps to a better choice before each time."""
MOST_PROOFS, MOST_SHEETS = 25, 300
"""Lists of prices tried for the bound, and sheets beyond which fractions of a column do not matter to it."""
MOST_PRICES = 16
"""Lists of prices that are kept."""
LEAST_PRICE = 1e-6
SECONDS_FILL, SECONDS_PACK = 0.2, 0.3
"""Time to put the parts of a width into columns, and the columns of a class into sheets."""
MOST_PATTERNS, PATTERN_ROOM = 300, 0.03
"""Sheets in whole columns offered to the programme, and the share of a sheet's cost that these may waste."""

Pack = Callable[[Task, Watch], Outcome]


class WholeColumns:
    """Looks for plans in whole columns.

    `pack` puts columns into the sheets of one class: a search of a one-dimensional task.
    """

    def __init__(self, master: Master, watch: Watch, dice: random.Random, pack: Pack) -> None:
        self.master, self.watch, self.pack = master, watch, pack
        task = master.task
        _, duals, _ = master.program.solve()
        values = whole_values(task, [float(dual) for dual in duals])
        least = {width: max(0, int(duals[row] * VALUE_SCALE)) for width, row in master.least_row.items()}
        self.widths = [
            ColumnCounts(master, kind, source, groups_for(master.classes, task, source))
            for kind, source in sources_of(task).items()
        ]
        known: dict[tuple[int, int], Rest] = {}
        rests: list[Rest] = []
        for number, frame in enumerate(task.frames):
            if frame.apart:
                shape = (frame.length, frame.width)
                if shape not in known:
                    known[shape] = Rest(number, tuple(ways_of(task, frame, values, least)))
                rests += [Rest(number, known[shape].ways)] * (task.limits[frame.size] or 0)
        self.choice = OffcutChoice(rests, self.widths, task.demand, dice)
        self.dice = dice
        self._prices: list[Prices] = []
        prices = Prices({key: float(duals[row]) for key, row in master.link.items()})
        self._learn(prices)
        self._add_patterns(prices)
        self.sheet_counts = SheetCounts(master)

    def _add_patterns(self, prices: Prices) -> None:
        """Make sheets in whole columns known that waste little."""
        master, task = self.master, self.master.task
        widths = task.sources[False].widths
        for number, frame in enumerate(task.frames):
            if frame.apart:
                continue
            group = master.class_of(frame)
            kinds = [kind for kind, width in enumerate(widths) if width <= frame.length]
            worths = [int(prices.of[group, kind] * VALUE_SCALE) for kind in kinds]
            fillings = all_fillings(
                [widths[kind] + task.sizing.kerf for kind in kinds],
                worths,
                [frame.length // widths[kind] for kind in kinds],
                frame.length + task.sizing.kerf,
                floor=int(frame.cost / master.mean_cost * VALUE_SCALE * (1 - PATTERN_ROOM)),
                most=MOST_PATTERNS,
                deadline=self.watch.deadline,
            )
            for filling in fillings or ():
                master.add_pattern(number, tuple((kinds[place], n) for place, n in sorted(filling.items())))

    def bound(self) -> Fraction:
        """A cost that no plan undercuts, as columns are cut whole; 0 where offcuts are on hand.

        Columns get whole-number prices: those that hold all parts of a width cost so much at the least, and no sheet
        holds more than so much.
        """
        master, task = self.master, self.master.task
        best = Fraction(0)
        if any(frame.apart or not frame.cost for frame in task.frames):
            return best
        if master.ideal > MOST_SHEETS * max(frame.cost for frame in task.frames):
            return best
        wanted = [tuple(task.demand[demand] for demand in width.demands) for width in self.widths]
        for _ in range(MOST_PROOFS):
            if self.watch.is_over():
                break
            try:
                _, prices = CountChoice(master, self.widths, self.sheet_counts, wanted).relax()
            except NothingFitsError:
                break
            whole = {key: int(price * VALUE_SCALE) for key, price in prices.of.items()}
            least = [
                width.least(parts, [whole[group, width.kind] for group in width.groups])
                for width, parts in zip(self.widths, wanted, strict=True)
            ]
            tops = self.sheet_counts.tops(whole)
            total = sum(value for value in least if value is not None)
            if total and None not in least:
                frames = [task.frames[number] for number in self.sheet_counts.frames]
                share = min(
                    Fraction(frame.cost, top) for frame, (top, _) in zip(frames, tops, strict=True) if top
                )
                best = max(best, total * share)
            if not any(is_new for _, is_new in tops):
                break
        return best

    def find(self, known: int) -> list[FilledSheet] | None:
        """Sheets that cost less than `known`; None when none such were found or time is up."""
        task, choice = self.master.task, self.choice
        for turn in range(ROUNDS):
            choice.improve(STEPS, WARM * (COLD / WARM) ** (turn / ROUNDS), self.watch.is_over)
            wanted = [choice.left(place) for place in range(len(self.widths))]
            programme = CountChoice(self.master, self.widths, self.sheet_counts, wanted)
            try:
                cost, prices = programme.relax()
            except NothingFitsError:
                return None
            self._learn(prices)
        left = list(task.demand)
        made = [sheet for cut in choice.sheets() if (sheet := _trimmed(task.sizing, cut, left)) is not None]
        tries = 0
        for numbers in programme.numbers(cost, known):
            while not self.watch.is_over() and tries < MOST_ATTEMPTS:
                tries += 1
                chosen = programme.settle(numbers, self.dice, self.watch.is_over)
                if chosen is None:
                    break
                seconds = min(self.watch.seconds, SECONDS_FILL)
                filled = [
                    width.fill(parts, counts, seconds, self.watch.cancelled)
                    for width, parts, counts in zip(self.widths, wanted, chosen, strict=True)
                ]
                for place, stacks in enumerate(filled):
                    if stacks is None:
                        programme.leave_out(place, chosen[place])
                if all(stacks is not None for stacks in filled):
                    sheets = self._sheets(made, left, [stacks for stacks in filled if stacks is not None])
                    if sheets is not None and sum(task.frames[sheet.frame].cost for sheet in sheets) < known:
                        return sheets
                    break
        return None

    def _learn(self, prices: Prices) -> None:
        """Judge columns by these prices too."""
        self._prices = [*self._prices[1 - MOST_PRICES :], prices]
        for width in self.widths:
            width.reprice(
                np.array(
                    [
                        [max(LEAST_PRICE, known.of[group, width.kind]) for known in self._prices]
                        for group in width.groups
                    ]
                )
            )
        self.choice.reprice(np.array([known.off for known in self._prices]))

    # -- columns into sheets ---------------------------------------------------------------------------

    def _sheets(
        self, made: Sequence[FilledSheet], left: Sequence[int], filled: Sequence[Sequence[tuple[int, Stack]]]
    ) -> list[FilledSheet] | None:
        """`made` and the sheets that hold these columns, without what is too much of what is `left`."""
        task = self.master.task
        sheets = list(made)
        rest = list(left)
        columns: dict[Kind, list[Stack]] = {}
        for stacks in filled:
            for group, stack in stacks:
                kept = _trimmed_stack(task.sizing, stack, rest)
                if kept is not None:
                    columns.setdefault((group, kept.kind), []).append(kept)
        for number, (_, width) in enumerate(self.master.classes):
            frames = [n for n, frame in enumerate(task.frames) if not frame.apart and frame.width == width]
            waiting = {kind: stacks for (group, kind), stacks in columns.items() if group == number}
            if not waiting:
                continue
            kinds = sorted(waiting)
            widths = [task.sources[False].widths[kind] for kind in kinds]
            kerf = task.sizing.kerf
            pieces = [Piece(place, 1, width) for place, width in enumerate(widths)]
            longest = max(task.frames[n].length for n in frames)
            one = Task(
                tuple(
                    Frame(place, 1, task.frames[n].length, task.frames[n].cost)
                    for place, n in enumerate(frames)
                ),
                tuple(len(waiting[kind]) for kind in kinds),
                tuple(widths),
                tuple(task.limits[task.frames[n].size] for n in frames),
                Sizing(kerf),
                {False: PieceStacks(pieces, kerf=kerf, tallest=longest, exact=True)},
            )
            outcome = self.pack(one, self.watch.within(SECONDS_PACK))
            if outcome.sheets is None:
                return None
            for sheet in outcome.sheets:
                taken = tuple(
                    waiting[kinds[element.demand]].pop()
                    for element in sheet.stacks[0].elements
                    if isinstance(element, Piece)
                )
                sheets.append(FilledSheet(frames[sheet.frame], taken))
        return sheets


def suits(task: Task) -> bool:
    """Whether there are several widths, and sheets of several heights or offcuts to cut them from.

    Every part must fit a sheet that is no offcut.
    """
    classes = sorted({(frame.transposed, frame.width) for frame in task.frames if not frame.apart})
    is_mixed = len(classes) > 1 or any(frame.apart for frame in task.frames)
    sources = sources_of(task)
    if not is_mixed or len(sources) < 2:
        return False
    return all(
        groups_for(classes, task, source, demand) for source in sources.values() for demand in source.demands
    )


def groups_for(
    classes: Sequence[tuple[bool, int]], task: Task, source: StackSource, demand: int | None = None
) -> list[int]:
    """Numbers of the classes whose sheets take columns of `source`, of one width alone (that hold `demand`)."""
    values = [int(demand is None or demand == other) for other in range(len(task.demand))]
    offer = source.offers(values, [1] * len(task.demand))[0]
    return [
        number
        for number, (_, height) in enumerate(classes)
        if offer.value(height)
        and any(
            frame.width == height and frame.length >= source.widths[0]
            for frame in task.frames
            if not frame.apart
        )
    ]


def sources_of(task: Task) -> dict[int, StackSource]:
    """Where columns of one width alone come from, by kind, where each demand fits one width alone; else nothing."""
    if set(task.sources) != {False}:
        return {}
    kinds = {width: kind for kind, width in enumerate(task.sources[False].widths)}
    return {kinds[part.widths[0]]: part for part in task.sources[False].by_width()}


def _trimmed_stack(sizing: Sizing, stack: Stack, left: list[int]) -> Stack | None:
    surplus = Counter({demand: count - left[demand] for demand, count in stack.takes if count > left[demand]})
    kept = sizing.without(stack, surplus)
    if kept is not None:
        for demand, count in kept.takes:
            left[demand] -= count
    return kept


def _trimmed(sizing: Sizing, sheet: FilledSheet, left: list[int]) -> FilledSheet | None:
    kept = [_trimmed_stack(sizing, stack, left) for stack in sheet.stacks]
    stacks = tuple(stack for stack in kept if stack is not None)
    return FilledSheet(sheet.frame, stacks) if stacks else None
