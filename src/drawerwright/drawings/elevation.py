"""A bank as seen from before the carcase: opening, fronts, the boxes behind them, runner lines and pull holes."""

from __future__ import annotations

from collections.abc import Sequence

from drawerwright.basics.lengths import Degrees, LengthStyle, Mm
from drawerwright.basics.phrases import Phrase, phrase, plural
from drawerwright.drawers.assembly import AssembledDrawer, parts_of
from drawerwright.drawers.bank import Bank, BoxPlace, DrawerPlace, FrontPlace, ShownFront
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.carcase import PullPlace, pull_places, runner_lines, runner_use
from drawerwright.drawers.groove_levels import groove_levels
from drawerwright.drawers.opening import CarcaseBoard
from drawerwright.drawers.scoop import Scoop
from drawerwright.drawings.behind_fronts import bottom_items, rail_items, tray_items
from drawerwright.drawings.carcase_wood import wood_items
from drawerwright.drawings.dimensioning import (
    FIGURE_SIZE,
    FIRST_ROW,
    Dimension,
    Side,
    chain_beside,
    dimension_rows,
    heights_from_edge,
)
from drawerwright.drawings.hatching import face_items
from drawerwright.drawings.lettering import CAP_HEIGHT, text_width
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scales import drawn_to_fit, fitting_scale, scale_name
from drawerwright.drawings.scene import (
    Circle,
    Fill,
    Ink,
    Item,
    Layer,
    Path,
    Point,
    Scene,
    Strokes,
    Text,
    box,
    extent,
    framed,
)

ROW: Mm = 4.2
"""Height that a front needs for its name and figures: a bank of many fronts may take a whole page."""
SAID_SIZE: Mm = 2.4
"""Lettering of what is said of a bank above it."""
_HEIGHTS = {
    (True, True): phrase("heights of runners and pulls: from the opening's lower edge (triangle)"),
    (True, False): phrase("heights of runners: from the opening's lower edge (triangle)"),
    (False, True): phrase("heights of pulls: from the opening's lower edge (triangle)"),
}
TOUCHING: Mm = 0.1
HOLE_ARM: Mm = 1.3
"""How far the axes of a small hole reach from its middle."""
NAME_GAP: Mm = 1.6
"""Between the name of a front and the line on its left, and the hole on its right."""
AROUND: Mm = 20.0
"""How much of the wood around an opening of a divided carcase is drawn beyond opening and fronts."""


def draw_elevation(
    bank: Bank,
    drawers: Sequence[AssembledDrawer] = (),
    *,
    annotated: bool = True,
    style: LengthStyle | None = None,
    room: tuple[Mm, Mm] | None = None,
    fibre: Degrees | None = 0.0,
    trays: Sequence[DrawerBox] = (),
) -> Scene:
    """One bank from the front.

    Args:
        bank: the opening with its fronts, boxes, runners and pulls.
        drawers: those of the bank as they are made; their bottoms are drawn, and where the grooves for them differ it
            says so.
        annotated: with figures and names; without them it is a picture for a list.
        style: how lengths are written.
        room: paper that the drawing may take (mm), by default half a page; more height is taken for a bank of many
            fronts.
        fibre: direction of the grain of the fronts (0 lies, 90 stands); None where their stock has none.
        trays: what lies in the drawers, each in the one that it names.

    Raises:
        InvalidValueError: the fronts do not fill the opening, or a box finds no room.
    """
    style = style or LengthStyle()
    places = bank.places()
    fronts = bank.front_places()
    room = room or PAPERS[style.paper].half
    limit = (
        room[0],
        max(room[1], min(ROW * len(fronts) + 60.0, PAPERS[style.paper].tallest) if annotated else 0.0),
    )
    width = max(bank.opening.width, fronts[0].width)
    height = max(bank.opening.height, fronts[0].top - fronts[-1].z)
    scale = fitting_scale(width, height, *limit)
    if not annotated:
        return _drawn(bank, places, drawers, scale, annotated, style, fibre, trays)
    return drawn_to_fit(
        lambda smaller: _drawn(bank, places, drawers, smaller, annotated, style, fibre, trays),
        scale,
        limit,
    )


