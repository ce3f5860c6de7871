"""What is stated of cutter and gauges before any test cut: four values that readings may confirm or outvote."""

from __future__ import annotations

from enum import StrEnum

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.table import RouterTable

FAR_OFF: Mm = 0.5
"""How far a value is off that turned out wrong: standard uncertainty (common practice, no source)."""


class Statement(StrEnum):
    """A value that somebody stated. In the order in which learning counts its causes."""

    MID_DEPTH = "mid_depth"
    STEP = "step"
    HEIGHT_GAUGE = "height_gauge_offset"
    FENCE_GAUGE = "fence_gauge_offset"

    @property
    def what(self) -> str:
        """In the words of the shop."""
        return _WORDS[self]

    @property
    def check(self) -> str:
        """What to measure where it may be wrong."""
        return _CHECKS[self]


_WORDS = {
    Statement.MID_DEPTH: phrase("the mid depth"),
    Statement.STEP: phrase("the step"),
    Statement.HEIGHT_GAUGE: phrase("the height gauge"),
    Statement.FENCE_GAUGE: phrase("the fence scale"),
}
_CHECKS = {
    Statement.MID_DEPTH: phrase("measure the mid depth again"),
    Statement.STEP: phrase("measure the step again"),
    Statement.HEIGHT_GAUGE: phrase("check the height gauge against a block of known height"),
    Statement.FENCE_GAUGE: phrase("check the fence scale against the deepest cut of a test piece"),
}


def statements(cutter: Cutter, table: RouterTable) -> dict[Statement, Estimate]:
    """What is stated of a cutter and its router table (mm)."""
    known = (cutter.mid_depth, cutter.step, table.height_gauge, table.fence_gauge)
    return dict(zip(Statement, known, strict=True))


def without_trust(known: Estimate) -> Estimate:
    """The value as one that may be far off: readings alone decide."""
    return Estimate(known.value, max(known.uncertainty, FAR_OFF), known.origin)
