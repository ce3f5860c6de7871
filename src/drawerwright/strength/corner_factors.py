"""Factors of a hooked corner out of the table that finite elements gave.

The table is data/corner_factors.csv, written by tests/validation/derive_corner_factors.py, which tells its columns and
the stiffness that each wood was given, with the source.

Every factor is a mean stress times a length over a force, so that it serves corners of any size: what they depend on
are shares of the upright piece's thickness. Between the table's sections they are interpolated, a straight line in each
share; beyond them the nearest holds.
"""

from __future__ import annotations

import csv
import itertools
from bisect import bisect_right
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from importlib import resources

from drawerwright.joints.holding import Hook

AXES = ("mid", "step", "neck", "flank", "roof")
_NAMED = (*AXES, "wood", "lip", "phase")


@dataclass(frozen=True, slots=True)
class Factors:
    """The factors of one section by the names of the table's columns; `outside` where it lies beyond the table."""

    by_name: dict[str, float]
    outside: bool

    def __getitem__(self, name: str) -> float:
        return self.by_name[name]


def shares_of(hook: Hook) -> tuple[float, ...]:
    """Where a hook stands on the axes of the table."""
    thick = hook.thickness
    return hook.middle / thick, hook.step / thick, hook.neck_share, hook.flank, hook.roof / thick


def factors_of(hook: Hook, layered: bool = False) -> tuple[Factors, ...]:
    """The factors of a hook: one set in solid wood, one for each place of the plies in plywood."""
    tables = _tables()["plywood" if layered else "hardwood"]
    return tuple(_interpolated(table, shares_of(hook)) for table in tables)


@dataclass(frozen=True, slots=True)
class _Grid:
    axes: tuple[tuple[float, ...], ...]
    rows: dict[tuple[float, ...], dict[str, float]]


@cache
def _tables() -> dict[str, tuple[_Grid, ...]]:
    """By wood, a grid for each place of the plies; rows with a lip show only that it does not matter."""
    text = resources.files("drawerwright.strength").joinpath("data/corner_factors.csv").read_text("utf-8")
    found: dict[tuple[str, float], dict[tuple[float, ...], dict[str, float]]] = defaultdict(dict)
    for row in csv.DictReader(text.splitlines()):
        if float(row["lip"]):
            continue
        place = tuple(float(row[axis]) for axis in AXES)
        values = {name: float(value) for name, value in row.items() if name not in _NAMED and value}
        found[row["wood"], float(row["phase"])][place] = values
    grids: dict[str, list[_Grid]] = defaultdict(list)
    for (wood, _phase), rows in sorted(found.items()):
        axes = tuple(tuple(sorted(set(values))) for values in zip(*rows, strict=True))
        grids[wood].append(_Grid(axes, rows))
    return {wood: tuple(each) for wood, each in grids.items()}


def _interpolated(grid: _Grid, at: tuple[float, ...]) -> Factors:
    ends: list[tuple[tuple[float, float], ...]] = []
    outside = False
    for axis, value in zip(grid.axes, at, strict=True):
        inside = min(max(value, axis[0]), axis[-1])
        outside |= len(axis) > 1 and abs(inside - value) > 1e-6
        above = min(max(bisect_right(axis, inside), 1), len(axis) - 1)
        if len(axis) == 1:
            ends.append(((axis[0], 1.0),))
            continue
        share = (inside - axis[above - 1]) / (axis[above] - axis[above - 1])
        ends.append(((axis[above - 1], 1 - share), (axis[above], share)))
    total: dict[str, float] = defaultdict(float)
    for corner in itertools.product(*ends):
        weight = 1.0
        for _, share in corner:
            weight *= share
        if weight:
            for name, value in grid.rows[tuple(place for place, _ in corner)].items():
                total[name] += weight * value
    return Factors(dict(total), outside)
