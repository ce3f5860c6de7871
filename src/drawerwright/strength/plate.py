"""A thin plate that lies on three or four of its edges and is loaded square to its face.

::

        y = breadth   back: lies on an edge, or is free
        +---------+
        |         |   both sides lie on an edge: x = 0 and x = span
        |         |
        +---------+
        y = 0         front: lies on an edge

Both sides are supported, so the plate bends across them in sine waves that do not mix (Navier 1823, Levy 1899; in
Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 1959, ch. 5 and 11). Along y each wave has the least
energy that Legendre polynomials can give it (Ritz 1909), so that edges, supported or free, and loads of any place go
one way. An edge may turn: a glued one holds better, and none is counted on here. Thin: sag below about half the
thickness; beyond that a plate stiffens, so what is said here is too much.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.polynomial import legendre

from drawerwright.basics.lengths import Mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.float64]

WAVES = 61
"""The shortest wave that is reckoned with; even ones fall out where the load lies in the middle."""
DEGREE = 30
"""Polynomials along y."""
GRID = 41
"""Places along each edge at which sag and moments are looked at; an odd number, so that the middle is one."""


class Supports(StrEnum):
    """On how many edges a plate lies."""

    THREE = "three"
    """Both sides and the front; the back is free."""
    FOUR = "four"


@dataclass(frozen=True, slots=True)
class Rigidity:
    """Bending stiffness (N·mm): along x, along y, between them by Poisson's ratio, and in torsion."""

    along: float
    across: float
    coupled: float
    torsion: float

    @classmethod
    def of(cls, thickness: Mm, along: float, across: float, shear: float, poisson: float) -> Rigidity:
        """Of a plate by its moduli along x, along y and in shear (N/mm²), `poisson` from x to y."""
        cube = thickness**3 / 12
        both = 1 - poisson**2 * across / along
        return cls(cube * along / both, cube * across / both, cube * poisson * across / both, cube * shear)


@dataclass(frozen=True, slots=True)
class Patch:
    """A force (N) spread evenly over a rectangle: its middle and its size (mm)."""

    force: float
    x: Mm
    y: Mm
    length: Mm
    width: Mm


@dataclass(frozen=True, slots=True)
class BentPlate:
    """What a load does: the greatest sag (mm), the greatest moments about both axes (N·mm/mm), and the greatest force
    on a millimetre of any edge (N/mm)."""

    sag: Mm
    moment_along: float
    moment_across: float
    reaction: float


@lru_cache(maxsize=512)
def bend(
    span: Mm, breadth: Mm, rigidity: Rigidity, supports: Supports, loads: tuple[Patch, ...]
) -> BentPlate:
    """Bend a plate under the loads on it, taken together. Drawers of a bank are alike: each plate is bent once."""
    return _Plate(span, breadth, rigidity, supports).bent(loads)


class _Plate:
    """One plate: its shapes along y, and what a wave across costs of energy."""

    def __init__(self, span: Mm, breadth: Mm, rigidity: Rigidity, supports: Supports) -> None:
        self.span, self.breadth, self.rigidity = span, breadth, rigidity
        unit = np.eye(DEGREE + 2)
        # Shapes that vanish at y = 0, and at the back as well where that lies on an edge.
        if supports is Supports.FOUR:
            self.shapes = unit[2:] - unit[:-2]
        else:
            self.shapes = unit[1:] + unit[:-1]
        nodes, weights = legendre.leggauss(DEGREE + 4)
        flat, slope, bow = (self._along(order, nodes) for order in range(3))
        weights = weights * breadth / 2

        def energy(one: Array, other: Array) -> Array:
            return np.asarray((one * weights) @ other.T, dtype=np.float64)

        self.flat, self.slope, self.bow = energy(flat, flat), energy(slope, slope), energy(bow, bow)
        mixed = energy(flat, bow)
        self.mixed = mixed + mixed.T

    def _along(self, order: int, nodes: Array) -> Array:
        """Each shape, or a derivative of it by y, at places from −1 (front) to 1 (back)."""
        derived = legendre.legder(self.shapes, order, axis=1) if order else self.shapes
        shapes: Array = legendre.legval(nodes, derived.T).astype(np.float64)
        return shapes * (2 / self.breadth) ** order

    def bent(self, loads: Sequence[Patch]) -> BentPlate:
        """The plate under its loads: every wave by itself, then all together at the places of a grid."""
        stiff = self.rigidity
        x = np.linspace(0, self.span, GRID)
        nodes = np.linspace(-1, 1, GRID)
        shape, slope, bow, twist = (self._along(order, nodes) for order in range(4))
        sag, bend_x, bend_y = (np.zeros((GRID, GRID)) for _ in range(3))
        side, front, back = np.zeros(GRID), np.zeros(GRID), np.zeros(GRID)
        shear = stiff.coupled + 4 * stiff.torsion
        for count in range(1, WAVES + 1):
            wave = count * math.pi / self.span
            pushed = sum((self._pushed(load, wave) for load in loads), np.zeros(len(self.shapes)))
            if not np.any(pushed):
                continue
            deep = np.linalg.solve(self._stiffness(wave), pushed)
            across = np.sin(wave * x)
            sag += np.outer(deep @ shape, across)
            bend_x += np.outer(deep @ (stiff.along * wave**2 * shape - stiff.coupled * bow), across)
            bend_y += np.outer(deep @ (stiff.coupled * wave**2 * shape - stiff.across * bow), across)
            side += deep @ (stiff.along * wave**3 * shape - shear * wave * bow)
            ends = deep @ (stiff.across * twist[:, [0, -1]] - shear * wave**2 * slope[:, [0, -1]])
            front, back = front + ends[0] * across, back + ends[1] * across
        edges = (side, front, back)
        return BentPlate(
            float(sag.max()),
            float(np.abs(bend_x).max()),
            float(np.abs(bend_y).max()),
            float(max(np.abs(edge).max() for edge in edges)),
        )

    def _stiffness(self, wave: float) -> Array:
        """What a wave across the plate costs, for every pair of shapes along it."""
        stiff = self.rigidity
        return np.asarray(
            stiff.along * wave**4 * self.flat
            - stiff.coupled * wave**2 * self.mixed
            + stiff.across * self.bow
            + 4 * stiff.torsion * wave**2 * self.slope
        )

    def _pushed(self, load: Patch, wave: float) -> Array:
        """How much a load pushes each shape in a wave."""
        half = load.length / 2
        share = 2 / self.span * 2 / wave * math.sin(wave * load.x) * math.sin(wave * half)
        if abs(share) < 1e-12:
            return np.zeros(len(self.shapes))
        nodes, weights = legendre.leggauss(DEGREE)
        ends = [2 * (load.y + sign * load.width / 2) / self.breadth - 1 for sign in (-1, 1)]
        within = (ends[0] + ends[1]) / 2 + (ends[1] - ends[0]) / 2 * nodes
        pressure = load.force / (load.length * load.width)
        pushed: Array = pressure * share * self._along(0, within) @ (weights * load.width / 2)
        return pushed
