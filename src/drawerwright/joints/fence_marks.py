"""Fence settings that the user's fence scale can show, with lips as true as its marks allow."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from drawerwright.basics.lengths import Mm
from drawerwright.joints.setting import CornerSetting
from drawerwright.joints.table import MARK, RouterTable


@dataclass(frozen=True, slots=True)
class Position:
    """A position of the fence as it would be without marks, and the settings that it may have (mm)."""

    wanted: Mm
    choices: tuple[Mm, ...]

    @classmethod
    def on_scale(
        cls, wanted: Mm, table: RouterTable, least: Mm = 0.0, most: Mm = math.inf, *, moves: int = 1
    ) -> Position:
        """One that may have the marks next to it, and so many beyond them, that keep its limits (mm); where none does,
        those next to it. What test cuts have settled stays.
        """
        step, here = table.fence_gauge_step, table.fence_marks(wanted)
        if table.is_settled_fence(here[0]):
            moves = 0
        near = [table.fence_marks(wanted + move * step) for move in range(-moves, moves + 1)]
        marks = dict.fromkeys(mark for pair in near for mark in pair)
        kept = tuple(mark for mark in marks if least - MARK <= mark <= most + MARK)
        return cls(wanted, kept or here)


@dataclass(frozen=True, slots=True)
class SharedSum:
    """What two positions of the fence have to add up to (mm): those of a corner's flat and of its upright piece."""

    flat: int
    upright: int
    wanted: Mm


def truest(positions: Sequence[Position], sums: Sequence[SharedSum]) -> tuple[Mm, ...]:
    """A setting for each position, so that the worst sum is missed by least (mm).

    Of settings as true the ones whose sums are truer together are taken, then those nearer to the positions; between
    two marks the higher one: a lip that is a little wide is sanded off, one that is short is not.
    """
    return _Search(positions, sums).best()


Worth: TypeAlias = tuple[Mm, float, Mm]
"""By how much the worst sum is missed (mm), all of them together (mm²), and how far positions were moved (mm)."""


@dataclass(slots=True)
class _Search:
    """Branch and bound: a way that cannot become better than the best so far is left."""

    positions: Sequence[Position]
    sums: Sequence[SharedSum]
    found: tuple[Worth, tuple[Mm, ...]] | None = None

    def best(self) -> tuple[Mm, ...]:
        self._go_on((), self._bound(()))
        if self.found is None:
            raise AssertionError("every position has a choice")
        return self.found[1]

    def _go_on(self, way: tuple[Mm, ...], bound: Worth) -> None:
        if self.found is not None and bound >= self.found[0]:
            return
        if len(way) == len(self.positions):
            self.found = (bound, way)
            return
        ways = [(*way, setting) for setting in self.positions[len(way)].choices]
        for longer in sorted(ways, key=lambda one: (self._bound(one), -one[-1])):
            self._go_on(longer, self._bound(longer))

    def _bound(self, way: tuple[Mm, ...]) -> Worth:
        """The best that may become of a way that has a setting for the first of the positions."""
        choices = [(setting,) for setting in way] + [one.choices for one in self.positions[len(way) :]]
        errors = [
            min(
                abs(flat + upright - s.wanted)
                for flat in choices[s.flat]
                for upright in ((flat,) if s.upright == s.flat else choices[s.upright])
            )
            for s in self.sums
        ]
        moved = sum(
            min(abs(setting - position.wanted) for setting in open_to)
            for position, open_to in zip(self.positions, choices, strict=True)
        )
        return round(max(errors, default=0.0), 6), round(sum(e**2 for e in errors), 9), round(moved, 6)


def fences_on_marks(setting: CornerSetting, table: RouterTable) -> CornerSetting:
    """A corner by itself with its fence settings on the scale's marks; its lip then is what they give.

    A corner with one setting for both pieces keeps one, so that what it is off counts twice; else the upright piece's
    goes to the mark next to it, and the flat piece's makes the lip true. No piece is cut by less
    than the step, else a part of the profile would cut nothing, nor by more than the cutter's radius.

    Args:
        setting: as it would be on a fence without marks.
        table: whose fence scale is read.
    """
    cutter, corner = setting.cutter, setting.corner
    least = cutter.mating.least_fence(cutter.step.value)
    most = math.inf if cutter.diameter is None else cutter.diameter / 2
    wanted = corner.fence_sum(cutter)
    flat = Position.on_scale(setting.fence_flat, table, least, most)
    upright = Position.on_scale(setting.fence_upright, table, least, most, moves=0)
    if setting.has_one_fence:
        (both,) = truest([upright], [SharedSum(0, 0, wanted)])
        return replace(setting, fence_flat=both, fence_upright=both)
    flat_setting, upright_setting = truest([flat, upright], [SharedSum(0, 1, wanted)])
    return replace(setting, fence_flat=flat_setting, fence_upright=upright_setting)
