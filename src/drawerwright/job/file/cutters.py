"""The cutter of a file: two measures, or a profile that was measured and what follows from it."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from drawerwright.basics import usual
from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import joined, phrase
from drawerwright.basics.uncertain import Estimate, Origin
from drawerwright.job.file import model
from drawerwright.job.file.profiles import MeasuredProfile, check_size, read_profile
from drawerwright.job.file.reading import Builder, Document, check_model
from drawerwright.joints.cutter import Cutter, MeasuredEdge
from drawerwright.joints.edge import seated_edge
from drawerwright.joints.mate import Mate, Verdict, find_middle
from drawerwright.joints.mating import mating
from drawerwright.joints.profile import Point, Profile

FURTHEST_OFF: Mm = 0.5
"""A mid depth or step that is written beside a measured profile may differ from it by no more: test cuts move them
by tenths, and more than that is another cutter or a slip (common practice, no source)."""
STAND_IN = Cutter(mid_depth=6.0, step=4.0)
"""Drawers are made with it where the file's own cutter is faulty, so that their faults come too; no job is."""
FEWEST_POINTS = 3
REMEMBERED = 32


def cutter_of(
    builder: Builder,
    entry: model.CutterMeasures,
    name: str,
    *location: str | int,
    folder: Path | None,
    through: Mm | None = None,
) -> Cutter | None:
    """The cutter that a file describes; every fault goes to the builder.

    Args:
        builder: of the file that the entry stands in.
        entry: the cutter.
        name: what it is called.
        location: where the entry stands.
        folder: where a profile's file lies; without it, naming one is a fault.
        through: thickness of the stock that a cutter which goes through it is meant for (mm).
    """
    measured = _measured(builder, entry, folder, *location)
    if measured is None:
        return None if _is_measured(entry) else _ideal(builder, entry, name, *location)
    place = "points" if entry.points is not None else "profile"
    uncertainty = usual.PROFILE_INSET if entry.profile_uncertainty is None else entry.profile_uncertainty
    through = mating(entry.kind).through(through)
    with builder.at(*location, place):
        mate = middle_of(measured.points, uncertainty, through)
        edge = edge_of(measured.points, uncertainty, through)
        if mate.verdict is Verdict.FAILS:
            at = _nearest(entry.points, mate.gapes_at)
            builder.fault(
                (*location, place, *at),
                phrase("{verdict} Measure there again, or use another cutter.", verdict=mate.text),
            )
            return None
        for measure, given, found in (
            ("mid_depth", entry.mid_depth, mate.mid_depth),
            ("step", entry.step, mate.step),
        ):
            if given is not None and abs(given.value - found.value) > FURTHEST_OFF:
                builder.fault(
                    (*location, measure),
                    phrase(
                        "{given} differs from the measured profile's {found} by more than "
                        "{limit}: leave it out, or measure again",
                        given=millimetres(given.value),
                        found=millimetres(found.value),
                        limit=millimetres(FURTHEST_OFF),
                    ),
                )
        slope = usual.UNKNOWN_SLOPE
        if mating(entry.kind).has_play:  # what it stands proud hangs on the slope
            slope = Estimate.given(edge.slope_angle, None, usual=usual.SLOPE)
        origin = Origin.ASSUMED if entry.profile_uncertainty is None else Origin.STATED
        middle, step = (replace(found, origin=origin) for found in (mate.mid_depth, mate.step))
        return _marked(entry, name, entry.mid_depth or middle, entry.step or step, slope, edge)
    return None


def cutter_alone(entry: Any, name: str) -> Cutter | None:
    """The cutter that an entry describes, whatever else is wrong in its file; None where its own measures are faulty.

    Args:
        entry: the cutter's entries as plain values.
        name: what it is called.
    """
    if not isinstance(entry, dict):
        return None
    measures = Document.of(
        {key: value for key, value in entry.items() if key in model.CutterMeasures.model_fields}
    )
    builder = Builder(measures)
    try:
        made = cutter_of(builder, check_model(model.CutterMeasures, measures), name, folder=None)
    except FaultyInputError:
        return None
    return None if builder.faults else made


