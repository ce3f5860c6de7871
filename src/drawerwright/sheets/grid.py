"""The planner's integer grid: lengths become whole ticks, and what does not fit is refused."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Literal

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import FINE_INCH, MM_PER_INCH, SIZE_STEP, Mm, millimetres, to_step
from drawerwright.basics.phrases import phrase

FINEST = Fraction(1, 40_000)
"""The finest grid in mm: holds thousandths of a millimetre, thousandths and sixty-fourths of an inch."""
SLACK = Fraction(1, 10**7)
"""How far (mm) a length may miss the finest grid and still count as on it: the noise of floating-point sums."""


FORTIETH: Mm = 0.025
"""Tenths, twentieths and eighths of an inch in millimetres are multiples of this."""

NEAR, LARGE = 1e-8, 1e6
"""A length (mm) below LARGE that misses the finest grid by less than NEAR lies on it, as floats can tell."""


def to_saw_size(length: Mm, *, step: float = 0.1) -> Mm:
    """The size on the saw's scale nearest to `length` (mm); for sizes that come out of a calculation."""
    return to_step(length, step)


def planned_length(length: Mm, unit: Literal["mm", "in"]) -> Mm:
    """A length of saw or sheet as the planner takes it, beside parts that are sized in `unit`.

    In inches the nearest thousandth of one; in millimetres as it is where it lies on a fortieth (3.175, an eighth
    of an inch, does), else the nearest hundredth. A finer grid tells nothing that a saw can be set to, and takes
    time: a kerf of 2.8 mm beside parts in inches would lead to steps of a thousandth of a millimetre.

    >>> planned_length(2.8, "mm"), planned_length(3.175, "mm"), planned_length(2.833, "mm")
    (2.8, 3.175, 2.83)
    >>> [round(planned_length(kerf, "in") / 25.4, 6) for kerf in (3 / 32 * 25.4, 2.8)]
    [0.094, 0.11]
    """
    exact = round(length / FORTIETH) * FORTIETH
    if unit == "mm" and abs(exact - length) < NEAR:
        return round(exact, 3)
    return to_step(length, 0.01 if unit == "mm" else FINE_INCH * MM_PER_INCH)


@dataclass(frozen=True)
class Grid:
    """A grid of `tick` mm on which every length of a problem lies."""

    tick: Fraction

    @classmethod
    def of(cls, lengths: Iterable[Mm]) -> Grid:
        """The coarsest grid that holds every one of `lengths` (mm).

        Raises:
            InvalidValueError: a length does not lie on the finest grid.

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
                    "{length} does not lie on the planner's grid of {step}: build the grid from "
                    "all lengths of the problem",
                    length=millimetres(length, "g"),
                    step=millimetres(float(self.tick), "g"),
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
    near = round(length * FINEST.denominator)
    if abs(near / FINEST.denominator - length) < NEAR and length < LARGE:
        return near
    exact = Fraction(length)
    units = round(exact / FINEST)
    if abs(units * FINEST - exact) > SLACK:
        raise InvalidValueError(
            phrase(
                "{length} lies between the steps that the planner can tell apart: round it to what the saw "
                "can be set to, for instance {step}",
                length=millimetres(length, "g"),
                step=millimetres(SIZE_STEP["mm"], "g"),
            )
        )
    return units
