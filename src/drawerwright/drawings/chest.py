"""The whole piece from the front as it will look: every bank in its carcase, plain boxes on top of it.

Boards of the carcase and its plinth are drawn in usual sizes, which no job knows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from drawerwright.basics.lengths import Degrees, LengthStyle, Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.carcase import pull_places
from drawerwright.drawers.scoop import Scoop
from drawerwright.drawings.carcase_wood import wood_items
from drawerwright.drawings.chest_bodies import BOARD, PLINTH, PLINTH_BACK, Body, bodies_of
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows
from drawerwright.drawings.elevation import scoop_item
from drawerwright.drawings.hatching import face_items
from drawerwright.drawings.lettering import text_width
from drawerwright.drawings.scene import (
    Circle,
    Fill,
    Ink,
    Item,
    Path,
    Point,
    Region,
    Scene,
    Strokes,
    Text,
    box,
    extent,
    framed,
)

BOX_GAP: Mm = 30.0
"""Between plain boxes that are drawn beside each other."""
ROUND_PULL: Mm = 11.0
BAR_PULL: Mm = 10.0
"""Radius of a round pull and height of a bar as they are drawn, where only holes for them are known."""
LETTERS: Mm = 3.4
"""Lettering that a screen at its usual size shows 13 pixels high."""
LEAST_LETTERS: Mm = 2.0
BY_PULL: Mm = 0.7
"""Paper between the edge of a front, its name and its pull at the least."""
BALLOON: Mm = 2.9
"""Radius of a finding's number."""
NEXT_BALLOON: Mm = 2 * BALLOON + 0.4
"""From the number of a finding to the next one at the same box."""
MOST_BOXES = 36
"""More plain boxes are not drawn; how many there are is said."""
ROOM: tuple[Mm, Mm] = (168.0, 124.0)


@dataclass(frozen=True, slots=True)
class ChestMark:
    """A finding by its number, and the drawers that it concerns."""

    number: int
    drawers: frozenset[str]


@dataclass(frozen=True, slots=True)
class ShownBank:
    """A bank in a chest, and the direction of the grain of its fronts; None without grain."""

    bank: Bank
    fibre: Degrees | None = 0.0


@dataclass(frozen=True, slots=True)
class Chest:
    """What is drawn: the banks from the left, and the plain boxes."""

    name: str
    banks: tuple[ShownBank, ...]
    boxes: tuple[DrawerBox, ...] = ()
    marks: tuple[ChestMark, ...] = field(default=())


@dataclass(frozen=True, slots=True)
class _Face:
    """What shows of a drawer, with its bank's number (None for a plain box): edges in mm of the thing."""

    name: str
    bank: int | None
    left: Mm
    low: Mm
    right: Mm
    top: Mm
    fibre: Degrees | None = 0.0
    scoop: Scoop | None = None
    is_drawer: bool = True


