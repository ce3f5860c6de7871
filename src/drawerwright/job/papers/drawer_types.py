"""Drawers that are built alike: one page of the packet shows what they have in common, a table what differs."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass

from drawerwright.basics.names import names_in_row
from drawerwright.drawers.assembly import AssembledDrawer
from drawerwright.drawers.parts import Part


@dataclass(frozen=True, slots=True)
class DrawerType:
    """Drawers of the same parts, stock, corners and grooves, in their order; their sizes may differ."""

    number: int
    drawers: tuple[AssembledDrawer, ...]

    @property
    def shown(self) -> AssembledDrawer:
        """The one that is drawn: the highest, whose drawing has most room."""
        return max(self.drawers, key=lambda drawer: drawer.box.height)

    @property
    def names(self) -> str:
        """The drawers by their names, in as few words as there are."""
        return names_in_row([drawer.box.name for drawer in self.drawers])

    @property
    def slug(self) -> str:
        """What its drawings begin with."""
        return f"type-{self.number}"


def drawer_types(drawers: Iterable[AssembledDrawer]) -> tuple[DrawerType, ...]:
    """The types of a job, in the order in which the first drawer of each stands in it."""
    alike: dict[Hashable, list[AssembledDrawer]] = {}
    for drawer in drawers:
        box = drawer.box
        bottom = None if box.bottom is None else box.bottom.style
        key = (bottom, any(lip > 0 for lip in box.lips), tuple(_build(part) for part in drawer.parts))
        alike.setdefault(key, []).append(drawer)
    return tuple(DrawerType(number, tuple(each)) for number, each in enumerate(alike.values(), start=1))


def _build(part: Part) -> Hashable:
    groove = part.groove
    return (
        part.kind,
        part.stock.name,
        tuple((end.corner, end.role) for end in part.ends),
        None if groove is None else (round(groove.height, 3), groove.width, groove.depth),
        part.banded_long_edges,
        part.banded_short_edges,
        part.banding,
        len(part.notches),
        len(part.holes),
        part.scoop is not None,
        part.is_upright,
    )
