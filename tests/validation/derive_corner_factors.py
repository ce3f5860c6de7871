"""Writes the table of factors that the strength of a hooked corner is reckoned with, by finite elements.

    PYTHONPATH=src:tests/validation python tests/validation/derive_corner_factors.py

It takes a quarter of an hour. A test works three of its rows out again. Every length is a share of the upright piece's
thickness, so a row serves corners of any size:

mid, step, roof, lip: the cutter's mid depth and step, what is left of the flat piece, the lip;
neck: the neck over what the step leaves of the upright; flank: rise over run of the slope, 0 square.

A factor is a mean stress over a plane times the plane's length, for 1 N along the upright on its centre line ("pull");
for a turning moment ("turn") it is stress times thickness squared over 6. "whole" is the mean over the whole plane,
"near" over the two fifths of it next to its root. Stress square to a plane is "normal", pulled more than 0; along it
"shear".
"""

from __future__ import annotations

import csv
import itertools
import math
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from corner_elements import NEAR_SHARE, CornerElements, Glue, Load, Plies
from plane_elements import Wood

from drawerwright.joints.cutter import STEEPEST, Cutter
from drawerwright.joints.holding import PlaneName, PullOff
from drawerwright.joints.joint import joint_of
from drawerwright.joints.setting import CornerGeometry, CornerSetting, set_corner

TABLE = Path(__file__).parents[2] / "src/drawerwright/strength/data/corner_factors.csv"
THICK = 12.0
"""The upright piece that is reckoned with (mm)."""
VENEER = 1.4
"""Of birch plywood (mm)."""
FINE = 0.3

WOODS = {
    # Yellow birch: E_L 1.1 times the published 13.9 GPa; ratios of Table 5-1 of the Wood Handbook, from memory, radial
    # and tangential averaged; Poisson's ratios of Table 5-2, read.
    "hardwood": Wood(15290, 0.064 * 15290, 0.071 * 15290, 0.017 * 15290, 0.44, 0.56),
    # Douglas-fir, coast: likewise, ratios read in a project's note.
    "softwood": Wood(14740, 0.059 * 14740, 0.071 * 14740, 0.007 * 14740, 0.37, 0.38),
    # Birch veneer: 17.5 GPa along (recalled; it gives the handbook's stiffness of plywood), the rest assumed.
    "plywood": Wood(17500, 600, 800, 200, 0.44, 0.5),
}


@dataclass(frozen=True)
class Case:
    """One row's section and wood."""

    wood: str
    mid: float
    step: float
    neck: float
    flank: float
    roof: float
    lip: float = 0.0
    phase: float = 0.0

    @property
    def made(self) -> CornerSetting:
        """The corner, with an upright of `THICK`."""
        slope = math.degrees(math.atan2(1.0, self.flank)) if self.flank > 0.01 else STEEPEST
        step = self.step * THICK
        cutter = Cutter(mid_depth=self.mid * THICK, step=step, slope=min(slope, STEEPEST))
        geometry = CornerGeometry((2 * self.mid + self.roof) * THICK, THICK, self.lip * THICK)
        return set_corner(cutter, geometry, THICK - self.neck * (THICK - step))

    def factors(self) -> dict[str, float]:
        """All of its factors."""
        plies = Plies(VENEER, self.phase) if self.wood == "plywood" else None
        corner = CornerElements(self.made, WOODS[self.wood], FINE, plies)
        found: dict[str, float] = {}
        young = WOODS[self.wood].along
        planes = {plane.name: plane for plane in corner.hook.planes}
        for glue, load, names in WANTED:
            solved = corner.solve(glue) if (glue, load) in FIRST else solved  # noqa: F821
            shares = solved.shares(load)
            key = f"{glue.value} {load.value}"
            for name in names:
                size = planes[name].length if load is Load.PULL else THICK**2 / 6
                for words, part in (("whole", 1.0), ("near", NEAR_SHARE)):
                    mean = solved.average(planes[name], shares, part)
                    found[f"{key} {name.value} normal {words}"] = mean.normal * size
                    found[f"{key} {name.value} shear {words}"] = mean.shear * size
            if load is Load.PULL:
                found[f"{key} give"] = solved.give(shares) * young
                if glue is Glue.NONE:
                    arm = THICK - planes[PlaneName.NECK].length
                    moment = solved.neck_moment(planes[PlaneName.NECK], shares)
                    found[f"{key} neck eccentricity"] = moment / (arm / 2)
            if load is Load.PULL_FLAT:
                (face,) = joint_of(self.made.cutter).holding(self.made, PullOff.ALONG_FLAT).faces
                for words, part in (("whole", 1.0), ("near", NEAR_SHARE)):
                    found[f"{key} glue {words}"] = solved.glue_use(face.line, shares, part) * face.area
        if plies is not None:
            for name, plane in planes.items():
                if plane.along and name is not SHOULDER:  # a face ply runs along the piece
                    x, y = plane.start
                    depth = x - corner.hook.outer if plane.on_upright else corner.flat_thickness - y
                    beside = [plies.is_cross(depth + off) for off in (-0.1, 0.1)]
                    found[f"{name.value} in cross ply"] = float(any(beside))
        return found


ROOT, HEAD, HOOK, SHOULDER = PlaneName.NECK_ROOT, PlaneName.HEAD, PlaneName.HOOK, PlaneName.SHOULDER
WANTED = (
    (Glue.ALL, Load.PULL, (SHOULDER,)),
    (Glue.ALL, Load.TURN, (SHOULDER,)),
    (Glue.ALL, Load.PULL_FLAT, ()),
    (Glue.SHOULDER_OPEN, Load.PULL, (ROOT, HEAD, HOOK)),
    (Glue.SHOULDER_OPEN, Load.TURN, (ROOT, HOOK)),
    (Glue.NONE, Load.PULL, (ROOT, HEAD, HOOK)),
)
FIRST = ((Glue.ALL, Load.PULL), (Glue.SHOULDER_OPEN, Load.PULL), (Glue.NONE, Load.PULL))
"""Where the state of the glue changes."""

MIDS, STEPS, NECKS, FLANKS, ROOFS = (
    (0.3, 0.45, 0.6),
    (0.15, 0.3, 0.45),
    (0.3, 0.6, 1.0),
    (0.0, 0.5, 1.0),
    (0.2, 0.6),
)


def cases() -> Iterator[Case]:
    """Every row of the table, in order."""
    for sizes in itertools.product(MIDS, STEPS, NECKS, FLANKS, ROOFS):
        yield Case("hardwood", *sizes)
    ends = (0.3, 0.6), (0.15, 0.45), (0.3, 1.0), (0.0, 1.0)
    for sizes in itertools.product(*ends):
        yield Case("softwood", *sizes, roof=0.6)
    for sizes in itertools.product(*ends):
        for phase in (0.0, 0.35, 0.7):
            yield Case("plywood", *sizes, roof=0.6, phase=phase)
    for lip in (0.25, 0.5):
        for flank in (0.0, 1.0):
            yield Case("hardwood", 0.45, 0.3, 0.6, flank, 0.6, lip)


def main() -> None:
    """Work out every row and write the table."""
    rows = []
    for number, case in enumerate(cases(), start=1):
        rows.append({**asdict(case), **{key: round(value, 4) for key, value in case.factors().items()}})
        print(f"\r{number}", end="", file=sys.stderr, flush=True)
    TABLE.parent.mkdir(exist_ok=True)
    columns = list(dict.fromkeys(column for row in rows for column in row))
    with TABLE.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, columns, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


if __name__ == "__main__":
    main()
