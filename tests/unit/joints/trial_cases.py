"""One shop for the tests of test cuts: a cutter and a table with round figures, and cuts made with them."""

from dataclasses import replace

from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.correction import Wanted, first_cut
from drawerwright.joints.cutter import Cutter, CutterKind
from drawerwright.joints.learning import TakenReading
from drawerwright.joints.readings import ReadingKind
from drawerwright.joints.table import RouterTable

CUTTER = Cutter(CutterKind.DRAWER_LOCK, Estimate(6.0, 0.08), Estimate(3.5, 0.08), Estimate(55.0))
MITRE = Cutter(CutterKind.LOCK_MITRE, Estimate(11.0, 0.08), Estimate(18.0, 0.08), Estimate(45.0))
TABLE = RouterTable(height_gauge=Estimate(0.0, 0.1), fence_gauge=Estimate(0.0, 0.1), repeatability=0.02)
WANTED = Wanted(Estimate(15.0, 0.03), Estimate(15.0, 0.03))


def taken(*readings, u=0.03):
    """`taken(("play", 0.1), ("roof", 3.0))`: readings with one standard uncertainty (mm)."""
    return tuple(TakenReading(ReadingKind(kind), value, u) for kind, value in readings)


def cut(*readings, u=0.03, cutter=CUTTER, table=TABLE, wanted=WANTED, **changes):
    """The first cut by the law alone, with what was read on it."""
    return replace(first_cut(cutter, table, wanted), readings=taken(*readings, u=u), **changes)
