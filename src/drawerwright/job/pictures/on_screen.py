"""A scene as a screen shows it: SVG on the page's own ground, dressed by one style sheet for day and dark."""

from __future__ import annotations

from collections.abc import Mapping

from drawerwright.drawings.dimensioning import FIGURE_SIZE
from drawerwright.drawings.scene import Scene
from drawerwright.drawings.svg import stylesheet, write_svg

LETTERING = 13.0 / FIGURE_SIZE
"""Pixels to a millimetre of a drawing that is made for the room it has: its figures are as high as small print."""


def on_screen(scene: Scene, links: Mapping[str, str] | None = None, current: str | None = None) -> str:
    """The SVG of a scene, without a ground of its own.

    `links` are addresses by the names of its regions; `current` is the region that the page speaks of.
    """
    return write_svg(scene, ground=False, links=links, current=current)


def at_lettering_size(scene: Scene) -> str:
    """The SVG of a scene that was made for its room: it is shown as large as it is, never smaller."""
    return write_svg(scene, ground=False, pixels=LETTERING)


def screen_style() -> str:
    """The style sheet that dresses every such drawing."""
    return stylesheet()
