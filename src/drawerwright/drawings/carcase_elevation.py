"""A divided carcase from the front: dividers or face frame, every front in its opening, runner lines from one edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from drawerwright.basics.lengths import Degrees, LengthStyle, Mm
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import joined, phrase
from drawerwright.drawers.bank import Bank, BoxPlace, ShownFront
from drawerwright.drawers.carcase import pull_places, runner_lines
from drawerwright.drawers.opening import Carcase
from drawerwright.drawings.carcase_wood import wood_items
from drawerwright.drawings.dimensioning import FIGURE_SIZE, Dimension, Side, dimension_rows, heights_from_edge
from drawerwright.drawings.elevation import HOLE_ARM, NAME_GAP, SAID_SIZE, front_items, hole_items, name_start
from drawerwright.drawings.lettering import CAP_HEIGHT, text_width
from drawerwright.drawings.scales import drawn_to_fit, fitting_scale, scale_name
from drawerwright.drawings.scene import (
    Fill,
    Ink,
    Item,
    Layer,
    Path,
    Point,
    Scene,
    Text,
    box,
    extent,
    framed,
)

ROOM: tuple[Mm, Mm] = (178.0, 150.0)
EDGE: Mm = 18.0
"""How much of the carcase's boards is drawn round it, whatever their thickness."""


def draw_carcase(
    carcase: Carcase,
    banks: Sequence[Bank],
    *,
    fibres: Mapping[str, Degrees | None] | None = None,
    style: LengthStyle | None = None,
    room: tuple[Mm, Mm] = ROOM,
) -> Scene:
    """A carcase with the banks that close its openings.

    Args:
        carcase: its size and openings.
        banks: those in it.
        fibres: direction of the grain of a bank's fronts by its mark, None without grain; where it is missing it lies.
        style: how lengths are written.
        room: paper that it may take with its figures (mm).
    """
    style = style or LengthStyle()
    scale = fitting_scale(carcase.width + 2 * EDGE, carcase.height + 2 * EDGE, *room)
    return drawn_to_fit(lambda smaller: _drawn(carcase, banks, fibres or {}, smaller, style), scale, room)


def _drawn(
    carcase: Carcase,
    banks: Sequence[Bank],
    fibres: Mapping[str, Degrees | None],
    scale: float,
    style: LengthStyle,
) -> Scene:
    whole = (-EDGE, -EDGE, carcase.width + EDGE, carcase.height + EDGE)
    items: list[Item] = [Path(_scaled(whole, scale), Ink.OUTLINE, closed=True, fill=Fill.WOOD_BEHIND)]
    items += [
        Path(_scaled((x, z, x + width, z + height), scale), Ink.OUTLINE, closed=True, fill=Fill.PAPER)
        for x, z, width, height in carcase.cells
    ]
    items += wood_items(carcase.boards, scale, whole)
    for bank in banks:
        behind = {place.name: place.box for place in bank.places_in_carcase()}
        fibre = fibres.get(bank.mark, 0.0)
        for shown in bank.shown_in_carcase():
            scoop = bank.scoop if shown.has_drawer else None
            items += front_items(shown.front, behind.get(shown.name), scale, fibre=fibre, scoop=scoop)
    for bank in banks:
        items += _lines_and_holes(bank, scale)
    for bank in banks:
        behind = {place.name: place.box for place in bank.places_in_carcase()}
        for shown in bank.shown_in_carcase():
            items += _name(bank, shown, behind.get(shown.name), scale)
    items += _figures(carcase, banks, scale, style)
    lines = [
        phrase("{name} · scale {scale}", name=carcase.name, scale=scale_name(scale, style.decimal_sign)),
        phrase("heights from the carcase's lower edge inside (triangle), widths from its left edge"),
    ]
    level, middle = extent(items)[3] + 8.0, carcase.width / 2 * scale
    for number, line in enumerate(lines):
        at = (middle, level - 4.0 * number - CAP_HEIGHT)
        items.append(Text(at, style.say(line), SAID_SIZE if number else 3.0, "middle", bold=not number))
    return framed(carcase.name, items, scale=scale, description=style.say(_described(carcase, banks, style)))


def _scaled(edges: tuple[Mm, Mm, Mm, Mm], scale: float) -> tuple[Point, ...]:
    left, low, right, top = (edge * scale for edge in edges)
    return box(left, low, right, top)


