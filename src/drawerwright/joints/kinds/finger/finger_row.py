"""A row of fingers along an edge: the one place that holds its formulas.

Along the edge from its lower end, in millimetres; `f` finger, `c` clearance, `W` width of the edge, `e` end finger::

    piece with end fingers   |  e  |    |  f  |    |  f  |    |  e  |
    piece with end notches   |     |  f |     |  f |     |  f |     |

Fingers and gaps take turns. All but the two at the ends are `f` wide, so that one jig with the pitch ``2 f`` spaces
them all. Their number between the ends is odd: both ends are alike, and the row reads the same turned over. The ends
share what is left, ``e = (W - k f) / 2``; since k goes in steps of 2, one of them lies between half a finger and one
and a half.

A notch is cut ``f + c / 2`` wide about its place, which leaves fingers of ``f - c / 2``: ``c`` to spare in each notch,
half of it on either side.

Derived for this project; the tests check it with boolean operations on both pieces.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, at_most, millimetres
from drawerwright.basics.phrases import phrase

FromTo = tuple[Mm, Mm]
"""From here to there along the edge (mm)."""
NARROWEST_END = 0.5
"""In fingers: what is narrower breaks off."""
LOOSEST_SHARE = 0.25
"""Of a finger: with more clearance the row is no joint (common practice, no source); a usual one is a hundredth."""
SLIGHTLY = 1e-9


@dataclass(frozen=True, slots=True)
class FingerRow:
    """The row in an edge of this width (mm).

    Raises:
        InvalidValueError: the edge is too low for one finger between two ends, or the clearance too large for it.
    """

    width: Mm
    finger: Mm
    clearance: Mm = 0.0

    def __post_init__(self) -> None:
        if self.width < 2 * self.finger - SLIGHTLY:
            raise InvalidValueError(
                phrase(
                    "fingers of {finger} need an edge of {least} or more (two fingers), not {width}: take narrower "
                    "fingers, or make the drawer higher",
                    finger=millimetres(self.finger, "g"),
                    least=millimetres(2 * self.finger, "g"),
                    width=millimetres(self.width, "g"),
                )
            )
        most = LOOSEST_SHARE * self.finger
        if self.clearance > most + SLIGHTLY:
            raise InvalidValueError(
                phrase(
                    "a clearance of {clearance} leaves fingers of {finger} loose; the limit is {most}, a "
                    "quarter of a finger (common practice, no source): make it smaller",
                    clearance=millimetres(self.clearance, "g"),
                    finger=millimetres(self.finger, "g"),
                    most=at_most(most),
                )
            )

    @property
    def between(self) -> int:
        """How many fingers and gaps there are between the two ends: an odd number."""
        most = math.floor(self.width / self.finger - 2 * NARROWEST_END + SLIGHTLY)
        return most if most % 2 else most - 1

    @property
    def end(self) -> Mm:
        """Width of the finger at either end."""
        return (self.width - self.between * self.finger) / 2

    @property
    def widths(self) -> tuple[Mm, ...]:
        """Fingers and gaps in turn, from the lower edge up; together exactly the width of the edge."""
        return (self.end, *(self.finger for _ in range(self.between)), self.end)

    @property
    def has_whole_ends(self) -> bool:
        """Whether the fingers at the ends are as wide as the others, to what a saw can be set."""
        return abs(self.end - self.finger) < WHOLE

    @property
    def fingers(self) -> int:
        """Fingers of the piece that has one at either end; the other piece has one less."""
        return self.between // 2 + 2

    @property
    def pitch(self) -> Mm:
        """From one notch to the next: what the jig spaces."""
        return 2 * self.finger

    @property
    def notch(self) -> Mm:
        """Width of a notch as cut."""
        return self.finger + self.clearance / 2

    @property
    def tongue(self) -> Mm:
        """Width of a finger as it is left."""
        return self.pitch - self.notch

    @property
    def first_notch(self) -> Mm:
        """From the edge to the first notch of the piece with end fingers."""
        return self.end - self.clearance / 4

    @property
    def end_notch(self) -> Mm:
        """How wide the notch at either end of the other piece is."""
        return self.end + self.clearance / 4

    @property
    def notches_between(self) -> tuple[FromTo, ...]:
        """Notches of the piece with a finger at either end."""
        starts = (self.first_notch + number * self.pitch for number in range(self.fingers - 1))
        return tuple((start, start + self.notch) for start in starts)

    @property
    def notches_at_ends(self) -> tuple[FromTo, ...]:
        """Notches of the other piece: one at either end, and those between."""
        starts = (self.end_notch + self.tongue + number * self.pitch for number in range(self.fingers - 2))
        return (
            (0.0, self.end_notch),
            *((start, start + self.notch) for start in starts),
            (self.width - self.end_notch, self.width),
        )

    def glued(self, flat: Mm, upright: Mm) -> float:
        """Glued faces along the grain of both pieces (mm²): the two flanks of every finger of the piece with notched
        ends, each as large as both thicknesses make it."""
        return 2 * (self.fingers - 1) * flat * upright

    def passes(self, kerf: Mm) -> int:
        """How often a blade or bit of this width goes through a notch."""
        return max(math.ceil(self.notch / kerf - SLIGHTLY), 1)


WHOLE: Mm = 0.05
"""Widths closer than this are one (what a saw can be set to, common practice, no source)."""


def whole_widths(width: Mm, finger: Mm) -> tuple[Mm, Mm]:
    """The edges next below and next above a width (mm) that give whole fingers at both ends: odd multiples, three
    fingers at the least.

    >>> whole_widths(110.0, 9.5)
    (104.5, 123.5)
    """
    below = max(math.floor((width / finger - 1) / 2 + SLIGHTLY), 1)
    return (2 * below + 1) * finger, (2 * below + 3) * finger
