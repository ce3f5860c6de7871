"""Scenes as DXF, at the true size of the thing, in millimetres: what another program can go on with.

Dimensions are dimensions that measure, hatchings are hatches, parts are blocks; each kind of item has its layer.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import ezdxf
from ezdxf import units
from ezdxf.enums import TextEntityAlignment
from ezdxf.lldxf.const import BYLAYER

from drawerwright.basics.lengths import Degrees
from drawerwright.drawings.dimensioning import CLEAR, OVERRUN, TICK
from drawerwright.drawings.hatching import grain_tile, hatched_families
from drawerwright.drawings.lettering import CAP_HEIGHT
from drawerwright.drawings.scene import (
    Arc,
    Block,
    Circle,
    Fibres,
    Fill,
    Ink,
    Item,
    Layer,
    MeasuredSpan,
    Path,
    Point,
    Scene,
    Strokes,
    Text,
    extent,
)
from drawerwright.drawings.svg import WEIGHTS

DIMENSION_STYLE = "SHOP"
_LINETYPES = {Ink.HIDDEN: "DASHED", Ink.AXIS: "CENTER"}
_LAYER_LINETYPES = {Layer.GROOVE: "DASHED"}
_COLOURS = {
    Layer.WOOD: 7,
    Layer.GRAIN: 33,
    Layer.MACHINE: 8,
    Layer.SAW: 1,
    Layer.OFFCUT: 9,
    Layer.GAP: 4,
    Layer.CONTACT: 30,
    Layer.DIMENSION: 5,
    Layer.NAME: 7,
    Layer.GROOVE: 6,
    Layer.HOLE: 3,
}
"""AutoCAD colour indices, as the format counts colours; 7 is black on paper and white on a dark screen."""
_LAYER_WEIGHTS = {Layer.WOOD: 50, Layer.GROOVE: 35, Layer.HOLE: 35, Layer.SAW: 35}
_USUAL_WEIGHT = 18
_STANDARD_WEIGHTS = (13, 18, 25, 35, 50, 70)
"""Line weights in hundredths of a millimetre that the format knows."""
_ALIGN = {
    ("start", "base"): TextEntityAlignment.LEFT,
    ("middle", "base"): TextEntityAlignment.CENTER,
    ("end", "base"): TextEntityAlignment.RIGHT,
    ("start", "middle"): TextEntityAlignment.MIDDLE_LEFT,
    ("middle", "middle"): TextEntityAlignment.MIDDLE_CENTER,
    ("end", "middle"): TextEntityAlignment.MIDDLE_RIGHT,
    ("start", "top"): TextEntityAlignment.TOP_LEFT,
    ("middle", "top"): TextEntityAlignment.TOP_CENTER,
    ("end", "top"): TextEntityAlignment.TOP_RIGHT,
}
_SOLID = (Fill.INK, Fill.MARK)
_FIGURE = re.compile(r"(?P<words>.* )?(?P<whole>\d+)(?:(?P<sign>[.,])(?P<decimals>\d+))?(?P<unit> mm)?")
_BLOCK_SIGNS = re.compile(r"[^\w \-]")
"""What the name of a block may not hold, and more."""


def write_dxf(scene: Scene) -> str:
    """The scene as the text of a DXF file (R2013), its unit millimetres, one layer for each kind of item.

    What was drawn at a scale gets its true size back; lettering grows with it.
    """
    document = ezdxf.new("R2013", setup=["linetypes"])
    document.units = units.MM
    document.header["$MEASUREMENT"] = 1
    document.header["$LTSCALE"] = 1.0 / scale_of(scene)
    for layer in Layer:
        document.layers.add(
            str(layer),
            color=_COLOURS[layer],
            linetype=_LAYER_LINETYPES.get(layer, "Continuous"),
            lineweight=_LAYER_WEIGHTS.get(layer, _USUAL_WEIGHT),
        )
    pen = _Pen(document, 1.0 / scale_of(scene))
    pen.draw(document.modelspace(), scene.items)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def scale_of(scene: Scene) -> float:
    """Paper per thing, 1 for a scene that has no scale."""
    return scene.scale if scene.scale > 0 else 1.0


@dataclass(frozen=True, slots=True)
class _Line:
    """One family of lines of a hatch pattern: where one begins, how the next lies, and its dashes (true mm)."""

    angle: Degrees
    base: Point
    step: Point
    dashes: tuple[float, ...] = ()

    @property
    def definition(self) -> list[Any]:
        return [self.angle, self.base, self.step, list(self.dashes)]


class _Pen:
    """Draws items into a space of a document, `size` times as large as they are on paper."""

    def __init__(self, document: Any, size: float) -> None:
        self.document, self.size = document, size
        style = document.dimstyles.add(DIMENSION_STYLE)
        style.dxf.dimscale = size
        style.dxf.dimexo, style.dxf.dimexe = CLEAR, OVERRUN
        style.dxf.dimtsz = TICK
        style.dxf.dimgap = CLEAR / 2
        style.dxf.dimzin = 0  # a figure keeps its last noughts
        style.dxf.dimtad = 1

    def draw(self, space: Any, items: Sequence[Item]) -> None:
        for item in items:
            self._add(space, item)

    def _true(self, point: Point) -> Point:
        return point[0] * self.size, point[1] * self.size

    def _add(self, space: Any, item: Item) -> None:
        if isinstance(item, Block):
            self._block(space, item)
        elif isinstance(item, Text):
            self._text(space, item)
        elif isinstance(item, Fibres):
            self._fibres(space, item)
        elif isinstance(item, Strokes):
            self._strokes(space, item)
        elif isinstance(item, Path):
            points = [self._true(point) for point in item.points]
            if item.fill in _SOLID:
                self._solid(space, item.layer).paths.add_polyline_path(points, is_closed=True)
            if item.ink is not Ink.NONE or item.fill not in _SOLID:
                space.add_lwpolyline(points, close=item.closed, dxfattribs=_look(item.ink, item.layer))
        elif isinstance(item, Circle):
            if item.fill in _SOLID:
                paths = self._solid(space, item.layer).paths
                paths.add_edge_path().add_arc(self._true(item.centre), item.radius * self.size, 0, 360)
            else:
                look = _look(item.ink, item.layer)
                space.add_circle(self._true(item.centre), item.radius * self.size, dxfattribs=look)
        else:
            self._arc(space, item)

    def _arc(self, space: Any, item: Arc) -> None:
        look = _look(item.ink, item.layer)
        space.add_arc(self._true(item.centre), item.radius * self.size, item.start, item.end, dxfattribs=look)

    def _block(self, space: Any, item: Block) -> None:
        name = _BLOCK_SIGNS.sub("-", item.name)
        taken = (f"{name}-{number}" for number in range(2, len(self.document.blocks) + 2))
        while name in self.document.blocks:
            name = next(taken)
        block = self.document.blocks.new(name)
        block.block.dxf.description = _one_line(item.name)
        self.draw(block, item.items)
        space.add_blockref(name, self._true(item.at), dxfattribs={"layer": str(item.layer)})

    def _text(self, space: Any, item: Text) -> None:
        if item.measured is not None:
            self._dimension(space, item, item.measured)
            return
        entity = space.add_text(
            _one_line(item.text).replace("%%", "%%%%%%"),
            height=item.size * CAP_HEIGHT * self.size,
            rotation=item.angle,
            dxfattribs={"layer": str(item.layer)},
        )
        entity.set_placement(self._true(item.at), align=_ALIGN[item.anchor, item.level])

    def _dimension(self, space: Any, item: Text, measured: MeasuredSpan) -> None:
        """A dimension that measures; its text is what it measures where our figure says just that."""
        start, end = self._true(measured.start), self._true(measured.end)
        along = 1 if measured.angle else 0
        text, override = _figure(item.text, abs(end[along] - start[along]))
        override |= {"dimtxt": item.size * CAP_HEIGHT}
        made = space.add_linear_dim(
            base=self._true(measured.line),
            p1=start,
            p2=end,
            angle=measured.angle,
            text=text,
            dimstyle=DIMENSION_STYLE,
            override=override,
            dxfattribs={"layer": str(item.layer)},
        )
        left, low, right, top = extent([item])
        made.set_location(self._true(((left + right) / 2, (low + top) / 2)))
        made.render()

    def _fibres(self, space: Any, item: Fibres) -> None:
        """The tile of a face as a pattern: each of its rows is a family of dashed lines as far apart as it is high."""
        tile, size = grain_tile(item), self.size
        (x, y), angle = tile.at, item.angle
        cos, sin = _turn(angle)
        lines = []
        for begin, level, length, gap in tile.rows:
            base = x + begin * cos - level * sin, y + begin * sin + level * cos
            step = -tile.height * sin * size, tile.height * cos * size
            lines.append(_Line(angle, self._true(base), step, (length * size, -gap * size)))
        self._hatch(space, item.outline, item.layer, "FIBRES", lines)

    def _strokes(self, space: Any, item: Strokes) -> None:
        if item.is_dimension:
            return  # the dimension draws its own lines
        if item.hatch is None:
            for start, end in item.segments:
                look = _look(item.ink, item.layer)
                space.add_line(self._true(start), self._true(end), dxfattribs=look)
            return
        hatch, lines = item.hatch, []
        for family in hatched_families(hatch):
            cos, sin = _turn(family.angle)
            step = -family.spacing * sin * self.size, family.spacing * cos * self.size
            lines.append(_Line(family.angle, self._true(family.base), step))
        self._hatch(space, hatch.outline, item.layer, "LINES", lines)

    def _hatch(
        self, space: Any, outline: Sequence[Point], layer: Layer, name: str, lines: Sequence[_Line]
    ) -> None:
        hatch = space.add_hatch(color=BYLAYER, dxfattribs={"layer": str(layer), "lineweight": 13})
        hatch.set_pattern_fill(
            name, color=BYLAYER, pattern_type=0, definition=[line.definition for line in lines]
        )
        hatch.paths.add_polyline_path([self._true(point) for point in outline], is_closed=True)

    @staticmethod
    def _solid(space: Any, layer: Layer) -> Any:
        return space.add_hatch(color=BYLAYER, dxfattribs={"layer": str(layer)})


def _look(ink: Ink, layer: Layer) -> dict[str, Any]:
    weight = WEIGHTS.get(ink, WEIGHTS[Ink.FINE]) * 100
    look: dict[str, Any] = {"layer": str(layer)}
    look["lineweight"] = min(_STANDARD_WEIGHTS, key=lambda standard: abs(standard - weight))
    if ink in _LINETYPES:
        look["linetype"] = _LINETYPES[ink]
    return look


def _figure(text: str, measure: float) -> tuple[str, dict[str, Any]]:
    """The text of a dimension and how it writes what it measures: itself where our figure is that in millimetres, else
    our figure, as of inches."""
    found = _FIGURE.fullmatch(text)
    if found is not None:
        decimals = found["decimals"] or ""
        if abs(float(f"{found['whole']}.{decimals or 0}") - measure) <= 0.51 * 10 ** -len(decimals):
            written = {"dimdec": len(decimals), "dimdsep": ord(found["sign"] or ".")}
            return f"{_escaped(found['words'] or '')}<>{found['unit'] or ''}", written
    return _escaped(text), {}


def _escaped(text: str) -> str:
    """Text that holds none of the signs that the format sets text by."""
    return re.sub(r"([\\{}])", r"\\\1", _one_line(text))


def _turn(angle: Degrees) -> tuple[float, float]:
    turn = math.radians(angle)
    return math.cos(turn), math.sin(turn)


def _one_line(text: str) -> str:
    return "".join(sign for sign in text if sign.isprintable())