def draw_chest(
    chest: Chest,
    *,
    annotated: bool = True,
    style: LengthStyle | None = None,
    room: tuple[Mm, Mm] = ROOM,
) -> Scene:
    """A chest from the front; each drawer is a region by its name.

    Args:
        chest: banks, boxes and findings.
        annotated: with the sizes of the openings.
        style: how lengths are written.
        room: paper that carcase and boxes may take (mm); figures stand outside it.

    Raises:
        InvalidValueError: the fronts of a bank do not fill its opening.
    """
    style = style or LengthStyle()
    bodies, lefts = bodies_of([shown.bank for shown in chest.banks])
    faces = [*_fronts(chest.banks, lefts), *_piled(chest, bodies)]
    carcase = list(_carcase(bodies))
    edges = [
        *(board for board, _fill in carcase),
        *((face.left, face.low, face.right, face.top) for face in faces),
    ]
    left, low = min(edge[0] for edge in edges), min(edge[1] for edge in edges)
    right, top = max(edge[2] for edge in edges), max(edge[3] for edge in edges)
    scale = min(room[0] / max(right - left, 1.0), room[1] / max(top - low, 1.0))
    items: list[Item] = []
    for board, fill in carcase:
        ink = Ink.FINE if fill is Fill.PAPER else Ink.OUTLINE
        items.append(Path(_scaled(board, scale), ink, closed=True, fill=fill))
    for body in bodies:
        items += wood_items(body.boards, scale, body.outside)
    for face in faces:
        items += _drawn(face, scale)
    pulls: dict[str, Item] = {}
    for shown, at in zip(chest.banks, lefts, strict=True):
        pulls |= _pulls(shown.bank, at, scale)
    items += pulls.values()
    numbers = _numbers_at_boxes(chest.marks, faces)
    for face in faces:
        if face.bank is None:
            items += _box_name(face, scale, len(numbers.get(face.name, ())))
        else:
            items += _front_name(face, scale, pulls.get(face.name))
    if len(chest.boxes) > MOST_BOXES:
        words = phrase("and {count} more boxes", count=len(chest.boxes) - MOST_BOXES)
        items.append(Text((right * scale, top * scale + 1.0), style.say(words), LETTERS, "end"))
    items += _marked(chest.marks, faces, len(chest.banks), scale)
    if annotated and chest.banks:
        items += _figures(bodies, (low * scale, extent(items)[2]), scale, style)
    return framed(
        chest.name,
        items,
        scale=scale,
        margin=1.0,
        description=style.say(_described(chest)),
        regions=tuple(
            Region(face.name, style.say(phrase("Drawer {name}", name=face.name)), _outline(face, scale))
            for face in faces
            if face.is_drawer
        ),
    )


def _fronts(banks: Sequence[ShownBank], lefts: Sequence[Mm]) -> Iterator[_Face]:
    for number, (shown, left) in enumerate(zip(banks, lefts, strict=True)):
        for place in shown.bank.shown_in_carcase():
            front = place.front
            yield _Face(
                place.name,
                number,
                left + front.x,
                front.z,
                left + front.x + front.width,
                front.top,
                shown.fibre,
                shown.bank.scoop if place.has_drawer else None,
                place.has_drawer,
            )


def _carcase(bodies: Sequence[Body]) -> Iterator[tuple[tuple[Mm, Mm, Mm, Mm], Fill]]:
    """The boards of every carcase, its openings, then the plinth: edges, and what they are filled with."""
    for body in bodies:
        yield body.outside, Fill.WOOD_BEHIND
        for cell in body.cells:
            yield cell, Fill.PAPER
    if bodies:
        end = bodies[-1].left + bodies[-1].width + BOARD
        yield (PLINTH_BACK, -BOARD - PLINTH, end - PLINTH_BACK, -BOARD), Fill.WOOD_BEHIND


def _piled(chest: Chest, bodies: Sequence[Body]) -> Iterator[_Face]:
    """Plain boxes in rows on top of the carcase, as many in a row as it is wide."""
    boxes = chest.boxes[:MOST_BOXES]
    if not boxes:
        return
    ground = max((body.height + BOARD for body in bodies), default=0.0)
    wide = bodies[-1].left + bodies[-1].width + BOARD if bodies else 0.0
    if not wide:
        widths = [_shown_width(each) + BOX_GAP for each in boxes]
        tall = [_shown_height(each) for each in boxes]
        # About as wide as high, so that a pile of many boxes fills its room.
        wide = max(max(widths), (sum(w * h for w, h in zip(widths, tall, strict=True)) * 1.4) ** 0.5)
    for row in _rows(boxes, wide):
        at = (wide - sum(_shown_width(each) for each in row) - BOX_GAP * (len(row) - 1)) / 2
        for each in row:
            yield _Face(
                each.name,
                None,
                at,
                ground,
                at + _shown_width(each),
                ground + _shown_height(each),
                each.fibre,
            )
            at += _shown_width(each) + BOX_GAP
        ground += max(_shown_height(each) for each in row)


