"""The whole piece from the front as it will look: every bank in its carcase, plain boxes on top of it.

Boards of the carcase and its plinth are drawn in usual sizes, which no job knows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from drawerwright.basics.lengths import Degrees, LengthStyle, Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawers.bank import Bank
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.carcase import pull_places
from drawerwright.drawings.carcase_wood import wood_items
from drawerwright.drawings.chest_bodies import BOARD, Body, bodies_of, carcase_edges, drawn_of, not_drawn
from drawerwright.drawings.chest_marks import (
    BALLOON,
    LETTERS,
    NEXT_BALLOON,
    ChestFace,
    ChestMark,
    marks_beside,
    numbers_at_boxes,
)
from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows, has_room
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
LEAST_LETTERS: Mm = 2.4
BY_PULL: Mm = 0.7
"""Paper between the edge of a front, its name and its pull at the least."""
MOST_BOXES = 36
"""More plain boxes are not drawn; how many there are is said."""
MOST_FIGURED = 24
"""More openings have no figures below, which would stand in more rows than the piece is high; tables have them."""
ROOM: tuple[Mm, Mm] = (168.0, 124.0)


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
    banks = chest.banks[: drawn_of([shown.bank for shown in chest.banks])]
    bodies, lefts = bodies_of([shown.bank for shown in banks])
    faces = [*_fronts(banks, lefts), *_piled(chest, bodies)]
    carcase = list(carcase_edges(bodies))
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
    for shown, at in zip(banks, lefts, strict=True):
        pulls |= _pulls(shown.bank, at, scale)
    items += pulls.values()
    numbers = numbers_at_boxes(chest.marks, faces)
    for face in faces:
        if face.bank is None:
            items += _box_name(face, scale, len(numbers.get(face.name, ())))
        else:
            items += _front_name(face, scale, pulls.get(face.name))
    if more := not_drawn(len(chest.banks) - len(banks), len(chest.boxes) - MOST_BOXES):
        items.append(Text((right * scale, top * scale + 1.0), style.say(more), LETTERS, "end"))
    items += marks_beside(chest.marks, faces, len(banks), scale)
    if annotated and banks:
        items += _figures(bodies, (low * scale, extent(items)[2]), scale, style)
    return framed(
        chest.name,
        items,
        scale=scale,
        margin=1.0,
        description=style.say(_described(replace(chest, banks=banks))),
        regions=tuple(
            Region(face.name, style.say(phrase("Drawer {name}", name=face.name)), _outline(face, scale))
            for face in faces
            if face.is_drawer
        ),
    )


def _fronts(banks: Sequence[ShownBank], lefts: Sequence[Mm]) -> Iterator[ChestFace]:
    for number, (shown, left) in enumerate(zip(banks, lefts, strict=True)):
        for place in shown.bank.shown_in_carcase():
            front = place.front
            yield ChestFace(
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


def _piled(chest: Chest, bodies: Sequence[Body]) -> Iterator[ChestFace]:
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
            yield ChestFace(
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


def _outline(face: ChestFace, scale: float) -> tuple[Point, ...]:
    return _scaled((face.left, face.low, face.right, face.top), scale)


def _scaled(edges: tuple[Mm, Mm, Mm, Mm], scale: float) -> tuple[Point, ...]:
    left, low, right, top = edges
    return box(left * scale, low * scale, right * scale, top * scale)


def _drawn(face: ChestFace, scale: float) -> list[Item]:
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


def _box_name(face: ChestFace, scale: float, numbers: int) -> Iterator[Item]:
    """In the middle of a plain box; beside or below the numbers of findings at its upper right corner."""
    wide, tall = (face.right - face.left) * scale, (face.top - face.low) * scale

    def letters(wide: Mm, tall: Mm) -> Mm:
        return min(LETTERS, tall / 1.3, LETTERS * (wide - 1.0) / max(text_width(face.name, LETTERS), 0.1))

    free = (wide - numbers * NEXT_BALLOON + BALLOON, tall) if numbers else (wide, tall)
    below = (wide, tall - BALLOON)
    if numbers and letters(*below) > letters(*free):
        free = below
    if letters(*free) >= LEAST_LETTERS:
        at = (face.left * scale + free[0] / 2, face.low * scale + free[1] / 2)
        yield Text(at, face.name, letters(*free), "middle", "middle", halo=Fill.WOOD)


def _front_name(face: ChestFace, scale: float, pull: Item | None) -> Iterator[Item]:
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
        Dimension(begin * scale, end * scale, _opening_words(end - begin, (end - begin) * scale, style))
        for begin, end in dict.fromkeys(spans)
    ]
    if len(widths) > MOST_FIGURED:
        widths = []
    tallest = max(body.height for body in bodies)
    height = Dimension(0.0, tallest * scale, style.show(tallest))
    return [
        *dimension_rows(widths, Side.BELOW, below, size=LETTERS),
        *dimension_rows([height], Side.RIGHT, right, size=LETTERS),
    ]


def _opening_words(size: Mm, room: Mm, style: LengthStyle) -> str:
    """The figure alone where the word has no room beside it, so that both stand within the dimension."""
    words = style.say(phrase("opening {size}", size=style.written(size)))
    return words if has_room(words, LETTERS, room) else style.show(size)


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
