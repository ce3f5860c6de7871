"""Words inside rectangles: as large as fit, on as many lines as help, turned where the rectangle stands."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.lettering import CAP_HEIGHT, DESCENT, text_width
from drawerwright.drawings.scene import Fill, Item, Layer, Point, Text, box

SIZES: tuple[Mm, ...] = (2.6, 2.2, 1.9, 1.6)
"""Sizes that a label may have, largest first."""


def fitted_label(
    words: Sequence[str],
    corners: Sequence[Point],
    fill: Fill,
    layer: Layer = Layer.NAME,
    *,
    ends: Mm = 0.8,
    along_x: bool = True,
    sizes: Sequence[Mm] = SIZES,
    details: float = 1.0,
) -> list[Item]:
    """Words in the middle of a rectangle: as many lines and as large as fit, turned where that helps.

    Nothing where not even the first of them fits. `ends` is kept free at both ends of the
    rectangle, along x or along y; `sizes` are those that the lettering may have (mm), largest first; lines below the
    first are smaller by `details`.
    """
    (left, bottom), (right, top) = corners[0], corners[2]
    wide = right - left - 2 * (ends if along_x else 0.8)
    high = top - bottom - 2 * (0.3 if along_x else ends)
    centre = ((left + right) / 2, (bottom + top) / 2)
    halves = _halved(words[0])
    best: tuple[float, list[str], Mm, float] | None = None
    for turned in (False, True):
        room_along, room_across = (high, wide) if turned else (wide, high)
        for told, lines in (
            (len(words), list(words)),
            (len(words), [" · ".join(words)]),
            (1, list(words[:1])),
            (1, halves),
        ):
            for size in sizes:
                pitch = size * 1.25
                if pitch * (len(lines) - 1) + size * (CAP_HEIGHT + DESCENT) > room_across:
                    continue
                if all(text_width(line, size) <= room_along for line in lines):
                    worth = told * 10 + size - (5 if turned else 0)
                    if best is None or worth > best[0]:
                        best = (worth, lines, size, 90.0 if turned else 0.0)
                    break
    if best is None:
        return []
    _, lines, size, angle = best
    pitch = size * 1.25
    items: list[Item] = []
    for number, line in enumerate(lines):
        shift = ((len(lines) - 1) / 2 - number) * pitch
        at = (centre[0] - shift, centre[1]) if angle else (centre[0], centre[1] + shift)
        items.append(
            Text(
                at,
                line,
                size if number == 0 or lines is halves else size * details,
                "middle",
                "middle",
                angle,
                bold=number == 0 or lines is halves,
                layer=layer,
                halo=fill,
            )
        )
    return items


def _halved(words: str) -> list[str]:
    """A name on two lines, parted at the space nearest its middle."""
    gaps = [place for place, sign in enumerate(words) if sign == " "]
    if not gaps:
        return [words]
    middle = min(gaps, key=lambda place: abs(place - len(words) / 2))
    return [words[:middle], words[middle + 1 :]]


def note_letter(number: int) -> str:
    """a to z, then aa, ab and so on."""
    before, last = divmod(number, 26)
    return (note_letter(before - 1) if before else "") + chr(ord("a") + last)


def first_third(corners: Sequence[Point]) -> tuple[Point, ...]:
    """The part of a rectangle that leaves the middle to what is written there."""
    (left, bottom), (right, top) = corners[0], corners[2]
    if right - left > top - bottom:
        return box(left, bottom, left + (right - left) / 3, top)
    return box(left, bottom, right, bottom + (top - bottom) / 3)
