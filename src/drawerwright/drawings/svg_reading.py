"""The one line of an SVG drawing, in millimetres: curves as many short straight pieces."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from pathlib import Path as FilePath
from typing import TypeAlias
from xml.etree import ElementTree

from drawerwright.basics.errors import Fault, FaultyInputError, InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.drawings.svg_paths import Point, path_points

Affine: TypeAlias = tuple[float, float, float, float, float, float]
"""a, b, c, d, e, f of the SVG matrix: x' = a x + c y + e, y' = b x + d y + f."""
AS_DRAWN: Affine = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
SHAPES = ("path", "polyline", "polygon", "line")
OTHER_SHAPES = ("rect", "circle", "ellipse", "use", "image")
MM_OF = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "px": 25.4 / 96, "q": 0.25}
"""Millimetres in a unit of a drawing's size (CSS Values and Units 3, 5.2)."""
DEEPEST = 60
"""Groups within groups."""
_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_SIZE = re.compile(rf"\s*({_NUMBER})\s*(mm|cm|in|pt|pc|px|q)\s*", re.IGNORECASE)
_TRANSFORM = re.compile(r"(matrix|translate|scale|rotate)\s*\(([^)]*)\)")


def read_svg_line(path: FilePath) -> tuple[list[Point], str]:
    """The one line of a drawing: x to the right and y upwards (mm), and the drawing's unit.

    A drawing says with its width and its `viewBox` how large a unit is; in one that does not it is a millimetre.

    Raises:
        FaultyInputError: the file is no SVG, or does not hold exactly one line.
    """
    content = path.read_bytes()
    if b"<!DOCTYPE" in content or b"<!ENTITY" in content:
        raise _faulty(
            path, phrase("declares a document type, which this reader does not take: save it as plain SVG")
        )
    try:
        root = ElementTree.fromstring(content)
    except ElementTree.ParseError as error:
        raise _faulty(path, phrase("cannot be read as SVG: {error}", error=str(error)[:200])) from None
    if _name(root) != "svg":
        raise _faulty(path, phrase("cannot be read as SVG: {error}", error=f"<{_name(root)[:40]}>"))
    try:
        size, unit = _size_of(root)
        lines = list(_lines(root, (size, 0.0, 0.0, -size, 0.0, 0.0), 0))
    except InvalidValueError as error:
        raise _faulty(path, str(error)) from None
    if len(lines) != 1:
        words = phrase(
            "the drawing holds {count} lines: draw the cutting edge as a single path and nothing else",
            count=len(lines),
        )
        raise _faulty(path, words)
    (points,) = lines
    if len(points) < 2:
        raise _faulty(path, phrase("the line has {count} points; an edge has two or more", count=len(points)))
    return points, unit


def _size_of(root: ElementTree.Element) -> tuple[float, str]:
    """Millimetres in a unit of the drawing, and what its size is told in."""
    box = [float(number) for number in re.findall(_NUMBER, root.get("viewBox", ""))]
    found = _SIZE.fullmatch(root.get("width", ""))
    if found is None or (found[2].lower() == "px" and not box):
        return 1.0, "mm"
    across = MM_OF[found[2].lower()] * float(found[1])
    if len(box) == 4 and box[2] > 0:
        return across / box[2], found[2].lower()
    return MM_OF["px"], found[2].lower()  # without a viewBox a unit is a pixel (SVG 2, 8.2)


def _lines(node: ElementTree.Element, outer: Affine, depth: int) -> Iterator[list[Point]]:
    """Every line below a node."""
    if depth > DEEPEST:
        raise InvalidValueError(phrase("has groups more than {most} deep", most=DEEPEST))
    name = _name(node)
    if name in ("defs", "title", "desc", "metadata", "style", "text"):
        return
    here = _then(outer, _affine(node.get("transform", "")))
    if name in OTHER_SHAPES:
        raise InvalidValueError(
            phrase("holds a {shape}: draw the cutting edge as a single path and nothing else", shape=name)
        )
    if name in SHAPES:
        yield [_moved(point, here) for point in _points(node, name)]
        return
    for child in node:
        yield from _lines(child, here, depth + 1)


def _points(node: ElementTree.Element, name: str) -> Sequence[Point]:
    if name == "path":
        return path_points(node.get("d", ""))
    if name == "line":
        ends = [float(node.get(key, "0") or 0) for key in ("x1", "y1", "x2", "y2")]
        return [(ends[0], ends[1]), (ends[2], ends[3])]
    numbers = [float(number) for number in re.findall(_NUMBER, node.get("points", ""))]
    points = list(zip(numbers[::2], numbers[1::2], strict=False))
    return [*points, points[0]] if name == "polygon" and points else points


def _affine(text: str) -> Affine:
    """What a `transform` does, the rightmost first."""
    whole = AS_DRAWN
    rest = _TRANSFORM.sub("", text).strip(" ,\t\r\n")
    if rest:
        raise InvalidValueError(
            phrase("is transformed by {what!r}, which this reader does not take", what=rest[:60])
        )
    for kind, inside in _TRANSFORM.findall(text):
        values = [float(number) for number in re.findall(_NUMBER, inside)]
        whole = _then(whole, _single(kind, values))
    return whole


def _single(kind: str, values: list[float]) -> Affine:
    if kind == "matrix" and len(values) == 6:
        a, b, c, d, e, f = values
        return a, b, c, d, e, f
    if kind == "translate" and values:
        return 1.0, 0.0, 0.0, 1.0, values[0], values[1] if len(values) > 1 else 0.0
    if kind == "scale" and values:
        return values[0], 0.0, 0.0, values[1] if len(values) > 1 else values[0], 0.0, 0.0
    if kind == "rotate" and len(values) in (1, 3):
        turn = math.radians(values[0])
        cos, sin = math.cos(turn), math.sin(turn)
        x, y = values[1:] if len(values) == 3 else (0.0, 0.0)
        return cos, sin, -sin, cos, x - x * cos + y * sin, y - x * sin - y * cos
    raise InvalidValueError(phrase("is transformed by {what!r}, which this reader does not take", what=kind))


def _then(outer: Affine, inner: Affine) -> Affine:
    a, b, c, d, e, f = outer
    g, h, i, j, k, m = inner
    return a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * m + e, b * k + d * m + f


def _moved(point: Point, by: Affine) -> Point:
    (x, y), (a, b, c, d, e, f) = point, by
    return a * x + c * y + e, b * x + d * y + f


def _name(node: ElementTree.Element) -> str:
    return node.tag.rpartition("}")[2] if isinstance(node.tag, str) else ""


def _faulty(path: FilePath, message: str) -> FaultyInputError:
    return FaultyInputError((Fault("profile", message, None, path.name),))
