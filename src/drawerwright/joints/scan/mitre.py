"""A cut through the whole thickness (lock-mitre), read from the section: the cutter's top lies outside the wood.

What is known of the profile is its distance from the flat piece's inner face or from the upright's tip, both of which
lay on the table: so the middle is found as the height of the cutter's middle above the table, `mid_to_tip`.

::

        w ^                           rows of a view run against z, z = h at the top
          |      H: inner face (flat), or tip (upright)
          |   ___________
          |   |          \\
          |   |        __/   the profile, w = c(z): deepest cut at the table
          |   |        \\___
          |   |____________\\
                 O: outer face (flat); an upright piece goes on, with its inside face G on the right
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.joints.scan.edge_points import EdgePoints, SectionFace, edge_points
from drawerwright.joints.scan.face_lines import FittedFaces, LinePoints, fit_faces
from drawerwright.joints.scan.ground import WoodTold
from drawerwright.joints.scan.notch import main_direction, straightened
from drawerwright.joints.scan.outline_points import points_between
from drawerwright.joints.scan.pixels import Mask, Row
from drawerwright.joints.scan.side_walls import SeenWalls

LEAST_ROWS = 40
WORST_FIT = 0.45
KNIFE = 0.08
"""A tip thinner than this share of the thickness is an edge, and breaks off."""


@dataclass(frozen=True, slots=True)
class SeenMitre:
    """A mitred end in pixels: `profile` holds for each straight piece its points, down from the table's level and along
    w; `inside` is the w of the upright's inside face, None on a flat piece; `is_knife`: the tip ends in an edge."""

    is_flat: bool
    faces: FittedFaces
    points: dict[str, EdgePoints]
    profile: list[Row]
    thickness: tuple[float, float]
    inside: tuple[float, float] | None
    is_knife: bool
    blur: float
    shadow: float
    in_picture: list[Row]
    """Points of the profile as they lie in the picture."""
    corner: Row
    """The pixel of the whole picture that this piece's first one is."""


def see_mitre(told: WoodTold, *, is_flat: bool, corner: Row, walls: SeenWalls | None = None) -> SeenMitre:
    """The mitred end in a part of a picture; `corner`: where that begins, `walls`: what a camera sees of the wood's
    sides.

    Raises:
        InvalidValueError: none is there.
    """
    angle = main_direction(told)
    best: tuple[float, Row, Row, Row, tuple[float, ...]] | None = None
    if angle is not None:
        straight, back = straightened(told, angle)
        for flips in itertools.product((False, True), repeat=3):
            view = straight.T if flips[0] else straight
            view = view[::-1] if flips[1] else view
            view = view[:, ::-1] if flips[2] else view
            rough = _read_view(np.ascontiguousarray(view), is_flat=is_flat)
            if rough is not None and (best is None or rough[0] < best[0]):
                start, down, right = (
                    _to_picture(told, back, flips, view.shape, *place) for place in ((0, 0), (1, 0), (0, 1))
                )
                best = (rough[0], start, down - start, right - start, rough[1:])
    if best is None or best[0] > WORST_FIT:
        raise InvalidValueError(
            phrase("no mitred end is found: the whole of it has to be in the picture, on a plain ground")
        )
    _, start, down, right, (top, bottom, left, end, front, back_row) = best
    scale = float(np.hypot(*down))
    down, right = down / scale, right / scale

    def at(row: float, column: float) -> Row:
        return np.asarray(start + (row * down + column * right) * scale)

    thick = (bottom - top if is_flat else end - left) * scale
    margin = 0.04 * thick
    sought = {"H": SectionFace("H", at(top, left) + margin * right, at(top, front) - margin * right, -down)}
    if is_flat:
        sought["O"] = SectionFace(
            "O", at(bottom, left) + margin * right, at(bottom, end) - 2 * margin * right, down
        )
    else:
        sought["O"] = SectionFace(
            "O", at(top, left) + margin * down, at(bottom, left) - margin * down, -right
        )
        sought["G"] = SectionFace(
            "G", at(back_row, end) + 2 * margin * down, at(bottom, end) - margin * down, right
        )
    if sought["H"].length < KNIFE * thick or np.dot(sought["H"].end - sought["H"].start, right) <= 0:
        del sought["H"]  # the tip is a knife edge
    reach = max(5.0, 2.5 * told.factor, 0.05 * thick)
    rough_points = {
        name: edge_points(told.contrast, face, _near(face, reach)) for name, face in sought.items()
    }
    blur = float(np.median([wide for _, wide in rough_points.values()]))
    points = {
        name: edge_points(told.brightness, face, _near(face, reach), blur)[0] for name, face in sought.items()
    }
    if walls is not None:
        points = walls.without_sides(points, told.brightness, sought)
    origin = at(top, front)
    lines = {}
    for name, seen in points.items():
        if len(seen.points) < 4:
            raise InvalidValueError(phrase("too little of the mitred end can be seen"))
        off = seen.points - origin
        y, w = off @ down, off @ right
        along_w = name == "H" or (name == "O" and is_flat)
        lines[name] = LinePoints(w if along_w else y, y if along_w else w, along_w, seen.unsure)
    faces = fit_faces(lines, thick / 40)
    far = at(bottom, end) if is_flat else at(back_row, end)
    profile = []
    in_picture = points_between(told, origin, far, blur, walls)
    for piece in in_picture:
        off = piece - origin
        y, w = off @ down, off @ right
        profile.append(np.column_stack([y - faces.turn_w * w, w + faces.turn_z * y]))
    if sum(len(piece) for piece in profile) < 20:
        raise InvalidValueError(phrase("too little of the mitred end can be seen"))
    table, is_knife = _table(faces, profile, thick)
    profile = [piece - np.array([table, 0.0]) for piece in profile]
    pair = ("O", "H") if is_flat else ("G", "O")
    row = np.zeros(len(faces.values))
    row[faces.index(pair[0])], row[faces.index(pair[1])] = 1, -1
    thickness = float(row @ faces.values), math.sqrt(float(row @ faces.covariance @ row))
    inside = None
    if not is_flat:
        index = faces.index("G")
        inside = float(faces.values[index]), math.sqrt(float(faces.covariance[index, index]))
    return SeenMitre(
        is_flat, faces, points, profile, thickness, inside, is_knife, blur, told.shadow, in_picture, corner
    )


