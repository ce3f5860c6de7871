"""The one polyline of a DXF drawing, in millimetres."""

from __future__ import annotations

import math
from pathlib import Path as FilePath

import ezdxf
from ezdxf import units

from drawerwright.basics.errors import Fault, FaultyInputError
from drawerwright.basics.phrases import phrase

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
