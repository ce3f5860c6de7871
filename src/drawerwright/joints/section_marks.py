"""What is written on the section of a corner: its lengths, and the names of its places.

In the frame of `drawerwright.joints.law`, in mm of wood.
"""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase
from drawerwright.joints.profile import Point


@dataclass(frozen=True, slots=True)
class Span:
    """A length from one place to another along x or y, and its name.

    `feet`: where those places lie across it; None at the edge. `is_detail`: a page says it beside the drawing.
    """

    start: Mm
    end: Mm
    name: str = ""
    feet: tuple[Mm | None, Mm | None] = (None, None)
    is_detail: bool = False


@dataclass(frozen=True, slots=True)
class Spans:
    """The lengths around a section, by the side on which they stand."""

    above: tuple[Span, ...] = ()
    below: tuple[Span, ...] = ()
    left: tuple[Span, ...] = ()
    right: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True)
class NamedPlace:
    """A place with its name: its middle, its size along x and y, and whether it lies on the upright piece."""

    name: Phrase
    middle: Point
    room: Point
    on_upright: bool
