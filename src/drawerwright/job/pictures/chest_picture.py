"""The whole piece from the front, each drawer a link."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.drawings.chest import Chest, ChestMark, ShownBank, draw_chest
from drawerwright.drawings.scene import Scene, Text
from drawerwright.job.glance.at_a_glance import PlacedFinding
from drawerwright.job.job import Job
from drawerwright.job.pictures.on_screen import on_screen

DESK: tuple[Mm, Mm] = (152.0, 112.0)
PHONE: tuple[Mm, Mm] = (84.0, 72.0)
"""Room for the piece itself at a desk and on a phone: lettering keeps its size in both."""
CARD: tuple[Mm, Mm] = (66.0, 48.0)

Address = Callable[[str], str]
"""Where the link of a drawer leads."""


def chest_pictures(
    job: Job, style: LengthStyle, address: Address, findings: Iterable[PlacedFinding] = ()
) -> tuple[str, str]:
    """The piece from the front for a wide page, and for a narrow one without its sizes; empty for a job of nothing."""
    names = [box.name for box in job.all_boxes]
    marks = tuple(
        ChestMark(placed.number, frozenset(placed.group.drawers))
        for placed in findings
        if placed.group.drawers and len(placed.group.drawers) < len(names)
    )
    links = {name: address(name) for name in names}
    wide = chest_scene(job, style, marks=marks, room=DESK)
    narrow = chest_scene(job, style, marks=marks, room=PHONE, annotated=False)
    return on_screen(wide, links), on_screen(narrow, links)


def small_chest(job: Job, style: LengthStyle) -> str:
    """The piece for a list of jobs: without names, which would be too small to read."""
    scene = chest_scene(job, style, room=CARD, annotated=False)
    items = tuple(item for item in scene.items if not isinstance(item, Text))
    return on_screen(replace(scene, items=items, regions=()))


def chest_scene(
    job: Job,
    style: LengthStyle,
    *,
    marks: tuple[ChestMark, ...] = (),
    room: tuple[Mm, Mm] = DESK,
    annotated: bool = True,
) -> Scene:
    """The same as a drawing."""
    banks = tuple(
        ShownBank(
            bank.bank,
            any(box.applied is not None and box.applied.grain_upright for box in bank.boxes),
        )
        for bank in job.banks
    )
    return draw_chest(Chest(job.name, banks, job.boxes, marks), annotated=annotated, style=style, room=room)
