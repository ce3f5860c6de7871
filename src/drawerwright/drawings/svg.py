"""Scenes as SVG: exact millimetres, readable alone, and dressed by a style sheet where a page has one.

Every item carries both presentation attributes (a file opened anywhere looks right, and a strict content
security policy has nothing to object to) and classes (`ink-…`, `fill-…`, `lettering`), so that a page can
recolour the same drawing for the dark.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from html import escape
from zlib import crc32

from drawerwright.basics.lengths import Mm
from drawerwright.drawings.hatching import GrainTile, grain_tile
from drawerwright.drawings.lettering import FALLBACK_FAMILIES, FONT_FAMILY
from drawerwright.drawings.scene import (
    Arc,
    Block,
    Circle,
    Fibres,
    Fill,
    Ink,
    Item,
    Path,
    Point,
    Region,
    Scene,
    Segment,
    Strokes,
    Text,
)
from drawerwright.drawings.svg_layers import layer_groups


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of a drawing: ink on paper with one accent."""

    ink: str
    grain: str
    accent: str
    paper: str
    wood: str
    wood_behind: str
    daylight: str
    steel: str


PAPER = Palette(
    ink="#1c2630",
    grain="#c9ae84",
    accent="#a1340f",
    paper="#fdfaf2",
    wood="#f3e4c8",
    wood_behind="#e6cfa6",
    daylight="#ffffff",
    steel="#d3d7da",
)
SLATE = Palette(
    ink="#e9e4d6",
    grain="#7d6848",
    accent="#ff9f7a",
    paper="#22282d",
    wood="#4a3d2b",
    wood_behind="#5f4d33",
    daylight="#f6f2e6",
    steel="#5b6368",
)
BLACK_ON_WHITE = Palette(
    ink="#000000",
    grain="#777777",
    accent="#000000",
    paper="#ffffff",
    wood="#ffffff",
    wood_behind="#e4e4e4",
    daylight="#ffffff",
    steel="#d3d3d3",
)
"""For a page that is printed: nothing depends on a colour."""

WEIGHTS = {Ink.OUTLINE: 0.5, Ink.FINE: 0.18, Ink.HIDDEN: 0.18, Ink.AXIS: 0.18, Ink.GRAIN: 0.13, Ink.MARK: 0.7}
"""Line weights in paper millimetres."""
DASHES = {Ink.HIDDEN: (2.0, 1.2), Ink.AXIS: (6.0, 1.2, 1.0, 1.2)}
"""Dash patterns in paper millimetres."""

REMEMBERED = 256
"""Tiles of grain."""
_DECIMALS = re.compile(r"\d+[.,]\d+")

_INK_ROLE = {Ink.GRAIN: "grain", Ink.MARK: "accent"}
_FILL_ROLE = {
    Fill.PAPER: "paper",
    Fill.WOOD: "wood",
    Fill.WOOD_BEHIND: "wood_behind",
    Fill.DAYLIGHT: "daylight",
    Fill.STEEL: "steel",
    Fill.MARK: "accent",
    Fill.INK: "ink",
}


def write_svg(
    scene: Scene,
    *,
    palette: Palette = PAPER,
    ground: bool = True,
    links: Mapping[str, str] | None = None,
    current: str | None = None,
    pixels: float | None = None,
    layered: bool = False,
) -> str:
    """The scene as one SVG element of its exact size in millimetres.

    Args:
        scene: what to draw.
        palette: the colours of the presentation attributes.
        ground: whether to paint the paper; without it whatever lies behind shows through.
        links: addresses by the names of the scene's regions, which they make links.
        current: the region that the page around the drawing speaks of.
        pixels: of a screen to a millimetre of the drawing; None for its true size.
        layered: each layer in a group of its own, and what stands for something of its own, such as a part of a
            sheet, as an outline without ink, all with ids: for a file by itself, since ids are one to a page.
    """
    pen = _Pen(palette, _mark(scene))
    left, top = scene.left, -scene.top

    def size(length: Mm) -> str:
        return f"{_n(length)}mm" if pixels is None else _n(length * pixels)

    role = "group" if links else "img"  # a picture has nothing in it to go to
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="{role}" width="{size(scene.width)}" '
        f'height="{size(scene.height)}" viewBox="{_n(left)} {_n(top)} {_n(scene.width)} {_n(scene.height)}">',
        f"<title>{_escaped(scene.title)}</title>",
    ]
    if scene.description:
        parts.append(f"<desc>{_escaped(scene.description)}</desc>")
    if ground:
        parts.append(
            f'<rect class="fill-paper" x="{_n(left)}" y="{_n(top)}" width="{_n(scene.width)}" '
            f'height="{_n(scene.height)}" fill="{palette.paper}"/>'
        )
    drawn = _layered(scene, pen) if layered else [pen.drawn(item) for item in scene.items]
    if pen.patterns:
        parts.append(f"<defs>{''.join(pen.patterns.values())}</defs>")
    parts += drawn
    parts += [
        _link(region, links[region.name], is_current=region.name == current)
        for region in sorted(
            scene.regions, key=lambda region: region.name == current
        )  # its frame lies on top
        if links and region.name in links
    ]
    parts.append("</svg>")
    return "\n".join(parts)


