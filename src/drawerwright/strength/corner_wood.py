"""How strong the wood of a corner is, each figure as a range with its source (MPa).

The likely end is the published mean of small clear pieces, the cautious one a standard deviation below it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from statistics import median

from drawerwright.basics.phrases import phrase
from drawerwright.strength.bounds import Bounds
from drawerwright.wood.sourced import Provenance, Source, SourcedRow, sourced_rows
from drawerwright.wood.species import Species
from drawerwright.wood.thickness import Panel

KILO = 1000.0
"""The table's kPa in a MPa."""
TRUE_MODULUS = 1.1
"""Of the published modulus, which holds the shear of its test as well (Wood Handbook, table's footnote)."""
VARIES_TENSION, VARIES_SHEAR, VARIES_BENDING = 0.25, 0.14, 0.16
"""Standard deviation over mean of tension across the grain, shear along it and bending of small clear pieces."""
VARIATION = Source(phrase("Wood Handbook, coefficients of variation of clear wood"), Provenance.MEMORY)
ROLLING_SHARE = Bounds(0.18, 0.28)
"""Rolling shear as a share of shear along the grain."""
ROLLING = Source(phrase("Wood Handbook, ch. 5, rolling shear"), Provenance.MEMORY)
END_SHARE = Bounds(0.1, 0.25)
"""What a glue line on end grain holds, as a share of what the wood bears in shear along its grain."""
END_GLUE = Source(phrase("Wood Handbook, ch. 10, end-grain joints"), Provenance.MEMORY)
_PLYWOOD = Source(phrase("plywood's veneers"), Provenance.ASSUMED)


@dataclass(frozen=True, slots=True)
class CornerWood:
    """What one piece of a corner bears (MPa) and how stiff it is along its grain (MPa).

    tension_across: pulled square to its grain. shear_along: sheared along it. rolling: sheared across it.
    tension_along: pulled along it. is_layered: whether its plies cross. in_newtons: whether its figures are good enough
    for forces to be shown, and not only an order.
    """

    tension_across: Bounds
    shear_along: Bounds
    rolling: Bounds
    tension_along: Bounds
    modulus: float
    sources: tuple[Source, ...]
    is_layered: bool = False
    in_newtons: bool = True

    @property
    def end_glue(self) -> Bounds:
        """What a glue line on its end grain holds."""
        return Bounds(END_SHARE.low * self.shear_along.low, END_SHARE.high * self.shear_along.high)


PLYWOOD = CornerWood(
    tension_across=Bounds(2.25, 3.0),
    shear_along=Bounds(8.0, 9.5),
    rolling=Bounds(2.3, 3.0),
    tension_along=Bounds(60.0, 80.0),
    modulus=10000.0,
    sources=(_PLYWOOD,),
    is_layered=True,
    in_newtons=False,
)
"""Assumed values of birch veneer, near what is recalled of birch plywood as a whole: good for an order, not
for forces."""


@cache
def corner_wood(panel: Panel, species: Species | None = None) -> CornerWood | None:
    """How strong a stock is in a corner; None for boards without grain, of which no such figures are known.

    Solid wood of a species that nobody named may be any of the table: the weakest at one end, the strongest at the
    other.
    """
    if panel in (Panel.BIRCH_PLYWOOD, Panel.PLYWOOD, Panel.US_PLYWOOD, Panel.HARDWOOD_PLYWOOD):
        return PLYWOOD
    if panel is not Panel.SOLID:
        return None
    row = None if species is None else species.row("mechanical")
    if row is not None:
        return _of_row(row)
    every = [_of_row(each) for each in sourced_rows("mechanical")]
    unnamed = Source(phrase("species not stated: weakest to strongest of the table"), Provenance.ASSUMED)
    return CornerWood(
        tension_across=_widest(each.tension_across for each in every),
        shear_along=_widest(each.shear_along for each in every),
        rolling=_widest(each.rolling for each in every),
        tension_along=_widest(each.tension_along for each in every),
        modulus=median(each.modulus for each in every),
        sources=(unnamed, VARIATION, ROLLING, END_GLUE),
    )


def _of_row(row: SourcedRow) -> CornerWood:
    shear = row.number("shear_along") / KILO
    tension = row["tension_across"]
    sources = [row.source, VARIATION, ROLLING, END_GLUE]
    if tension is None:
        shares = _tension_shares(row.cells["group"])
        across = Bounds((1 - VARIES_TENSION) * min(shares) * shear, median(shares) * shear)
        sources.append(
            Source(
                phrase("tension across the grain not tested: from its share of shear in like woods"),
                Provenance.ASSUMED,
            )
        )
    else:
        across = _spread(tension / KILO, VARIES_TENSION)
    along = _spread(shear, VARIES_SHEAR)
    return CornerWood(
        tension_across=across,
        shear_along=along,
        rolling=Bounds(ROLLING_SHARE.low * along.low, ROLLING_SHARE.high * along.high),
        # The customary stand-in: what the wood bears in bending.
        tension_along=_spread(row.number("bending_strength") / KILO, VARIES_BENDING),
        modulus=TRUE_MODULUS * row.number("bending_modulus"),
        sources=tuple(sources),
    )


def _spread(mean: float, varies: float) -> Bounds:
    return Bounds((1 - varies) * mean, mean)


def _widest(ranges: Iterable[Bounds]) -> Bounds:
    known = tuple(ranges)
    return Bounds(min(bounds.low for bounds in known), max(bounds.high for bounds in known))


def _tension_shares(group: str) -> list[float]:
    """Tension across the grain over shear along it, of a group's woods that were tested."""
    return [
        tension / row.number("shear_along")
        for row in sourced_rows("mechanical")
        if row.cells["group"] == group and (tension := row["tension_across"]) is not None
    ]
