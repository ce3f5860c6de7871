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
from functools import cache, lru_cache
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


NOTHING = 1e-12
"""Even waves of a load in the middle come to so little."""


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


@dataclass(frozen=True)
class _Shapes:
    """Shapes along a plate whose breadth is 2, from −1 (front) to 1 (back): what pairs of them and of their derivatives
    come to over the breadth, and each with its derivatives at the places of the grid."""

    made: Array
    flat: Array
    slope: Array
    bow: Array
    mixed: Array
    at_grid: tuple[Array, ...]


def _values(made: Array, nodes: Array, order: int = 0) -> Array:
    """Each shape, or a derivative of it, at some places."""
    derived = legendre.legder(made, order, axis=1) if order else made
    values: Array = legendre.legval(nodes, derived.T).astype(np.float64)
    return values


@cache
def _shapes(supports: Supports) -> _Shapes:
    """Shapes that vanish at the front, and at the back as well where that lies on an edge."""
    unit = np.eye(DEGREE + 2)
    made = unit[2:] - unit[:-2] if supports is Supports.FOUR else unit[1:] + unit[:-1]
    nodes, weights = legendre.leggauss(DEGREE + 4)
    flat, slope, bow = (_values(made, nodes, order) for order in range(3))
    mixed = (flat * weights) @ bow.T
    places = np.linspace(-1, 1, GRID)
    return _Shapes(
        made,
        (flat * weights) @ flat.T,
        (slope * weights) @ slope.T,
        (bow * weights) @ bow.T,
        mixed + mixed.T,
        tuple(_values(made, places, order) for order in range(4)),
    )


class _Plate:
    """One plate: its shapes along y, and what each wave across costs of energy."""

    def __init__(self, span: Mm, breadth: Mm, rigidity: Rigidity, supports: Supports) -> None:
        self.span, self.breadth, self.rigidity = span, breadth, rigidity
        self.shapes = _shapes(supports)
        self.waves = np.arange(1, WAVES + 1) * math.pi / span

    def bent(self, loads: Sequence[Patch]) -> BentPlate:
        """The plate under its loads: every wave by itself, then all together at the places of a grid."""
        stiff, waves = self.rigidity, self.waves
        pushed = sum((self._pushed(load) for load in loads), np.zeros((WAVES, len(self.shapes.made))))
        deep = np.linalg.solve(self._stiffness(), pushed[:, :, None])[:, :, 0]
        x = np.linspace(0, self.span, GRID)
        across = np.sin(np.outer(waves, x))
        shape, slope, bow, twist = (
            deep @ (values * (2 / self.breadth) ** order) for order, values in enumerate(self.shapes.at_grid)
        )
        each = waves[:, None]
        sag = shape.T @ across
        bend_x = (stiff.along * each**2 * shape - stiff.coupled * bow).T @ across
        bend_y = (stiff.coupled * each**2 * shape - stiff.across * bow).T @ across
        shear = stiff.coupled + 4 * stiff.torsion
        side = (stiff.along * each**3 * shape - shear * each * bow).sum(axis=0)
        ends = (stiff.across * twist - shear * each**2 * slope)[:, [0, -1]].T @ across
        return BentPlate(
            float(sag.max()),
            float(np.abs(bend_x).max()),
            float(np.abs(bend_y).max()),
            float(max(np.abs(side).max(), np.abs(ends).max())),
        )

    def _stiffness(self) -> Array:
        """What each wave across the plate costs, for every pair of shapes along it."""
        stiff, shapes, half = self.rigidity, self.shapes, self.breadth / 2
        wave = self.waves[:, None, None]
        cost: Array = (
            stiff.along * wave**4 * half * shapes.flat
            - stiff.coupled * wave**2 / half * shapes.mixed
            + stiff.across / half**3 * shapes.bow
            + 4 * stiff.torsion * wave**2 / half * shapes.slope
        )
        return cost

    def _pushed(self, load: Patch) -> Array:
        """How much a load pushes each shape in each wave."""
        waves = self.waves
        share = 4 / (self.span * waves) * np.sin(waves * load.x) * np.sin(waves * load.length / 2)
        share[np.abs(share) < NOTHING] = 0.0
        nodes, weights = legendre.leggauss(DEGREE)
        low, high = (2 * (load.y + sign * load.width / 2) / self.breadth - 1 for sign in (-1, 1))
        within = _values(self.shapes.made, (low + high) / 2 + (high - low) / 2 * nodes)
        pressure = load.force / (load.length * load.width)
        pushed: Array = np.outer(share, pressure * within @ (weights * load.width / 2))
        return pushed