def _drawn(
    bank: Bank,
    places: Sequence[DrawerPlace],
    drawers: Sequence[AssembledDrawer],
    scale: float,
    annotated: bool,
    style: LengthStyle,
    fibre: Degrees | None,
    trays: Sequence[DrawerBox],
) -> Scene:
    opening = bank.opening
    fronts, behind = bank.front_places(), {place.name: place.box for place in places}
    left, right = min(0.0, fronts[0].x), max(opening.width, fronts[0].x + fronts[0].width)
    low, top = min(0.0, fronts[-1].z), max(opening.height, fronts[0].top)
    items: list[Item] = []
    boards = _boards_beside(bank)
    if boards:
        left, low, right, top = left - AROUND, low - AROUND, right + AROUND, top + AROUND
        items += wood_items(boards, scale, (left, low, right, top))
    for shown in bank.shown_fronts():
        items += front_items(
            shown.front,
            behind.get(shown.name) if annotated else None,
            scale,
            fibre=fibre,
            scoop=bank.scoop if shown.has_drawer else None,
        )
    if annotated:
        items += bottom_items(places, drawers, scale)
        items += rail_items(places, drawers, scale)
        items += tray_items(places, drawers, trays, scale)
        items += [
            Path(
                ((0.0, line.height * scale), (opening.width * scale, line.height * scale)),
                Ink.AXIS,
                Layer.MACHINE,
            )
            for line in runner_lines(bank)
        ]
    edges = _scaled((0.0, 0.0, opening.width, opening.height), scale)
    items.append(Path(edges, Ink.OUTLINE if bank.is_inside else Ink.HIDDEN, closed=True))
    holes = pull_places(bank)
    for hole in holes:
        items += hole_items((hole.x * scale, hole.z * scale), hole.diameter * scale)
    if annotated:
        for shown in bank.shown_fronts():
            own = [hole.x * scale for hole in holes if hole.drawer == shown.name]
            items += _name(shown, behind.get(shown.name), own, scale, style)
        items += _figures(bank, holes, (left, low, right), scale, style)
        items += _headline(bank, drawers, scale, style, (left + right) / 2 * scale, extent(items))
    return framed(bank.name, items, scale=scale, description=_described(bank, drawers, style))


def _boards_beside(bank: Bank) -> list[CarcaseBoard]:
    """The wood at the edges of an opening whose fronts sit inside it. Of what applied fronts cover only slivers would
    show, and a board beyond another would end in nothing; the carcase's own drawing shows them."""
    opening = bank.opening
    if opening.carcase is None or not bank.is_inside:
        return []
    moved = (board.moved(-opening.x, -opening.z) for board in opening.carcase.boards)
    return [
        board
        for board in moved
        if board.edges[0] < opening.width + TOUCHING
        and board.edges[1] < opening.height + TOUCHING
        and board.edges[2] > -TOUCHING
        and board.edges[3] > -TOUCHING
    ]


def name_start(front: FrontPlace, behind: BoxPlace | None, opening: Mm, scale: float) -> Mm:
    """Where the name of a front begins, on paper: right of the dashed edges of opening and box."""
    edges = (front.x, opening) if behind is None else (front.x, opening, behind.x)
    return max(edges) * scale + NAME_GAP


def _scaled(edges: tuple[Mm, Mm, Mm, Mm], scale: float) -> tuple[Point, ...]:
    left, bottom, right, top = edges
    return box(left * scale, bottom * scale, right * scale, top * scale)


def scoop_item(scoop: Scoop, edges: tuple[Mm, Mm, Mm, Mm], scale: float) -> Path:
    """A scoop in a front with these edges (left, low, right, top in mm): what is behind it shows."""
    left, low, right, top = edges
    outline = scoop.outline(right - left, top - low)
    points = tuple(((left + x) * scale, (low + y) * scale) for x, y in outline)
    return Path(points, Ink.OUTLINE, closed=True, fill=Fill.PAPER)


