"""How fast a cutter may turn: the maker's figure, else what is usual for its diameter."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib import resources

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.table import RouterTable


@dataclass(frozen=True, slots=True)
class SpeedAdvice:
    """The limit for a cutter (1/min) with where it comes from, and the fastest spindle speed within it.

    `diameter` (mm) is that of the cutter, where it is known.
    """

    limit: float
    source: str
    choose: float | None
    diameter: Mm | None = None

    @property
    def at_the_rim(self) -> float | None:
        """How fast the cutting edge runs at the speed to choose, or at the limit where there is none (m/s)."""
        if self.diameter is None:
            return None
        return rim_speed(self.diameter, self.limit if self.choose is None else self.choose)


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


def rim_speed(diameter: Mm, speed: float) -> float:
    """How fast the outermost cutting edge runs (m/s) on a diameter (mm) at a spindle speed (1/min).

    v = π D n / 60,000: the kinematics of any machining handbook.

    >>> round(rim_speed(50.8, 18_000), 1)
    47.9
    """
    return math.pi * diameter * speed / 60_000


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
    return SpeedAdvice(limit, source, max(within, default=None), cutter.diameter)
