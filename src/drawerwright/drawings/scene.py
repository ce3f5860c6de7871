"""What a drawing is before anyone writes it: flat items on paper, in millimetres.

Coordinates are millimetres of *paper*, x to the right and y upwards, whatever the scale of the thing:
lettering and line weights then have the size the reader sees. `Scene.scale` says how many millimetres of
paper stand for one of the thing, so that a writer for other programs can give true sizes back.

A scene knows nothing of files, colours or fonts: an item names an ink and a fill, the writers say what
those look like. Nothing may be told by colour alone, so inks and fills differ in weight, dashes or hatching.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Literal, TypeAlias

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.drawings.lettering import CAP_HEIGHT, DESCENT, text_width

Point: TypeAlias = tuple[Mm, Mm]
Segment: TypeAlias = tuple[Point, Point]
Extent: TypeAlias = tuple[Mm, Mm, Mm, Mm]
"""Left, bottom, right, top."""


class Ink(StrEnum):
    """How a line is drawn. Two weights of ink, and one accent that is also heavier and ticked."""

    NONE = "none"
    OUTLINE = "outline"
    """Edges of wood and machine."""
    FINE = "fine"
    """Dimensions, leaders, hatching of cuts."""
    HIDDEN = "hidden"
    """Edges behind something, dashed."""
    AXIS = "axis"
    """Reference lines and axes, long and short dashes."""
    GRAIN = "grain"
    """Fibres: fine and pale."""
    MARK = "mark"
    """The accent: where wood meets wood, and what the eye has to find first."""


class Fill(StrEnum):
    """What lies inside an outline."""

    NONE = "none"
    PAPER = "paper"
    WOOD = "wood"
    WOOD_BEHIND = "wood-behind"
    """The other piece of a corner, or wood farther away: a shade darker."""
    DAYLIGHT = "daylight"
    """A gap: light falls through."""
    STEEL = "steel"
    MARK = "mark"
    INK = "ink"
    """Solid: saw cuts at their true width."""


class Layer(StrEnum):
    """What an item is about; files that know layers carry these names."""

    WOOD = "wood"
    GRAIN = "grain"
    MACHINE = "machine"
    SAW = "saw cuts"
    OFFCUT = "offcuts"
    GAP = "gaps"
    CONTACT = "contact"
    DIMENSION = "dimensions"
    NAME = "names"
    GROOVE = "grooves"
    HOLE = "holes"


Anchor: TypeAlias = Literal["start", "middle", "end"]
Level: TypeAlias = Literal["base", "middle", "top"]
_STARTS: Mapping[Anchor, float] = {"start": 0.0, "middle": -0.5, "end": -1.0}
"""Where a line of lettering begins, as a share of its length."""
_DROPS: Mapping[Level, float] = {"base": 0.0, "middle": CAP_HEIGHT / 2, "top": CAP_HEIGHT}
"""How far below its place a line of lettering stands, as a share of its size."""


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points, or a polygon when `closed`."""

    points: tuple[Point, ...]
    ink: Ink = Ink.OUTLINE
    layer: Layer = Layer.WOOD
    closed: bool = False
    fill: Fill = Fill.NONE

    def moved(self, dx: Mm, dy: Mm) -> Path:
        return replace(self, points=tuple((x + dx, y + dy) for x, y in self.points))

    def corners(self) -> tuple[Point, ...]:
        return self.points


@dataclass(frozen=True, slots=True)
class Hatch:
    """What a hatching fills: an outline with parallel lines at each of some angles, `spacing` apart (mm of paper)."""

    outline: tuple[Point, ...]
    angles: tuple[Degrees, ...]
    spacing: Mm


@dataclass(frozen=True, slots=True)
class Strokes:
    """Many separate straight lines of one ink: hatching, ticks.

    `hatch` says what they fill where they are a hatching, `is_dimension` that they are the lines of figures that know
    what they measure: files with words of their own for these write them so.
    """

    segments: tuple[Segment, ...]
    ink: Ink = Ink.FINE
    layer: Layer = Layer.GRAIN
    hatch: Hatch | None = None
    is_dimension: bool = False

    def moved(self, dx: Mm, dy: Mm) -> Strokes:
        hatch = self.hatch
        if hatch is not None:
            hatch = replace(hatch, outline=tuple((x + dx, y + dy) for x, y in hatch.outline))
        return replace(
            self,
            segments=tuple(((x0 + dx, y0 + dy), (x1 + dx, y1 + dy)) for (x0, y0), (x1, y1) in self.segments),
            hatch=hatch,
        )

    def corners(self) -> tuple[Point, ...]:
        return tuple(point for segment in self.segments for point in segment)


