"""What small things cost that are bought by the pack: screws, edging, glue."""

from __future__ import annotations

import math
from dataclasses import dataclass

ROUNDING = 1e-9
"""What reckoning may leave of a pack."""


@dataclass(frozen=True, slots=True)
class Pack:
    """A box, a roll or a bottle: its price, in any currency, where it is known, and how much is in it (pieces, mm or
    grams)."""

    price: float | None
    holds: float

    def packs(self, needed: float) -> int:
        """How many to buy for what is needed.

        >>> Pack(6.9, 200).packs(200), Pack(6.9, 200).packs(201)
        (1, 2)
        """
        return math.ceil(needed / self.holds - ROUNDING)


@dataclass(frozen=True, slots=True)
class PackPrices:
    """Packs of things that no drawer or stock has a price for; None what the job does not say."""

    screws: Pack | None = None
    edging: Pack | None = None
    glue: Pack | None = None


NO_PRICES = PackPrices()
"""Where the job says nothing."""
