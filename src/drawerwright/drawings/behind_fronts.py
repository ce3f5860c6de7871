"""What an elevation shows of the drawers behind their fronts: bottoms, and rails with a folder on them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawerwright.basics.lengths import Mm
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.bank import DrawerPlace
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.scene import Fill, Ink, Item, Path, Point, box

RAIL_DEPTH: Mm = 20.0
"""How high a rail for folders is drawn, which no job knows."""


def bottom_items(
    places: Sequence[DrawerPlace], drawers: Sequence[AssembledDrawer], scale: float
) -> list[Item]:
    """The bottoms as they lie behind the fronts."""
    items: list[Item] = []
    by_name = {place.name: place for place in places}
    for drawer in drawers:
        bottom = drawer.find(PartKind.BOTTOM)
        if bottom is not None:
            x, _y, z = by_name[drawer.box.name].origin(drawer.box)
            low, high = bottom.bounds
            edges = (x + low[0], z + low[2], x + high[0], z + high[2])
            items.append(Path(_scaled(edges, scale), Ink.HIDDEN, closed=True))
    return items


def rail_items(places: Sequence[DrawerPlace], drawers: Sequence[AssembledDrawer], scale: float) -> list[Item]:
    """The rails for folders behind the fronts, and a folder on them where it is seen from before."""
    items: list[Item] = []
    by_name = {place.name: place for place in places}
    for drawer in drawers:
        rails = drawer.box.rails
        if rails is None:
            continue
        x, _y, z = by_name[drawer.box.name].origin(drawer.box)
        (left, right), top = drawer.box.inner_faces, z + rails.level
        if not rails.hangers.is_across:
            line = ((x + left) * scale, top * scale), ((x + right) * scale, top * scale)
            items.append(Path(line, Ink.HIDDEN))
            continue
        thick, packed = rails.hangers.rail, max(rails.packing, 0.0)
        ends = (x + left + packed, x + right - packed - thick)
        items += [
            Path(
                _scaled((end, top - RAIL_DEPTH, end + thick, top), scale),
                Ink.FINE,
                closed=True,
                fill=Fill.STEEL,
            )
            for end in ends
        ]
        folder = (ends[0] + thick / 2, top - rails.hangers.below, ends[1] + thick / 2, top)
        items.append(Path(_scaled(folder, scale), Ink.HIDDEN, closed=True))
    return items


def tray_items(
    places: Sequence[DrawerPlace],
    drawers: Sequence[AssembledDrawer],
    trays: Iterable[DrawerBox],
    scale: float,
) -> list[Item]:
    """Trays on the bottoms of their drawers, in the middle."""
    items: list[Item] = []
    by_name = {place.name: place for place in places}
    holders = {drawer.box.name: drawer.box for drawer in drawers}
    for tray in trays:
        holder = holders.get(tray.inside)
        if holder is not None:
            x, _y, z = by_name[holder.name].origin(holder)
            left, low = x + (holder.width - tray.width) / 2, z + holder.floor
            edges = left, low, left + tray.width, low + tray.height
            items.append(Path(_scaled(edges, scale), Ink.HIDDEN, closed=True))
    return items


def _scaled(edges: tuple[Mm, Mm, Mm, Mm], scale: float) -> tuple[Point, ...]:
    left, bottom, right, top = edges
    return box(left * scale, bottom * scale, right * scale, top * scale)
