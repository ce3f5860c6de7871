"""A drawing by itself, on its own paper: for notebooks, and wherever no page dresses it."""

from __future__ import annotations

from dataclasses import dataclass, field

from drawerwright.drawings.scene import Scene
from drawerwright.drawings.svg import write_svg


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing to scale that a notebook shows."""

    title: str
    scene: Scene = field(repr=False)

    @classmethod
    def of(cls, scene: Scene) -> Drawing:
        """A scene with its own title."""
        return cls(scene.title, scene)

    @property
    def svg(self) -> str:
        """The drawing as an SVG element of its exact size in millimetres."""
        return write_svg(self.scene)

    def _repr_svg_(self) -> str:
        return self.svg
