"""The measures of a cut, read from the section of a test piece."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.scan.by_hand import HandEdit, by_hand
from drawerwright.joints.scan.cutout import Cutout, read_parts
from drawerwright.joints.scan.edge_points import EdgePoints, SectionFace, edge_points
from drawerwright.joints.scan.face_lines import FittedFaces, LinePoints, SlopeLine, fit_faces, fit_slope
from drawerwright.joints.scan.ground import WoodTold, tell_wood
from drawerwright.joints.scan.near_lines import without_near_lines
from drawerwright.joints.scan.notch import CutNotch, find_notches
from drawerwright.joints.scan.outline_points import points_between
from drawerwright.joints.scan.pixels import Picture, Row
from drawerwright.joints.scan.side_walls import SeenWalls

MARGIN = 0.035
"""This share of the bit height is left out at both ends of a face: corners are round and chipped."""
_FACES = {
    "A": (phrase("roof"), phrase("shoulder")),
    "D": (phrase("deepest cut"), phrase("neck")),
    "L": (phrase("slope"), phrase("slope")),
    "S": (phrase("shallow cut"), phrase("head")),
    "H": (phrase("inner face"), phrase("tip")),
    "G": (phrase("end"), phrase("inside face")),
    "O": (phrase("outer face"), phrase("outer face")),
}
SHARED = 40
"""Wood is no smoother than this: points within such a part of the bit height share their error."""
CLEAR_FIT = 0.15
"""One that fits better is beyond doubt."""
WORST_FIT = 0.5
"""A section that fits worse is none."""


@dataclass(frozen=True, slots=True)
class SeenSection:
    """A section as it lies in the picture, in pixels: its faces, its slope and all points."""

    notch: CutNotch
    faces: FittedFaces
    slope: SlopeLine
    points: Mapping[str, EdgePoints]
    profile: list[Row]
    blur: float
    shadow: float
    corner: Row
    """The pixel of the whole picture that this piece's first one is."""
    faint: float
    """A tenth of the wood stands off the ground by less than this (1 is what wood usually does)."""
    softness: float
    """How many times as wide the fall from wood to ground is at the walls of the cut as at the other faces."""
    beside: int = 0
    """How many other pieces in the picture look as well like the one that was sought."""


def face_words(name: str, is_flat: bool) -> Phrase:
    """What a face is called on the flat or on the upright piece."""
    return _FACES[name][0 if is_flat else 1]


def see_section(
    picture: NDArray[np.uint8],
    *,
    is_flat: bool,
    walls: SeenWalls | None = None,
    edits: Sequence[HandEdit] = (),
) -> SeenSection:
    """The section of a drawer-lock cut in a picture; `walls`: what a camera sees of the wood's
    sides, `edits`: what was changed by hand.

    Raises:
        InvalidValueError: none is there, or too little of it is seen.
    """
    found: list[SeenSection] = []
    for seen in read_parts(picture, lambda part: _in_part(part, is_flat, walls, edits)):
        if not any(_is_same(seen, other) for other in found):
            found.append(seen)
    best = min(found, key=lambda seen: seen.notch.misfit)
    return replace(best, beside=len(found) - 1)


def _is_same(one: SeenSection, other: SeenSection) -> bool:
    apart = one.notch.origin + one.corner - other.notch.origin - other.corner
    return float(np.hypot(*apart)) < one.notch.height / 2


def _in_part(part: Cutout, is_flat: bool, walls: SeenWalls | None, edits: Sequence[HandEdit]) -> SeenSection:
    refused: InvalidValueError | None = None
    best: SeenSection | None = None
    own_walls = walls and walls.from_corner(part.corner)
    for told in tell_wood(part.pixels):
        try:
            seen = _seen(told, is_flat, own_walls, edits, part.corner)
        except InvalidValueError as error:
            refused = refused or error
            continue
        if best is None or seen.notch.misfit < best.notch.misfit:
            best = seen
        if best.notch.misfit < CLEAR_FIT:
            break
    if best is None:
        raise refused or InvalidValueError(phrase("no section is seen"))
    return best


