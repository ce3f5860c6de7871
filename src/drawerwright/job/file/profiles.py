"""Measured cutter profiles from files: a table (CSV) or a drawing (DXF, SVG)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from drawerwright.basics.errors import Fault, FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.job.file.file_units import FileUnit
from drawerwright.job.file.given_files import given_bytes, given_text
from drawerwright.joints.profile import Point, Profile

LEAST_SIZE: Mm = 1.0
LARGEST_SIZE: Mm = 100.0
"""A cutter's edge is no lower than the one and no higher than the other: beyond, the unit is not what was meant
(common practice, no source)."""
ENDINGS = (".csv", ".txt", ".dxf", ".svg")
"""Of the files that a profile is read from."""
LARGEST_PROFILE_BYTES = 5_000_000
"""A profile is a few kilobytes; anything beyond is not one."""
_SECOND_COLUMN = {"inset": 1.0, "radius": -1.0, "diameter": -0.5}
"""What the second column may hold, and how an inset follows from it."""


@dataclass(frozen=True, slots=True)
class MeasuredProfile:
    """A profile read from a file, and its points (mm) from the top down, arcs flattened.

    The insets of a table stay as they were read: scatter about the largest radius goes below zero, and
    lifting it to zero would lift everything.
    """

    profile: Profile
    points: tuple[Point, ...]


def read_profile(path: Path, unit: FileUnit = "mm") -> MeasuredProfile:
    """Read a cutter's profile.

    A CSV holds one point a line: depth below the cutter's top, then inset; a head line may name the second
    column `inset`, `radius` or `diameter`. Comma or semicolon separate; a decimal comma needs semicolons.
    A DXF holds one polyline with y up along the cutter's axis and x as the inset (straight pieces and arcs), an SVG one
    path that lies the same way as it is seen.

    Args:
        path: the file.
        unit: of the bare numbers of a CSV.

    Raises:
        FaultyInputError: every line that cannot be read, or a drawing without one polyline.
    """
    if path.suffix.lower() not in ENDINGS:
        words = phrase(
            "a profile ends in {endings}; a picture of test pieces is read by 'drawerwright scan'",
            endings=", ".join(ENDINGS),
        )
        raise FaultyInputError((Fault("profile", words, None, path.name),))
    given_bytes(path, LARGEST_PROFILE_BYTES)
    bulges: Sequence[float] | None = None
    drawn_in: str | None = None
    if path.suffix.lower() == ".dxf":
        from drawerwright.drawings.dxf_reading import read_polyline

        vertices, drawn_in = read_polyline(path)
        top = max(y for _, y, _ in vertices)
        points = [(top - y, x) for x, y, _ in vertices]
        # Depth and inset swap the axes and turn one of them round: arcs keep their sense.
        bulges = [bulge for _, _, bulge in vertices]
    elif path.suffix.lower() == ".svg":
        from drawerwright.drawings.svg_reading import read_svg_line

        line, drawn_in = read_svg_line(path)
        top = max(y for _, y in line)
        points = [(top - y, x) for x, y in line]
        bulges = [0.0] * len(points)
    else:
        points = parse_profile(given_text(path, LARGEST_PROFILE_BYTES), file=path.name, unit=unit)
    try:
        check_size(points, drawn_in)
        profile = Profile.measured(points, bulges)
    except InvalidValueError as error:
        raise FaultyInputError((Fault("profile", str(error), None, path.name),)) from None
    if bulges is not None:
        return MeasuredProfile(profile, profile.points)
    return MeasuredProfile(profile, tuple(points if points[0][0] <= points[-1][0] else reversed(points)))


def check_size(points: Sequence[Point], unit: str | None = None) -> None:
    """Refuse what is too small or too large for the edge of a cutter.

    Args:
        points: depth, inset (mm).
        unit: what the drawing says that it is drawn in.

    Raises:
        InvalidValueError: with the size, the limits and, for a drawing, its unit.
    """
    depths, insets = [depth for depth, _ in points], [inset for _, inset in points]
    height, width = (max(values) - min(values) for values in (depths, insets)) if points else (0.0, 0.0)
    if LEAST_SIZE <= height <= LARGEST_SIZE and width <= LARGEST_SIZE:
        return
    is_high = not LEAST_SIZE <= height <= LARGEST_SIZE
    remedy = (
        phrase("give depth and inset in millimetres, or write the unit after each")
        if unit is None
        else phrase(
            "the drawing's unit is {unit}; draw it in millimetres, or set the unit it was drawn in",
            unit=unit,
        )
    )
    limits = {"least": millimetres(LEAST_SIZE, "g", with_unit=False), "most": millimetres(LARGEST_SIZE, "g")}
    if is_high:
        size = phrase("the profile is {size} high", size=millimetres(height, "g"))
    else:
        size = phrase("the profile is {size} wide", size=millimetres(width, "g"))
    raise InvalidValueError(
        phrase(
            "{size}, but a cutter's edge is {least} to {most} high and at most {most} wide: {remedy}",
            size=size,
            remedy=remedy,
            **limits,
        )
    )


def parse_profile(text: str, *, file: str | None = None, unit: FileUnit = "mm") -> list[Point]:
    """Points (mm) of a CSV text whose bare numbers are in `unit`, every unreadable line reported at once.

    >>> parse_profile("depth;radius\\n0;19,0\\n6,5;17,4")
    [(0.0, 0.0), (6.5, 1.6...)]
    """
    separator = ";" if ";" in text else ("\t" if "\t" in text else ",")
    points: list[Point] = []
    faults: list[Fault] = []
    sign = 1.0
    columns = ("depth", "inset")
    lines: list[int] = []
    for number, row in enumerate(_rows(text, separator, file), start=1):
        cells = [cell.strip() for cell in row]
        if not any(cells) or cells[0].startswith("#"):
            continue
        if not points and not faults and cells[0].lower() == "depth":
            name = cells[1].lower() if len(cells) > 1 else ""
            if name not in _SECOND_COLUMN:
                faults.append(
                    Fault(
                        "head",
                        phrase(
                            "the second column is called {name!r}: call it inset, radius or diameter",
                            name=name,
                        ),
                        number,
                        file,
                    )
                )
            sign = _SECOND_COLUMN.get(name, 1.0)
            columns = ("depth", name if name in _SECOND_COLUMN else "inset")
            continue
        values: list[Mm] = []
        for column, cell in zip(columns, (*cells, "", "")[:2], strict=True):
            try:
                if not cell:
                    raise InvalidValueError(phrase("is missing: each line needs a depth and an inset"))
                values.append(parse_length(cell, default_unit=unit))
            except InvalidValueError as error:
                faults.append(Fault(column, str(error), number, file))
        if len(values) == 2:
            points.append((values[0], sign * values[1]))
            lines.append(number)
    faults += _order_faults([depth for depth, _ in points], lines, file)
    if faults and not points:
        # What has no line that could be one is some other file, whose lines are none of ours to repeat.
        words = phrase("no line holds a depth and an inset, so this is no profile")
        raise FaultyInputError((Fault("profile", words, faults[0].line, file),))
    if faults:
        raise FaultyInputError(tuple(sorted(faults, key=lambda fault: fault.line or 0)))
    if sign < 0 and points:
        least = min(inset for _, inset in points)
        points = [(depth, inset - least) for depth, inset in points]
    return points


def _rows(text: str, separator: str, file: str | None) -> Iterator[list[str]]:
    reader = csv.reader(io.StringIO(text), delimiter=separator)
    try:
        yield from reader
    except csv.Error:
        longest = csv.field_size_limit()
        words = phrase("cannot be read: a cell has more than {longest:,} characters", longest=longest)
        raise FaultyInputError((Fault("profile", words, reader.line_num, file),)) from None


def _order_faults(depths: Sequence[Mm], lines: Sequence[int], file: str | None) -> list[Fault]:
    """Depths that lie above the top or turn back. A table may run from the table up as well."""
    faults = [
        Fault(
            "depth",
            phrase(
                "{depth} lies above the cutter's top: depths count down from it",
                depth=millimetres(depth, "g"),
            ),
            line,
            file,
        )
        for depth, line in zip(depths, lines, strict=True)
        if depth < 0
    ]
    upwards = len(depths) > 1 and depths[0] > depths[-1]
    for above, below, line in zip(depths, depths[1:], lines[1:], strict=False):
        if below >= 0 and (below > above if upwards else below < above):
            text = phrase(
                "{below} comes after {above}: give the points {way}",
                below=millimetres(below, "g"),
                above=millimetres(above, "g"),
                way=phrase("from the table up") if upwards else phrase("from the top of the cutter down"),
            )
            faults.append(Fault("depth", text, line, file))
    return faults