def _rows(boxes: Sequence[DrawerBox], wide: Mm) -> Iterator[list[DrawerBox]]:
    row: list[DrawerBox] = []
    for each in boxes:
        needed = sum(_shown_width(other) + BOX_GAP for other in row) + _shown_width(each)
        if row and needed > wide:
            yield row
            row = []
        row.append(each)
    yield row


def _shown_width(each: DrawerBox) -> Mm:
    return each.width + sum(each.lips)


def _shown_height(each: DrawerBox) -> Mm:
    return max(each.height, each.front_height)


def _outline(face: _Face, scale: float) -> tuple[Point, ...]:
    return _scaled((face.left, face.low, face.right, face.top), scale)


def _scaled(edges: tuple[Mm, Mm, Mm, Mm], scale: float) -> tuple[Point, ...]:
    left, low, right, top = edges
    return box(left * scale, low * scale, right * scale, top * scale)


def _drawn(face: _Face, scale: float) -> list[Item]:
    edges = _outline(face, scale)
    items = face_items(edges, face.fibre, 2.6)
    if face.scoop is not None:
        items.append(scoop_item(face.scoop, (face.left, face.low, face.right, face.top), scale))
    return items


def _pulls(bank: Bank, left: Mm, scale: float) -> Iterator[tuple[str, Item]]:
    """The pull of each drawer, by its name."""
    holes: dict[str, list[Point]] = {}
    for hole in pull_places(bank):
        at = (left + bank.opening.x + hole.x, bank.opening.z + hole.z)
        holes.setdefault(hole.drawer, []).append(at)
    for name, ((x, z), *others) in holes.items():
        if others:
            end, half = others[-1][0], BAR_PULL / 2
            edges = _scaled((x - half, z - half, end + half, z + half), scale)
            yield name, Path(edges, Ink.OUTLINE, closed=True, fill=Fill.STEEL)
        else:
            radius = max(ROUND_PULL * scale, 0.8)
            yield name, Circle((x * scale, z * scale), radius, Ink.OUTLINE, fill=Fill.STEEL)


def _numbers_at_boxes(marks: Sequence[ChestMark], faces: Sequence[_Face]) -> dict[str, list[int]]:
    """The findings that stand at each plain box: one that concerns several stands at the first."""
    numbers: dict[str, list[int]] = {}
    for mark in marks:
        first = next((face.name for face in faces if face.bank is None and face.name in mark.drawers), None)
        if first is not None:
            numbers.setdefault(first, []).append(mark.number)
    return numbers


def _box_name(face: _Face, scale: float, numbers: int) -> Iterator[Item]:
    """In the middle of a plain box; beside or below the numbers of findings at its upper right corner."""
    wide, tall = (face.right - face.left) * scale, (face.top - face.low) * scale

    def letters(wide: Mm, tall: Mm) -> Mm:
        return min(LETTERS, tall / 1.3, LETTERS * (wide - 1.0) / max(text_width(face.name, LETTERS), 0.1))

    free = (wide - numbers * NEXT_BALLOON, tall) if numbers else (wide, tall)
    below = (wide, tall - BALLOON)
    if numbers and letters(*below) > letters(*free):
        free = below
    if letters(*free) >= LEAST_LETTERS:
        at = (face.left * scale + free[0] / 2, face.low * scale + free[1] / 2)
        yield Text(at, face.name, letters(*free), "middle", "middle", halo=Fill.WOOD)


def _front_name(face: _Face, scale: float, pull: Item | None) -> Iterator[Item]:
    """On the left of a front, clear of its pull where that leaves room for letters."""
    letters = min(LETTERS, (face.top - face.low) * scale / 1.3)
    if letters < LEAST_LETTERS:
        return
    middle = (face.low + face.top) / 2 * scale
    begin = 2.2
    if pull is not None:
        free = extent([pull])[0] - face.left * scale - BY_PULL
        needed = text_width(face.name, LETTERS) / LETTERS  # for letters of 1
        begin = max(min(begin, free - needed * letters), BY_PULL)
        letters = min(letters, max((free - begin) / needed, LEAST_LETTERS))
    at = (face.left * scale + begin, middle)
    yield Text(at, face.name, letters, "start", "middle", bold=True, halo=Fill.WOOD)