def _seen(
    told: WoodTold, is_flat: bool, walls: SeenWalls | None, edits: Sequence[HandEdit], corner: Row
) -> SeenSection:
    notches = find_notches(told, is_flat=is_flat)
    if not notches or notches[0].misfit > WORST_FIT:
        raise InvalidValueError(_no_notch_words(told, is_flat))
    notch = notches[0]
    long = notch.reach + (notch.fence if is_flat else notch.height)
    thick = notch.height - notch.far if is_flat else notch.fence - notch.far
    if long < thick:  # the other piece has the same notch, and its length across
        raise InvalidValueError(_other_piece_words(is_flat))
    rough = max(5.0, 2.5 * told.factor, 0.1 * notch.height)
    points, widths = _points(told.contrast, notch, rough, None, walls)
    blur = float(np.median(list(widths.values())))
    softness = float(
        np.median([widths[name] for name in "ADLS"]) / np.median([widths[name] for name in "HGO"])
    )
    left_out = [edit for edit in edits if edit.moved is None]
    points = {name: by_hand(found, left_out) for name, found in points.items()}
    notch = _settled(notch, *_fitted(notch, points))
    points, _ = _points(told.brightness, notch, max(4.0, 2.0 * blur), blur, walls)
    alone = [name for name, found in points.items() if walls is None or walls.hides(found.face)]
    points |= without_near_lines({name: points[name] for name in alone}, told.brightness, blur)
    points = {name: by_hand(found, edits) for name, found in points.items()}
    lines, slope = _fitted(notch, points)
    outline = points_between(
        told,
        notch.place(np.array(0.0), np.array(0.0)),
        notch.place(np.array(notch.height), np.array(notch.step)),
        blur,
        walls,
    )
    profile = [np.column_stack(turned_back(lines, *in_frame(notch, piece))) for piece in outline]
    return SeenSection(notch, lines, slope, points, profile, blur, told.shadow, corner, told.faint, softness)


def _points(
    picture: Picture, notch: CutNotch, reach: float, blur: float | None, walls: SeenWalls | None
) -> tuple[dict[str, EdgePoints], dict[str, float]]:
    """The points of all faces within `reach` pixels of where they are thought to be, and how many pixels the fall takes
    at each; `blur`: that width, where it is known already."""
    found, widths = {}, {}
    faces = _faces(notch)
    for name, face in faces.items():
        if walls is None:
            found[name], widths[name] = edge_points(picture, face, _reach(face, reach), blur)
        else:  # the fall from wood to ground takes the width of the side more
            further = _reach(face, reach) + max(walls.shown(face)[0], 0.0)
            found[name], widths[name] = edge_points(picture, walls.found(face), further, blur)
    return (found if walls is None else walls.without_sides(found, picture, faces)), widths


def _reach(face: SectionFace, reach: float) -> float:
    """How far from a face to look for it: no further than its size allows."""
    return reach if face.name in "HGO" else min(reach, 0.3 * face.length + 3)


def _settled(notch: CutNotch, faces: FittedFaces, slope: SlopeLine) -> CutNotch:
    """The notch where its fitted lines are."""
    place = {name: float(faces.values[i]) for i, name in enumerate(faces.names)}
    turn = np.array([[1.0, faces.turn_w], [-faces.turn_z, 1.0]])
    corner = turn @ np.array([place["A"], place["D"]])
    z_axis = notch.z_axis - faces.turn_z * notch.w_axis
    w_axis = notch.w_axis + faces.turn_w * notch.z_axis
    rise_per_run = slope.direction[0] / max(slope.direction[1], 1e-6)
    height = place["H"] - place["A"]
    ends = [slope.z + (place[name] - slope.w) * rise_per_run - place["A"] for name in "DS"]
    inside = 0.02 * height < ends[0] <= ends[1] < 0.98 * height
    far = place["O"] - (place["A"] if notch.is_flat else place["D"])
    return replace(
        notch,
        origin=notch.place(corner[0], corner[1]),
        z_axis=z_axis / np.linalg.norm(z_axis),
        w_axis=w_axis / np.linalg.norm(w_axis),
        height=height,
        fence=place["G"] - place["D"],
        step=place["S"] - place["D"],
        slope=(ends[0], ends[1]) if inside else notch.slope,
        far=far,
    )