def _table(faces: FittedFaces, profile: list[Row], thick: float) -> tuple[float, bool]:
    """The table's level: that of the face H, or where the mitre would meet the outer face in a knife edge."""
    if "H" in faces.names:
        return float(faces.values[faces.index("H")]), False
    outer = float(faces.values[faces.index("O")])
    first = min(
        (piece for piece in profile if np.hypot(*(piece[-1] - piece[0])) > KNIFE * thick),
        key=lambda p: p[:, 0].mean(),
    )
    slope, zero = np.polyfit(first[:, 1], first[:, 0], 1)
    return float(zero + slope * outer), True


def _near(face: SectionFace, reach: float) -> float:
    return min(reach, 0.3 * face.length + 3)


def _to_picture(
    told: WoodTold, back: Row, flips: tuple[bool, ...], shape: tuple[int, ...], row: float, column: float
) -> Row:
    if flips[2]:
        column = shape[1] - 1 - column
    if flips[1]:
        row = shape[0] - 1 - row
    x, y = (row, column) if flips[0] else (column, row)
    return np.asarray((back @ np.array([x, y, 1.0]) + 0.5) * told.factor - 0.5)


def _read_view(view: Mask, *, is_flat: bool) -> tuple[float, ...] | None:
    """How badly a view shows a mitred end whose foremost edge lies at the lower right; first and last row, the left
    edge, the foremost column, the column where the cut begins in the first row, the row where it ends."""
    wood = view > 0
    rows, columns = np.flatnonzero(wood.any(axis=1)), np.flatnonzero(wood.any(axis=0))
    if len(rows) < LEAST_ROWS or len(columns) < LEAST_ROWS:
        return None
    top, bottom, left = int(rows[0]), int(rows[-1]), int(columns[0])
    width = view.shape[1]
    right = np.where(wood.any(axis=1), width - 1 - np.argmax(wood[:, ::-1], axis=1), -1).astype(float)
    if is_flat:
        line = right[top + 2 : bottom - 1]
        body = np.arange(left + 3, max(int(line.min()) - 3, left + 4))
        first = np.argmax(wood[:, body], axis=0)
        last = view.shape[0] - 1 - np.argmax(wood[::-1][:, body], axis=0)
        straight = float(np.mean(np.abs(first - top) > 3) + np.mean(np.abs(last - bottom) > 3))
        if len(body) < 0.3 * (bottom - top):
            return None
        end_row = bottom
    else:
        inside = float(np.median(right[(top + bottom) // 2 : bottom - 2]))
        reached = np.flatnonzero(right[top:bottom] >= inside - 2)
        end_row = top + int(reached[0])
        if end_row - top < LEAST_ROWS // 2 or bottom - end_row < LEAST_ROWS // 3:
            return None
        line = right[top + 2 : end_row - 1]
        body = np.arange(top + 3, bottom - 2)
        first = np.argmax(wood[body], axis=1)
        straight = float(np.mean(np.abs(first - left) > 3)) + float(
            np.mean(np.abs(right[end_row + 3 : bottom - 2] - inside) > 3)
        )
    if len(line) < LEAST_ROWS // 2:
        return None
    place = np.arange(len(line))
    slope, zero = np.polyfit(place, line, 1)
    if not 0.4 < slope < 2.5:
        return None
    misfit = float(np.mean(np.abs(zero + slope * place - line))) / len(line)
    front = float(line[:3].mean() - 2 * slope)
    return (
        misfit + straight,
        top - 0.5,
        bottom + 0.5,
        left - 0.5,
        float(line.max()) + 0.5,
        front,
        float(end_row),
    )
