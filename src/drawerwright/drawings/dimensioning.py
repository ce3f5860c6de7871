"""Dimensions outside the outline, and names with a leader: placed so that nothing lies on anything else.

::

        |<------- 30.0 ------->|        second row: longer measures farther out
        |      |<-- 12.0 -->|  |        first row
     ___|______|____________|__|___
        outline of the thing

Measures along one side are packed into rows, the short ones nearest. Where a figure does not fit between its
own ticks it is set beside them, on the side where fewer lines would cross it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scene import (
    Circle,
    Fill,
    Ink,
    Item,
    Layer,
    MeasuredSpan,
    Path,
    Point,
    Segment,
    Strokes,
    Text,
)

FIGURE_SIZE: Mm = 2.6
EVERYWHERE: tuple[Mm, Mm] = (-math.inf, math.inf)
FIRST_ROW: Mm = 6.5
"""From the edge to the first row of dimensions."""
ROW_PITCH: Mm = 5.5
TICK: Mm = 1.1
"""Half of a tick, along x and y."""
OVERRUN: Mm = 1.2
"""How far an extension line runs past its dimension line."""
CLEAR: Mm = 0.8
"""Daylight between an outline and its extension line, and around figures."""


class Side(StrEnum):
    """On which side of the thing a row of dimensions stands."""

    BELOW = "below"
    ABOVE = "above"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance along one side: from `start` to `end` (paper mm along it), and the figure to write.

    `foot_start` and `foot_end` say where, across the side, the measured points lie; None is the edge.
    """

    start: Mm
    end: Mm
    text: str
    foot_start: Mm | None = None
    foot_end: Mm | None = None

    @property
    def low(self) -> Mm:
        return min(self.start, self.end)

    @property
    def high(self) -> Mm:
        return max(self.start, self.end)


@dataclass(frozen=True, slots=True)
class _Placed:
    measure: Dimension
    row: int
    text_low: Mm
    text_high: Mm

    @property
    def low(self) -> Mm:
        return min(self.measure.low, self.text_low)

    @property
    def high(self) -> Mm:
        return max(self.measure.high, self.text_high)


def dimension_rows(
    measures: Sequence[Dimension],
    side: Side,
    edge: Mm,
    *,
    size: Mm = FIGURE_SIZE,
    first: Mm = FIRST_ROW,
    within: tuple[Mm, Mm] = EVERYWHERE,
) -> tuple[Item, ...]:
    """Dimensions on one side of a thing whose outline there ends at `edge` (paper mm across the side); where it can be
    helped no figure is set beside its measure beyond `within` (paper mm along it), where others stand."""
    rows = _packed(measures, size, within)
    lines: list[Item] = []
    figures: list[Item] = []
    for placed in rows:
        distance = first + placed.row * ROW_PITCH
        strokes, figure = _drawn(placed, side, edge, distance, size, is_crossed=_is_crossed(placed, rows))
        lines.append(strokes)
        figures.append(figure)
    return (*lines, *figures)


def _is_crossed(figure: _Placed, rows: Sequence[_Placed]) -> bool:
    """Whether an extension line of a row farther out runs through a figure."""
    return any(
        figure.text_low < end < figure.text_high
        for other in rows
        if other.row > figure.row
        for end in (other.measure.low, other.measure.high)
    )


def _packed(measures: Sequence[Dimension], size: Mm, within: tuple[Mm, Mm]) -> list[_Placed]:
    lines = [bound for measure in measures for bound in (measure.low, measure.high)]
    rows: list[list[_Placed]] = []
    placed: list[_Placed] = []
    for measure in sorted(measures, key=lambda m: (m.high - m.low, m.low)):
        text_low, text_high = _figure_room(measure, size, lines, within)
        bit = _Placed(measure, 0, text_low, text_high)
        row = next((n for n, row in enumerate(rows) if _is_free(bit, row)), len(rows))
        # A longer measure stays outside the shorter ones it spans, so that extension lines do not cross rows.
        spanned = [
            p.row
            for p in placed
            if p.measure.low >= measure.low - 0.01 and p.measure.high <= measure.high + 0.01
        ]
        row = max([row, *(n + 1 for n in spanned)])
        while row < len(rows) and not _is_free(bit, rows[row]):
            row += 1
        while len(rows) <= row:
            rows.append([])
        bit = _Placed(measure, row, text_low, text_high)
        rows[row].append(bit)
        placed.append(bit)
    return placed


