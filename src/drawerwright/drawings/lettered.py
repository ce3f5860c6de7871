"""A drawing in two layers, for what is written across it between them."""

from __future__ import annotations

from dataclasses import replace

from drawerwright.drawings.scene import Circle, Fill, Scene, Text


def lettered(scene: Scene) -> tuple[Scene, Scene]:
    """The same in two layers: what is drawn, and its lettering with rings round numbers, on plates that part what lies
    between."""
    above = [
        replace(item, halo=Fill.PAPER) if isinstance(item, Text) and item.halo is Fill.NONE else item
        for item in scene.items
        if isinstance(item, Text | Circle)
    ]
    below = [item for item in scene.items if not isinstance(item, Text | Circle)]
    return replace(scene, items=tuple(below)), replace(scene, items=tuple(above), regions=())
