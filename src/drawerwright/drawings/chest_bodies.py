"""The carcases of a job as they stand in a row, whether a bank has one of its own or shares it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.opening import CarcaseBoard

BOARD: Mm = 18.0
"""Thickness of a carcase board as it is drawn."""
PLINTH: Mm = 45.0
PLINTH_BACK: Mm = 20.0
"""How high the plinth is drawn, and how far it stands back at each end."""


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
