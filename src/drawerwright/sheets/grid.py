"""The planner's integer grid: lengths become whole ticks, and what does not fit is refused."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase

FINEST = Fraction(1, 1000)
"""The finest grid in mm: finer than any saw sets, coarse enough for exact sums."""
SLACK = Fraction(1, 10**6)
"""How far (mm) a length may miss the finest grid and still count as on it: the noise of floating-point sums."""


NEAR, LARGE = 1e-7, 1e6
"""A length (mm) below LARGE that misses the finest grid by less than NEAR lies on it, as floats can tell."""


def to_saw_size(length: Mm, *, step: float = 0.1) -> Mm:
    """The size on the saw's scale nearest to `length` (mm); for sizes that come out of a calculation."""
    steps = Fraction(str(step))
    return float(round(Fraction(length) / steps) * steps)


@dataclass(frozen=True)
class Grid:
    """A grid of `tick` mm on which every length of a problem lies."""

    tick: Fraction

    @classmethod
    def of(cls, lengths: Iterable[Mm]) -> Grid:
        """The coarsest grid that holds every one of `lengths` (mm).

        Raises:
            InvalidValueError: a length does not lie on the finest grid of 0.001 mm.

        >>> Grid.of([450, 2.8, 15.5]).tick
        Fraction(1, 10)
        """
        units = [_finest(length) for length in lengths]
        return cls(FINEST * (math.gcd(*units) or 1))

    def ticks(self, length: Mm) -> int:
        """`length` (mm) in ticks."""
        steps, parts = self._each
        ticks, rest = divmod(_finest(length) * parts, steps)
        if rest:
            raise InvalidValueError(
                phrase(
                    "{length} mm does not lie on the planner's grid of {step} mm: build the grid from "
                    "all lengths of the problem",
                    length=length,
                    step=float(self.tick),
                )
            )
        return int(ticks)

    def mm(self, ticks: int) -> Mm:
        """`ticks` in mm, the nearest float."""
        steps, parts = self._size
        return ticks * steps / parts

    @cached_property
    def _size(self) -> tuple[int, int]:
        return self.tick.as_integer_ratio()

    @cached_property
    def _each(self) -> tuple[int, int]:
        """What a tick is in steps of the finest grid."""
        return (self.tick / FINEST).as_integer_ratio()


def _finest(length: Mm) -> int:
    if not math.isfinite(length) or length < 0:
        raise InvalidValueError(
            phrase("a length on a sheet must be zero or more and finite, not {length}", length=length)
        )
    near = round(length * 1000)
    if abs(near / 1000 - length) < NEAR and length < LARGE:
        return near
    exact = Fraction(length)
    units = round(exact / FINEST)
    if abs(units * FINEST - exact) > SLACK:
        raise InvalidValueError(
            phrase(
                "{length} mm lies between the planner's steps of {step} mm: round the size to what "
                "the saw can be set to, for instance 0.1 mm",
                length=length,
                step=float(FINEST),
            )
        )
    return units
