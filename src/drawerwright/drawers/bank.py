"""A bank: one opening, the fronts that close it, and the box behind each front."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, kept_length, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.front_heights import GivenHeights, HeightRule, front_count, front_heights
from drawerwright.drawers.opening import Beside, Opening
from drawerwright.drawers.placement import Place
from drawerwright.drawers.runners import Runner, RunnerLength
from drawerwright.drawers.scoop import Scoop

ROUNDING: Mm = 1e-9
"""What reckoning may leave of a clearance."""


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
class Overlay:
    """How far the field of fronts covers the carcase beyond the opening (mm); negative is a reveal inside it.

    `left` and `right` where one side is covered otherwise than `sides`.
    """

    sides: Mm = 0.0
    top: Mm = 0.0
    bottom: Mm = 0.0
    left: Mm | None = None
    right: Mm | None = None

    @property
    def at_left(self) -> Mm:
        """Over the left side of the carcase."""
        return self.sides if self.left is None else self.left

    @property
    def at_right(self) -> Mm:
        """Over the right side of the carcase."""
        return self.sides if self.right is None else self.right

    def shared(self, beside: Beside, reveal: Mm) -> Overlay:
        """The same where fronts that cover a divider meet another bank's over it: each takes half of the wood between
        the openings, less half the reveal. A side that was given by itself stays; beside fronts that keep theirs, this
        one takes what they and the reveal leave, and no more than its own."""

        def part(own: Mm, between: Mm | None, kept: Mm | None) -> Mm:
            if between is None or own <= 0:
                return own
            return (between - reveal) / 2 if kept is None else min(own, max(0.0, between - kept - reveal))

        kept = beside.kept
        return replace(
            self,
            left=part(self.sides, beside.left, kept.left) if self.left is None else self.left,
            right=part(self.sides, beside.right, kept.right) if self.right is None else self.right,
            top=part(self.top, beside.top, kept.top),
            bottom=part(self.bottom, beside.bottom, kept.bottom),
        )

    @property
    def is_uneven(self) -> bool:
        """Whether one side is covered otherwise than the other."""
        return kept_length(self.at_left - self.at_right) != 0

    @property
    def edges(self) -> tuple[Mm, Mm, Mm, Mm]:
        """Over the left and the right side, above and below."""
        return self.at_left, self.at_right, self.top, self.bottom


@dataclass(frozen=True, slots=True)
class Pull:
    """Holes for a pull, in the middle of the front's width.

    `spacing` between two holes, 0 for a knob; `below_top` from the front's upper edge to the holes, None for
    the middle of the front's height; `hole` the drill's diameter; `price` of one pull, where it is known.
    """

    spacing: Mm
    below_top: Mm | None
    hole: Mm
    price: float | None = None


@dataclass(frozen=True, slots=True)
class FrontPlace:
    """What shows of a drawer: x and z of its lower left corner from the opening's, its size (mm)."""

    x: Mm
    z: Mm
    width: Mm
    height: Mm

    @property
    def top(self) -> Mm:
        return self.z + self.height


@dataclass(frozen=True, slots=True)
class ShownFront:
    """A front of a bank: its name, its number from the top, where it is, and whether a drawer is behind it."""

    name: str
    number: int
    front: FrontPlace
    has_drawer: bool

    def moved(self, x: Mm, z: Mm) -> ShownFront:
        """The same seen from another corner, from which the opening begins at x and z."""
        return replace(self, front=replace(self.front, x=self.front.x + x, z=self.front.z + z))


@dataclass(frozen=True, slots=True)
class BoxPlace:
    """The box behind a front: x and z of the lower left corner of its sides from the opening's, its outer size (mm)."""

    x: Mm
    z: Mm
    width: Mm
    height: Mm
    depth: Mm

    @property
    def top(self) -> Mm:
        return self.z + self.height