@dataclass(frozen=True, slots=True)
class Fibres:
    """Fibres within an outline: broken fine lines along `angle`, about `spacing` apart."""

    outline: tuple[Point, ...]
    angle: Degrees = 0.0
    spacing: Mm = 1.6
    ink: Ink = Ink.GRAIN
    layer: Layer = Layer.GRAIN

    def moved(self, dx: Mm, dy: Mm) -> Fibres:
        return replace(self, outline=tuple((x + dx, y + dy) for x, y in self.outline))

    def corners(self) -> tuple[Point, ...]:
        return self.outline


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle."""

    centre: Point
    radius: Mm
    ink: Ink = Ink.OUTLINE
    layer: Layer = Layer.WOOD
    fill: Fill = Fill.NONE

    def moved(self, dx: Mm, dy: Mm) -> Circle:
        return replace(self, centre=(self.centre[0] + dx, self.centre[1] + dy))

    def corners(self) -> tuple[Point, ...]:
        (x, y), r = self.centre, self.radius
        return ((x - r, y - r), (x + r, y + r))


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, counter-clockwise from one angle to another (degrees, 0 along x)."""

    centre: Point
    radius: Mm
    start: Degrees
    end: Degrees
    ink: Ink = Ink.FINE
    layer: Layer = Layer.MACHINE

    def moved(self, dx: Mm, dy: Mm) -> Arc:
        return replace(self, centre=(self.centre[0] + dx, self.centre[1] + dy))

    def at(self, angle: Degrees) -> Point:
        """The point of the circle at an angle."""
        turn = math.radians(angle)
        return self.centre[0] + self.radius * math.cos(turn), self.centre[1] + self.radius * math.sin(turn)

    def corners(self) -> tuple[Point, ...]:
        quarters = (90.0 * n for n in range(math.ceil(self.start / 90), math.floor(self.end / 90) + 1))
        return tuple(self.at(angle) for angle in (self.start, *quarters, self.end))