def front_items(
    front: FrontPlace,
    behind: BoxPlace | None,
    scale: float,
    *,
    fibre: Degrees | None,
    scoop: Scoop | None = None,
) -> list[Item]:
    """A front, and the box behind it where that is to be seen."""
    edges = _scaled((front.x, front.z, front.x + front.width, front.top), scale)
    items = face_items(edges, fibre, 2.2)
    if scoop is not None:
        items.append(scoop_item(scoop, (front.x, front.z, front.x + front.width, front.top), scale))
    if behind is not None:
        hidden = (behind.x, behind.z, behind.x + behind.width, behind.top)
        items.append(Path(_scaled(hidden, scale), Ink.HIDDEN, closed=True))
    return items


def _name(
    place: ShownFront, behind: BoxPlace | None, holes: Sequence[Mm], scale: float, style: LengthStyle
) -> list[Item]:
    """What a front is called, and its size where it has room beside the holes for the pull (x on paper)."""
    front = place.front
    start, tall = name_start(front, behind, 0.0, scale), front.height * scale
    size = f"{style.show(front.width, with_unit=False)} × {style.show(front.height)}"
    letters = max(min(2.6, tall / 1.4), 1.2)
    end = min([hole - HOLE_ARM for hole in holes] or [(front.x + front.width) * scale])
    room = end - NAME_GAP - start
    told = [f"{place.name} · {size}", place.name]
    if not place.has_drawer:
        told = [style.say(phrase("{front} · false front", front=words)) for words in told]
    words = next((each for each in told if text_width(each, letters) <= room), place.name)
    at = (start, (front.z + front.height / 2) * scale)
    return [Text(at, words, letters, "start", "middle", bold=True, halo=Fill.WOOD)]


def hole_items(at: Point, diameter: Mm) -> list[Item]:
    """A hole with its axes, on paper."""
    x, y = at
    radius = max(diameter / 2, 0.5)
    arm = radius + HOLE_ARM - 0.5
    return [
        Circle((x, y), radius, Ink.FINE, Layer.MACHINE, Fill.DAYLIGHT),
        Strokes((((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))), Ink.FINE, Layer.MACHINE),
    ]


def _figures(
    bank: Bank,
    holes: Sequence[PullPlace],
    edges: tuple[Mm, Mm, Mm],
    scale: float,
    style: LengthStyle,
) -> list[Item]:
    left, low, right = edges
    fronts = bank.front_places()
    items: list[Item] = []
    lines = runner_lines(bank)
    words: dict[str, list[str]] = {}
    levels: dict[str, Mm] = {}
    for drawer, level, text in (
        *(
            (line.drawer, line.height, phrase("runner {level}", level=style.written(line.height)))
            for line in lines
        ),
        *((hole.drawer, hole.z, phrase("pull {level}", level=style.written(hole.z))) for hole in holes),
    ):
        said = style.say(text)
        if said not in words.setdefault(drawer, []):
            words[drawer].append(said)
            levels.setdefault(drawer, level)
    marks = [
        (level * scale, f"{drawer}: {', '.join(words[drawer])}", left * scale)
        for drawer, level in levels.items()
    ]
    letters = min(FIGURE_SIZE, max((fronts[0].top - low) * scale / (1.5 * max(len(marks), 1)), 1.4))
    items += heights_from_edge(marks, 0.0, left * scale, size=letters)
    heights = [(f.z * scale, f.top * scale, style.show(f.height)) for f in fronts]
    items += chain_beside(heights, right * scale)
    beside = FIRST_ROW + 8.0 + max(text_width(figure, FIGURE_SIZE) for _, _, figure in heights)
    whole = Dimension(fronts[-1].z * scale, fronts[0].top * scale, style.show(fronts[0].top - fronts[-1].z))
    opening = Dimension(
        0.0,
        bank.opening.height * scale,
        style.say(phrase("opening {size}", size=style.written(bank.opening.height))),
    )
    rows = [opening] if len(fronts) == 1 else [whole, opening]
    items += dimension_rows(rows, Side.RIGHT, right * scale, first=beside)
    widths = [
        Dimension(fronts[0].x * scale, (fronts[0].x + fronts[0].width) * scale, style.show(fronts[0].width)),
        Dimension(
            0.0,
            bank.opening.width * scale,
            style.say(phrase("opening {size}", size=style.written(bank.opening.width))),
        ),
    ]
    first = [hole for hole in holes if hole.drawer == holes[0].drawer] if holes else []
    begin = fronts[0].x
    widths += [
        Dimension(
            begin * scale,
            hole.x * scale,
            style.say(phrase("hole {size}", size=style.written(hole.x - begin))),
        )
        for hole in first
    ]
    items += dimension_rows(widths, Side.BELOW, low * scale)
    return items