@dataclass(frozen=True, slots=True)
class DrawerPlace:
    """Where a drawer sits in its opening: x across from the opening's left edge, y back from the carcase's front
    edges, z up from the opening's lower edge.

    `inner_face`: y of the inner face of what shows.
    """

    name: str
    front: FrontPlace
    box: BoxPlace
    inner_face: Mm

    def moved(self, x: Mm, z: Mm) -> DrawerPlace:
        """The same seen from another corner, from which its opening begins at x and z."""
        return replace(
            self,
            front=replace(self.front, x=self.front.x + x, z=self.front.z + z),
            box=replace(self.box, x=self.box.x + x, z=self.box.z + z),
        )

    @property
    def beside_box(self) -> tuple[Mm, Mm]:
        """How far the front that shows stands beyond the box to the left and to the right (mm)."""
        left = self.box.x - self.front.x
        return kept_length(left), kept_length(self.front.width - self.box.width - left)

    @property
    def below_box(self) -> Mm:
        """How far the front that shows reaches below the sides (mm)."""
        return self.box.z - self.front.z

    def origin(self, box: DrawerBox) -> Place:
        """Where the frame of the drawer itself begins (`drawerwright.drawers.placement`), in the opening (mm)."""
        own_front = box.front.thickness.value if box.applied is not None else 0.0
        return self.box.x, self.inner_face + own_front, self.box.z


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
    """Of every drawer, where it is stated."""
    side_heights: tuple[Mm | None, ...] = ()
    """Of each drawer from the top down, None where the front decides; goes before the one of all."""
    below_sides: Mm = 0.0
    """How far bottoms that are fixed from below hang below the sides."""
    pull: Pull | None = None
    scoop: Scoop | None = None
    false_fronts: frozenset[int] = frozenset()
    """Numbers from the top of the fronts without a drawer behind them."""
    stated_overlay: Overlay | None = None
    """As it was asked for, before fronts that meet over a divider share that."""

    @property
    def is_inside(self) -> bool:
        """True when the fronts sit within the opening: they cover the carcase on no side."""
        return max(self.overlay.edges) <= 0

    def places(self) -> tuple[DrawerPlace, ...]:
        """Every drawer from the top down; a front without one has no place here.

        Raises:
            InvalidValueError: the heights do not fill the field, or there is no room for a box.
        """
        return tuple(
            DrawerPlace(shown.name, shown.front, self._box_place(shown.number, shown.front), self.inner_face)
            for shown in self.shown_fronts()
            if shown.has_drawer
        )

    @property
    def inner_face(self) -> Mm:
        """y of the inner face of what shows."""
        return self.front_thickness if self.is_inside else 0.0

    def shown_fronts(self) -> tuple[ShownFront, ...]:
        """Every front from the top down, those without a drawer too.

        Raises:
            InvalidValueError: the heights do not fill the field.
        """
        return tuple(
            ShownFront(self.front_name(number), number, front, number not in self.false_fronts)
            for number, front in enumerate(self.front_places(), start=1)
        )

    def front_name(self, number: int) -> str:
        """What a front and its drawer are called, by its number from the top."""
        return f"{self.mark}{number}"

    @property
    def drawer_numbers(self) -> tuple[int, ...]:
        """The numbers of its drawers, known before anything has a size."""
        count = front_count(self.heights)
        return tuple(number for number in range(1, count + 1) if number not in self.false_fronts)

    def shown_in_carcase(self) -> tuple[ShownFront, ...]:
        """The same from the lower left corner of the carcase, where the opening is a part of one."""
        return tuple(shown.moved(self.opening.x, self.opening.z) for shown in self.shown_fronts())

    def places_in_carcase(self) -> tuple[DrawerPlace, ...]:
        """The same from the lower left corner of the carcase, where the opening is a part of one."""
        return tuple(place.moved(self.opening.x, self.opening.z) for place in self.places())

    def front_places(self) -> tuple[FrontPlace, ...]:
        """Every front from the top down.

        Raises:
            InvalidValueError: the heights do not fill the field.
        """
        width = self.opening.width + self.overlay.at_left + self.overlay.at_right
        if width <= 0:
            raise InvalidValueError(
                phrase(
                    "fronts would come out {width} wide: check opening and overlay",
                    width=millimetres(width, ".1f"),
                )
            )
        field = self.opening.height + self.overlay.top + self.overlay.bottom
        top = self.opening.height + self.overlay.top
        places = []
        for height in front_heights(self.heights, field, self.reveal, opening_height=self.opening.height):
            places.append(FrontPlace(-self.overlay.at_left, top - height, width, height))
            top -= height + self.reveal
        return tuple(places)

    def _box_place(self, number: int, front: FrontPlace) -> BoxPlace:
        """The box behind `front`: as wide and deep as runner and opening allow, as high as its share."""
        low = max(front.z, 0.0) + self.runner.bottom + self.below_sides
        high = min(front.top, self.opening.height) - self.runner.top
        stated = self.side_heights[number - 1] if self.side_heights else self.side_height
        height = stated if stated is not None else high - low
        if stated is None and height <= 0:
            raise InvalidValueError(
                self._no_sides_words(number, front.height),
                entry=("heights",) if isinstance(self.heights, GivenHeights) else ("opening", "height"),
            )
        if height <= 0 or low + height > high + ROUNDING:
            raise InvalidValueError(
                phrase(
                    "front {number} of {name} ({front_height} high) leaves {room} for the sides, not "
                    "{height}: change its height, the clearances or the side height",
                    number=number,
                    name=self.name,
                    front_height=millimetres(front.height, ".1f"),
                    room=millimetres(high - low, ".1f"),
                    height=millimetres(height, ".1f"),
                ),
                entry=("side_height",),
            )
        width = self.runner.box_width(self.opening.width, self.side_thickness)
        left = (self.opening.width - width) / 2
        right = left + width
        if self.style is FrontStyle.INSET:
            # The box is as wide as its front, or as the runners leave it; the front then has a lip inside the opening.
            left, right = max(left, front.x), min(right, front.x + front.width)
        return BoxPlace(x=left, z=low, width=right - left, height=height, depth=self._box_depth())

    def _no_sides_words(self, number: int, front_height: Mm) -> str:
        words = {"number": number, "name": self.name, "front_height": millimetres(front_height, ".1f")}
        if isinstance(self.heights, GivenHeights):
            return phrase(
                "front {number} of {name} ({front_height} high) leaves nothing for the sides: give it more "
                "height or less clearance",
                **words,
            )
        return phrase(
            "front {number} of {name} comes out {front_height} high and leaves nothing for the sides: have fewer "
            "drawers, or a higher opening",
            **words,
        )

    @property
    def runner_length(self) -> RunnerLength | None:
        """The length of the runners, None where the boxes fill the opening.

        Raises:
            InvalidValueError: none fits.
        """
        return self.runner.chosen(self._depth_for_runners)

    @property
    def _depth_for_runners(self) -> Mm:
        """What the carcase offers behind what shows (mm)."""
        return self.opening.depth - (self.front_thickness if self.is_inside else 0.0)

    def _box_depth(self) -> Mm:
        """Outer depth of the box, its own front included; the runner counts from behind what shows."""
        shows = 0.0 if self.style is FrontStyle.APPLIED else self.front_thickness
        return self.runner.box_depth(self._depth_for_runners) + shows
