"""Scenes as DXF, at the true size of the thing, in millimetres. The only door to ezdxf."""

from __future__ import annotations

import io
import math
from pathlib import Path as FilePath
from typing import Any

import ezdxf
from ezdxf import units
from ezdxf.enums import TextEntityAlignment

from drawerwright.basics.errors import Fault, FaultyInputError
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.hatching import grain_strokes
from drawerwright.drawings.lettering import CAP_HEIGHT
from drawerwright.drawings.scene import (
    Arc,
    Circle,
    Fibres,
    Ink,
    Item,
    Layer,
    Path,
    Point,
    Scene,
    Strokes,
    Text,
)
from drawerwright.drawings.svg import WEIGHTS

_LINETYPES = {Ink.HIDDEN: "DASHED", Ink.AXIS: "CENTER"}
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


def write_dxf(scene: Scene) -> str:
    """The scene as the text of a DXF file (R2010), its unit millimetres, one layer for each kind of item.

    What was drawn at a scale gets its true size back; lettering grows with it.
    """
    document = ezdxf.new("R2010", setup=["linetypes"])
    document.units = units.MM
    document.header["$MEASUREMENT"] = 1
    document.header["$LTSCALE"] = 1.0 / scale_of(scene)
    for layer in Layer:
        document.layers.add(str(layer))
    space = document.modelspace()
    for item in scene.items:
        _add(space, item, 1.0 / scale_of(scene))
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def scale_of(scene: Scene) -> float:
    """Paper per thing, 1 for a scene that has no scale."""
    return scene.scale if scene.scale > 0 else 1.0


def _add(space: Any, item: Item, size: float) -> None:
    def true(point: Point) -> Point:
        return point[0] * size, point[1] * size

    if isinstance(item, Text):
        text = "".join(sign for sign in item.text if sign.isprintable()).replace("%%", "%%%%%%")
        entity = space.add_text(
            text,
            height=item.size * CAP_HEIGHT * size,
            rotation=item.angle,
            dxfattribs={"layer": str(item.layer)},
        )
        entity.set_placement(true(item.at), align=_ALIGN[item.anchor, item.level])
        return
    weight = WEIGHTS.get(item.ink, WEIGHTS[Ink.FINE]) * 100
    look: dict[str, Any] = {"layer": str(item.layer)}
    look["lineweight"] = min(_STANDARD_WEIGHTS, key=lambda standard: abs(standard - weight))
    if item.ink in _LINETYPES:
        look["linetype"] = _LINETYPES[item.ink]
    if isinstance(item, Path):
        space.add_lwpolyline([true(point) for point in item.points], close=item.closed, dxfattribs=look)
    elif isinstance(item, Strokes | Fibres):
        strokes = item if isinstance(item, Strokes) else grain_strokes(item)
        for start, end in strokes.segments:
            space.add_line(true(start), true(end), dxfattribs=look)
    elif isinstance(item, Circle):
        space.add_circle(true(item.centre), item.radius * size, dxfattribs=look)
    elif isinstance(item, Arc):
        space.add_arc(true(item.centre), item.radius * size, item.start, item.end, dxfattribs=look)


_STANDARD_WEIGHTS = (13, 18, 25, 35, 50, 70)
"""Line weights in hundredths of a millimetre that the format knows."""


MOST_BULGE = math.tan(math.radians(270) / 4)
"""An arc of a cutter's edge turns by no more than 270° (common practice, no source)."""
LONGEST_REASON = 200
"""Characters of what the library says of a file."""


def read_polyline(path: FilePath) -> tuple[list[tuple[float, float, float]], str]:
    """The one polyline of a drawing: x, y (mm) and the bulge towards the next vertex; and the drawing's unit.

    A drawing in inches is converted; one without a unit is taken as millimetres.

    Raises:
        FaultyInputError: the file is no DXF, does not hold exactly one polyline in its model space, or one that no
            cutter's edge can be.
    """
    try:
        lines, unit = _polylines(path)
    except Exception as error:  # the library raises whatever it stumbles over in a damaged file
        words = str(error) or type(error).__name__
        raise _faulty(path, phrase("cannot be read as DXF: {error}", error=words[:LONGEST_REASON])) from None
    if len(lines) != 1:
        text = phrase(
            "the drawing holds {count} polylines: draw the cutting edge as a single polyline "
            "and nothing else",
            count=len(lines),
        )
        raise _faulty(path, text)
    (vertices,) = lines
    if len(vertices) < 2:
        raise _faulty(
            path, phrase("the polyline has {count} points; an edge has two or more", count=len(vertices))
        )
    if not all(math.isfinite(value) for vertex in vertices for value in vertex):
        raise _faulty(path, phrase("the polyline has a point that is no number"))
    roundest = max(abs(bulge) for _, _, bulge in vertices)
    if roundest > MOST_BULGE:
        angle = math.degrees(4 * math.atan(roundest))
        text = phrase(
            "an arc of the polyline turns by {angle:.0f}°; no arc of a cutter's edge turns by more than 270°",
            angle=angle,
        )
        raise _faulty(path, text)
    return vertices, unit


def _polylines(path: FilePath) -> tuple[list[list[tuple[float, float, float]]], str]:
    document = ezdxf.readfile(path)
    unit = document.units if document.units else units.MM
    size = units.conversion_factor(unit, units.MM)
    found = []
    for line in document.modelspace().query("LWPOLYLINE POLYLINE"):
        if line.dxftype() == "LWPOLYLINE":
            vertices = list(line.get_points("xyb"))
        else:
            vertices = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in line.vertices]
        found.append([(x * size, y * size, bulge) for x, y, bulge in vertices])
    return found, units.decode(unit)


def _faulty(path: FilePath, message: str) -> FaultyInputError:
    return FaultyInputError((Fault("profile", message, None, path.name),))
