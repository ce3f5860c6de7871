"""The use case `measure a cutter`: points of its profile, what they say, and keeping them in a job file's text."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.job.file.cutters import middle_of
from drawerwright.job.file.editing import get_value
from drawerwright.job.file.entry_paths import EntryPath, value_at
from drawerwright.job.file.entry_types import parse_estimate, written_estimate
from drawerwright.job.file.file_units import FileUnit
from drawerwright.job.file.job_entries import set_in_mm
from drawerwright.job.file.model import MOST_POINTS
from drawerwright.job.file.profiles import ENDINGS, parse_profile, read_profile
from drawerwright.job.job import Job
from drawerwright.joints.mate import GLUE_GAP, Mate, find_middle
from drawerwright.joints.mating import mating
from drawerwright.joints.profile import Point
from drawerwright.joints.registry import USUAL


@dataclass(frozen=True, slots=True)
class ReadProfile:
    """Points that were read of a cutter: depth and inset (mm), and the standard uncertainty of each inset.

    `uncertainty` None: nobody has said, and the usual one holds. `mate`: whether the cutter mates with itself, and
    where its middle is.
    """

    points: tuple[Point, ...]
    uncertainty: Mm | None
    mate: Mate

    @property
    def points_text(self) -> str:
        """The points as `parse_profile` reads them again."""
        return "\n".join(f"{depth:.4f}; {inset:.4f}" for depth, inset in self.points)

    @property
    def uncertainty_text(self) -> str:
        """The uncertainty as it is typed; empty where nobody has said."""
        return "" if self.uncertainty is None else f"{self.uncertainty:g}"


def profile_points(name: str, content: bytes) -> tuple[Point, ...]:
    """The points in a file of this name.

    Raises:
        InvalidValueError: it is no such file, or has more points than a job keeps.
        FaultyInputError: it cannot be read; with every fault.
        UnicodeDecodeError: it is not UTF-8.
    """
    ending = Path(name).suffix.lower()
    if ending not in ENDINGS:
        raise InvalidValueError(
            phrase("A profile ends in .csv, .dxf or .svg; this file is called {name}.", name=name)
        )
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / f"profile{ending}"
        file.write_bytes(content)
        points = read_profile(file).points
    if len(points) > MOST_POINTS:
        raise InvalidValueError(
            phrase(
                "The profile has {count} points, but a job holds at most {most}: leave some out.",
                count=len(points),
                most=MOST_POINTS,
            )
        )
    return points


def judge_points(
    points: tuple[Point, ...], uncertainty: Mm | None, data: Any, job: Job | None, place: EntryPath
) -> ReadProfile:
    """What points say of a cutter of a job.

    Args:
        points: depth and inset (mm).
        uncertainty: standard uncertainty of each inset (mm); None takes the usual one.
        data: the entries of the job file; they say of what kind the cutter is.
        job: the job, if they have no faults: for the thickest stock that a cutter which goes through it is meant for.
        place: where the job file has the cutter.

    Raises:
        InvalidValueError: the points have no middle.
    """
    thickest = None if job is None else max(stock.thickness.value for stock in job.stock.values())
    kind = value_at(data, (*place, "kind"))
    through = mating(USUAL if kind is None else str(kind)).through(thickest)
    mate = middle_of(points, usual.PROFILE_INSET if uncertainty is None else uncertainty, through)
    return ReadProfile(points, uncertainty, mate)


def judge_file(
    path: Path, uncertainty: Mm, *, through: Mm | None = None, limit: Mm | None = None, unit: FileUnit = "mm"
) -> Mate:
    """Whether a cutter mates with itself whose profile stands in a file, and where its middle is.

    Args:
        path: the profile, CSV or DXF.
        uncertainty: standard uncertainty of each inset (mm).
        through: thickness of the stock (mm), for a cutter that goes through it.
        limit: the widest gap that counts as mating (mm); None takes the usual one.
        unit: of the bare numbers of a CSV.

    Raises:
        FaultyInputError: the file cannot be read; with every fault.
        InvalidValueError: the points have no middle.
    """
    points = read_profile(path, unit).points
    most = GLUE_GAP if limit is None else limit
    return find_middle(points, uncertainty=uncertainty, thickness=through, limit=most)


def kept_profile(data: Any, job: Job | None, place: EntryPath) -> ReadProfile | None:
    """The points that a job file keeps of the cutter at `place`, and what they say; None where none can be read."""
    rows, doubt = (value_at(data, (*place, name)) for name in ("points", "profile_uncertainty"))
    try:
        points = tuple((parse_length(depth), parse_length(inset)) for depth, inset in rows or ())
        uncertainty = None if doubt is None else parse_length(doubt)
        return judge_points(points, uncertainty, data, job, place) if points else None
    except (InvalidValueError, TypeError, ValueError):
        return None


def with_points(text: str, points: str, uncertainty: str, place: EntryPath) -> str:
    """A job file's text with points as the profile of a cutter; mid depth, step and slope then follow from them.

    Args:
        text: of the job file.
        points: as they are typed, a point a line.
        uncertainty: of each inset, as a length is typed; empty where nobody has said.
        place: where the text has the cutter.

    Raises:
        FaultyInputError: the points cannot be read.
        InvalidValueError: the uncertainty is no length.
    """
    known = parse_length(uncertainty) if uncertainty.strip() else None
    rounded = [[round(depth, 4) + 0.0, round(inset, 4) + 0.0] for depth, inset in parse_profile(points)]
    follow = dict.fromkeys(("mid_depth", "step", "slope"))
    return _with_entries(
        text, place, {"profile": None, "points": rounded, "profile_uncertainty": known, **follow}
    )


def with_measures(text: str, mid_depth: str, step: str, slope: str, place: EntryPath) -> str:
    """A job file's text with mid depth, step and slope of a cutter instead of a profile.

    Args:
        text: of the job file.
        mid_depth, step: as `written_estimate` writes them (mm).
        slope: in degrees.
        place: where the text has the cutter.

    Raises:
        InvalidValueError: one cannot be read.
    """
    entries: dict[str, Any] = dict.fromkeys(("profile", "points", "profile_uncertainty"))
    for name, typed in (("mid_depth", mid_depth), ("step", step)):
        entries[name] = written_estimate(parse_estimate(typed, parse_length, usual=usual.PROFILE_INSET))
    try:
        entries["slope"] = round(float(slope), 1)
    except ValueError:
        raise InvalidValueError(
            phrase("a slope is a number of degrees, not {given!r}", given=slope)
        ) from None
    return _with_entries(text, place, entries)


def without_points(text: str, job: Job | None, place: EntryPath) -> str:
    """A job file's text without a profile of the cutter at `place`; what the profile was found to mean stays, in the
    job `job`."""
    entries: dict[str, Any] = dict.fromkeys(("profile", "points", "profile_uncertainty"))
    if job is not None and job.cutters:
        cutter = next(known.cutter for known in job.cutters if known.place == place)
        for name, estimate in (("mid_depth", cutter.mid_depth), ("step", cutter.step)):
            entries[name] = written_estimate(estimate)
        entries["slope"] = round(cutter.slope_angle, 1)
    return _with_entries(text, place, entries)


def _with_entries(text: str, place: EntryPath, entries: dict[str, Any]) -> str:
    before = get_value(text, place)
    for name, value in entries.items():
        if value is not None or value_at(before, (name,)) is not None:
            text = set_in_mm(text, (*place, name), value)
    return text
