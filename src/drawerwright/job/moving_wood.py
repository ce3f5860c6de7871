"""The use case `movement`: what moisture the air gives wood, and how far that moves a size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase, plain
from drawerwright.wood.moisture import (
    EMC_SOURCE,
    HUMIDITIES,
    TEMPERATURES,
    Air,
    air_words,
    climate_named,
)
from drawerwright.wood.movement import (
    PLYWOOD_IN_PLANE,
    USUAL_SAWN,
    Movement,
    Sawn,
    Swelling,
    sawn_named,
    source_words,
    species_swelling,
)
from drawerwright.wood.sourced import Provenance, least_sure
from drawerwright.wood.species import find_species, others_meant
from drawerwright.wood.thickness import Panel, board_words

PLYWOODS = (Panel.BIRCH_PLYWOOD, Panel.PLYWOOD, Panel.US_PLYWOOD, Panel.HARDWOOD_PLYWOOD)


LEAST_MOISTURE = 1.0
"""Wood in use is never drier (% of dry mass): less is most often a share that was meant in percent (common practice, no
source)."""
SMALL_MOISTURE = phrase("Moistures are in percent: write 7, not 0.07.")
WARMEST_ROOM = 45.0
"""No shop is warmer (°C): more is most often meant in °F (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class MoistureAnswer:
    """The moisture that wood comes to in some air (% of dry mass)."""

    air: Air

    @property
    def data(self) -> dict[str, Any]:
        """As JSON-ready data."""
        return {
            "emc": round(self.air.equilibrium, 2),
            "temperature": self.air.temperature,
            "humidity": self.air.humidity,
            "within_table": self.air.is_within_table,
            "source": plain(EMC_SOURCE.title),
            "provenance": str(EMC_SOURCE.provenance),
        }

    @property
    def text(self) -> str:
        """For a person."""
        lines = [
            phrase(
                "In air of {air}, wood comes to {emc:.1f} % moisture, a point or two either way.",
                air=air_words(self.air),
                emc=self.air.equilibrium,
            )
        ]
        if not self.air.is_within_table:
            lines.append(
                phrase(
                    "The published table runs from {cold:g} to {hot:g} °C and from {dry:g} to {damp:g} %; "
                    "beyond that its equation is extended.",
                    cold=TEMPERATURES[0],
                    hot=TEMPERATURES[1],
                    dry=HUMIDITIES[0],
                    damp=HUMIDITIES[1],
                )
            )
        if 0 < self.air.humidity < LEAST_MOISTURE:
            lines.append(phrase("Humidities are in percent: write 65, not 0.65."))
        if self.air.temperature > WARMEST_ROOM:
            lines.append(phrase("Temperatures are in °C: write 70F for 70 °F."))
        return "\n".join([*lines, phrase("Source: {source}.", source=EMC_SOURCE.words)])


@dataclass(frozen=True, slots=True)
class MovementAnswer:
    """How far a size moves between two moistures (%); `name` is the species or the panel."""

    name: str
    cut: Sawn | None
    before: float
    after: float
    swelling: Swelling
    movement: Movement
    others: tuple[str, ...] = ()
    """Species that the name could have meant as well."""

    def __str__(self) -> str:
        return self.text(LengthStyle())

    @property
    def change(self) -> Mm:
        """By how much the size changes (mm); less than 0 where it shrinks."""
        return self.movement.change

    @property
    def final(self) -> Mm:
        """What it comes to (mm)."""
        return self.movement.final

    @property
    def provenance(self) -> Provenance:
        """What the figure may claim."""
        return least_sure(*self.movement.sources)

    @property
    def data(self) -> dict[str, Any]:
        """As JSON-ready data, lengths in mm."""
        formula, figure = self.movement.sources
        return {
            "change": round(self.movement.change, 4),
            "final": round(self.movement.final, 4),
            "of": self.name,
            "cut": None if self.cut is None else str(self.cut),
            "size": self.movement.size,
            "from_mc": round(self.before, 2),
            "to_mc": round(self.after, 2),
            "coefficient": round(self.swelling.coefficient, 6),
            "formula": plain(formula.words),
            "source": plain(figure.words),
            "provenance": str(self.provenance),
            "could_be": list(self.others),
        }

    def text(self, style: LengthStyle) -> str:
        """For a person."""
        where = phrase("in its plane")
        if self.cut is not None:
            where = phrase("flat-sawn") if self.cut is Sawn.TANGENTIAL else phrase("quarter-sawn")
        grows = phrase("grows by") if self.movement.change >= 0 else phrase("shrinks by")
        return "\n".join(
            [
                phrase(
                    "{name}, {where}: {size} {grows} {change} to {final} from {before:.1f} to {after:.1f} % "
                    "moisture.",
                    name=board_words(self.name),
                    where=where,
                    size=style.show(self.movement.size),
                    grows=grows,
                    change=style.show(abs(self.movement.change), fine=True),
                    final=style.show(self.movement.final, fine=True),
                    before=self.before,
                    after=self.after,
                ),
                *((taken_for(self.name, self.others),) if self.others else ()),
                *((SMALL_MOISTURE,) if max(self.before, self.after) < LEAST_MOISTURE else ()),
                phrase("Sources: {sources}.", sources=source_words(self.movement.sources)),
                phrase("Boards differ: take the figure as a guide, and leave room."),
            ]
        )


def moisture_in_air(temperature: float, humidity: float) -> MoistureAnswer:
    """What moisture wood comes to in air of a temperature (°C) and a relative humidity (%).

    Raises:
        InvalidValueError: no air of this world is so.
    """
    return MoistureAnswer(Air(temperature, humidity))


def move(
    size: Mm,
    before: float,
    after: float,
    *,
    species: str | None = None,
    cut: Sawn | str | None = None,
    panel: Panel | str | None = None,
) -> MovementAnswer:
    """How far a size (mm) across the grain of solid wood, or along a sheet of plywood, moves between two moistures.

    Args:
        size: mm.
        before: its moisture now (% of dry mass).
        after: the moisture that it comes to.
        species: of solid wood, by any of its names.
        cut: how the board lies in the log; the usual one where it is not given.
        panel: instead of a species, a kind of plywood.

    Raises:
        InvalidValueError: neither species nor plywood is given or known, or a figure cannot be.
    """
    if (species is None) is (panel is None):
        raise InvalidValueError(phrase("give a species, or a kind of plywood as the panel: one of the two"))
    if species is not None:
        known, lies = find_species(species), _cut_named(cut)
        swelling = species_swelling(known, lies)
        return MovementAnswer(
            known.name,
            lies,
            before,
            after,
            swelling,
            swelling.movement(size, before, after),
            others_meant(species),
        )
    if panel not in PLYWOODS:
        raise InvalidValueError(
            phrase(
                "how far {panel!r} moves is not known; known are {names}, and solid wood by its species",
                panel=str(panel),
                names=", ".join(PLYWOODS),
            )
        )
    moved = PLYWOOD_IN_PLANE.movement(size, before, after)
    return MovementAnswer(str(panel), None, before, after, PLYWOOD_IN_PLANE, moved)


def moistures_of_climate(name: str) -> tuple[float, float]:
    """The least and the greatest moisture (%) of wood in a standing climate.

    Raises:
        InvalidValueError: there is no climate of this name.
    """
    return climate_named(name).range


def _cut_named(cut: Sawn | str | None) -> Sawn:
    return USUAL_SAWN if cut is None else sawn_named(str(cut))


def taken_for(name: str, others: Sequence[str]) -> Phrase:
    """Which species was taken where a name could have meant others too."""
    return phrase(
        "Taken as {name}; the table also has {others}: write out the name if you mean that one.",
        name=name,
        others="; ".join(others),
    )