def _layered(scene: Scene, pen: _Pen) -> list[str]:
    parts = []
    for group in layer_groups(scene.items):
        drawn = "\n".join(pen.drawn(item) for item in group.items)
        parts.append(f'<g id="{group.name}" data-layer="{group.layer}">\n{drawn}\n</g>')
    if scene.regions:
        outlines = "\n".join(
            f'<path id="part-{number}" fill="none" d="{_track(region.outline)}Z">'
            f"<title>{_escaped(region.title)}</title></path>"
            for number, region in enumerate(scene.regions, start=1)
        )
        parts.append(f'<g id="parts">\n{outlines}\n</g>')
    return parts


def _link(region: Region, address: str, *, is_current: bool) -> str:
    name, title = escape(region.name, quote=True), escape(_shown_text(region.title), quote=True)
    here = ' aria-current="true"' if is_current else ""
    return (
        f'<a class="region" href="{escape(address, quote=True)}" data-region="{name}" aria-label="{title}"{here}>'
        f"<title>{title}</title>"
        f'<path d="{_track(region.outline)}Z" fill="transparent"/></a>'
    )


def stylesheet() -> str:
    """Style rules that dress inlined drawings for a page by day, in the dark (its `color-scheme`) and printed."""

    def colours(of: Callable[[str], str]) -> str:
        return ";".join(
            f"--drawing-{name.replace('_', '-')}:{of(name)}" for name in Palette.__dataclass_fields__
        )

    on_screen = colours(lambda name: f"light-dark({getattr(PAPER, name)},{getattr(SLATE, name)})")
    printed = colours(lambda name: getattr(BLACK_ON_WHITE, name))
    rules = [
        f".drawing{{{on_screen}}}",
        f"@media print{{.drawing{{{printed}}}}}",
        ".drawing .lettering{fill:var(--drawing-ink)}",
    ]
    rules += [
        f".drawing .ink-{ink}{{stroke:var(--drawing-{_INK_ROLE.get(ink, 'ink')})}}"
        for ink in Ink
        if ink != Ink.NONE
    ]
    rules += [
        f".drawing .fill-{fill}{{fill:var(--drawing-{role.replace('_', '-')})}}"
        for fill, role in _FILL_ROLE.items()
    ]
    return "\n".join(rules) + "\n"


def _mark(scene: Scene) -> str:
    """Tells the drawings of a page apart; the same while only figures of a drawing change, so that ids stay."""
    said = _DECIMALS.sub("", f"{scene.title} {scene.description}")
    return f"{crc32(f'{said} {scene.width:.2f} {scene.height:.2f}'.encode()):x}"