def _is_free(bit: _Placed, row: Sequence[_Placed]) -> bool:
    touching = 0.05  # chained measures share an extension line
    return all(
        (bit.measure.low >= other.measure.high - touching or bit.measure.high <= other.measure.low + touching)
        and (
            bit.text_low >= other.high + CLEAR - touching
            or bit.text_high <= other.low - CLEAR + touching
            or (_inside(bit) and _inside(other))
        )
        and (
            other.text_low >= bit.high + CLEAR - touching
            or other.text_high <= bit.low - CLEAR + touching
            or (_inside(bit) and _inside(other))
        )
        for other in row
    )


def _inside(bit: _Placed) -> bool:
    return bit.text_low >= bit.measure.low and bit.text_high <= bit.measure.high


def has_room(figure: str, size: Mm, length: Mm) -> bool:
    """Whether a figure of lettering of this size stands between the ticks of a dimension of this length (mm)."""
    return text_width(figure, size) + 2 * (TICK + CLEAR / 4) <= length


def _figure_room(measure: Dimension, size: Mm, lines: Sequence[Mm], within: tuple[Mm, Mm]) -> tuple[Mm, Mm]:
    width = text_width(measure.text, size)
    low, high = measure.low, measure.high
    if has_room(measure.text, size, high - low):
        middle = (low + high) / 2
        return middle - width / 2, middle + width / 2
    after = (high + TICK + CLEAR, high + TICK + CLEAR + width)
    before = (low - TICK - CLEAR - width, low - TICK - CLEAR)

    def is_worse(room: tuple[Mm, Mm]) -> tuple[bool, int]:
        crossings = sum(room[0] - CLEAR / 2 < line < room[1] + CLEAR / 2 for line in lines)
        return room[0] < within[0] or room[1] > within[1], crossings

    return before if is_worse(before) < is_worse(after) else after


def _drawn(
    placed: _Placed, side: Side, edge: Mm, distance: Mm, size: Mm, *, is_crossed: bool
) -> tuple[Item, Item]:
    measure = placed.measure
    outward = 1 if side in (Side.ABOVE, Side.RIGHT) else -1
    upright = side in (Side.LEFT, Side.RIGHT)
    line = edge + outward * distance

    def at(along: Mm, across: Mm) -> Point:
        return (across, along) if upright else (along, across)

    strokes: list[Segment] = []
    for along, foot in ((measure.start, measure.foot_start), (measure.end, measure.foot_end)):
        begin = edge if foot is None else foot
        strokes.append((at(along, begin + outward * CLEAR), at(along, line + outward * OVERRUN)))
        strokes.append((_shift(at(along, line), -TICK, -TICK), _shift(at(along, line), TICK, TICK)))
    low = min(measure.low, placed.text_low) if not _inside(placed) else measure.low
    high = max(measure.high, placed.text_high) if not _inside(placed) else measure.high
    if placed.text_high < measure.low or placed.text_low > measure.high:
        strokes.append((at(measure.low - 2 * TICK, line), at(measure.high + 2 * TICK, line)))
    strokes.append((at(low, line), at(high, line)))
    middle = (placed.text_low + placed.text_high) / 2
    lift = CLEAR
    figure = Text(
        at(middle, line - lift if upright else line + lift),
        measure.text,
        size,
        "middle",
        "base",
        90.0 if upright else 0.0,
        layer=Layer.DIMENSION,
        halo=Fill.PAPER if is_crossed else Fill.NONE,
        measured=_measured(measure, at, edge, line, 90.0 if upright else 0.0),
    )
    return Strokes(tuple(strokes), Ink.FINE, Layer.DIMENSION, is_dimension=True), figure


def _measured(
    measure: Dimension, at: Callable[[Mm, Mm], Point], edge: Mm, line: Mm, angle: Degrees
) -> MeasuredSpan:
    start, end = (
        at(along, edge if foot is None else foot)
        for along, foot in ((measure.start, measure.foot_start), (measure.end, measure.foot_end))
    )
    return MeasuredSpan(start, end, at(measure.start, line), angle)


def _shift(point: Point, dx: Mm, dy: Mm) -> Point:
    return point[0] + dx, point[1] + dy


def note(
    text: str,
    at: Point,
    target: Point,
    *,
    size: Mm = FIGURE_SIZE,
    layer: Layer = Layer.NAME,
    bold: bool = False,
) -> tuple[Item, ...]:
    """A word standing at `at`, and a leader with a dot on what it names.

    The word is set away from its target: to the right of `at` when the target lies to the left.
    """
    if abs(target[0] - at[0]) < 0.5:
        lift = 0.8 * size if target[1] < at[1] else -0.8 * size
        word = Text((at[0], at[1] + lift), text, size, "middle", "middle", bold=bold, layer=layer)
    elif target[0] < at[0]:
        word = Text((at[0] + CLEAR, at[1]), text, size, "start", "middle", bold=bold, layer=layer)
    else:
        word = Text((at[0] - CLEAR, at[1]), text, size, "end", "middle", bold=bold, layer=layer)
    return (
        Path((at, target), Ink.FINE, layer),
        Circle(target, 0.45, Ink.NONE, layer, Fill.MARK),
        word,
    )