def _faces(notch: CutNotch) -> dict[str, SectionFace]:
    """The faces to look for, by the letters of `drawerwright.joints.scan.notch`: the walls A, D (deep), S (shallow),
    L (slanted), the faces H and G, and the outer one O."""
    begin, end = notch.slope
    usual = MARGIN * notch.height
    far = min(notch.reach, 4 * notch.height)

    def face(
        name: str, start: tuple[float, float], stop: tuple[float, float], outward: tuple[float, float]
    ) -> SectionFace:
        a, b = (notch.place(np.array(z), np.array(w)) for z, w in (start, stop))
        size = float(np.hypot(*(b - a)))
        margin = min(usual, 0.2 * size)
        run = (b - a) / size
        out = outward[0] * notch.z_axis + outward[1] * notch.w_axis
        return SectionFace(name, a + margin * run, b - margin * run, out / np.hypot(*out))

    wide, rise = notch.step, end - begin
    long_z, long_w = (notch.far, -far) if notch.is_flat else (-far, notch.far)
    found = {
        "A": face("A", (0, 0), (0, notch.fence), (1, 0)),
        "D": face("D", (0, 0), (begin, 0), (0, 1)),
        "L": face("L", (begin, 0), (end, wide), (-wide, rise)),
        "S": face("S", (end, wide), (notch.height, wide), (0, 1)),
        "H": face("H", (notch.height, long_w), (notch.height, wide), (1, 0)),
        "G": face("G", (long_z, notch.fence), (0, notch.fence), (0, 1)),
    }
    if notch.is_flat:
        found["O"] = face("O", (notch.far, long_w), (notch.far, notch.fence), (-1, 0))
    else:
        found["O"] = face("O", (long_z, notch.far), (notch.height, notch.far), (0, -1))
    return found


def _fitted(notch: CutNotch, points: Mapping[str, EdgePoints]) -> tuple[FittedFaces, SlopeLine]:
    lines: dict[str, LinePoints] = {}
    for name, found in points.items():
        if len(found.points) < 4 and found.is_cut_off:
            raise InvalidValueError(
                phrase(
                    "the {face} lies at the picture's edge: scan again with some room around the slice",
                    face=face_words(name, notch.is_flat),
                )
            )
        if len(found.points) < 4:
            raise InvalidValueError(
                phrase(
                    "too little of the {face} can be seen: lay the slice where no shadow, dust or fibre "
                    "hides its edges, on a ground that is plainly darker or lighter, or saw a fresh one",
                    face=face_words(name, notch.is_flat),
                )
            )
        if name == "L":
            continue
        z, w = in_frame(notch, found.points)
        along_w = name in "AH" or (name == "O" and notch.is_flat)
        lines[name] = LinePoints(w if along_w else z, z if along_w else w, along_w, found.unsure)
    faces = fit_faces(lines, notch.height / SHARED)
    z, w = in_frame(notch, points["L"].points)
    usual = float(np.median([line.scatter for line in faces.lines.values()]))
    slope = fit_slope(*turned_back(faces, z, w), notch.height / SHARED, usual)
    if slope is None:
        raise InvalidValueError(
            phrase(
                "the slope of the profile cannot be seen: saw a fresh slice, as far from chips as you "
                "can, and scan it on a ground that is plainly darker or lighter"
            )
        )
    return faces, slope


def in_frame(notch: CutNotch, points: Row) -> tuple[Row, Row]:
    """Points of the picture in the notch's frame."""
    off = points - notch.origin
    return np.asarray(off @ notch.z_axis), np.asarray(off @ notch.w_axis)


def turned_back(faces: FittedFaces, z: Row, w: Row) -> tuple[Row, Row]:
    """Points of the rough frame in the frame of the fitted faces."""
    return z - faces.turn_w * w, w + faces.turn_z * z


def _no_notch_words(told: WoodTold, is_flat: bool) -> Phrase:
    other = find_notches(told, is_flat=not is_flat)
    if other and other[0].misfit < CLEAR_FIT:
        return _other_piece_words(is_flat)
    return phrase(
        "no section of a test piece is found: the whole cut end has to be in the picture, on a plain ground much "
        "darker or lighter than the wood, and in the right place of --flat and --upright"
    )


def _other_piece_words(is_flat: bool) -> Phrase:
    if is_flat:
        return phrase("this looks like an upright piece: give it with --upright")
    return phrase("this looks like a flat piece: give it with --flat")
