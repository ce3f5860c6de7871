"""A chest and a drawer as they stand before the eye, hidden lines removed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bank import Bank
from drawerwright.drawings.axonometric.cuboid import cuboid
from drawerwright.drawings.axonometric.hidden_lines import lines_of
from drawerwright.drawings.axonometric.viewpoint import ISOMETRIC, Vectors, Viewpoint
from drawerwright.drawings.chest_bodies import BOARD, PLINTH, PLINTH_BACK, Body, bodies_of
from drawerwright.drawings.scales import fitting_scale, scale_name
from drawerwright.drawings.scene import (
    Fill,
    Ink,
    Item,
    Layer,
    Point,
    Scene,
    Segment,
    Strokes,
    Text,
    extent,
    framed,
)
from drawerwright.drawings.solids import PartSolid

LETTERS: Mm = 2.6
PULLED_OUT = 0.45
"""How much of its depth the drawer stands out that is shown open."""
ASIDE: tuple[Mm, ...] = tuple(1.5 * step for step in range(-10, 11))
"""How far a name may stand from its place."""
OFFSETS = np.array(sorted(product(ASIDE, ASIDE), key=lambda off: abs(off[0]) + abs(off[1])))
"""The same in both directions, nearest first."""
AT_ONCE = 40
"""Places that are looked at together."""
FREE: Mm = 0.5
"""What no line may come nearer to a name than."""
CAPTION: Mm = 6.0
"""What the line below a view takes."""


@dataclass(frozen=True, slots=True)
class PlacedBank:
    """A bank with its drawers as they are made, the solids of the one that stands open among them."""

    bank: Bank
    drawers: tuple[AssembledDrawer, ...]
    open_one: tuple[str, tuple[PartSolid, ...]] | None = None


def draw_solids(
    solids: Sequence[Vectors],
    title: str,
    room: tuple[Mm, Mm],
    *,
    viewpoint: Viewpoint = ISOMETRIC,
    names: Mapping[str, tuple[float, float, float]] | None = None,
    style: LengthStyle | None = None,
    description: str = "",
) -> Scene:
    """Solids with hidden lines removed, as large as a usual scale lets them be in `room` (mm of paper); `names` stand
    where these places are, on the nearest piece of them."""
    style = style or LengthStyle()
    lines = lines_of(solids, viewpoint)
    low, high = _extent(lines.visible)
    scale = fitting_scale(high[0] - low[0], high[1] - low[1], room[0] - 4.0, room[1] - CAPTION)

    def on_paper(point: Point) -> Point:
        return (point[0] - low[0]) * scale, (point[1] - low[1]) * scale

    heavy, light = (
        tuple((on_paper(start), on_paper(end)) for start, end in some)
        for some in (lines.outlines, lines.folds)
    )
    items: list[Item] = [Strokes(light, Ink.FINE, Layer.WOOD), Strokes(heavy, Ink.OUTLINE, Layer.WOOD)]
    for name, place in (names or {}).items():
        x, y, _near = viewpoint.seen(np.array(place))
        items.append(_free_name(style.say(name), on_paper((float(x), float(y))), (*heavy, *light)))
    left, bottom, right, _top = extent(items)
    caption = phrase("{title} · {scale}", title=title, scale=scale_name(scale, style.decimal_sign))
    items.append(Text(((left + right) / 2, bottom - 2.0), style.say(caption), LETTERS, "middle", "top"))
    return framed(
        style.say(title), items, scale=scale, margin=1.0, description=style.say(description or title)
    )


def _free_name(name: str, at: Point, lines: Sequence[Segment]) -> Text:
    """A name as near to its place as no line runs through it."""
    words = Text(at, name, LETTERS, "middle", "middle", halo=Fill.PAPER)
    corners = np.array(words.corners())
    low, high = corners.min(axis=0) - FREE, corners.max(axis=0) + FREE
    segments = np.array(lines).reshape(-1, 2, 2)
    for first in range(0, len(OFFSETS), AT_ONCE):
        some = OFFSETS[first : first + AT_ONCE]
        free = np.flatnonzero(~_are_crossed(low + some, high + some, segments))
        if len(free):
            dx, dy = some[free[0]].tolist()
            return replace(words, at=(at[0] + dx, at[1] + dy))
    return words


def _are_crossed(low: Vectors, high: Vectors, segments: Vectors) -> NDArray[np.bool_]:
    """Whether a segment runs through each of some level boxes, by their corners (Liang and Barsky's clipping)."""
    start, change = segments[:, 0], segments[:, 1] - segments[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        one, other = (low[:, None] - start) / change, (high[:, None] - start) / change
    enters, leaves = np.minimum(one, other), np.maximum(one, other)
    along = np.isnan(enters)  # along an edge of the box: inside as far as this direction goes
    enters[along], leaves[along] = -np.inf, np.inf
    crossed: NDArray[np.bool_] = (
        np.maximum(enters.max(axis=2), 0.0) <= np.minimum(leaves.min(axis=2), 1.0)
    ).any(axis=1)
    return crossed


def _extent(lines: Sequence[tuple[Point, Point]]) -> tuple[Point, Point]:
    xs = [x for line in lines for x, _ in line] or [0.0]
    ys = [y for line in lines for _, y in line] or [0.0]
    return (min(xs), min(ys)), (max(xs), max(ys))


def draw_drawer_whole(
    parts: Sequence[PartSolid], title: str, room: tuple[Mm, Mm], style: LengthStyle
) -> Scene:
    """A drawer put together."""
    return draw_solids([part.triangles() for part in parts], title, room, style=style)


def draw_drawer_apart(
    parts: Sequence[PartSolid], title: str, room: tuple[Mm, Mm], style: LengthStyle, apart: float = 0.35
) -> Scene:
    """The same taken apart: every part moved out in the direction in which it leaves, by a share of the drawer's
    size, with its name."""
    bounds = np.array([part.bounds for part in parts])
    size = bounds[:, 3:].max(axis=0) - bounds[:, :3].min(axis=0)
    step = apart * max(float(size[:2].max()), 3.0 * float(size[2]))
    solids: list[Vectors] = []
    names: dict[str, tuple[float, float, float]] = {}
    for part in parts:
        moved = np.array(part.leaves) * step * np.array([1.0, 1.0, 0.8])
        solids.append(part.triangles() + moved)
        low, high = np.array(part.bounds[:3]), np.array(part.bounds[3:])
        x, y, z = (low + high) / 2 + moved
        names[part.kind.words] = float(x), float(y), float(z)
    return draw_solids(solids, title, room, names=names, style=style)


def draw_chest_standing(
    name: str, banks: Sequence[PlacedBank], room: tuple[Mm, Mm], style: LengthStyle
) -> Scene:
    """The whole piece with its drawers in, one of them pulled out. Boards of the carcase and its plinth have usual
    sizes, which no job knows."""
    bodies, lefts = bodies_of([placed.bank for placed in banks])
    solids: list[Vectors] = []
    for body in bodies:
        depth = max(
            placed.bank.opening.depth for placed, left in zip(banks, lefts, strict=True) if left == body.left
        )
        solids += _boards(body, depth)
    left, right = bodies[0].outside[0], bodies[-1].outside[2]
    foot = min(body.outside[1] for body in bodies)
    deepest = max(placed.bank.opening.depth for placed in banks)
    solids.append(
        cuboid((left + PLINTH_BACK, PLINTH_BACK, foot - PLINTH), (right - PLINTH_BACK, deepest, foot))
    )
    for placed, at in zip(banks, lefts, strict=True):
        solids += _drawers(placed, at)
    return draw_solids(solids, name, room, style=style)


def _boards(body: Body, depth: Mm) -> Iterator[Vectors]:
    """A carcase: sides, top, bottom and back, its dividers, and the face frame that stands before them."""
    left, low, right, top = body.outside
    frame = [board for board in body.boards if board.is_frame]
    near = BOARD if frame else 0.0
    yield cuboid((left, near, low), (left + BOARD, depth, top))
    yield cuboid((right - BOARD, near, low), (right, depth, top))
    yield cuboid((left + BOARD, near, low), (right - BOARD, depth, low + BOARD))
    yield cuboid((left + BOARD, near, top - BOARD), (right - BOARD, depth, top))
    yield cuboid((left, depth, low), (right, depth + 6.0, top))
    for board in body.boards:
        x0, z0, x1, z1 = board.edges
        yield (
            cuboid((x0, 0.0, z0), (x1, near, z1))
            if board.is_frame
            else cuboid((x0, near, z0), (x1, depth, z1))
        )


def _drawers(placed: PlacedBank, left: Mm) -> Iterator[Vectors]:
    """Every drawer of a bank in its place: of a closed one its front, of the open one all of it; and the fronts that
    have none."""
    bank = placed.bank
    for shown in bank.shown_in_carcase():
        if not shown.has_drawer:
            x, z = left + shown.front.x, shown.front.z
            near = bank.inner_face - bank.front_thickness
            yield cuboid((x, near, z), (x + shown.front.width, bank.inner_face, shown.front.top))
    places = {place.name: place for place in placed.bank.places_in_carcase()}
    for drawer in placed.drawers:
        x, y, z = places[drawer.box.name].origin(drawer.box)
        origin = np.array([left + x, y, z])
        if placed.open_one is not None and placed.open_one[0] == drawer.box.name:
            out = origin - np.array([0.0, PULLED_OUT * drawer.box.depth, 0.0])
            yield from (part.triangles() + out for part in placed.open_one[1])
        else:
            low, high = drawer.shown_front.bounds
            yield cuboid(low, high) + origin
