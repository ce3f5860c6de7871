"""The sheet that a slice is photographed on: where its marks are and what they look like, in millimetres.

The origin is the middle of the dark field that the slice lies in, x runs to the right and y upwards. Sixteen square
marks stand around the field, each a black border about four by four squares of which no two marks, however turned, have
fewer than six that differ: so a mark is known by itself, and which way the picture is turned is known by any of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm

SQUARES = 4
"""Squares of a mark's pattern, along and across."""
SIDE: Mm = 14.0
"""Of a mark, with its border."""
FIELD: tuple[Mm, Mm] = (104.0, 68.0)
"""The dark field, across and up."""
RIGHT_DIFFERENCES = 6
"""So many squares differ between any two marks; a third of them may be read wrongly."""
_CODES = (
    *(0x32D4, 0xCFB0, 0x223D, 0xA051, 0x51C0, 0x1F87, 0xCF67, 0x9724),
    *(0x5CD9, 0xF49F, 0x81B5, 0x9EF5, 0xB50A, 0x6F3E, 0xAEAC, 0x77A1),
)
"""Found by trying: white squares are ones, row after row from the top left."""
_ACROSS = (-70.0, -42.0, -14.0, 14.0, 42.0, 70.0)
_ROW: Mm = 46.0
_BESIDE = (46.0 / 3, -46.0 / 3)


@dataclass(frozen=True, slots=True)
class SheetMark:
    """A mark: its number, its middle (mm), and its white squares, row after row from the top left."""

    number: int
    middle: tuple[Mm, Mm]

    @property
    def squares(self) -> tuple[tuple[bool, ...], ...]:
        code = _CODES[self.number]
        bits = [bool(code >> (SQUARES**2 - 1 - place) & 1) for place in range(SQUARES**2)]
        return tuple(tuple(bits[SQUARES * row : SQUARES * (row + 1)]) for row in range(SQUARES))

    @property
    def corners(self) -> tuple[tuple[Mm, Mm], ...]:
        """From the top left one, clockwise."""
        (x, y), half = self.middle, SIDE / 2
        return ((x - half, y + half), (x + half, y + half), (x + half, y - half), (x - half, y - half))

    def white(self) -> Iterator[tuple[Mm, Mm, Mm]]:
        """Its white squares: left and lower edge, and side."""
        size = SIDE / (SQUARES + 2)
        left, top = self.corners[0]
        for row, line in enumerate(self.squares):
            for column, is_white in enumerate(line):
                if is_white:
                    yield left + (column + 1) * size, top - (row + 2) * size, size


def _middles() -> Iterator[tuple[Mm, Mm]]:
    yield from ((x, _ROW) for x in _ACROSS)
    yield from ((x, y) for y in _BESIDE for x in (_ACROSS[0], _ACROSS[-1]))
    yield from ((x, -_ROW) for x in _ACROSS)


MARKS = tuple(SheetMark(number, middle) for number, middle in enumerate(_middles()))