@lru_cache(maxsize=REMEMBERED)
def middle_of(points: tuple[Point, ...], uncertainty: Mm, through: Mm | None) -> Mate:
    """`find_middle`, remembered: a job is read again at every entry that is typed."""
    return find_middle(points, uncertainty=uncertainty, thickness=through)


@lru_cache(maxsize=REMEMBERED)
def edge_of(points: tuple[Point, ...], uncertainty: Mm, through: Mm | None) -> MeasuredEdge:
    """`seated_edge`, remembered for the same reason."""
    return seated_edge(points, middle_of(points, uncertainty, through), uncertainty, through)


def _is_measured(entry: model.CutterMeasures) -> bool:
    return entry.points is not None or entry.profile is not None


def _measured(
    builder: Builder, entry: model.CutterMeasures, folder: Path | None, *location: str | int
) -> MeasuredProfile | None:
    """The points of the entry, or of the file that it names."""
    if entry.points is not None and entry.profile is not None:
        text = phrase("is given as well as points: keep one or the other")
        builder.fault((*location, "profile"), text)
        return None
    if entry.points is not None:
        with builder.at(*location, "points"):
            if len(entry.points) < FEWEST_POINTS:
                raise InvalidValueError(
                    phrase(
                        "a profile needs at least {least} points, from the top of the cutter "
                        "to below its slope",
                        least=FEWEST_POINTS,
                    )
                )
            check_size(entry.points)
            points = entry.points if entry.points[0][0] <= entry.points[-1][0] else entry.points[::-1]
            return MeasuredProfile(Profile.measured(points), points)
    if entry.profile is not None:
        with builder.at(*location, "profile"):
            if folder is None:
                raise InvalidValueError(
                    phrase(
                        "names the file {file}, but there is no folder to look for it in: "
                        "write the points under 'points', or load the file on the cutter's page",
                        file=entry.profile,
                    )
                )
            try:
                return read_profile(folder / entry.profile)
            except FaultyInputError as error:
                for fault in error.faults:
                    place = [entry.profile, *([phrase("line {line}", line=fault.line)] if fault.line else [])]
                    builder.fault((*location, "profile"), joined([*place, fault.message], ": "))
    return None


def _ideal(builder: Builder, entry: model.CutterMeasures, name: str, *location: str | int) -> Cutter | None:
    """The cutter of two measures."""
    missing = [name for name in ("mid_depth", "step") if getattr(entry, name) is None]
    for measure in missing:
        builder.fault((*location, measure), phrase("is missing, and no profile was measured"))
    if entry.mid_depth is None or entry.step is None:
        return None
    with builder.at(*location):
        cutter = _marked(entry, name, entry.mid_depth, entry.step, usual.UNKNOWN_SLOPE, None)
        with builder.at(*location, "step"):  # which does not go with the mid depth
            cutter.profile()
            return cutter
    return None


def _marked(
    entry: model.CutterMeasures,
    name: str,
    mid_depth: Estimate,
    step: Estimate,
    slope: Estimate,
    edge: MeasuredEdge | None,
) -> Cutter:
    """The cutter with what is marked on it."""
    return Cutter(
        kind=entry.kind,
        mid_depth=mid_depth,
        step=step,
        slope=entry.slope or slope,
        name=name,
        diameter=entry.diameter,
        cutting_height=entry.cutting_height,
        max_speed=entry.max_speed,
        edge=edge,
        id=entry.id or "",
    )


def _nearest(points: tuple[Point, ...] | None, depth: Mm) -> tuple[int, ...]:
    """Which point of a file lies nearest to a depth."""
    if points is None:
        return ()
    return (min(range(len(points)), key=lambda index: math.fabs(points[index][0] - depth)),)
