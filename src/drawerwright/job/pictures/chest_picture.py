"""The whole piece from the front, each drawer a link."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.drawers.carcase import pull_places
from drawerwright.drawings.chest import ROUND_PULL
from drawerwright.drawings.chest_marks import ChestMark
from drawerwright.drawings.scene import Scene, Text
from drawerwright.job.glance.at_a_glance import PlacedFinding
from drawerwright.job.job import Job
from drawerwright.job.papers.plan_views import chest_front
from drawerwright.job.pictures.on_screen import on_screen

DESK: tuple[Mm, Mm] = (152.0, 112.0)
COLUMN: tuple[Mm, Mm] = (94.0, 84.0)
PHONE: tuple[Mm, Mm] = (84.0, 72.0)
"""Room for the piece itself at a desk, in a column beside what is typed, and on a phone: lettering keeps its size."""
CARD: tuple[Mm, Mm] = (66.0, 48.0)
NAME_ROOM: Mm = 8.0
"""What the name of a front takes on its left."""

Address = Callable[[str], str]
"""Where the link of a drawer leads."""


@dataclass(frozen=True, slots=True)
class ChestPictures:
    """The piece from the front for a wide page, and for a narrow one without its sizes; with the fronts of the wide
    one, and how wide that is beside its height."""

    wide: str
    narrow: str
    fronts: tuple[FrontSpot, ...]


def chest_pictures(
    job: Job,
    style: LengthStyle,
    address: Address,
    findings: Iterable[PlacedFinding] = (),
    room: tuple[Mm, Mm] = DESK,
) -> ChestPictures:
    """The piece from the front with each drawer a link; `room` is for the piece on a wide page."""
    style = _in_short(job, style)
    names = [box.name for box in job.all_boxes]
    marks = tuple(
        ChestMark(placed.number, frozenset(placed.group.drawers))
        for placed in findings
        if placed.group.drawers and (len(placed.group.drawers) < len(names) or len(job.banks) == 1)
    )
    links = {name: address(name) for name in names}
    wide = chest_front(job, style, marks=marks, room=room)
    narrow = chest_front(job, style, marks=marks, room=PHONE, annotated=False)
    return ChestPictures(
        on_screen(wide, links), on_screen(narrow, links), front_spots(job, wide, style, address)
    )


@dataclass(frozen=True, slots=True)
class FrontSpot:
    """A front where it stands in the picture: edges in per cent of the picture's width and height.

    `free` is how much of its width, in the same per cent, is right of its name and its pull. `address` is where its
    link leads; `size` is its height (mm), `height` the same as a reader reads it; `per_percent` is how many mm of the
    front one per cent of the picture's height is.
    """

    name: str
    address: str
    bank: int
    number: int
    left: float
    top: float
    width: float
    tall: float
    free: float
    per_percent: Mm
    size: Mm
    height: str


def front_spots(job: Job, scene: Scene, style: LengthStyle, address: Address) -> tuple[FrontSpot, ...]:
    """Every front of the banks of a job in its picture, to type its height there and to drag its edge."""
    outlines = {region.name: region.outline for region in scene.regions}
    found = []
    for shown in job.banks:
        pulls = {hole.drawer: hole.x for hole in sorted(pull_places(shown.bank), key=lambda hole: hole.x)}
        for place in shown.bank.shown_fronts():
            if not place.has_drawer or place.name not in outlines:  # of many banks the last are not drawn
                continue
            (left, low), _, (right, top), _ = outlines[place.name]
            free = right - left - NAME_ROOM
            if place.name in pulls:
                free = (place.front.x + place.front.width - pulls[place.name] - ROUND_PULL) * scene.scale
            found.append(
                FrontSpot(
                    place.name,
                    address(place.name),
                    shown.row,
                    place.number - 1,
                    round(100 * (left - scene.left) / scene.width, 2),
                    round(100 * (scene.top - top) / scene.height, 2),
                    round(100 * (right - left) / scene.width, 2),
                    round(100 * (top - low) / scene.height, 2),
                    round(100 * max(free, 0.0) / scene.width, 2),
                    scene.height / scene.scale / 100,
                    place.front.height,
                    style.show(place.front.height, with_unit=False),
                )
            )
    return tuple(found)


def _in_short(job: Job, style: LengthStyle) -> LengthStyle:
    """Decimals of an inch where a length is no sixty-fourth: what remains beside it would take the picture's room."""
    lengths = [front.height for shown in job.banks for front in shown.bank.front_places()]
    lengths += [size for shown in job.banks for size in (shown.bank.opening.width, shown.bank.opening.height)]
    return style.in_a_row(lengths)


def small_chest(job: Job, style: LengthStyle) -> str:
    """The piece for a list of jobs: without names, which would be too small to read."""
    scene = chest_front(job, style, room=CARD, annotated=False)
    items = tuple(item for item in scene.items if not isinstance(item, Text))
    return on_screen(replace(scene, items=items, regions=()))
