"""The data of an SVG path as points: straight pieces as they are, curves as many short ones.

Source: SVG 2, chapter 9 (paths), and its implementation note on arcs, from their ends to their centre.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import TypeAlias

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase

Point: TypeAlias = tuple[float, float]
ARC_STEP = math.radians(2)
"""An arc is drawn with pieces that turn by no more: over 2 mm of radius 0.0003 mm off."""
CURVE_STEPS = 48
MOST_PIECES = 20_000
_TOKEN = re.compile(r"([MmLlHhVvCcSsQqTtAaZz])|([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)")
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


def path_points(data: str) -> list[Point]:
    """The points of a path of one piece, the same point not twice in a row.

    Raises:
        InvalidValueError: it is no path, or has several pieces.

    >>> path_points("M 1 2 h 3 v 4 z")
    [(1.0, 2.0), (4.0, 2.0), (4.0, 6.0), (1.0, 2.0)]
    """
    points: list[Point] = []
    control: Point | None = None
    control_of = ""
    for command, values in _commands(data):
        kind = command.upper()
        if kind == "M":
            if points:
                raise InvalidValueError(
                    phrase("the path has several pieces: draw the cutting edge as one line")
                )
            points.append((values[0], values[1]))
            continue
        if not points:
            raise InvalidValueError(phrase("the path does not begin with a point"))
        here = points[-1]
        x, y = here if command.islower() else (0.0, 0.0)
        if kind == "Z":
            new: list[Point] = [points[0]]
        elif kind == "H":
            new = [(x + values[0], here[1])]
        elif kind == "V":
            new = [(here[0], y + values[0])]
        elif kind == "L":
            new = [(x + values[0], y + values[1])]
        elif kind == "A":
            new = _arc(here, values, (x + values[5], y + values[6]))
        else:
            given = [(x + a, y + b) for a, b in zip(values[::2], values[1::2], strict=True)]
            if kind in "ST":
                follows = control is not None and control_of == ("C" if kind == "S" else "Q")
                mirrored = (
                    (2 * here[0] - control[0], 2 * here[1] - control[1]) if follows and control else here
                )
                given.insert(0, mirrored)
            new = _curve(here, given)
            control, control_of = given[-2], "C" if kind in "CS" else "Q"
            points += [point for point in new if point != points[-1]]
            continue
        control, control_of = None, ""
        points += [point for point in new if point != points[-1]]
    if len(points) > MOST_PIECES:
        raise InvalidValueError(phrase("the path has more than {most:,} pieces", most=MOST_PIECES))
    return points


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    rest = _TOKEN.sub("", data).strip(" ,\t\r\n")
    if rest:
        raise InvalidValueError(phrase("the path holds {what!r}, which is no path data", what=rest[:40]))
    command, values = "", list[float]()
    is_first = True
    for letter, number in _TOKEN.findall(data):
        if letter:
            if values or (command and is_first and _COUNTS[command.upper()]):
                raise InvalidValueError(phrase("the path's {command} has too few numbers", command=command))
            command, is_first = letter, True
            if command in "Zz":
                yield command, []
            continue
        if not command or command in "Zz":
            raise InvalidValueError(phrase("the path does not begin with a point"))
        values.append(float(number))
        if len(values) == _COUNTS[command.upper()]:
            if not all(math.isfinite(value) for value in values):
                raise InvalidValueError(phrase("the path has a point that is no number"))
            kind = command
            if command in "Mm" and not is_first:
                kind = "L" if command == "M" else "l"
            yield kind, values
            values, is_first = [], False
    if values:
        raise InvalidValueError(phrase("the path's {command} has too few numbers", command=command))


def _curve(start: Point, controls: list[Point]) -> list[Point]:
    """A Bézier curve by de Casteljau."""

    def at(share: float) -> Point:
        row = [start, *controls]
        while len(row) > 1:
            row = [(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for (x0, y0), (x1, y1) in pairwise(row)]
        return row[0]

    return _sampled(at, CURVE_STEPS, controls[-1])


def _sampled(at: Callable[[float], Point], steps: int, end: Point) -> list[Point]:
    return [*(at(step / steps) for step in range(1, steps)), end]


def _arc(start: Point, values: list[float], end: Point) -> list[Point]:
    """An arc of an ellipse from its ends (SVG 2, B.2.4)."""
    rx, ry, turned = abs(values[0]), abs(values[1]), math.radians(values[2])
    if not rx or not ry or start == end:
        return [end]
    cos, sin = math.cos(turned), math.sin(turned)
    half_x, half_y = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = cos * half_x + sin * half_y, cos * half_y - sin * half_x
    too_small = (x / rx) ** 2 + (y / ry) ** 2
    if too_small > 1:
        rx, ry = rx * math.sqrt(too_small), ry * math.sqrt(too_small)
    below = (rx * y) ** 2 + (ry * x) ** 2
    root = math.sqrt(max((rx * ry) ** 2 - below, 0.0) / below)
    sign = -1.0 if bool(values[3]) == bool(values[4]) else 1.0
    cx, cy = sign * root * rx * y / ry, -sign * root * ry * x / rx
    first = math.atan2((y - cy) / ry, (x - cx) / rx)
    last = math.atan2((-y - cy) / ry, (-x - cx) / rx)
    sweep = (last - first) % (2 * math.pi) if values[4] else -((first - last) % (2 * math.pi))
    middle = cos * cx - sin * cy + (start[0] + end[0]) / 2, sin * cx + cos * cy + (start[1] + end[1]) / 2

    def at(share: float) -> Point:
        u, v = rx * math.cos(first + share * sweep), ry * math.sin(first + share * sweep)
        return middle[0] + cos * u - sin * v, middle[1] + sin * u + cos * v

    return _sampled(at, max(math.ceil(abs(sweep) / ARC_STEP), 1), end)
