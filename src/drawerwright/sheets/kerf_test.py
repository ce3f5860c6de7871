"""The kerf measured on a strip of scrap: how much narrower it has become after some cuts."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase

USUAL_CUTS = 5
"""So many cuts divide what the calipers are off by."""
WIDEST_KERF: Mm = 8.0
"""No blade of a table or panel saw is wider (from memory): more is a slip in a reading or in the number of cuts."""
SHOWN = 100
"""A kerf is known to a hundredth of a millimetre at the best."""


def lost_to(cuts: int, kerf: Mm) -> Mm:
    """How much narrower all pieces of a strip are together after so many cuts (mm)."""
    return cuts * kerf


@dataclass(frozen=True, slots=True)
class KerfTest:
    """A strip was `before` wide (mm); after so many lengthwise `cuts` its pieces, pushed together, are `after` wide.

    Raises:
        InvalidValueError: it has not become narrower, or by more than any blade takes.
    """

    before: Mm
    after: Mm
    cuts: int = USUAL_CUTS

    def __post_init__(self) -> None:
        if self.kerf <= 0:
            raise InvalidValueError(
                phrase(
                    "{after} after the cuts is no less than {before} before them: measure both again",
                    after=millimetres(self.after),
                    before=millimetres(self.before),
                ),
                entry=("after",),
            )
        if self.kerf > WIDEST_KERF:
            raise InvalidValueError(
                phrase(
                    "{lost} in {cuts} cuts would be a kerf of {kerf}, more than any blade takes ({most}): check both "
                    "widths and the number of cuts",
                    lost=millimetres(self.before - self.after),
                    cuts=self.cuts,
                    kerf=millimetres(self.kerf),
                    most=millimetres(WIDEST_KERF, "g"),
                ),
                entry=("after",),
            )

    @property
    def kerf(self) -> Mm:
        """What one cut takes, to the hundredth.

        >>> KerfTest(before=120.0, after=104.15, cuts=5).kerf
        3.17
        """
        return round((self.before - self.after) / self.cuts * SHOWN) / SHOWN

    @property
    def uncertainty(self) -> Mm:
        """Standard uncertainty of the kerf (mm), from that of two caliper readings.

        >>> round(KerfTest(before=120.0, after=104.15, cuts=5).uncertainty, 4)
        0.0085
        """
        return math.sqrt(2) * usual.CALIPER_READING / self.cuts
