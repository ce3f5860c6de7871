"""A carcase divided into openings: boards between them, a face frame before them, and where each opening is then.

::

        +----------------+--+-----------+        columns count from the left, rows from the top;
        | column 1       |  | column 2  |        `verticals` are the left faces of upright dividers from the left
        | row 1          |  |           |        edge, `horizontals` the lower faces of level ones from the lower edge
        +----------------+  +-----------+
        | row 2          |  |           |        A face frame narrows every opening: its stiles and rails cover the
        +----------------+--+-----------+        carcase's edges and its dividers, and stand beyond them inside.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.opening import Beside, Carcase, CarcaseBoard, Kept, Opening


@dataclass(frozen=True, slots=True)
class FaceFrame:
    """A frame on the front edges of a carcase (mm): width of its outer stiles and rails, and of those before dividers.

    side_reveal, level_reveal: how far the inner edges of the outer stiles and rails stand inside the carcase; minus
        where the carcase's own edge shows within the frame.
    """

    stile: Mm
    rail: Mm
    side_reveal: Mm
    level_reveal: Mm
    mid_stile: Mm
    mid_rail: Mm

    @classmethod
    def flush_outside(cls, stile: Mm, rail: Mm, board: Mm, mid_stile: Mm, mid_rail: Mm) -> FaceFrame:
        """One that is flush outside with a carcase of boards so thick."""
        return cls(stile, rail, stile - board, rail - board, mid_stile, mid_rail)


@dataclass(frozen=True, slots=True)
class Division:
    """Dividers of one thickness (mm): left faces of the upright ones from the left edge, lower faces of the level ones
    from the lower edge."""

    thickness: Mm
    verticals: tuple[Mm, ...] = ()
    horizontals: tuple[Mm, ...] = ()


Cell = tuple[int, int]
"""Column from the left and row from the top, both from 1."""


def evenly(size: Mm, count: int, thickness: Mm) -> tuple[Mm, ...]:
    """Near faces of the dividers that part `size` into so many equal openings (mm).

    >>> evenly(918, 2, 18), evenly(600, 1, 18)
    ((450.0,), ())
    """
    each = (size - (count - 1) * thickness) / count
    return tuple(each * number + thickness * (number - 1) for number in range(1, count))


@dataclass(frozen=True, slots=True)
class DividedCarcase:
    """A carcase with its dividers, and a face frame where it has one.

    Raises:
        InvalidValueError: a divider does not lie inside, or two share a place; the frame leaves no opening.
    """

    name: str
    whole: Opening
    division: Division
    frame: FaceFrame | None = None

    def __post_init__(self) -> None:
        for name, faces, size in (
            ("vertical", self.division.verticals, self.whole.width),
            ("horizontal", self.division.horizontals, self.whole.height),
        ):
            last = 0.0
            for face in faces:
                if face <= last or face + self.division.thickness >= size:
                    raise InvalidValueError(
                        phrase(
                            "a divider at {face} leaves no opening beside it: it must lie beyond {last} and end "
                            "before {size}",
                            face=millimetres(face, "g"),
                            last=millimetres(last, "g"),
                            size=millimetres(size, "g"),
                        ),
                        entry=(name,),
                    )
                last = face + self.division.thickness

    @property
    def columns(self) -> int:
        return len(self.division.verticals) + 1

    @property
    def rows(self) -> int:
        return len(self.division.horizontals) + 1

    def opening(self, cell: Cell, with_fronts: Mapping[Cell, Kept]) -> Opening:
        """One of its openings.

        Args:
            cell: which; it must exist.
            with_fronts: the openings of the carcase whose fronts cover what is around them, or that are divided
                further, with what those fronts keep.
        """
        x, width, behind = self._span(cell[0] - 1, upright=True)
        z, height, _ = self._span(self.rows - cell[1], upright=False)
        column, row = cell
        stile, rail = self._between
        around = self.whole.beside  # of a part that is divided again, what is beyond its edges
        left, right = with_fronts.get((column - 1, row)), with_fronts.get((column + 1, row))
        above, below = with_fronts.get((column, row - 1)), with_fronts.get((column, row + 1))
        kept = Kept(
            left=left.right if left else around.kept.left,
            right=right.left if right else around.kept.right,
            top=above.bottom if above else around.kept.top,
            bottom=below.top if below else around.kept.bottom,
        )
        return Opening(
            width,
            height,
            self.whole.depth,
            self.carcase,
            self.whole.x + x,
            self.whole.z + z,
            Beside(
                left=stile if left else around.left if column == 1 else None,
                right=stile if right else around.right if column == self.columns else None,
                top=rail if above else around.top if row == 1 else None,
                bottom=rail if below else around.bottom if row == self.rows else None,
                kept=kept,
            ),
            behind,
        )

    @property
    def carcase(self) -> Carcase:
        """The whole of it; of a part that is divided again, the carcase that it is a part of."""
        return self.whole.carcase or self.with_inner({})

    def with_inner(self, inner: Mapping[Cell, Carcase]) -> Carcase:
        """The whole of it, some of its openings divided again; of a part, as it stands in the carcase that it is a part
        of."""
        cells: list[tuple[Mm, Mm, Mm, Mm]] = []
        boards = list(self._dividers())
        for column in range(1, self.columns + 1):
            for row in range(1, self.rows + 1):
                x, width, _ = self._span(column - 1, upright=True)
                z, height, _ = self._span(self.rows - row, upright=False)
                if (part := inner.get((column, row))) is not None:
                    cells += part.cells
                    boards += part.boards
                else:
                    cells.append((self.whole.x + x, self.whole.z + z, width, height))
        boards += self._framing()
        return Carcase(
            self.name, self.whole.width, self.whole.height, tuple(cells), self.whole.readings, tuple(boards)
        )

    def _dividers(self) -> Iterator[CarcaseBoard]:
        """Upright ones run through, level ones lie between them."""
        thick, at_x, at_z = self.division.thickness, self.whole.x, self.whole.z
        for face in self.division.verticals:
            yield CarcaseBoard(at_x + face, at_z, thick, self.whole.height, is_upright=True)
        begins = (0.0, *(face + thick for face in self.division.verticals))
        ends = (*self.division.verticals, self.whole.width)
        for low in self.division.horizontals:
            for begin, end in zip(begins, ends, strict=True):
                yield CarcaseBoard(at_x + begin, at_z + low, end - begin, thick, is_upright=False)

    def _framing(self) -> Iterator[CarcaseBoard]:
        """Outer stiles run through, rails lie between them; those before dividers likewise. Nothing without a frame."""
        frame, thick = self.frame, self.division.thickness
        if frame is None:
            return
        wide, tall = self.whole.width, self.whole.height
        half_stile, half_rail = frame.mid_stile / 2, frame.mid_rail / 2
        stiles = [
            (frame.side_reveal - frame.stile, frame.side_reveal),
            *((at + thick / 2 - half_stile, at + thick / 2 + half_stile) for at in self.division.verticals),
            (wide - frame.side_reveal, wide - frame.side_reveal + frame.stile),
        ]
        rails = [
            (frame.level_reveal - frame.rail, frame.level_reveal),
            *((at + thick / 2 - half_rail, at + thick / 2 + half_rail) for at in self.division.horizontals),
            (tall - frame.level_reveal, tall - frame.level_reveal + frame.rail),
        ]
        for number, (left, right) in enumerate(stiles):
            is_outer = number in (0, len(stiles) - 1)
            low, top = (rails[0][0], rails[-1][1]) if is_outer else (rails[0][1], rails[-1][0])
            yield self._framed(left, low, right, top, is_upright=True)
        for number, (low, top) in enumerate(rails):
            # A rail above or below runs from one outer stile to the other, one before a divider from stile to stile.
            ends = stiles if number not in (0, len(rails) - 1) else [stiles[0], stiles[-1]]
            for (_, left), (right, _) in pairwise(ends):
                yield self._framed(left, low, right, top, is_upright=False)

    def _framed(self, left: Mm, low: Mm, right: Mm, top: Mm, *, is_upright: bool) -> CarcaseBoard:
        return CarcaseBoard(
            self.whole.x + left, self.whole.z + low, right - left, top - low, is_upright, is_frame=True
        )

    @property
    def _between(self) -> tuple[Mm, Mm]:
        """The wood that is seen between two openings, beside and above each other (mm)."""
        if self.frame is None:
            return self.division.thickness, self.division.thickness
        return self.frame.mid_stile, self.frame.mid_rail

    def _span(self, place: int, *, upright: bool) -> tuple[Mm, Mm, tuple[Mm, Mm]]:
        """Begin and size of column or row `place` (from 0, from the left or from below), and by how much the frame
        narrows it at either end (mm)."""
        faces: Sequence[Mm] = self.division.verticals if upright else self.division.horizontals
        size = self.whole.width if upright else self.whole.height
        thick = self.division.thickness
        begin = faces[place - 1] + thick if place else 0.0
        end = faces[place] if place < len(faces) else size
        near, far = (
            self._narrowed(is_edge, upright=upright) for is_edge in (place == 0, place == len(faces))
        )
        if end - begin - near - far <= 0:
            raise InvalidValueError(
                phrase(
                    "the face frame leaves nothing of an opening {size} wide or high: make it narrower",
                    size=millimetres(end - begin, ".1f"),
                ),
                entry=("frame",),
            )
        return begin + near, end - begin - near - far, (near, far)

    def _narrowed(self, is_edge: bool, *, upright: bool) -> Mm:
        """How far the frame stands into an opening at the carcase's edge or at a divider (mm): not at all where it is
        narrower than the board behind it."""
        if self.frame is None:
            return 0.0
        reveal = self.frame.side_reveal if upright else self.frame.level_reveal
        middle = self.frame.mid_stile if upright else self.frame.mid_rail
        return max(reveal if is_edge else (middle - self.division.thickness) / 2, 0.0)
