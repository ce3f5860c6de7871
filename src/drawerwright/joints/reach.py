"""How far the cutter can stand out of the fence, and how large a lip that leaves."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.joints import law
from drawerwright.joints.cutter import Cutter

THIN_NECK_SHARE = 0.3
"""A neck under this share of the upright's thickness breaks in handling (common practice, no source)."""
THIN_NECK: Mm = 3.0
"""The least neck at any thickness (common practice, no source)."""


def least_neck(upright_thickness: Mm) -> Mm:
    """The least neck that is usual in stock of this thickness (mm)."""
    return max(THIN_NECK, THIN_NECK_SHARE * upright_thickness)


def least_upright(step: Mm) -> Mm:
    """The thinnest upright piece that keeps its neck when the tooth alone cuts it (mm).

    >>> round(least_upright(3.5), 6), round(least_upright(7.7), 6)
    (6.5, 11.0)
    """
    tooth = law.tooth_only_setting(step)
    return max(tooth + THIN_NECK, tooth / (1 - THIN_NECK_SHARE))


@dataclass(frozen=True, slots=True)
class Reach:
    """As far as a cutter can stand out of the fence (mm): by its radius, and by what the router table takes."""

    radius: Mm = math.inf
    table: Mm = math.inf

    @classmethod
    def of(cls, cutter: Cutter, largest_setting: Mm | None = None) -> Reach:
        """The reach of a cutter on a table with this largest fence setting; None where one is not known."""
        return cls(
            math.inf if cutter.diameter is None else cutter.diameter / 2,
            math.inf if largest_setting is None else largest_setting,
        )

    @property
    def largest(self) -> Mm:
        """The largest fence setting of either piece."""
        return min(self.radius, self.table)

    @property
    def words(self) -> str:
        """What ends it."""
        if self.radius <= self.table:
            return phrase("the cutter's radius of {radius}", radius=millimetres(self.radius))
        return phrase("the {largest} that the router table allows", largest=millimetres(self.table))

    @property
    def remedy(self) -> str:
        """What would reach further."""
        if self.radius <= self.table:
            return phrase("a larger cutter")
        return phrase("a fence that opens further")


@dataclass(frozen=True, slots=True)
class LargestLip:
    """The largest lip of a corner, and the fence settings that give it (mm). Below zero not even a flush corner can be
    cut."""

    lip: Mm
    flat: Mm
    upright: Mm
    neck: Mm


def most_upright(cutter: Cutter, upright_thickness: Mm, reach: Reach) -> Mm:
    """The largest fence setting of an upright piece that leaves the usual neck, or else of the tooth alone (mm)."""
    by_neck = law.upright_for_neck(upright_thickness, least_neck(upright_thickness))
    return min(max(by_neck, law.tooth_only_setting(cutter.step.value)), reach.largest)


def largest_lip(cutter: Cutter, upright_thickness: Mm, reach: Reach) -> LargestLip | None:
    """The largest lip that a cutter makes on stock of this thickness; None where nothing is known to end it.

    Where the cut cannot be shared, both pieces have one setting.
    """
    if math.isinf(reach.largest):
        return None
    shares = cutter.mating.shares_freely
    upright = most_upright(cutter, upright_thickness, reach) if shares else reach.largest
    return LargestLip(
        law.lip(reach.largest, upright, upright_thickness, cutter.step.value),
        reach.largest,
        upright,
        law.neck(upright_thickness, upright),
    )
