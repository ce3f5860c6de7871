"""The carcase around the drawers as solids: its own boards, dividers, stiles and rails.

They are in the frame of the carcase, whose y = 0 is its front edge or the face of its frame. No job knows the
boards around an opening: they are as thick as its dividers, or as they are drawn from before where it has none; a face
frame is
as thick as these, and dividers begin behind it.
"""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.opening import Carcase, CarcaseBoard, Opening
from drawerwright.drawers.parts import CarcasePart
from drawerwright.drawings.chest_bodies import BOARD
from drawerwright.drawings.solids import PartSolid, block

STAYS = (0, 0, 0)
"""A carcase does not leave when its drawers do."""


def divided_solids(carcase: Carcase, depth: Mm) -> tuple[PartSolid, ...]:
    """A divided carcase, and the face frame before it; `depth` is its clear depth (mm)."""
    inner = [board for board in carcase.boards if not board.is_frame]
    thick = min((min(board.width, board.height) for board in inner), default=BOARD)
    begin = thick if any(board.is_frame for board in carcase.boards) else 0.0
    return (
        *_around(carcase.width, carcase.height, (begin, depth), thick),
        *_boards(carcase.boards, (begin, depth), thick),
    )


def opening_solids(opening: Opening) -> tuple[PartSolid, ...]:
    """The carcase of an opening that is all of it."""
    return tuple(_around(opening.width, opening.height, (0.0, opening.depth), BOARD))


def _around(width: Mm, height: Mm, depth: tuple[Mm, Mm], thick: Mm) -> Iterator[PartSolid]:
    near, far = depth
    tall = (-thick, height + thick)
    sides: tuple[tuple[Phrase, tuple[Mm, Mm], tuple[Mm, Mm]], ...] = (
        (phrase("left side of the carcase"), (-thick, 0.0), tall),
        (phrase("right side of the carcase"), (width, width + thick), tall),
        (phrase("top of the carcase"), (0.0, width), (height, height + thick)),
        (phrase("bottom of the carcase"), (0.0, width), (-thick, 0.0)),
    )
    for label, across, up in sides:
        yield _solid(CarcasePart.BODY, label, across, (near, far), up)


def _boards(boards: tuple[CarcaseBoard, ...], depth: tuple[Mm, Mm], thick: Mm) -> Iterator[PartSolid]:
    counted: dict[tuple[bool, bool], int] = {}
    for board in boards:
        kind = board.is_frame, board.is_upright
        counted[kind] = number = counted.get(kind, 0) + 1
        left, low, right, top = board.edges
        yield _solid(
            CarcasePart.FRAME if board.is_frame else CarcasePart.DIVIDER,
            _label(board, number),
            (left, right),
            (0.0, thick) if board.is_frame else depth,
            (low, top),
        )


def _label(board: CarcaseBoard, number: int) -> Phrase:
    if board.is_frame:
        return (
            phrase("stile {number}", number=number)
            if board.is_upright
            else phrase("rail {number}", number=number)
        )
    if board.is_upright:
        return phrase("upright divider {number}", number=number)
    return phrase("level divider {number}", number=number)


def _solid(
    kind: CarcasePart, label: Phrase, across: tuple[Mm, Mm], deep: tuple[Mm, Mm], up: tuple[Mm, Mm]
) -> PartSolid:
    corners = tuple(zip(across, deep, up, strict=True))
    return PartSolid(kind, label, block(*corners), STAYS)