@dataclass(frozen=True, slots=True)
class MeasuredSpan:
    """What a figure measures: from one point to another along `angle`, with its line through `line` (mm of paper)."""

    start: Point
    end: Point
    line: Point
    angle: Degrees

    def moved(self, dx: Mm, dy: Mm) -> MeasuredSpan:
        start, end, line = ((x + dx, y + dy) for x, y in (self.start, self.end, self.line))
        return MeasuredSpan(start, end, line, self.angle)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering. `size` in mm; `angle` turns it counter-clockwise about `at`."""

    at: Point
    text: str
    size: Mm = 2.6
    anchor: Anchor = "start"
    level: Level = "base"
    angle: Degrees = 0.0
    bold: bool = False
    layer: Layer = Layer.NAME
    halo: Fill = Fill.NONE
    """A plate behind the letters that keeps hatching away from them: the fill they lie on."""
    measured: MeasuredSpan | None = None
    """What it says the size of, where it is the figure of a dimension."""

    def moved(self, dx: Mm, dy: Mm) -> Text:
        measured = None if self.measured is None else self.measured.moved(dx, dy)
        return replace(self, at=(self.at[0] + dx, self.at[1] + dy), measured=measured)

    @property
    def width(self) -> Mm:
        """Length of the line of text (mm)."""
        return text_width(self.text, self.size)

    @property
    def drop(self) -> Mm:
        """How far below `at` (before turning) the line that the letters stand on lies (mm)."""
        return _DROPS[self.level] * self.size

    def corners(self) -> tuple[Point, ...]:
        """The four corners of the room that the letters take, turned as they are."""
        wide, drop = self.width, self.drop
        left = _STARTS[self.anchor] * wide
        right, low, high = left + wide, -drop - DESCENT * self.size, -drop + CAP_HEIGHT * self.size
        x, y = self.at
        if not self.angle:
            return box(x + left, y + low, x + right, y + high)
        turn = math.radians(self.angle)
        cos, sin = math.cos(turn), math.sin(turn)
        return tuple((x + u * cos - v * sin, y + u * sin + v * cos) for u, v in box(left, low, right, high))


PlainItem: TypeAlias = Path | Strokes | Fibres | Circle | Arc | Text


@dataclass(frozen=True, slots=True)
class Block:
    """A thing that is drawn as one, such as a part: its items about an origin of its own, which lies `at` a point of
    the paper. No two of a scene have one name."""

    name: str
    items: tuple[PlainItem, ...]
    at: Point = (0.0, 0.0)
    layer: Layer = Layer.WOOD

    def moved(self, dx: Mm, dy: Mm) -> Block:
        return replace(self, at=(self.at[0] + dx, self.at[1] + dy))

    def corners(self) -> tuple[Point, ...]:
        x, y = self.at
        return tuple((x + dx, y + dy) for item in self.items for dx, dy in item.corners())


Item: TypeAlias = PlainItem | Block


@dataclass(frozen=True, slots=True)
class Region:
    """A part of a drawing that stands for something of its own, such as a drawer: a page may make it a link.

    `name` is what it stands for, `title` the same in words.
    """

    name: str
    title: str
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Scene:
    """A drawing: items within a rectangle of paper.

    `title` names it, `description` says in words what is to be seen (for readers who do not see it), `scale`
    is paper per thing: 1 prints at full size, 0.1 at one tenth. `regions` lie over the items; paper and files do
    without them.
    """

    title: str
    items: tuple[Item, ...]
    left: Mm
    bottom: Mm
    width: Mm
    height: Mm
    scale: float = 1.0
    description: str = ""
    regions: tuple[Region, ...] = ()

    @property
    def right(self) -> Mm:
        return self.left + self.width

    @property
    def top(self) -> Mm:
        return self.bottom + self.height

    @property
    def texts(self) -> tuple[Text, ...]:
        """All lettering."""
        return tuple(item for item in self.items if isinstance(item, Text))


MARGIN: Mm = 2.0
"""Paper left free around a scene."""


def framed(
    title: str,
    items: Iterable[Item],
    *,
    scale: float = 1.0,
    margin: Mm = MARGIN,
    description: str = "",
    least_width: Mm = 0.0,
    regions: tuple[Region, ...] = (),
    reach: Extent | None = None,
) -> Scene:
    """A scene just large enough for its items and a margin (mm); `reach` is their extent where it is known."""
    kept = tuple(items)
    left, bottom, right, top = reach or extent(kept)
    spare = max(least_width - (right - left) - 2 * margin, 0.0) / 2
    return Scene(
        title=title,
        items=kept,
        left=left - margin - spare,
        bottom=bottom - margin,
        width=right - left + 2 * margin + 2 * spare,
        height=top - bottom + 2 * margin,
        scale=scale,
        description=description,
        regions=regions,
    )


def extent(items: Iterable[Item]) -> Extent:
    """Left, bottom, right and top of the room that items take; zeros when there are none."""
    points = [point for item in items for point in item.corners()]
    if not points:
        return 0.0, 0.0, 0.0, 0.0
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def together(one: Extent, other: Extent) -> Extent:
    """The room that two extents take together."""
    return min(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3])


def moved(items: Iterable[Item], dx: Mm, dy: Mm) -> tuple[Item, ...]:
    """The items, moved."""
    return tuple(item.moved(dx, dy) for item in items)


def side_by_side(title: str, scenes: Sequence[Scene], *, gap: Mm = 8.0, description: str = "") -> Scene:
    """Scenes of one scale next to each other, their origins level, as one."""
    items: list[Item] = []
    reach = 0.0
    for scene in scenes:
        items += moved(scene.items, reach - scene.left, 0.0)
        reach += scene.width + gap
    return framed(
        title,
        items,
        scale=scenes[0].scale if scenes else 1.0,
        description=description or " ".join(scene.description for scene in scenes),
    )


def box(left: Mm, bottom: Mm, right: Mm, top: Mm) -> tuple[Point, ...]:
    """The corners of an upright rectangle, counter-clockwise."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))
