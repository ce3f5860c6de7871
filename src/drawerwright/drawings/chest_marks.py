"""The numbers of findings at a chest, each beside the fronts or at the boxes that it concerns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.drawers.scoop import Scoop
from drawerwright.drawings.chest_bodies import BOARD
from drawerwright.drawings.scene import Circle, Fill, Ink, Item, Point, Strokes, Text

LETTERS: Mm = 3.4
"""Lettering that a screen at its usual size shows 13 pixels high."""
BALLOON: Mm = 2.9
"""Radius of a finding's number."""
NEXT_BALLOON: Mm = 2 * BALLOON + 0.4
"""From the number of a finding to the next one at the same fronts or the same box."""
FIRST_LINE: Mm = 3.5
"""From the carcase to the first bracket beside it."""
NEXT_LINE: Mm = 2 * BALLOON + 1.0
"""From a bracket to the next one further out."""
ON_WOOD: Mm = 1.2
"""From the edge of fronts to a bracket that has to stand on them."""


@dataclass(frozen=True, slots=True)
class ChestMark:
    """A finding by its number, and the drawers that it concerns."""

    number: int
    drawers: frozenset[str]


@dataclass(frozen=True, slots=True)
class ChestFace:
    """What shows of a drawer, with its bank's number (None for a plain box): edges in mm of the thing."""

    name: str
    bank: int | None
    left: Mm
    low: Mm
    right: Mm
    top: Mm
    fibre: Degrees | None = 0.0
    scoop: Scoop | None = None
    is_drawer: bool = True


@dataclass(frozen=True, slots=True)
class _Bracket:
    """Findings that concern the same fronts of a bank: their numbers, and the edges of these fronts in mm of paper."""

    numbers: tuple[int, ...]
    left: Mm
    low: Mm
    right: Mm
    top: Mm

    @property
    def columns(self) -> list[tuple[int, ...]]:
        """Its numbers above each other as many as find room beside the fronts, the next ones further out."""
        most = max(int((self.top - self.low) / NEXT_BALLOON), 1)
        return [self.numbers[at : at + most] for at in range(0, len(self.numbers), most)]


def marks_beside(
    marks: Sequence[ChestMark], faces: Sequence[ChestFace], banks: int, scale: float
) -> Iterator[Item]:
    """The numbers of findings with a bracket over the fronts that they concern: beside the banks at the ends, on the
    wood along the right edge of all others. A plain box has them on its upper right corner."""
    shown = [face for face in faces if face.bank is not None]
    if shown:
        ends = min(face.left for face in shown) * scale, max(face.right for face in shown) * scale
        used = {True: FIRST_LINE, False: FIRST_LINE}
        board = BOARD * scale
        for bank in range(banks):
            inside = ON_WOOD + BALLOON
            for bracket in _brackets(marks, [face for face in shown if face.bank == bank], scale):
                is_left = bracket.left - ends[0] < board
                if is_left or ends[1] - bracket.right < board:
                    out = -1 if is_left else 1
                    edge = (bracket.left if is_left else bracket.right) + out * (board + 0.8)
                    yield from _bracketed(bracket, edge, edge + out * used[is_left], out)
                    used[is_left] += NEXT_LINE * len(bracket.columns)
                else:
                    yield from _bracketed(bracket, bracket.right - ON_WOOD, bracket.right - inside, -1)
                    inside += NEXT_LINE * len(bracket.columns)
    numbers = numbers_at_boxes(marks, faces)
    for face in faces:
        for place, number in enumerate(reversed(numbers.get(face.name, ())) if face.bank is None else ()):
            yield from _balloon((face.right * scale - place * NEXT_BALLOON, face.top * scale), number)


def numbers_at_boxes(marks: Sequence[ChestMark], faces: Sequence[ChestFace]) -> dict[str, list[int]]:
    """The findings that stand at each plain box: one that concerns several stands at the first with room above."""
    boxes = [face for face in faces if face.bank is None]
    numbers: dict[str, list[int]] = {}
    for mark in marks:
        own = [face for face in boxes if face.name in mark.drawers]
        if own:
            place = next((face for face in own if not _is_under_another(face, boxes)), own[0])
            numbers.setdefault(place.name, []).append(mark.number)
    return numbers


def _is_under_another(face: ChestFace, boxes: Sequence[ChestFace]) -> bool:
    """Whether a box stands above the right half of another, where a number would hide its name."""
    middle = (face.left + face.right) / 2
    return any(other.low >= face.top and other.left < face.right and other.right > middle for other in boxes)


def _brackets(marks: Sequence[ChestMark], faces: Sequence[ChestFace], scale: float) -> list[_Bracket]:
    """Of one bank, the shortest first, so that a longer one goes round it."""
    numbers: dict[frozenset[str], list[int]] = {}
    for mark in marks:
        numbers.setdefault(frozenset(face.name for face in faces if face.name in mark.drawers), []).append(
            mark.number
        )
    found = []
    for names, alike in numbers.items():
        own = [face for face in faces if face.name in names]
        if own:
            found.append(
                _Bracket(
                    tuple(alike),
                    min(face.left for face in own) * scale,
                    min(face.low for face in own) * scale + 0.6,
                    max(face.right for face in own) * scale,
                    max(face.top for face in own) * scale - 0.6,
                )
            )
    return sorted(found, key=lambda each: each.top - each.low)


def _bracketed(bracket: _Bracket, edge: Mm, line: Mm, out: int) -> Iterator[Item]:
    low, top = bracket.low, bracket.top
    yield Strokes(
        (((edge, low), (line, low)), ((line, low), (line, top)), ((line, top), (edge, top))), Ink.MARK
    )
    for column, numbers in enumerate(bracket.columns):
        at = line + out * column * NEXT_LINE
        for place, number in enumerate(numbers):
            yield from _balloon(
                (at, (low + top) / 2 + ((len(numbers) - 1) / 2 - place) * NEXT_BALLOON), number
            )


def _balloon(at: Point, number: int) -> tuple[Item, ...]:
    return (
        Circle(at, BALLOON, Ink.MARK, fill=Fill.PAPER),
        Text(at, str(number), LETTERS - 0.5, "middle", "middle", bold=True),
    )