def arrow(
    start: Point, end: Point, *, layer: Layer = Layer.DIMENSION, ink: Ink = Ink.FINE
) -> tuple[Item, ...]:
    """A line with an open head at its end: feed, grain, direction of looking."""
    length = math.dist(start, end)
    if length == 0:
        return ()
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    head = min(2.2, length / 2)
    wings = [
        (end[0] - head * ux + sign * head * 0.45 * -uy, end[1] - head * uy + sign * head * 0.45 * ux)
        for sign in (1, -1)
    ]
    return (Path((start, end), ink, layer), Path((wings[0], end, wings[1]), ink, layer))


def spread(levels: Sequence[Mm], pitch: Mm) -> list[Mm]:
    """Positions at least `pitch` apart, in the same order and as near to the levels as can be (ascending).

    >>> spread([0.0, 1.0, 20.0], 4.0)
    [-1.5, 2.5, 20.0]
    """
    blocks: list[
        tuple[Mm, int]
    ] = []  # mean of what is left when the pitch is taken off, and how many share it
    for number, level in enumerate(levels):
        mean, count = level - number * pitch, 1
        while blocks and blocks[-1][0] > mean:
            before, many = blocks.pop()
            mean, count = (mean * count + before * many) / (count + many), count + many
        blocks.append((mean, count))
    means = [mean for mean, count in blocks for _ in range(count)]
    return [mean + number * pitch for number, mean in enumerate(means)]


def chain_beside(
    spans: Sequence[tuple[Mm, Mm, str]], edge: Mm, *, size: Mm = FIGURE_SIZE
) -> tuple[Item, ...]:
    """Heights one above the other right of `edge`, their figures level: for spans too short to letter along.

    `spans` are low, high (paper mm) and the figure.
    """
    line = edge + FIRST_ROW
    ordered = sorted(spans)
    rows = spread([(low + high) / 2 for low, high, _ in ordered], size * 1.3)
    strokes: list[Segment] = []
    items: list[Item] = []
    for (low, high, words), row in zip(ordered, rows, strict=True):
        strokes.append(((line, low), (line, high)))
        for level in (low, high):
            strokes.append(((edge + CLEAR, level), (line + OVERRUN, level)))
            strokes.append(((line - TICK, level - TICK), (line + TICK, level + TICK)))
        if abs(row - (low + high) / 2) > size / 2:
            strokes.append(((line, (low + high) / 2), (line + 2.2, row)))
        measured = MeasuredSpan((edge, low), (edge, high), (line, low), 90.0)
        at = (line + 2.6, row)
        items.append(Text(at, words, size, "start", "middle", layer=Layer.DIMENSION, measured=measured))
    return (Strokes(tuple(strokes), Ink.FINE, Layer.DIMENSION, is_dimension=True), *items)


def heights_from_edge(
    marks: Sequence[tuple[Mm, str, Mm]], zero: Mm, edge: Mm, *, size: Mm = FIGURE_SIZE
) -> tuple[Item, ...]:
    """Heights above one reference level, written in a column left of `edge`, a leader to each.

    `marks` are the height on paper, the words, and how far right its line starts; `zero` is the level they all
    count from, marked with a triangle.
    """
    ordered = sorted(marks)
    rows = spread([level for level, _, _ in ordered], size * 1.5)
    column = edge - 9.0
    lines: list[Segment] = []
    items: list[Item] = []
    for (level, words, foot), row in zip(ordered, rows, strict=True):
        lines += [((foot, level), (edge - 1.5, level)), ((edge - 1.5, level), (column + 3.0, row))]
        lines.append(((column + 3.0, row), (column + 0.8, row)))
        items.append(Text((column, row), words, size, "end", "middle", layer=Layer.DIMENSION))
    if not ordered:
        return ()
    tip = (edge - 3.0, zero)
    triangle = (tip, (tip[0] - 1.3, tip[1] - 2.2), (tip[0] + 1.3, tip[1] - 2.2))
    return (
        Strokes(tuple(lines), Ink.FINE, Layer.DIMENSION),
        Path(triangle, Ink.FINE, Layer.DIMENSION, closed=True, fill=Fill.INK),
        *items,
    )