def _marked(marks: Sequence[ChestMark], faces: Sequence[_Face], banks: int, scale: float) -> Iterator[Item]:
    """The numbers of findings: beside the banks at the ends with a bracket over the fronts that they concern, on the
    wood everywhere else."""
    used = {True: 0, False: 0}
    shown = [face for face in faces if face.bank is not None]
    ends = [face.left for face in shown], [face.right for face in shown]
    for mark in marks:
        for bank in range(banks):
            own = [face for face in shown if face.bank == bank and face.name in mark.drawers]
            if not own:
                continue
            low, top = min(f.low for f in own) * scale + 0.6, max(f.top for f in own) * scale - 0.6
            is_left = own[0].left - min(ends[0]) < BOARD
            if is_left or max(ends[1]) - own[0].right < BOARD:
                out = -1 if is_left else 1
                edge = (own[0].left if is_left else own[0].right) * scale + out * (BOARD * scale + 0.8)
                line = edge + out * (3.5 + used[is_left] * (2 * BALLOON + 1.0))
                used[is_left] += 1
                yield Strokes(
                    (((edge, low), (line, low)), ((line, low), (line, top)), ((line, top), (edge, top))),
                    Ink.MARK,
                )
                yield from _balloon((line, (low + top) / 2), mark.number)
            else:
                at = ((own[0].left + own[0].right) / 2 * scale, (own[0].low + own[0].top) / 2 * scale)
                yield from _balloon(at, mark.number)
    numbers = _numbers_at_boxes(marks, faces)
    for face in faces:
        for place, number in enumerate(reversed(numbers.get(face.name, ())) if face.bank is None else ()):
            yield from _balloon(
                (face.right * scale - BALLOON - place * NEXT_BALLOON, face.top * scale), number
            )


def _balloon(at: Point, number: int) -> tuple[Item, ...]:
    return (
        Circle(at, BALLOON, Ink.MARK, fill=Fill.PAPER),
        Text(at, str(number), LETTERS - 0.6, "middle", "middle", bold=True),
    )


def _figures(bodies: Sequence[Body], edges: tuple[Mm, Mm], scale: float, style: LengthStyle) -> list[Item]:
    """Widths of the openings below, of a divided carcase its lowest row and all of it; the tallest height."""
    below, right = edges
    spans: list[tuple[Mm, Mm]] = []
    for body in bodies:
        lowest = min(cell[1] for cell in body.cells)
        spans += [(cell[0], cell[2]) for cell in body.cells if cell[1] == lowest]
        if len(body.cells) > 1:
            spans.append((body.left, body.left + body.width))
    widths = [
        Dimension(
            begin * scale,
            end * scale,
            style.say(phrase("opening {size}", size=style.written(end - begin))),
        )
        for begin, end in dict.fromkeys(spans)
    ]
    tallest = max(body.height for body in bodies)
    height = Dimension(0.0, tallest * scale, style.show(tallest))
    return [
        *dimension_rows(widths, Side.BELOW, below, size=LETTERS),
        *dimension_rows([height], Side.RIGHT, right, size=LETTERS),
    ]


def _described(chest: Chest) -> str:
    said = [phrase("{name} from the front", name=chest.name)]
    said += [
        phrase(
            "bank {name} with drawers {drawers}",
            name=shown.bank.name,
            drawers=names_in_row([place.name for place in shown.bank.places()]),
        )
        for shown in chest.banks
    ]
    if chest.boxes:
        said.append(phrase("boxes {names}", names=names_in_row([each.name for each in chest.boxes])))
    return joined(said, "; ")