def _lines_and_holes(bank: Bank, scale: float) -> list[Item]:
    left, right = bank.opening.x * scale, (bank.opening.x + bank.opening.width) * scale
    items: list[Item] = [
        Path(
            ((left, line.above_carcase * scale), (right, line.above_carcase * scale)), Ink.AXIS, Layer.MACHINE
        )
        for line in runner_lines(bank)
    ]
    for hole in pull_places(bank):
        at = ((bank.opening.x + hole.x) * scale, (bank.opening.z + hole.z) * scale)
        items += hole_items(at, hole.diameter * scale)
    return items


def _name(bank: Bank, place: ShownFront, behind: BoxPlace | None, scale: float) -> list[Item]:
    front = place.front
    letters = max(min(2.6, front.height * scale / 1.4), 1.2)
    start = name_start(front, behind, bank.opening.x, scale)
    holes = [bank.opening.x + hole.x for hole in pull_places(bank) if hole.drawer == place.name]
    room = (
        min([hole * scale - HOLE_ARM for hole in holes] or [(front.x + front.width) * scale])
        - NAME_GAP
        - start
    )
    if text_width(place.name, letters) > room:
        return []
    at = (start, (front.z + front.height / 2) * scale)
    return [Text(at, place.name, letters, "start", "middle", bold=True, halo=Fill.WOOD)]


def _figures(carcase: Carcase, banks: Sequence[Bank], scale: float, style: LengthStyle) -> list[Item]:
    words: dict[int, list[str]] = {}
    levels: dict[int, Mm] = {}
    for bank in banks:
        for line in runner_lines(bank):
            key = round(line.above_carcase * 10)
            words.setdefault(key, []).append(line.drawer)
            levels[key] = line.above_carcase
    marks = [
        (
            level * scale,
            style.say(
                phrase(
                    "{drawers}: runner {level}",
                    drawers=names_in_row(words[key]),
                    level=style.written(level),
                )
            ),
            0.0,
        )
        for key, level in levels.items()
    ]
    letters = min(FIGURE_SIZE, max(carcase.height * scale / (1.5 * max(len(marks), 1)), 1.4))
    items = list(heights_from_edge(marks, 0.0, -EDGE * scale, size=letters))
    across = {(x, x + width) for x, _z, width, _height in carcase.cells} | {(0.0, carcase.width)}
    up = {(z, z + height) for _x, z, _width, height in carcase.cells} | {(0.0, carcase.height)}
    lefts = {(0.0, x) for x, *_ in carcase.cells if x > 0}
    wide, high = _measured(banks)
    items += dimension_rows(_measures(across | lefts, wide, scale, style), Side.BELOW, -EDGE * scale)
    items += dimension_rows(_measures(up, high, scale, style), Side.RIGHT, (carcase.width + EDGE) * scale)
    return items


_Span = tuple[Mm, Mm]


def _measured(banks: Sequence[Bank]) -> tuple[dict[_Span, set[Mm]], dict[_Span, set[Mm]]]:
    """What was read of the openings that banks close: widths and heights (mm), by the spans that they were planned to
    take up in the carcase."""
    wide: dict[_Span, set[Mm]] = {}
    high: dict[_Span, set[Mm]] = {}
    for bank in banks:
        opening = bank.opening
        if opening.readings is not None and opening.planned is not None:
            width, height = opening.planned
            if opening.readings.widths:
                wide.setdefault(_span(opening.x, opening.x + width), set()).add(opening.width)
            if opening.readings.heights:
                high.setdefault(_span(opening.z, opening.z + height), set()).add(opening.height)
    return wide, high


def _span(begin: Mm, end: Mm) -> _Span:
    return round(begin, 3), round(end, 3)


def _measures(
    spans: set[_Span], measured: Mapping[_Span, set[Mm]], scale: float, style: LengthStyle
) -> list[Dimension]:
    """Each with what was read there instead of what was planned, the smallest first where several openings share it."""
    found = []
    for begin, end in sorted(spans):
        sizes = sorted(measured.get(_span(begin, end), ()))
        words = joined((style.show(size) for size in sizes), ", ")
        figure = style.say(phrase("measured {sizes}", sizes=words)) if sizes else style.show(end - begin)
        found.append(Dimension(begin * scale, end * scale, figure))
    return found


def _described(carcase: Carcase, banks: Sequence[Bank], style: LengthStyle) -> str:
    return phrase(
        "{name} from the front, {width} wide and {height} high inside, with {count} openings: {banks}.",
        name=carcase.name,
        width=style.written(carcase.width),
        height=style.written(carcase.height),
        count=len(carcase.cells),
        banks=names_in_row([bank.name for bank in banks]),
    )
