"""Column generation for sheets cut in columns: bounds that hold, and the columns that good plans are made of."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from drawerwright.sheets.solver.clock import now
from drawerwright.sheets.solver.columns import Frame
from drawerwright.sheets.solver.filling.stacks import GivenUpError, StackSource
from drawerwright.sheets.solver.programme.known_columns import KnownColumns
from drawerwright.sheets.solver.programme.pricing import (
    VALUE_SCALE,
    Certificate,
    best_sheet,
    certify,
    whole_values,
)
from drawerwright.sheets.solver.task import Task

CLOSE = 1 - Fraction(1, 2000)
"""Share of the programme's cost that a guess at the bound must reach before columns are measured in finer steps."""
PRICED = 3e-6
"""A column is worth adding when it beats its cost by this share of a mean sheet."""
SPARED = 1e-7
"""Parts that are left out of a programme and count as none."""


class Master(KnownColumns):
    """The programme that grows by the columns it lacks."""

    def __init__(self, task: Task) -> None:
        super().__init__(task)
        self.bound = Fraction(0)
        self.certificate: Certificate | None = None
        self.ideal = 0.0
        self.prices: list[float] = [0.0] * len(task.demand)

    @property
    def target(self) -> int:
        """What the bound cannot exceed with the columns known so far."""
        return self.task.round_up(Fraction(self.ideal * (1 - 1e-9)))

    def generate(
        self,
        deadline: float,
        *,
        cancelled: Callable[[], bool] = lambda: False,
        known: int | None = None,
        rounds: int = 10_000,
        left: Sequence[int] | None = None,
        closer: bool = False,
    ) -> bool:
        """Add columns until none is missing, the bound rounds up to `known` or to the programme's own cost, or
        time is up. True when the programme is as good as with all columns.

        With `closer` it goes on until the bound has nearly reached the programme's cost.

        With `left` (set by `want`) only that much is still to be cut: nothing is learnt about the bound.
        """
        task = self.task
        sources = task.watched(lambda: now() > deadline or cancelled()).sources
        diving = left is not None
        wanted = task.demand if left is None else left
        demand_count = len(task.demand)
        centre = None if diving or self.certificate is not None else self._by_area()
        smooth = 0.6
        has_apart = any(frame.apart for frame in task.frames)
        coarse = [] if self.limit_row else self._coarse_steps()
        guess: Fraction | None = None
        for turn in range(rounds):
            cost, duals, _ = self.program.solve()
            duals_now = [float(dual) for dual in duals]
            if not diving:
                self.ideal = cost * self.mean_cost
                self.prices = [max(0.0, dual) for dual in duals_now[:demand_count]]
                target = self.target
                if closer:
                    if self.bound >= Fraction(self.ideal) * CLOSE:
                        return False
                elif task.round_up(self.bound) >= min(target, known if known is not None else target):
                    return False
            if now() > deadline or cancelled():
                return False
            share = smooth if centre is not None else 0.0
            trial = (
                [share * c + (1 - share) * d for c, d in zip(centre, duals_now, strict=True)]
                if centre is not None and share
                else duals_now
            )
            apart = turn % 4 == 3 or not self.classes or not has_apart
            steps = coarse[0] if coarse else None
            try:
                bound, added, better = self._price(
                    sources, trial, duals_now, wanted, apart=apart, steps=steps
                )
                if not added and not apart:
                    bound, added, better = self._price(
                        sources, trial, duals_now, wanted, apart=True, steps=steps
                    )
            except GivenUpError:
                return False
            if coarse:
                if bound is not None and (guess is None or bound.bound > guess):
                    guess, centre = bound.bound, trial
            elif not diving and bound is not None and bound.bound > self.bound:
                self.bound, self.certificate = bound.bound, bound
                centre = trial
            elif centre is None:
                centre = trial
            if coarse and guess is not None and guess >= Fraction(cost * self.mean_cost) * CLOSE:
                del coarse[0]
                guess = None
            elif added:
                continue
            elif share:
                smooth = 0.0 if smooth < 0.2 else smooth / 2
                centre = duals_now if smooth == 0.0 else centre
            elif coarse:
                del coarse[0]
                smooth, guess = 0.6, None
            else:
                return not better
        return False

    def step(self) -> tuple[Certificate, bool, bool]:
        """Solve once and add the columns that are missing most.

        Returns a certificate, whether something wanted is not cut yet, and whether columns came in.
        """
        _, duals, values = self.program.solve()
        prices = [float(dual) for dual in duals]
        proof, added, _ = self._price(self.task.sources, prices, prices, self.task.demand, apart=True)
        assert proof is not None
        return proof, bool((values[self.spare] > SPARED).any()), added

    def _by_area(self) -> list[float]:
        """Parts valued by their area, at the rate of the sheets that are cheapest by theirs: by row, to begin with."""
        rates = [frame.cost / (frame.length * frame.width) for frame in self.task.frames if frame.cost]
        rate = min(rates, default=0.0) / self.mean_cost
        return [rate * area for area in self.task.areas] + [0.0] * (len(self.lower) - len(self.task.areas))

    def _standing(self, frame: Frame, duals: Sequence[float]) -> dict[int, int]:
        """What a place for a column of each kind is worth to the programme."""
        number = self.class_of(frame)
        return {
            kind: math.floor(duals[self.link[number, kind]] * VALUE_SCALE)
            for kind in range(len(self.task.sources[frame.transposed].widths))
        }

    def _coarse_steps(self) -> list[int]:
        offered = [steps for source in self.task.sources.values() if (steps := source.coarse_steps)]
        return (
            [steps for steps in offered[0] if all(steps in others for others in offered)] if offered else []
        )

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
                _, counts, chosen = best_sheet(task, frame, offers, {})
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

    def _price(
        self,
        sources: Mapping[bool, StackSource],
        trial: Sequence[float],
        duals: Sequence[float],
        wanted: Sequence[int],
        *,
        apart: bool,
        steps: int | None = None,
    ) -> tuple[Certificate | None, bool, bool]:
        """Best stacks and sheets at `trial` values, good ones with `steps`.

        Returns a bound (with `steps` no more than a guess at it), whether columns came in, and whether any sheet
        beats its cost.
        """
        task = self.task
        values = whole_values(task, trial)
        least = {width: max(0, math.floor(trial[row] * VALUE_SCALE)) for width, row in self.least_row.items()}
        offers = {way: source.offers(values, wanted, steps=steps) for way, source in sources.items()}
        added = better = False
        tops: list[int] = []
        for frame_number, frame in enumerate(task.frames):
            if frame.apart and not apart:
                continue
            standing = None if frame.apart or not self._has_placed else self._standing(frame, duals)
            top, counts, chosen = best_sheet(task, frame, offers[frame.transposed], least, standing)
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
            last = 0
            for offer in offers[transposed]:
                value = offer.value(width)
                if value == last:
                    continue  # what fills the narrower column before it
                last = value
                worth = (value + least.get(task.sources[transposed].widths[offer.kind], 0)) / VALUE_SCALE
                needed = max(0.0, duals[self.link[number, offer.kind]]) + PRICED
                if worth > needed:
                    added = self.add_stack(number, offer.stack(width)) is not None or added
                    more = least.get(task.sources[transposed].widths[offer.kind], 0)
                    for stack in offer.others(width, math.ceil(needed * VALUE_SCALE) - more):
                        added = self.add_stack(number, stack) is not None or added
        complete = len(tops) == len(task.frames)
        proof = certify(task, values, least, tops, self.mean_cost) if complete else None
        return proof, added, better
