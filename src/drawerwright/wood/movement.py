"""How far wood moves when its moisture changes: across the grain by species and cut, plywood in its plane.

The handbook gives two formulas. Between 6 and 14 % of moisture a change of size is size × coefficient × points of
moisture (Eq. 13-2). Beyond, size × points / (30 · 100/S − 30 + moisture now) (Eq. 13-3), with S the shrinkage from
green to ovendry; both take wood to shrink in proportion below 30 %. The coefficient is that law at 10 % of moisture,
C = S / (3000 − 20 S), so each of the two figures gives the other: S = 3000 C / (1 + 20 C).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache
from statistics import median

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.wood.moisture import FIBRE_SATURATION
from drawerwright.wood.sourced import Provenance, Source, sourced_rows
from drawerwright.wood.species import Species

STRAIGHT = (6.0, 14.0)
"""Between these (% of moisture) the coefficients hold (USDA Wood Handbook FPL-GTR-190, 2010, p. 13-15; read)."""
TAUGHT = "USDA Wood Handbook FPL-GTR-190, 2010, ch. 13, Eq. (13-2)", Provenance.READ
BEYOND = "USDA Wood Handbook FPL-GTR-190, 2010, ch. 13, Eq. (13-3)", Provenance.MEMORY


class Sawn(StrEnum):
    """How a board lies in the log, as far as its width goes."""

    TANGENTIAL = "tangential"
    """Flat-sawn: the width runs along the rings, the thickness across them."""
    RADIAL = "radial"
    """Quarter-sawn: the width runs across the rings, the thickness along them."""

    @property
    def other(self) -> Sawn:
        """What its thickness does."""
        return Sawn.RADIAL if self is Sawn.TANGENTIAL else Sawn.TANGENTIAL


SAWN_WORDS = {
    "flat": Sawn.TANGENTIAL,
    "flat-sawn": Sawn.TANGENTIAL,
    "plain-sawn": Sawn.TANGENTIAL,
    "quarter": Sawn.RADIAL,
    "quarter-sawn": Sawn.RADIAL,
    **{str(each): each for each in Sawn},
}
"""What people call it."""


def sawn_named(name: str) -> Sawn:
    """How a board lies in the log.

    Raises:
        InvalidValueError: nothing is called so.
    """
    found = SAWN_WORDS.get("-".join(name.casefold().replace("-", " ").split()))
    if found is None:
        raise InvalidValueError(
            phrase(
                "a board is cut {cuts}, not {given!r}; flat-sawn or quarter-sawn will do too",
                cuts=" or ".join(Sawn),
                given=name,
            )
        )
    return found


USUAL_SAWN = Sawn.TANGENTIAL
"""Where nothing is said: most boards are flat-sawn, and it moves more."""


@dataclass(frozen=True, slots=True)
class Movement:
    """What a size comes to (mm), the formula and the figure that say so."""

    size: Mm
    change: Mm
    sources: tuple[Source, Source]

    @property
    def final(self) -> Mm:
        """The size afterwards (mm)."""
        return self.size + self.change


@dataclass(frozen=True, slots=True)
class Swelling:
    """How much a piece moves in one direction: the share of its size for a point of moisture, between 6 and 14 %.

    `shrinkage` is that from green to ovendry (%), where a table has it.
    """

    coefficient: float
    source: Source
    shrinkage: float | None = None
    shrinkage_source: Source | None = None

    def movement(self, size: Mm, before: float, after: float) -> Movement:
        """What a size (mm) at one moisture (%) comes to at another.

        Raises:
            InvalidValueError: the size is not more than 0, or a moisture is below 0 or above fibre saturation.
        """
        if not size > 0:
            raise InvalidValueError(
                phrase("a size must be more than 0 mm, not {size}", size=millimetres(size, "g")),
                entry=("size",),
            )
        for moisture in (before, after):
            if moisture < 0:
                raise InvalidValueError(
                    phrase(
                        "the moisture of wood cannot be less than 0 %, and {moisture:g} % is given",
                        moisture=moisture,
                    )
                )
            if not 0 <= moisture <= FIBRE_SATURATION:
                raise InvalidValueError(
                    phrase(
                        "the moisture of wood that moves lies between 0 and {most:g} %, not at {moisture:g} %: above "
                        "that it neither swells nor shrinks",
                        most=FIBRE_SATURATION,
                        moisture=moisture,
                    )
                )
        is_straight = all(STRAIGHT[0] <= moisture <= STRAIGHT[1] for moisture in (before, after))
        if is_straight:
            return Movement(size, size * self.coefficient * (after - before), (Source(*TAUGHT), self.source))
        shrinkage = 3000 * self.coefficient / (1 + 20 * self.coefficient)
        if self.shrinkage is not None:
            shrinkage = self.shrinkage
        change = size * (after - before) / (30 * 100 / shrinkage - 30 + before)
        return Movement(size, change, (Source(*BEYOND), self.shrinkage_source or self.source))


def species_swelling(species: Species, cut: Sawn) -> Swelling:
    """How a species moves across its grain.

    Raises:
        InvalidValueError: neither a coefficient nor a shrinkage is known.
    """
    published, dried = species.row("movement"), species.row("shrinkage")
    shrinkage = None if dried is None else dried.number(cut)
    dried_source = None if dried is None else dried.source
    if published is not None:
        return Swelling(published.number(cut), published.source, shrinkage, dried_source)
    if shrinkage is not None and dried_source is not None:
        return Swelling(shrinkage / (3000 - 20 * shrinkage), dried_source, shrinkage, dried_source)
    raise InvalidValueError(
        phrase(
            "no figures are known for how {name} moves across its grain: take those of a wood like it",
            name=species.name,
        ),
        entry=("species",),
    )


@cache
def usual_swelling(cut: Sawn) -> Swelling:
    """What stands in for solid wood of a species that nobody has named: the middle of the table."""
    middle = median(row.number(cut) for row in sourced_rows("movement"))
    return Swelling(middle, Source(phrase("species not named: middle of the table"), Provenance.ASSUMED))


def likely_swelling(species: Species, cut: Sawn) -> Swelling:
    """How a species moves, or the middle of the table where nothing is known of it."""
    if species.row("movement") is None and species.row("shrinkage") is None:
        return replace(
            usual_swelling(cut),
            source=Source(
                phrase("nothing known of {name}: middle of the table", name=species.name), Provenance.ASSUMED
            ),
        )
    return species_swelling(species, cut)


PLYWOOD_IN_PLANE = Swelling(
    0.00015,
    Source(phrase("Handbook of Finnish Plywood 2002/2007, birch plywood in its plane"), Provenance.MEMORY),
)
PLYWOOD_THICKNESS = Swelling(
    0.0035,
    Source(phrase("Handbook of Finnish Plywood 2002/2007, thickness of birch plywood"), Provenance.MEMORY),
)


def source_words(sources: tuple[Source, ...]) -> Phrase:
    """Every source once, in a row."""
    return joined([source.words for source in dict.fromkeys(sources)], "; ")
