"""Sheets of self-adhesive labels: how many there are on one, how large they are, and where they lie."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import MM_PER_INCH, Mm, PaperName, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.paper import PAPERS

BEYOND: Mm = 0.2
"""So much may a sheet's labels lie off the paper by their figures, which are rounded."""


@dataclass(frozen=True, slots=True)
class LabelGrid:
    """A sheet of labels, told by how many there are and how large they are (mm); left and top: of the first one;
    apart: from label to label.

    Raises:
        InvalidValueError: they do not go on the paper.
    """

    paper: PaperName
    columns: int
    rows: int
    width: Mm
    height: Mm
    left: Mm
    top: Mm
    apart: tuple[Mm, Mm] = (0.0, 0.0)

    def __post_init__(self) -> None:
        paper = PAPERS[self.paper]
        for entry, first, count, size, apart, room in (
            ("width", self.left, self.columns, self.width, self.apart[0], paper.width),
            ("height", self.top, self.rows, self.height, self.apart[1], paper.height),
        ):
            reach = first + count * size + (count - 1) * apart
            if reach > room + BEYOND:
                raise InvalidValueError(
                    phrase(
                        "{count} labels of {size} reach {reach} from the edge, beyond the {room} of the paper",
                        count=count,
                        size=millimetres(size, "g"),
                        reach=millimetres(reach, ".1f"),
                        room=millimetres(room, "g"),
                    ),
                    entry=(entry,),
                )

    @property
    def count(self) -> int:
        return self.columns * self.rows

    @property
    def places(self) -> tuple[tuple[Mm, Mm], ...]:
        """The lower left corner of each label above the sheet's lower edge, row after row from the top."""
        high = PAPERS[self.paper].height
        return tuple(
            (
                self.left + column * (self.width + self.apart[0]),
                high - self.top - row * (self.height + self.apart[1]) - self.height,
            )
            for row in range(self.rows)
            for column in range(self.columns)
        )


def _inches(columns: int, rows: int, *sizes: float) -> LabelGrid:
    width, height, left, top, apart = (MM_PER_INCH * size for size in sizes)
    return LabelGrid("letter", columns, rows, width, height, left, top, (apart, 0.0))


GRIDS: Mapping[PaperName, tuple[LabelGrid, ...]] = {
    "a4": (
        LabelGrid("a4", 3, 7, 63.5, 38.1, 7.21, 15.15, (2.54, 0.0)),
        LabelGrid("a4", 3, 8, 70.0, 37.0, 0.0, 0.5),
        LabelGrid("a4", 5, 13, 38.1, 21.2, 4.75, 10.7, (2.5, 0.0)),
    ),
    "letter": (
        _inches(3, 10, 2.625, 1.0, 0.1875, 0.5, 0.125),
        _inches(2, 5, 4.0, 2.0, 0.15625, 0.5, 0.1875),
        _inches(4, 20, 1.75, 0.5, 0.28125, 0.5, 0.3125),
    ),
}
"""The sheets that are sold everywhere, by their paper, the usual one first (from memory; measure one of yours)."""


def standing_grid(paper: PaperName, count: int) -> LabelGrid:
    """The sheet of this paper that has so many labels.

    Raises:
        InvalidValueError: there is none.
    """
    known = {grid.count: grid for grid in GRIDS[paper]}
    if count not in known:
        raise InvalidValueError(
            phrase(
                "no sheet of {count} labels is known for this paper: choose from {known}, or give the "
                "measures of yours",
                count=count,
                known=", ".join(map(str, known)),
            ),
            entry=("sheet",),
        )
    return known[count]
