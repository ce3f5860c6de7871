"""How fast a cutter may turn: the maker's figure, else what is usual for its diameter."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.table import RouterTable


@dataclass(frozen=True, slots=True)
class SpeedAdvice:
    """The limit for a cutter (1/min) with where it comes from, and the fastest spindle speed within it."""

    limit: float
    source: str
    choose: float | None


_SOURCES: dict[str, str] = {
    source: source
    for source in (
        phrase("common-practice table in a general reference article on cutter speeds (about 2010)"),
    )
}
"""The sources that the table names, for readers of other languages."""


@cache
def _table() -> tuple[tuple[Mm, Mm, float, str], ...]:
    text = resources.files("drawerwright.run").joinpath("data/cutter_speed.csv").read_text("utf-8")
    return tuple(
        (
            float(row["over_mm"]),
            float(row["to_mm"]),
            float(row["max_speed_rpm"]),
            _SOURCES.get(row["source"], row["source"]),
        )
        for row in csv.DictReader(text.splitlines())
    )


def usual_speed_limit(diameter: Mm) -> tuple[float, str] | None:
    """Usual greatest speed (1/min) for a cutting diameter (mm) and its source; None beyond the table.

    >>> usual_speed_limit(50.8)[0]
    18000.0
    """
    for over, to, speed, source in _table():
        if over < diameter <= to:
            return speed, source
    return None


def advise_speed(cutter: Cutter, table: RouterTable) -> SpeedAdvice | None:
    """What speed to choose; None when neither the maker's figure nor the diameter is known.

    The lower of both figures counts when both are known.
    """
    limits: list[tuple[float, str]] = []
    if cutter.max_speed is not None:
        limits.append((cutter.max_speed, phrase("marked on the cutter")))
    if cutter.diameter is not None and (usual := usual_speed_limit(cutter.diameter)) is not None:
        limits.append(usual)
    if not limits:
        return None
    limit, source = min(limits)
    within = [speed for speed in table.speeds if speed <= limit]
    return SpeedAdvice(limit, source, max(within, default=None))