class _Pen:
    """Writes one item at a time."""

    def __init__(self, palette: Palette, mark: str) -> None:
        self.palette = palette
        self.mark = mark
        self.patterns: dict[str, str] = {}
        """By their ids. Each drawing has its own: one that is hidden lends its patterns to no other."""

    def drawn(self, item: Item) -> str:
        if isinstance(item, Text):
            return self._text(item)
        if isinstance(item, Block):
            drawn = "".join(self.drawn(each) for each in item.items)
            name = escape(_shown_text(item.name), quote=True)
            return f'<g data-part="{name}" transform="translate({_p(item.at)})">{drawn}</g>'
        if isinstance(item, Circle):
            (x, y), r = item.centre, item.radius
            return f'<circle cx="{_n(x)}" cy="{_n(-y)}" r="{_n(r)}" {self._look(item.ink, item.fill)}/>'
        if isinstance(item, Strokes):
            track = "".join(map(_stroke, item.segments))
            return f'<path d="{track}" {self._look(item.ink, Fill.NONE)}/>'
        if isinstance(item, Fibres):
            return self._grain(item)
        if isinstance(item, Arc):
            wide = 1 if item.end - item.start > 180 else 0
            size = _n(item.radius)
            track = f"M{_p(item.at(item.start))}A{size} {size} 0 {wide} 0 {_p(item.at(item.end))}"
            return f'<path d="{track}" {self._look(item.ink, Fill.NONE)}/>'
        return self._path(item)

    def _grain(self, item: Fibres) -> str:
        tile = grain_tile(item)
        wide, high = _n(tile.period), _n(tile.height)
        name = f"fibres-{wide}-{high}-{self.mark}".replace(".", "_")
        if name not in self.patterns:
            self.patterns[name] = self._pattern(name, wide, high, tile, item.ink)
        turn = f" rotate({_n(-item.angle)})" if item.angle else ""
        return f'<path d="{_track(tile.turned)}Z" transform="translate({_p(tile.at)}){turn}" fill="url(#{name})"/>'

    def _pattern(self, name: str, wide: str, high: str, tile: GrainTile, ink: Ink) -> str:
        strokes = _fibres(tile.spacing, tile.period)
        return (
            f'<pattern id="{name}" width="{wide}" height="{high}" patternUnits="userSpaceOnUse">'
            f'<path d="{strokes}" {self._look(ink, Fill.NONE)}/></pattern>'
        )

    def _path(self, item: Path) -> str:
        track = _track(item.points) + ("Z" if item.closed else "")
        return f'<path d="{track}" {self._look(item.ink, item.fill)}/>'

    def _text(self, item: Text) -> str:
        x, y = item.at
        turn = f' transform="rotate({_n(-item.angle)} {_n(x)} {_n(-y)})"' if item.angle else ""
        weight = ' font-weight="bold"' if item.bold else ""
        plate = ""
        if item.halo is not Fill.NONE:
            plate = f'<path d="{_track(item.corners())}Z" {self._look(Ink.NONE, item.halo)}/>'
        return (
            f'{plate}<text class="lettering" x="{_n(x)}" y="{_n(-y + item.drop)}" '
            f'font-size="{_n(item.size)}" font-family="{FONT_FAMILY}, {FALLBACK_FAMILIES}" '
            f'text-anchor="{item.anchor}"{weight} fill="{self.palette.ink}"{turn}>{_escaped(item.text)}</text>'
        )

    def _look(self, ink: Ink, fill: Fill) -> str:
        return _look(self.palette, ink, fill)


@lru_cache(maxsize=REMEMBERED)
def _fibres(spacing: Mm, period: Mm) -> str:
    """The lines of a tile of grain, which a slider asks for several times a second."""
    tile = GrainTile(spacing, period, (), (0.0, 0.0))
    return "".join(f"M{_n(x0)} {_n(tile.height - y)}H{_n(x1)}" for (x0, y), (x1, _) in tile.strokes)


@cache
def _look(palette: Palette, ink: Ink, fill: Fill) -> str:
    """The attributes of a line and its filling; a packet asks for a dozen of them ten thousand times."""
    classes, looks = [], []
    if ink is not Ink.NONE:
        classes.append(f"ink-{ink}")
        colour = getattr(palette, _INK_ROLE.get(ink, "ink"))
        looks.append(f'stroke="{colour}" stroke-width="{WEIGHTS[ink]}" stroke-linejoin="round"')
        looks.append('stroke-linecap="round"')
        if ink in DASHES:
            looks.append(f'stroke-dasharray="{" ".join(map(str, DASHES[ink]))}"')
    if fill is not Fill.NONE:
        classes.append(f"fill-{fill}")
        looks.append(f'fill="{getattr(palette, _FILL_ROLE[fill])}"')
    else:
        looks.append('fill="none"')
    return f'class="{" ".join(classes)}" {" ".join(looks)}'


def _track(points: Iterable[Point]) -> str:
    return "".join(f"{'L' if number else 'M'}{_p(point)}" for number, point in enumerate(points))


def _stroke(segment: Segment) -> str:
    """One of many: to the hundredth of a millimetre, since a hatch says nothing finer and has hundreds of them."""
    (x0, y0), (x1, y1) = segment
    return f"M{x0:.2f} {-y0:.2f}L{x1:.2f} {-y1:.2f}"


def _p(point: Point) -> str:
    return f"{_n(point[0])} {_n(-point[1])}"


def _n(value: float) -> str:
    """A number to the thousandth of a millimetre, without idle zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _escaped(text: str) -> str:
    """Text that cannot leave its place: markup escaped, what XML does not allow at all left out."""
    return escape(_shown_text(text))


def _shown_text(text: str) -> str:
    if text.isprintable():
        return text
    return "".join(sign for sign in text if sign.isprintable() or sign == " ")
