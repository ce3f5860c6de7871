"""The corner as it will seat: what the wood does at settings that need not be the right ones."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawings.corner_section import ENLARGED, LEAN, NAME_SIZE, gap_items, piece
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows, spread
from drawerwright.drawings.scene import (
    Circle,
    Extent,
    Fill,
    Ink,
    Item,
    Layer,
    Path,
    Point,
    Scene,
    Segment,
    Strokes,
    Text,
    extent,
    framed,
    side_by_side,
    together,
)
from drawerwright.joints.corner import SEEN, Place, flat_section, upright_section
from drawerwright.joints.fit import Fit, SeatedState

State = Literal["pressed", "pulled"]
AS_IT_SEATS = phrase("How it will seat")
TICK_PITCH: Mm = 2.6
"""From tick to tick along a contact mark."""
LINE_PITCH: Mm = 4.5
"""Of the verdict, which has at most two lines."""
NOTE_PITCH: Mm = 5.0
NOTE_REACH: Mm = 4.0
"""From the faces to the words beside them."""


def draw_seating(
    fit: Fit,
    *,
    state: State = "pressed",
    scale: float = ENLARGED,
    beside_figures: bool = False,
    style: LengthStyle | None = None,
    title: str = AS_IT_SEATS,
    least: Extent | None = None,
) -> Scene:
    """One corner as it lies, pressed home or pulled, its gaps with their widths and where the wood touches.

    `beside_figures` is as in `draw_corner`; `least` is room (mm of paper) that the scene always has, so that it stays
    where it is while settings move.
    Gaps are light with their width written beside; contact is a ticked line in the accent colour.
    """
    style = style or LengthStyle()
    more_flat, more_upright = LEAN if beside_figures else (1.0, 0.9)
    seated = fit.pressed if state == "pressed" else fit.pulled
    cuts = seated.cuts
    reach = max(cuts.fence_flat, seated.lip + cuts.upright_thickness)
    flat = flat_section(cuts, reach + more_flat * cuts.flat_thickness)
    upright = upright_section(
        cuts, seated.lip, seated.engagement, cuts.bit_height + more_upright * cuts.upright_thickness
    )
    items: list[Item] = [
        *piece(flat, scale, Fill.WOOD, 0.0),
        *piece(upright, scale, Fill.WOOD_BEHIND, 90.0),
        *gap_items(seated.gaps, scale),
        *_contact_marks(seated, scale),
        *_gap_notes(seated, scale, style),
    ]
    outer = seated.lip
    if abs(outer) > SEEN:
        edge = cuts.flat_thickness * scale
        name = phrase("lip") if outer > 0 else phrase("set back")
        figure = f"{style.say(name)} {style.show(abs(outer), fine=True)}"
        items += dimension_rows([Dimension(0.0, outer * scale, figure)], Side.ABOVE, edge)
    top = extent(items)[3]
    words = _verdict(fit, state, style)
    items += [
        Text(
            (min(outer, 0.0) * scale, top + 4 + LINE_PITCH * (len(words) - 1 - n)),
            line,
            NAME_SIZE,
            bold=n == 0,
        )
        for n, line in enumerate(words)
    ]
    gaps = [
        phrase("{place} gap {width}", place=gap.place.words, width=style.written(gap.width, fine=True))
        for gap in seated.gaps
    ]
    description = phrase(
        "{verdict} Gaps: {gaps}. Touches at: {touches}.",
        verdict=" ".join(words),
        gaps=joined(gaps, "; ") if gaps else phrase("none"),
        touches=joined(seated.touches_at, ", ") if seated.touches_at else phrase("nothing"),
    )
    return framed(
        style.say(title),
        items,
        scale=scale,
        description=style.say(description),
        reach=extent(items) if least is None else together(extent(items), least),
    )


def draw_both_states(
    fit: Fit, *, scale: float = ENLARGED, style: LengthStyle | None = None, title: str = AS_IT_SEATS
) -> Scene:
    """Pressed and pulled beside each other; one drawing where there is no play between them."""
    if fit.play <= SEEN:
        return draw_seating(fit, scale=scale, style=style, title=title)
    scenes = [
        draw_seating(fit, state="pressed", scale=scale, style=style),
        draw_seating(fit, state="pulled", scale=scale, style=style),
    ]
    return side_by_side((style or LengthStyle()).say(title), scenes)


def _verdict(fit: Fit, state: State, style: LengthStyle) -> list[str]:
    if not fit.closes:
        proud = phrase("stands proud {size}", size=style.written(fit.stands_proud, fine=True))
        return [style.say(proud), style.say(phrase("clamps cannot close it"))]
    held = phrase("pressed") if state == "pressed" else phrase("pulled")
    if fit.play <= SEEN:
        return [style.say(phrase("{state}: closes without play", state=held))]
    play = style.written(fit.play, fine=True)
    return [style.say(phrase("{state}: closes, play {play}", state=held, play=play))]


def _contact_marks(seated: SeatedState, scale: float) -> list[Item]:
    items: list[Item] = []
    for start, end in contact_lines(seated):
        a, b = _on_paper(start, scale), _on_paper(end, scale)
        if math.dist(a, b) < 0.3:
            items.append(Circle(a, 1.0, Ink.MARK, Layer.CONTACT))
            continue
        items.append(Path((a, b), Ink.MARK, Layer.CONTACT))
        items.append(Strokes(tuple(_ticks(a, b)), Ink.MARK, Layer.CONTACT))
    return items


def _on_paper(point: Point, scale: float) -> Point:
    return point[0] * scale, point[1] * scale


def _ticks(start: Point, end: Point) -> list[Segment]:
    (x0, y0), (x1, y1) = start, end
    length = math.dist(start, end)
    count = max(round(length / TICK_PITCH), 1)
    nx, ny = (y0 - y1) / length * 0.9, (x1 - x0) / length * 0.9
    ticks = []
    for n in range(count):
        share = (n + 0.5) / count
        x, y = x0 + (x1 - x0) * share, y0 + (y1 - y0) * share
        ticks.append(((x - nx, y - ny), (x + nx, y + ny)))
    return ticks


def contact_lines(seated: SeatedState) -> list[Segment]:
    """Where the two pieces touch, as lines in the joint frame (mm of wood); a point has two equal ends."""
    cuts = seated.cuts
    flat, upright = cuts.flat_face(), cuts.upright_face(seated.lip, seated.engagement)
    lines: list[Segment] = []
    inside = seated.lip + cuts.upright_thickness
    opening = seated.shoulder_gap
    if opening is not None and opening <= SEEN:
        begin = max(flat[0][0], upright[0][0])
        if inside - begin > SEEN:
            lines.append(((begin, 0.0), (inside, 0.0)))
        left, right = max(seated.lip, 0.0), min(flat[-1][0], upright[-1][0])
        if right - left > SEEN:
            lines.append(((left, cuts.bit_height), (right, cuts.bit_height)))
    return lines + _face_contacts(flat, upright)


def _face_contacts(flat: Sequence[Point], upright: Sequence[Point]) -> list[Segment]:
    low, high = max(flat[0][1], upright[0][1]), min(flat[-1][1], upright[-1][1])
    levels = sorted({y for _, y in (*flat, *upright) if low <= y <= high} | {low, high})
    found: list[Segment] = []
    points: list[Point] = []
    for y0, y1 in pairwise(levels):
        if y1 - y0 < SEEN:
            continue
        ends = []
        for y, inward in ((y0, 1e-9), (y1, -1e-9)):
            x = _x_at(upright, y + inward)
            ends.append((x, y, _x_at(flat, y + inward) - x))
        (xa, ya, open_a), (xb, yb, open_b) = ends
        if max(abs(open_a), abs(open_b)) <= 2 * SEEN:
            if found and math.dist(found[-1][1], (xa, ya)) < SEEN and _is_straight(found[-1], (xb, yb)):
                found[-1] = (found[-1][0], (xb, yb))
            else:
                found.append(((xa, ya), (xb, yb)))
        else:
            points += [(x, y) for x, y, opening in ends if abs(opening) <= 2 * SEEN]
    if found:
        return found
    return [(point, point) for point in points[:1]]


def _is_straight(line: Segment, point: Point) -> bool:
    (x0, y0), (x1, y1) = line
    return abs((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) < 1e-3


def _x_at(face: Sequence[Point], y: Mm) -> Mm:
    for (x0, y0), (x1, y1) in pairwise(face):
        if y0 <= y <= y1 and y1 > y0:
            return x0 + (x1 - x0) * (y - y0) / (y1 - y0)
    return face[0][0] if y <= face[0][1] else face[-1][0]


def _gap_notes(seated: SeatedState, scale: float, style: LengthStyle) -> list[Item]:
    """Every gap's width where it lies: on the wood right of it, that of the shoulder in the corner below."""
    cuts = seated.cuts
    spots = []
    items: list[Item] = []
    column = max(x for x, _ in (*cuts.flat_face(), *cuts.upright_face(seated.lip))) * scale + NOTE_REACH
    inside = (seated.lip + cuts.upright_thickness) * scale + NOTE_REACH
    for gap in seated.gaps:
        x, y = _centre(gap.outline)
        words = f"{style.say(gap.place.words)} {style.show(gap.width, fine=True)}"
        if gap.place is Place.SHOULDER:
            items += _gap_note(words, (inside, min(y * scale, 0.0) - NOTE_PITCH), (x * scale, y * scale))
        else:
            spots.append((y * scale, x * scale, words))
    spots.sort()
    low, high = 0.6 * NOTE_PITCH, cuts.flat_thickness * scale - 0.6 * NOTE_PITCH
    levels = spread([min(max(y, low), high) for y, _, _ in spots], NOTE_PITCH)
    for (y, x, words), level in zip(spots, levels, strict=True):
        items += _gap_note(words, (column, level), (x, y), Fill.WOOD)
    return items


def _gap_note(words: str, at: Point, target: Point, halo: Fill = Fill.NONE) -> list[Item]:
    return [
        Path((at, (at[0] - 1.5, at[1]), target), Ink.FINE, Layer.GAP),
        Circle(target, 0.45, Ink.NONE, Layer.GAP, Fill.INK),
        Text(
            (at[0] + 0.6, at[1]), words, NAME_SIZE, "start", "middle", bold=True, layer=Layer.GAP, halo=halo
        ),
    ]


def _centre(outline: Sequence[Point]) -> Point:
    """Centre of area of a polygon."""
    doubled, mx, my = 0.0, 0.0, 0.0
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        cross = x0 * y1 - x1 * y0
        doubled, mx, my = doubled + cross, mx + (x0 + x1) * cross, my + (y0 + y1) * cross
    if abs(doubled) < 1e-9:
        return outline[0]
    return mx / (3 * doubled), my / (3 * doubled)
