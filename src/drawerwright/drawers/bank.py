"""A bank: one opening, the fronts that close it, and the box behind each front."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.heights import HeightRule, front_heights
from drawerwright.drawers.runners import Runner


class FrontStyle(StrEnum):
    """What closes the opening."""

    APPLIED = "applied"
    """A front of its own, screwed to a flush box."""
    LIPPED = "lipped"
    """The front is part of the box and stands beyond its sides with a lip on both sides."""
    INSET = "inset"
    """The front is part of a flush box and sits inside the opening."""

    @property
    def words(self) -> Phrase:
        """The style in the reader's language."""
        return _STYLE_WORDS[self]


_STYLE_WORDS = {
    FrontStyle.INSET: phrase("inset"),
    FrontStyle.LIPPED: phrase("lipped"),
    FrontStyle.APPLIED: phrase("applied"),
}


@dataclass(frozen=True, slots=True)
class Opening:
    """The clear opening of a carcase (mm)."""

    width: Mm
    height: Mm
    depth: Mm


@dataclass(frozen=True, slots=True)
class Overlay:
    """How far the field of fronts covers the carcase beyond the opening (mm); negative is a reveal inside it."""

    sides: Mm = 0.0
    top: Mm = 0.0
    bottom: Mm = 0.0


@dataclass(frozen=True, slots=True)
class Pull:
    """Holes for a pull, in the middle of the front's width.

    `spacing` between two holes, 0 for a knob; `below_top` from the front's upper edge to the holes, None for
    the middle of the front's height; `hole` the drill's diameter.
    """

    spacing: Mm = 0.0
    below_top: Mm | None = None
    hole: Mm = 5.0


@dataclass(frozen=True, slots=True)
class FrontPlace:
    """A front as seen from before the carcase; x and y (mm) of its lower left corner from the opening's."""

    number: int
    x: Mm
    y: Mm
    width: Mm
    height: Mm

    @property
    def top(self) -> Mm:
        return self.y + self.height


@dataclass(frozen=True, slots=True)
class BoxPlace:
    """The box behind a front: lower left corner from the opening's, outer size (mm)."""

    x: Mm
    y: Mm
    width: Mm
    height: Mm
    depth: Mm


@dataclass(frozen=True, slots=True)
class Bank:
    """An opening with its fronts, from the top down.

    `mark` is the letter that the parts of this bank are labelled with.
    """

    name: str
    mark: str
    opening: Opening
    style: FrontStyle
    heights: HeightRule
    reveal: Mm
    overlay: Overlay
    runner: Runner
    front_thickness: Mm
    """Of the piece that shows: the applied front, or the box front that is one with it."""
    side_thickness: Mm
    side_height: Mm | None = None
    pull: Pull | None = None

    @property
    def is_inside(self) -> bool:
        """True when the fronts sit between the carcase sides."""
        return self.overlay.sides <= 0

    def front_places(self) -> tuple[FrontPlace, ...]:
        """Every front from the top down.

        Raises:
            InvalidValueError: the heights do not fill the field.
        """
        width = self.opening.width + 2 * self.overlay.sides
        if width <= 0:
            raise InvalidValueError(
                phrase(
                    "fronts would be {width} wide: check opening and overlay", width=millimetres(width, ".1f")
                )
            )
        field = self.opening.height + self.overlay.top + self.overlay.bottom
        top = self.opening.height + self.overlay.top
        places = []
        for number, height in enumerate(front_heights(self.heights, field, self.reveal), start=1):
            places.append(FrontPlace(number, -self.overlay.sides, top - height, width, height))
            top -= height + self.reveal
        return tuple(places)

    def box_place(self, front: FrontPlace) -> BoxPlace:
        """The box behind `front`: as wide and deep as runner and opening allow, as high as its share.

        Raises:
            InvalidValueError: there is no room for a box.
        """
        low = max(front.y, 0.0) + self.runner.bottom
        high = min(front.top, self.opening.height) - self.runner.top
        height = self.side_height if self.side_height is not None else high - low
        if height <= 0 or low + height > high + self.runner.top + 1e-9:
            raise InvalidValueError(
                phrase(
                    "front {number} of {name} ({front_height} high) leaves {room} for the sides, not "
                    "{height}: change its height, the clearances or the side height",
                    number=front.number,
                    name=self.name,
                    front_height=millimetres(front.height, ".1f"),
                    room=millimetres(high - low, ".1f"),
                    height=millimetres(height, ".1f"),
                )
            )
        width = self.runner.box_width(self.opening.width, self.side_thickness)
        if self.style is FrontStyle.INSET:
            width = front.width
        return BoxPlace(
            x=(self.opening.width - width) / 2, y=low, width=width, height=height, depth=self._box_depth()
        )

    def _box_depth(self) -> Mm:
        """Outer depth of the box, its own front included; the runner counts from behind what shows."""
        shows = 0.0 if self.style is FrontStyle.APPLIED else self.front_thickness
        inside = self.front_thickness if self.is_inside else 0.0
        return self.runner.box_depth(self.opening.depth - inside) + shows
