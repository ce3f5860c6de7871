"""The carcases of a job as they stand in a row, whether a bank has one of its own or shares it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, joined, phrase, plural
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.opening import CarcaseBoard
from drawerwright.drawings.scene import Fill

BOARD: Mm = 18.0
"""Thickness of a carcase board as it is drawn."""
PLINTH: Mm = 45.0
PLINTH_BACK: Mm = 20.0
"""How high the plinth is drawn, and how far it stands back at each end."""

MOST_BANKS = 60
"""More banks are not drawn, each of which would be no wider than a letter; how many there are is said."""


@dataclass(frozen=True, slots=True)
class Body:
    """A carcase as it stands in the row: its left inner edge, clear size, and its openings there (edges in mm)."""

    left: Mm
    width: Mm
    height: Mm
    cells: tuple[tuple[Mm, Mm, Mm, Mm], ...]
    boards: tuple[CarcaseBoard, ...] = ()

    @property
    def outside(self) -> tuple[Mm, Mm, Mm, Mm]:
        """Its outer edges as they are drawn."""
        return self.left - BOARD, -BOARD, self.left + self.width + BOARD, self.height + BOARD


def drawn_of(banks: Sequence[Bank]) -> int:
    """How many of the banks are drawn, so that no carcase is left half empty."""
    end = MOST_BANKS
    while end < len(banks) and _is_one_carcase(banks[end - 1], banks[end]):
        end += 1
    return end


def _is_one_carcase(bank: Bank, other: Bank) -> bool:
    carcase, beside = bank.opening.carcase, other.opening.carcase
    return carcase is not None and beside is not None and carcase.name == beside.name


def not_drawn(banks: int, boxes: int) -> Phrase:
    """How many more there are; nothing where all are drawn."""
    said = [plural("and {count} more bank", "and {count} more banks", banks)] if banks > 0 else []
    said += [phrase("and {count} more boxes", count=boxes)] if boxes > 0 else []
    return joined(said, ", ")


def bodies_of(banks: Sequence[Bank]) -> tuple[list[Body], list[Mm]]:
    """The carcases side by side with one board between them, and where each bank's carcase begins."""
    bodies: list[Body] = []
    lefts: list[Mm] = []
    known: dict[str, Mm] = {}
    at = BOARD
    for bank in banks:
        opening, carcase = bank.opening, bank.opening.carcase
        if carcase is not None and carcase.name in known:
            lefts.append(known[carcase.name])
            continue
        lefts.append(at)
        if carcase is None:
            cells: tuple[tuple[Mm, Mm, Mm, Mm], ...] = ((at, 0.0, at + opening.width, opening.height),)
            width, height = opening.width, opening.height
        else:
            known[carcase.name] = at
            cells = tuple((at + x, z, at + x + wide, z + tall) for x, z, wide, tall in carcase.cells)
            width, height = carcase.width, carcase.height
        boards = () if carcase is None else tuple(board.moved(at, 0.0) for board in carcase.boards)
        bodies.append(Body(at, width, height, cells, boards))
        at += width + BOARD
    return bodies, lefts


def carcase_edges(bodies: Sequence[Body]) -> Iterator[tuple[tuple[Mm, Mm, Mm, Mm], Fill]]:
    """The boards of every carcase, its openings, then the plinth: edges, and what they are filled with."""
    for body in bodies:
        yield body.outside, Fill.WOOD_BEHIND
        for cell in body.cells:
            yield cell, Fill.PAPER
    if bodies:
        end = bodies[-1].left + bodies[-1].width + BOARD
        yield (PLINTH_BACK, -BOARD - PLINTH, end - PLINTH_BACK, -BOARD), Fill.WOOD_BEHIND