def _opening(size: Mm, style: LengthStyle) -> str:
    return style.say(phrase("opening {size}", size=style.written(size)))


def _headline(
    bank: Bank,
    drawers: Sequence[AssembledDrawer],
    scale: float,
    style: LengthStyle,
    middle: Mm,
    taken: tuple[Mm, Mm, Mm, Mm],
) -> list[Item]:
    opening, overlay = bank.opening, bank.overlay
    lines = [
        phrase("{name} · scale {scale}", name=bank.name, scale=scale_name(scale, style.decimal_sign)),
        phrase(
            "{style} fronts, reveal {reveal}, opening {width} × {height} × {depth} (width, height, depth)",
            style=bank.style.words,
            reveal=style.written(bank.reveal),
            width=style.show(opening.width, with_unit=False),
            height=style.show(opening.height, with_unit=False),
            depth=style.written(opening.depth),
        ),
    ]
    if bank.is_inside:
        lines.append(
            phrase(
                "fronts sit inside the opening, {left} from its left side and {right} from its right side",
                left=style.written(-overlay.at_left),
                right=style.written(-overlay.at_right),
            )
            if overlay.is_uneven
            else phrase(
                "fronts sit inside the opening, {gap} from its sides", gap=style.written(-overlay.at_left)
            )
        )
    elif overlay.is_uneven:
        lines.append(
            phrase(
                "front overlay on the carcase: left {left}, right {right}, top {top}, bottom {bottom}",
                left=style.written(overlay.at_left),
                right=style.written(overlay.at_right),
                top=style.written(overlay.top),
                bottom=style.written(overlay.bottom),
            )
        )
    else:
        lines.append(
            phrase(
                "front overlay on the carcase: sides {sides}, top {top}, bottom {bottom}",
                sides=style.written(overlay.at_left),
                top=style.written(overlay.top),
                bottom=style.written(overlay.bottom),
            )
        )
    if bank.places() and (use := runner_use(bank, len(drawers))) is not None:
        lines.append(use.words)
    lines += _grooves(drawers)
    if said := _HEIGHTS.get((bool(runner_lines(bank)), bool(pull_places(bank)))):
        lines.append(said)
    level = taken[3] + 4.0 + 4.0 * (len(lines) - 1)
    items: list[Item] = []
    for number, line in enumerate(lines):
        at = (middle, level - 4.0 * number - CAP_HEIGHT)
        items.append(Text(at, style.say(line), SAID_SIZE if number else 3.0, "middle", bold=not number))
    return items


def _grooves(drawers: Sequence[AssembledDrawer]) -> list[Phrase]:
    """That front and sides are grooved at two heights, for the drawers where they are."""
    return [levels.words for levels in groove_levels(parts_of(drawers))]


def _described(bank: Bank, drawers: Sequence[AssembledDrawer], style: LengthStyle) -> str:
    shown = bank.shown_fronts()
    heights = ", ".join(f"{each.name} {style.show(each.front.height)}" for each in shown)
    whole = style.say(
        plural(
            "{name} from the front: opening {width} wide and {height} high, {count} front ({style}): {heights}.",
            "{name} from the front: opening {width} wide and {height} high, {count} fronts ({style}) from the top: "
            "{heights}.",
            len(shown),
            name=bank.name,
            width=style.written(bank.opening.width),
            height=style.written(bank.opening.height),
            style=bank.style.words,
            heights=heights,
        )
    )
    return " ".join([whole, *(f"{style.say(line)}." for line in _grooves(drawers))])
