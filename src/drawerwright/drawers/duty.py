"""What a drawer has to do: what lies in it, how often it is pulled, and in what air it stands."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.loads import Kg
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.wood.moisture import USUAL_CLIMATE, Climate

MM3_PER_LITRE = 1e6


class Contents(StrEnum):
    """What fills a drawer."""

    PAPER = "paper"
    LINEN = "linen"
    TOOLS = "tools"
    CROCKERY = "crockery"
    BOTTLES = "bottles"

    @property
    def words(self) -> Phrase:
        """What it is in the reader's language."""
        return _CONTENTS_WORDS[self]

    @property
    def density(self) -> float:
        """What a litre of a full drawer weighs (kg)."""
        return _DENSITIES[self]


_CONTENTS_WORDS = {
    Contents.PAPER: phrase("paper"),
    Contents.LINEN: phrase("linen"),
    Contents.TOOLS: phrase("tools"),
    Contents.CROCKERY: phrase("crockery"),
    Contents.BOTTLES: phrase("bottles"),
}
_DENSITIES = {
    Contents.PAPER: 0.6,
    Contents.LINEN: 0.15,
    Contents.TOOLS: 0.75,
    Contents.CROCKERY: 0.4,
    Contents.BOTTLES: 0.65,
}
"""Packed paper 0.6, clothes 0.10 to 0.20, tools and cutlery 0.5 to 1.0, crockery 0.3 to 0.5 (common practice, from
memory); full bottles of 0.75 l, 1.25 kg each on 80 × 80 × 300 mm (worked out here)."""


class Use(StrEnum):
    """How a drawer is used."""

    OCCASIONAL = "occasional"
    DAILY = "daily"
    HEAVY = "heavy"

    @property
    def words(self) -> Phrase:
        """The use in the reader's language."""
        return _USE_WORDS[self]


_USE_WORDS = {
    Use.OCCASIONAL: phrase("occasional use"),
    Use.DAILY: phrase("daily use"),
    Use.HEAVY: phrase("heavy use"),
}


@dataclass(frozen=True, slots=True)
class Duty:
    """What is said of one drawer: a load (kg) or what fills it, its use, its climate; None where nobody has said."""

    load: Kg | None = None
    contents: Contents | None = None
    use: Use | None = None
    stated_climate: Climate | None = None

    @property
    def climate(self) -> Climate:
        """Where the drawer stands; in a heated room where nothing is said."""
        return self.stated_climate or USUAL_CLIMATE

    def carried(self, volume: float) -> Kg | None:
        """What lies in a drawer that holds `volume` (mm³): as stated, else full of what fills it; None where neither is
        known (kg)."""
        if self.load is not None:
            return self.load
        if self.contents is not None:
            return self.contents.density * volume / MM3_PER_LITRE
        return None


NOTHING_SAID = Duty()
"""Of a drawer that nobody has said anything about."""
