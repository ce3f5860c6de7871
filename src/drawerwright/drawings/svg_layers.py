"""Which items of a scene share a group in a file, so that another program finds a layer as one thing.

What lies on what must stay: a group takes in a later item of its layer only where nothing between the two would hide
it, or be hidden by it. Most scenes come out with one group for each layer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TypeAlias

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.scene import Block, Circle, Fill, Item, Layer, Path, Text, extent

Edges: TypeAlias = tuple[Mm, Mm, Mm, Mm]
TOUCHING: Mm = 0.01
"""What only touches does not lie on each other."""


@dataclass(frozen=True, slots=True)
class _Placed:
    """An item, the room that it takes, and whether it hides what is below it."""

    item: Item
    edges: Edges
    is_filled: bool

    def minds(self, other: _Placed) -> bool:
        """Whether it matters which of the two lies above."""
        if not (self.is_filled or other.is_filled):
            return False
        (left, low, right, top), (other_left, other_low, other_right, other_top) = self.edges, other.edges
        return (
            left < other_right - TOUCHING
            and other_left < right - TOUCHING
            and low < other_top - TOUCHING
            and other_low < top - TOUCHING
        )


@dataclass(slots=True)
class LayerGroup:
    """Items of one layer that are drawn one after the other; no two groups of a drawing have one `name`."""

    layer: Layer
    name: str
    placed: list[_Placed] = field(default_factory=list)

    @property
    def items(self) -> list[Item]:
        return [each.item for each in self.placed]


def layer_groups(items: Iterable[Item]) -> list[LayerGroup]:
    """The items in groups, from the lowest to the uppermost."""
    groups: list[LayerGroup] = []
    counts: Counter[Layer] = Counter()
    for item in items:
        placed = _Placed(item, extent([item]), _is_filled(item))
        home = _home(groups, placed)
        if home is None:
            counts[item.layer] += 1
            number = f"-{counts[item.layer]}" if counts[item.layer] > 1 else ""
            home = LayerGroup(item.layer, f"{item.layer}{number}".replace(" ", "-"))
            groups.append(home)
        home.placed.append(placed)
    return groups


def _home(groups: list[LayerGroup], placed: _Placed) -> LayerGroup | None:
    """The uppermost group of an item's layer that it can join, None where something above that group is in the way."""
    for group in reversed(groups):
        if group.layer is placed.item.layer:
            return group
        if any(placed.minds(other) for other in group.placed):
            return None
    return None


def _is_filled(item: Item) -> bool:
    if isinstance(item, Text):
        return item.halo is not Fill.NONE
    if isinstance(item, Path | Circle):
        return item.fill is not Fill.NONE
    return isinstance(item, Block) and any(map(_is_filled, item.items))
