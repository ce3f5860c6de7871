"""The odds of joints that several cutters cut: drawers of one cutter beside drawers of another.

Gauges, calipers and wood are the same for all of them, so their errors are. What a cutter's test cuts know of it and of
a gauge together (`drawerwright.joints.table.Settled`) ties its measure to the gauge; given the gauges the cutters have
nothing in common. So the gauges are drawn first, and each cutter's measures about what goes with them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeAlias

import numpy as np

from drawerwright.basics.uncertain import DEFAULT_SEED, Cause, draw_causes
from drawerwright.joints.chances import Odds
from drawerwright.joints.doubts import (
    FENCE_GAUGE,
    HEIGHT_GAUGE,
    MID_DEPTH,
    SLOPE,
    STEP,
    CutCorner,
    FirstCut,
    apart,
    follows,
)
from drawerwright.joints.odds import TRIES, chances_given, own_scatter

MixedGroup: TypeAlias = Mapping[tuple[FirstCut, CutCorner], int]
"""Corners with what each is cut by, and how many joints of each."""


def mixed_odds(
    groups: Sequence[MixedGroup], *, tries: int = TRIES, seed: int = DEFAULT_SEED
) -> tuple[Odds, ...]:
    """The odds that all joints of a group come out right, for groups whose joints are cut by several cutters.

    Args:
        groups: all of one shop: machine, calipers and stock are the same.
        tries: settings that are drawn; groups share them.
        seed: of the draws.
    """
    joints = tuple(dict.fromkeys(joint for group in groups for joint in group))
    cuts = [_OwnCut(cut, number) for number, cut in enumerate(dict.fromkeys(cut for cut, _corner in joints))]
    corners = {each.cut: [corner for cut, corner in joints if cut == each.cut] for each in cuts}
    causes = {cause.name: cause for each in cuts for cause in each.causes(corners[each.cut])}
    scatters = {joint: own_scatter(*joint) for joint in joints}
    sums = np.zeros((len(groups), 4))
    for drawn, size in draw_causes(causes.values(), tries, seed):
        at = {each.cut: each.at(drawn, corners[each.cut]) for each in cuts}
        given = {
            (cut, corner): chances_given(cut, corner, at[cut], *scatters[cut, corner])
            for cut, corner in joints
        }
        for number, group in enumerate(groups):
            closes, fits, flush = (
                math.prod(
                    (given[joint][index] ** count for joint, count in group.items()), start=np.ones(size)
                )
                for index in range(3)
            )
            sums[number] += [float(odds.sum()) for odds in (closes, fits, flush, fits * flush)]
    return tuple(Odds(*row) for row in (sums / tries).tolist())


@dataclass(frozen=True, slots=True)
class _OwnCut:
    """One of the cutters; what is its own is marked with its number."""

    cut: FirstCut
    number: int

    def causes(self, corners: Iterable[CutCorner]) -> list[Cause]:
        """What is in doubt: the gauges as a whole, and of this cutter what is so whatever the gauges are."""
        cutter, table = self.cut.cutter, self.cut.table
        loose = {
            HEIGHT_GAUGE: table.height_gauge,
            FENCE_GAUGE: table.fence_gauge,
            MID_DEPTH: apart(cutter.mid_depth, table.height_correlation),
            STEP: apart(cutter.step, table.fence_correlation),
        }
        corners = tuple(corners)
        return [
            replace(
                Cause.normal(cause.name, loose[cause.name]) if cause.name in loose else cause,
                name=self._called(cause.name, corners),
            )
            for cause in (doubt.cause for doubt in self.cut.shared_doubts(corners))
        ]

    def at(self, drawn: Mapping[str, Any], corners: Iterable[CutCorner]) -> dict[str, Any]:
        """What was drawn, as the figures of this cutter's corners take it."""
        corners = tuple(corners)
        names = [doubt.cause.name for doubt in self.cut.shared_doubts(corners)]
        at = {name: drawn[self._called(name, corners)] for name in names}
        cutter, table = self.cut.cutter, self.cut.table
        for measure, known, gauge, offset, correlation in (
            (MID_DEPTH, cutter.mid_depth, HEIGHT_GAUGE, table.height_gauge, table.height_correlation),
            (STEP, cutter.step, FENCE_GAUGE, table.fence_gauge, table.fence_correlation),
        ):
            at[measure] = at[measure] + follows(known, offset, correlation, at[gauge])
            at[gauge] = at[gauge] - follows(offset, known, correlation, at[measure])
        return at

    def _called(self, name: str, corners: Iterable[CutCorner]) -> str:
        """A cause that other cutters have as well keeps its name."""
        dialled = {key for corner in corners for key in (corner.height_key, *corner.fence_keys)}
        is_own = name in (MID_DEPTH, STEP, SLOPE) or name in dialled
        return f"{name}, cutter {self.number}" if is_own else name
