"""What a board is as far as bending and weight go: its stiffness, its strength, its density, each with its source."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.wood.movement import USUAL_SAWN, Sawn
from drawerwright.wood.sourced import Provenance, Source, SourcedRow, sourced_rows
from drawerwright.wood.species import Species
from drawerwright.wood.thickness import Panel

TRUE_MODULUS = 1.1
"""The modulus along the grain is so much more than the one that a bending test shows, which holds shear as well (USDA
Wood Handbook FPL-GTR-190, 2010, ch. 5, read)."""
WEAKEST_TWENTIETH = 1 - 1.645 * 0.16
"""Of a mean bending strength of clear wood, what 19 of 20 boards bear: it varies by 16 % (USDA Wood Handbook, variation
of properties; from memory)."""
WEAKEST_ACROSS = 1 - 1.645 * 0.25
"""The same for tension across the grain, which varies by 25 % (from memory)."""
LESS_THAN_BIRCH = 0.6
"""Plywood of which nothing is known is taken to be so stiff and strong as a share of birch plywood (assumed)."""
PLYWOOD_SHEAR = 620.0
"""Shear modulus of birch plywood in its plane (N/mm²; Handbook of Finnish Plywood, from memory)."""
PLYWOOD_POISSON = 0.05
"""Of plywood, for its stiffness along (assumed, no source): it hardly counts."""
MDF_POISSON = 0.3
"""Of fibreboard (assumed, no source)."""
USUAL_DENSITY = 650.0
"""Of a board of which nothing is known (kg/m³; assumed)."""
TESTED_AT = 12.0
"""The moisture (%) at which strengths, moduli and specific gravities are told."""


def at_moisture(dry: float, green: float, moisture: float, meets_at: float) -> float:
    """A strength at a moisture (%), from those at 12 % and of green wood; wood is as strong as green at `meets_at` (%).

    USDA Wood Handbook FPL-GTR-282, 2021, Eq. (5-3), p. 5-34 (read): for strengths and moduli, not for work, impact or
    tension across the grain.

    >>> round(at_moisture(103000, 66000, 8, 24), -2)
    119500.0
    """
    if moisture >= meets_at:
        return green
    ratio: float = (dry / green) ** ((TESTED_AT - moisture) / (meets_at - TESTED_AT))
    return dry * ratio


@dataclass(frozen=True, slots=True)
class BoardBending:
    """How a board bends along the grain of its face, and across it (N/mm²).

    `along`, `across`: moduli of elasticity; `shear` in its plane; `poisson` from along to across. `strength_along` and
    `strength_across`: what 19 of 20 boards bear in bending, before any allowance for long loads.
    """

    along: float
    across: float
    shear: float
    poisson: float
    strength_along: float
    strength_across: float
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class BoardDensity:
    """Mass of a board by its volume (kg/m³)."""

    value: float
    source: Source


def board_bending(
    panel: Panel,
    thickness: Mm,
    species: Species | None = None,
    sawn: Sawn = USUAL_SAWN,
    moisture: float = TESTED_AT,
) -> BoardBending | None:
    """How a board of a kind and thickness (mm) bends; None where nothing is known of it.

    Solid wood is of a species; what the tables do not have of it is taken from their middle, and marked as assumed.
    Its strength follows `moisture` (%) where a table knows that of green wood; else it is that at 12 %.
    """
    match panel:
        case Panel.BIRCH_PLYWOOD:
            return _panel_bending(panel, thickness, PLYWOOD_POISSON, PLYWOOD_SHEAR)
        case Panel.PLYWOOD | Panel.US_PLYWOOD | Panel.HARDWOOD_PLYWOOD:
            birch = _panel_bending(Panel.BIRCH_PLYWOOD, thickness, PLYWOOD_POISSON, PLYWOOD_SHEAR)
            return _lesser(birch, LESS_THAN_BIRCH)
        case Panel.MDF:
            modulus = _at(_of_kind(panel, "modulus"), "along", thickness)
            return _panel_bending(panel, thickness, MDF_POISSON, modulus / (2 * (1 + MDF_POISSON)))
        case Panel.SOLID if species is not None:
            return _solid_bending(species, sawn, moisture)
        case _:
            return None


def board_density(panel: Panel, thickness: Mm, species: Species | None, moisture: float) -> BoardDensity:
    """The density of a board at a moisture (%), for its weight; solid wood from its specific gravity.

    Wood swells by little between a dry room and a damp one, so the volume is taken as at 12 %.
    """
    rows = [row for row in sourced_rows("panel_density") if row.name == panel]
    if rows:
        return BoardDensity(_at(rows, "density", thickness), rows[0].source)
    tested = None if species is None else species.row("mechanical")
    if panel is Panel.SOLID and tested is not None:
        gravity = tested["specific_gravity"]
        if gravity is not None:
            return BoardDensity(1000 * gravity * (1 + moisture / 100), tested.source)
    return BoardDensity(USUAL_DENSITY, Source(phrase("usual density of boards"), Provenance.ASSUMED))


def _of_kind(panel: Panel, quantity: str) -> list[SourcedRow]:
    return [
        row
        for row in sourced_rows("panel_bending")
        if row.name == panel and row.cells["quantity"] == quantity
    ]


def _panel_bending(panel: Panel, thickness: Mm, poisson: float, shear: float) -> BoardBending:
    moduli, strengths = _of_kind(panel, "modulus"), _of_kind(panel, "strength")
    return BoardBending(
        _at(moduli, "along", thickness),
        _at(moduli, "across", thickness),
        shear,
        poisson,
        _at(strengths, "along", thickness),
        _at(strengths, "across", thickness),
        (moduli[0].source,),
    )


def _lesser(board: BoardBending, share: float) -> BoardBending:
    return BoardBending(
        share * board.along,
        share * board.across,
        share * board.shear,
        board.poisson,
        share * board.strength_along,
        share * board.strength_across,
        (
            Source(phrase("plywood not known: six tenths of birch plywood"), Provenance.ASSUMED),
            *board.sources,
        ),
    )


def _solid_bending(species: Species, sawn: Sawn, moisture: float) -> BoardBending | None:
    """Flat-sawn, the face holds the directions L and T, quarter-sawn L and R."""
    tested = species.row("mechanical")
    if tested is None:
        return None
    plane = "LT" if sawn is Sawn.TANGENTIAL else "LR"
    ratios = [_ratio(species, name) for name in (f"{sawn}_modulus", f"shear_{plane}", f"poisson_{plane}")]
    along = TRUE_MODULUS * tested.number("bending_modulus")
    sources = [tested.source, *(source for _, source in ratios)]
    (across, _), (shear, _), (poisson, _) = ratios
    strength = tested.number("bending_strength")
    green = species.row("green")
    if green is not None and moisture != TESTED_AT:
        strength = at_moisture(strength, green.number("bending_strength"), moisture, green.number("meets_at"))
        sources.append(green.source)
    tension = tested["tension_across"]
    if tension is None:
        weakest = min(_tension_shares())
        tension = weakest * tested.number("bending_strength")
        sources.append(
            Source(phrase("tension across the grain not tested: weakest of the table"), Provenance.ASSUMED)
        )
    return BoardBending(
        along,
        across * along,
        shear * along,
        poisson,
        WEAKEST_TWENTIETH * strength / 1000,
        WEAKEST_ACROSS * tension / 1000,
        tuple(dict.fromkeys(sources)),
    )


def _ratio(species: Species, quantity: str) -> tuple[float, Source]:
    """An elastic ratio of a species, or the middle of the table where it has none."""
    row = species.elastic(quantity)
    if row is not None:
        return row.number("value"), row.source
    known = [each for each in sourced_rows("elastic_ratios") if each.cells["quantity"] == quantity]
    middle = median(each.number("value") for each in known)
    return middle, Source(phrase("elastic ratio not tested: middle of the table"), Provenance.ASSUMED)


def _tension_shares() -> list[float]:
    rows = sourced_rows("mechanical")
    return [
        tension / row.number("bending_strength")
        for row in rows
        if (tension := row["tension_across"]) is not None
    ]


def _at(rows: Sequence[SourcedRow], column: str, thickness: Mm) -> float:
    """A figure at a thickness (mm), straight between two rows; beyond the last row as there."""
    sizes = [row.number("thickness_mm") for row in rows]
    place = bisect_left(sizes, thickness)
    if place == 0:
        return rows[0].number(column)
    if place == len(sizes):
        return rows[-1].number(column)
    share = (thickness - sizes[place - 1]) / (sizes[place] - sizes[place - 1])
    return (1 - share) * rows[place - 1].number(column) + share * rows[place].number(column)
