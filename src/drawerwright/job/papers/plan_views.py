"""Views of the whole job: the piece from the front and standing, a drawer of each type put together."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.axonometric_views import PlacedBank, draw_chest_standing, draw_drawer_whole
from drawerwright.drawings.chest import Chest, ShownBank, draw_chest
from drawerwright.drawings.chest_marks import ChestMark
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.solids import drawer_solids
from drawerwright.job.job import Job
from drawerwright.job.papers.drawer_types import drawer_types
from drawerwright.job.planning.draft import JobDraft

FRONT_ROOM: tuple[Mm, Mm] = (58.0, 64.0)
STANDING_ROOM: tuple[Mm, Mm] = (70.0, 84.0)
DRAWER_ROOM: tuple[Mm, Mm] = (44.0, 46.0)
"""Paper for the three views that stand beside each other on the first page."""
MOST_STANDING = 80
"""A piece of more drawers is not drawn standing: nobody could tell them apart."""

Draw = Callable[[], Scene]


def overview_drawings(draft: JobDraft) -> Iterator[tuple[str, Draw]]:
    """Name and maker of each view of the first page."""
    job, style = draft.job, draft.job.style
    if job.all_boxes:
        yield "view-front", partial(chest_front, job, style, room=FRONT_ROOM, annotated=False)
    if job.banks and sum(len(bank.boxes) for bank in job.banks) <= MOST_STANDING:
        yield "view-standing", partial(_standing, draft)
    if draft.assembled:
        yield "view-drawer", partial(_one_drawer, draft)


def chest_front(
    job: Job,
    style: LengthStyle,
    *,
    marks: tuple[ChestMark, ...] = (),
    room: tuple[Mm, Mm],
    annotated: bool = True,
) -> Scene:
    """The whole piece from the front; a tray is out of sight, so what is marked of it stands at its drawer."""
    banks = tuple(ShownBank(bank.bank, bank.fibre) for bank in job.banks)
    boxes = tuple(each for each in job.boxes if not each.inside)
    lies_in = {each.name: each.inside for each in job.boxes if each.inside}
    marks = tuple(
        replace(mark, drawers=frozenset(_seen(name, lies_in) for name in mark.drawers)) for mark in marks
    )
    return draw_chest(Chest(job.name, banks, boxes, marks), annotated=annotated, style=style, room=room)


def _seen(name: str, lies_in: Mapping[str, str]) -> str:
    """The drawer itself, or for a tray the drawer that it lies in at last."""
    while name in lies_in:
        name = lies_in[name]
    return name


def _standing(draft: JobDraft) -> Scene:
    """The first bank has the drawer in its middle pulled out."""
    placed = []
    for number, bank in enumerate(draft.job.banks):
        drawers = draft.drawers_of(bank)
        middle = drawers[len(drawers) // 2] if drawers and number == 0 else None
        is_open = None if middle is None else (middle.box.name, drawer_solids(middle, draft.made))
        placed.append(PlacedBank(bank.bank, drawers, is_open))
    return draw_chest_standing(draft.job.name, placed, STANDING_ROOM, draft.job.style)


def _one_drawer(draft: JobDraft) -> Scene:
    drawer = drawer_types(draft.assembled)[0].shown
    title = phrase("Drawer {name}", name=drawer.box.name)
    return draw_drawer_whole(drawer_solids(drawer, draft.made), title, DRAWER_ROOM, draft.job.style)
