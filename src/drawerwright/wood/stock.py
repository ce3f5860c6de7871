"""Stock: material on the rack, of one kind and one thickness."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics import usual
from drawerwright.basics.findings import Finding, Severity
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.wood.movement import USUAL_SAWN, Sawn
from drawerwright.wood.species import Species, others_meant
from drawerwright.wood.thickness import Panel, Thickness


class Grain(StrEnum):
    """Which way the fibre of the face runs on a sheet."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"


USUAL_GRAIN = Grain.LENGTH
"""Where nothing is said."""

SHEETS_DIFFER: Mm = 0.15
"""Sheets whose means differ by more need settings of their own: a glued corner has about this much room."""
SPREAD_LARGE: Mm = 0.3
"""Readings further apart than this show as a step at some corners, whatever the setting."""


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of board: its name in the job, what it is, how thick, and how its grain runs.

    `id` is what it was first called, where it was renamed since. Of solid wood, `species` is known where it was
    said, and `sawn` how its boards lie in the log. `moisture`: what a meter read (%), None where nobody has.
    `species_said`: what the species was called.
    """

    name: str
    panel: Panel
    thickness: Thickness
    grain: Grain = USUAL_GRAIN
    id: str = ""
    species: Species | None = None
    sawn: Sawn = USUAL_SAWN
    moisture: float | None = None
    species_said: str = ""

    @property
    def species_could_be(self) -> tuple[str, ...]:
        """Other species that could have been meant by what was said."""
        return others_meant(self.species_said) if self.species_said else ()

    @property
    def has_grain(self) -> bool:
        """Whether its face has a fibre that runs one way."""
        return self.grain is not Grain.NONE

    @property
    def key(self) -> str:
        """What tells it from other stock of a job, whatever it is called."""
        return self.id or self.name


def thickness_slip(thickness: Mm, where: str) -> Finding | None:
    """Wood thicker (mm) than any joint of this trade is made in: asks whether a decimal sign was left out."""
    meant = thickness
    if thickness <= usual.THICKEST:
        return None
    while meant > usual.THICKEST:
        meant /= 10
    return Finding(
        "thickness-unlikely",
        Severity.WARNING,
        where,
        phrase(
            "{thickness}: no joint for drawers is made in stock over {limit} thick.",
            thickness=millimetres(thickness, "g"),
            limit=millimetres(usual.THICKEST, "g"),
        ),
        phrase(
            "Did you mean {meant}? Check the decimal sign and the unit.",
            meant=millimetres(meant, ".1f"),
        ),
    )


def stock_findings(stock: Stock) -> tuple[Finding, ...]:
    """What is doubtful about a stock: which species is meant, a thickness not measured, uneven, out of limits."""
    found = []
    thickness = stock.thickness
    where = phrase("stock {name}", name=stock.name)
    if stock.species is not None and stock.species_could_be:
        found.append(
            Finding(
                "species-could-be-another",
                Severity.NOTE,
                where,
                phrase(
                    "{said!r} is taken as {taken}; {others} could be meant as well.",
                    said=stock.species_said,
                    taken=stock.species.name,
                    others="; ".join(stock.species_could_be),
                ),
                phrase("Write the name of yours as docs/wood.md gives it."),
            )
        )
    if thickness.is_provisional:
        limits = thickness.published
        known = (
            phrase(
                "published limits are {low} to {high} ({source})",
                low=millimetres(limits.low, "g", with_unit=False),
                high=millimetres(limits.high, "g"),
                source=limits.source,
            )
            if limits
            else phrase("no published limits are known for it")
        )
        found.append(
            Finding(
                "thickness-not-measured",
                Severity.WARNING,
                where,
                phrase(
                    "{nominal} nominal is not measured yet; {known}. Every setting and length "
                    "that depends on {value} is provisional.",
                    nominal=millimetres(thickness.nominal, "g"),
                    known=known,
                    value=millimetres(thickness.value),
                ),
                phrase("Measure each sheet at several places with calipers and enter the readings."),
            )
        )
        return tuple(found)
    low, high = thickness.spread or (thickness.value, thickness.value)
    if high - low > SPREAD_LARGE:
        found.append(
            Finding(
                "thickness-uneven",
                Severity.WARNING,
                where,
                phrase(
                    "readings run from {low} to {high}, more than {limit} apart.",
                    low=millimetres(low, ".2f", with_unit=False),
                    high=millimetres(high),
                    limit=millimetres(SPREAD_LARGE, "g"),
                ),
                phrase("Sort the sheets, or cut the pieces of each corner from one sheet."),
            )
        )
    means = thickness.sheet_means
    if len(means) > 1 and max(means) - min(means) > SHEETS_DIFFER:
        found.append(
            Finding(
                "sheets-differ",
                Severity.WARNING,
                where,
                phrase(
                    "the sheets' means run from {low} to {high}.",
                    low=millimetres(min(means), ".2f", with_unit=False),
                    high=millimetres(max(means)),
                ),
                phrase("Enter them as separate stocks, so that each gets its own settings."),
            )
        )
    limits = thickness.published
    if limits is not None and not limits.low <= thickness.value <= limits.high:
        found.append(
            Finding(
                "thickness-outside-published",
                Severity.NOTE,
                where,
                phrase(
                    "the mean {mean} lies outside the published {low} to {high} ({source}).",
                    mean=millimetres(thickness.value),
                    low=millimetres(limits.low, "g", with_unit=False),
                    high=millimetres(limits.high, "g"),
                    source=limits.source,
                ),
                phrase(
                    "Check the calipers' zero and the nominal thickness; the plan uses what you measured."
                ),
            )
        )
    return tuple(found)
