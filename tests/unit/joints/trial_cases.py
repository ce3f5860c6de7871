"""One shop for the tests of test cuts: a cutter and a table with round figures, and cuts made with them."""

from dataclasses import replace

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.correction import cut_at
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.table import RouterTable
from drawerwright.joints.trial_cut import TakenReading
from drawerwright.joints.wanted import Wanted

CUTTER = Cutter("drawer-lock", mid_depth=Estimate(6.0, 0.08), step=Estimate(3.5, 0.08), slope=Estimate(55.0))
MITRE = Cutter("lock-mitre", mid_depth=Estimate(11.0, 0.08), step=Estimate(18.0, 0.08), slope=Estimate(45.0))
TABLE = RouterTable(
    height_gauge=Estimate(0.0, 0.1),
    fence_gauge=Estimate(0.0, 0.1),
    repeatability=0.02,
    height_gauge_step=0.0005,
    fence_gauge_step=0.0005,
)
"""Gauges that show whatever is wanted, so that what is aimed at can be seen."""
WANTED = Wanted(Estimate(15.0, 0.03), Estimate(15.0, 0.03))


def taken(*readings, u=0.03):
    """`taken(("play", 0.1), ("roof", 3.0))`: readings with one standard uncertainty (mm)."""
    return tuple(TakenReading(ReadingKind(kind), value, u) for kind, value in readings)


def cut(*readings, u=0.03, cutter=CUTTER, table=TABLE, wanted=WANTED, **changes):
    """A cut at the settings of the law, with what was read on it."""
    return replace(cut_at(wanted.tight(cutter), table, wanted), readings=taken(*readings, u=u), **changes)
