"""The sheet that a slice of a test piece is photographed on: marks around a dark field, what to do, and bars to check
the print by."""

from __future__ import annotations

from collections.abc import Iterator

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.drawings.checkbar import BAR_LENGTH, draw_check_bar
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scene import Fill, Ink, Item, Layer, Path, Scene, Strokes, Text, box, moved
from drawerwright.joints.scan.sheet_marks import FIELD, MARKS

HEAD: Mm = 104.0
"""From the sheet's upper edge to the middle of the dark field."""
LETTERS: Mm = 3.2
LINE: Mm = 5.0
ROOM: Mm = 154.0
"""How wide the text is, as wide as the marks."""
TICK: Mm = 2.5
TITLE = phrase("Photograph a slice on this sheet")
STEPS: tuple[Phrase, ...] = (
    phrase(
        "Print at full size (100 %) on matt paper. The two bars of 100 mm must measure the same; lay the sheet on "
        "something flat."
    ),
    phrase(
        "Saw the slice while it is still part of a long board: blade guard on, a block clamped to the fence well "
        "before "
        "the blade, hands away. Never hold or push a short piece. Follow your saw's manual."
    ),
    phrase(
        "Lay the slice in the middle of the dark field, sawn face up, any way round. Measure two things by caliper: "
        "the "
        "board's thickness, and how high the slice stands over the sheet."
    ),
    phrase(
        "Hold the camera level, straight above the middle of the slice, 40 cm or more away; zoom "
        "in until the marks nearly fill the picture. The farther away and the thinner the slice, "
        "the less of its sides is seen."
    ),
    phrase(
        "Daylight from all around, no flash, no shadow of yours on the sheet. All marks must be seen. Tap to focus."
    ),
)


def draw_slice_sheet(style: LengthStyle) -> Scene:
    """The sheet, as large as its paper."""
    paper = PAPERS[style.paper]
    middle = (paper.width / 2, paper.height - HEAD)
    items: list[Item] = [*moved(sheet_marks(), *middle)]
    title = style.say(TITLE)
    items.append(Text((middle[0] - ROOM / 2, paper.height - 24.0), title, 6.0, "start", bold=True))
    bar = draw_check_bar(style=style)
    level = middle[1] - 66.0 - (bar.top if bar.top > 6 else 0.0)
    items += moved(bar.items, middle[0] - BAR_LENGTH / 2, level)
    level -= 14.0
    for number, step in enumerate(STEPS, start=1):
        items.append(Text((middle[0] - ROOM / 2, level), f"{number}", LETTERS, "start", bold=True))
        for line in _lines(style.say(step), ROOM - 6.0):
            items.append(Text((middle[0] - ROOM / 2 + 6.0, level), line, LETTERS))
            level -= LINE
        level -= 1.5
    return Scene(
        title,
        tuple(items),
        0.0,
        0.0,
        paper.width,
        paper.height,
        description=style.say(
            phrase("Sixteen square marks around a dark field, a bar to check the print by, and what to do.")
        ),
    )


def sheet_marks() -> Iterator[Item]:
    """Field and marks about the field's middle, and a bar up the side."""
    (wide, high), tall = FIELD, BAR_LENGTH
    yield Path(box(-wide / 2, -high / 2, wide / 2, high / 2), Ink.NONE, closed=True, fill=Fill.INK)
    for mark in MARKS:
        (left, top), _, (right, low), _ = mark.corners
        yield Path(box(left, low, right, top), Ink.NONE, closed=True, fill=Fill.INK)
        for x, y, side in mark.white():
            yield Path(box(x, y, x + side, y + side), Ink.NONE, closed=True, fill=Fill.DAYLIGHT)
    ticks = [((0.0, way * (high / 2 + 0.6)), (0.0, way * (high / 2 + 0.6 + TICK))) for way in (1, -1)]
    ticks += [((way * (wide / 2 + 0.6), 0.0), (way * (wide / 2 + 0.6 + TICK), 0.0)) for way in (1, -1)]
    yield Strokes(tuple(ticks), Ink.FINE, Layer.DIMENSION)
    side = MARKS[0].middle[0] - 14.0
    bar = (
        ((side, -tall / 2), (side, tall / 2)),
        *(((side - 2.5, end), (side + 2.5, end)) for end in (-tall / 2, tall / 2)),
    )
    yield Strokes(bar, Ink.FINE, Layer.DIMENSION)
    words = f"{tall:g} mm"
    yield Text((side - 1.5, 0.0), words, 2.6, "middle", "base", 90.0, layer=Layer.DIMENSION)


def _lines(text: str, room: Mm) -> Iterator[str]:
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if line and text_width(longer, LETTERS) > room:
            yield line
            line = word
        else:
            line = longer
    yield line
