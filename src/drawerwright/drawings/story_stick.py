"""Story sticks at full size: heights of an opening to carry over to the carcase, split over pages; and the blocks that
set heights and fences."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import MM_PER_INCH, LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.dimensioning import spread
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scene import (
    Fill,
    Ink,
    Item,
    Layer,
    Path,
    Scene,
    Segment,
    Strokes,
    Text,
    box,
    framed,
)

WIDE: Mm = 14.0
"""How wide a stick is drawn."""
OVERLAP: Mm = 10.0
"""What two pieces of a stick have in common."""
AROUND: Mm = 67.0
"""What margins and head of a page, and overlap and name of a piece, take of a standing page's height."""
LETTERS: Mm = 2.4
MARKED: Mm = 9.0
"""From the rule to where a height is marked: between them stand the rule's figures."""
BLOCK: Mm = 40.0
"""How long a block is drawn."""


@dataclass(frozen=True, slots=True)
class StickMark:
    """A height above the stick's lower end (mm), and what is there. `is_main`: what is carried over; others only help
    to find it."""

    height: Mm
    words: str
    is_main: bool = True


def stick_scenes(name: str, marks: Sequence[StickMark], length: Mm, style: LengthStyle) -> tuple[Scene, ...]:
    """The pieces of a stick from its lower end up: as few as pages are high, and equal, so that none is a stub."""
    count = math.ceil(length / (PAPERS[style.paper].height - AROUND))
    pieces = [(length * place / count, length * (place + 1) / count) for place in range(count)]
    return tuple(
        _piece(name, number, len(pieces), bounds, marks, length, style)
        for number, bounds in enumerate(pieces, start=1)
    )


def _piece(
    name: str,
    number: int,
    count: int,
    bounds: tuple[Mm, Mm],
    marks: Sequence[StickMark],
    length: Mm,
    style: LengthStyle,
) -> Scene:
    low, high = bounds
    foot, head = max(low - OVERLAP / 2, 0.0), min(high + OVERLAP / 2, length)
    items: list[Item] = [Path(box(0.0, foot, WIDE, head), Ink.OUTLINE, closed=True, fill=Fill.NONE)]
    items += _rule(foot, head, bounds, style)
    shown = sorted((mark for mark in marks if foot <= mark.height <= head), key=lambda mark: mark.height)
    levels = spread([mark.height for mark in shown], LETTERS * 1.35)
    main: list[Segment] = []
    fine: list[Segment] = []
    for mark, level in zip(shown, levels, strict=True):
        (main if mark.is_main else fine).append(((MARKED, mark.height), (WIDE, mark.height)))
        fine.append(((WIDE, mark.height), (WIDE + 3.0, level)))
        items.append(
            Text((WIDE + 3.6, level), style.say(mark.words), LETTERS, "start", "middle", bold=mark.is_main)
        )
    items += [Strokes(tuple(main), Ink.OUTLINE, Layer.WOOD), Strokes(tuple(fine), Ink.FINE, Layer.DIMENSION)]
    for join, level in ((number - 1, low), (number, high)):
        if 0 < join < count:
            items.append(Path(((-6.0, level), (WIDE + 2.0, level)), Ink.AXIS, Layer.DIMENSION))
            items.append(Text((-6.6, level), str(join), LETTERS, "end", "middle", bold=True))
    title = phrase("{name}, piece {number} of {count}", name=name, number=number, count=count)
    for line, level in ((name, 7.4), (phrase("piece {number} of {count}", number=number, count=count), 4.0)):
        items.append(Text((-6.0, head + level), style.say(line), LETTERS, "start", bold=True))
    return framed(
        style.say(title),
        items,
        scale=1.0,
        margin=1.0,
        least_width=54.0,
        description=style.say(phrase("Story stick at full size: {name}.", name=name)),
    )


def _rule(low: Mm, high: Mm, joins: tuple[Mm, Mm], style: LengthStyle) -> Iterator[Item]:
    """A rule along the stick's left edge: the check that the page is true."""
    step, each = (10.0, 10) if style.typed_unit == "mm" else (MM_PER_INCH / 2, 2)
    ticks = []
    for number in range(int(low // step), int(high // step) + 1):
        level = number * step
        if not low <= level <= high:
            continue
        is_long = number % each == 0
        ticks.append(((0.0, level), (4.0 if is_long else 2.0, level)))
        if is_long and all(abs(level - other) > 2.0 for other in (low, high, *joins)):
            words = f"{level:g}" if style.typed_unit == "mm" else str(number // each)
            yield Text((4.6, level), words, 2.0, "start", "middle", layer=Layer.DIMENSION)
    yield Strokes(tuple(ticks), Ink.FINE, Layer.DIMENSION)


def draw_block(words: str, height: Mm, style: LengthStyle) -> Scene:
    """A block at full size, as thick as a setting is high."""
    items: list[Item] = [
        Path(box(0.0, 0.0, BLOCK, height), Ink.OUTLINE, closed=True, fill=Fill.WOOD),
        Text((BLOCK / 2, -2.0), style.say(words), LETTERS, "middle", "top"),
        Text((BLOCK / 2, -5.6), style.show(height, fine=True), LETTERS, "middle", "top", bold=True),
    ]
    return framed(style.say(words), items, scale=1.0, margin=1.0, description=style.say(words))
