"""What lies on the rack: sizes of sheets, offcuts, and which offcut is worth putting back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from drawerwright.basics.declared import checked
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase

USUAL_LEAST_OFFCUT: Mm = 100.0
"""Where nobody says more, an offcut is kept from this length and width on. Common practice, no source."""


@checked
@dataclass(frozen=True, slots=True)
class SheetSize:
    """A size of sheet, or one offcut on hand.

    `length` lies along the grain of a grained sheet. `on_hand` is how many there are at the most, None when
    more can be bought. An offcut costs nothing and is used before new sheets.
    """

    label: str
    length: Mm
    width: Mm
    price: float | None = None
    on_hand: int | None = None
    is_offcut: bool = False


def told_once(sizes: Iterable[SheetSize]) -> tuple[SheetSize, ...]:
    """Sizes of which no two are the same: those that are named twice are as many as both say together.

    >>> told_once([SheetSize("a", 9, 5, on_hand=1), SheetSize("b", 9, 5), SheetSize("a", 9, 5, on_hand=2)])[0].on_hand
    3
    """
    found: dict[SheetSize, int | None] = {}
    for size in sizes:
        same = replace(size, on_hand=None)
        before = found.get(same, 0)
        found[same] = None if before is None or size.on_hand is None else before + size.on_hand
    return tuple(replace(size, on_hand=on_hand) for size, on_hand in found.items())


@dataclass(frozen=True, slots=True)
class LeastOffcut:
    """The smallest offcut that is worth keeping: its longer side, and its shorter one, whichever way the grain runs.

    Raises:
        InvalidValueError: a side is not above zero, or the shorter side is longer than the longer one.
    """

    length: Mm = USUAL_LEAST_OFFCUT
    width: Mm = USUAL_LEAST_OFFCUT

    def __post_init__(self) -> None:
        if not 0 < self.width <= self.length:
            raise InvalidValueError(
                phrase(
                    "the width of the smallest offcut to keep ({width}) must be more than 0 "
                    "and no more than its length ({length}): the width is its shorter side",
                    width=millimetres(self.width, "g"),
                    length=millimetres(self.length, "g"),
                )
            )

    @classmethod
    def of(cls, length: Mm | None, width: Mm | None) -> LeastOffcut:
        """From what somebody says of it; a side that they do not name is the usual one, as far as the other lets it."""
        if length is None:
            length = max(USUAL_LEAST_OFFCUT, width or 0.0)
        return cls(length, min(USUAL_LEAST_OFFCUT, length) if width is None else width)

    def keeps(self, one_side: Mm, other_side: Mm) -> bool:
        """Whether a rectangle is worth keeping."""
        return max(one_side, other_side) >= self.length and min(one_side, other_side) >= self.width

    def worth(self, along: Mm, across: Mm) -> float:
        """What the next job can use of a rectangle so long along the grain and so wide across it, in mm².

        Nothing where it is not worth keeping. Parts are crosscut from it until the rest is too short, and of what is
        too short half the least length is lost on average; so a long piece is worth more than a short one of its area.

        >>> LeastOffcut(400, 100).worth(2400, 300), LeastOffcut(400, 100).worth(600, 1200)
        (660000.0, 480000.0)
        """
        if not self.keeps(along, across):
            return 0.0
        return max(0.0, along - self.length / 2) * across
