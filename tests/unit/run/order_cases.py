"""Jobs whose order of work is carried out and read, each with something that the others have not."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from drawerwright.job.file.building import read_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.run.work import Work

EXAMPLES = Path(__file__).parents[3] / "examples"
EXAMPLE = (EXAMPLES / "music-school.yaml").read_text("utf-8")
FEW_SECONDS = 0.05
"""For the sheets of one stock: any sheets will do."""

STACKS = """
format: 1
job: Reed trays
cutter: {mid_depth: 5.8 ± 0.05, step: 3.6 ± 0.03}
machine: {saw: {stack: 2}, sacrificial_strip: {width: 12}}
stock:
  ash: {nominal: 14, measured: [13.9, 14.0], sheets: [{length: 1600, width: 900}]}
  ply: {nominal: 6, measured: [5.9], grain: none, sheets: [{length: 1500, width: 800}]}
boxes:
  - {name: tray, count: 40, outer: {width: 320, depth: 240, height: 70}, box: {all: ash}, bottom: {stock: ply}}
"""

VARIANTS = {
    "example": EXAMPLE,
    "bands may turn": EXAMPLE.replace("grain: length", "grain: none"),
    "grain across the sheet": EXAMPLE.replace("grain: length", "grain: width").replace(
        "offcuts:\n      - {length: 1180, width: 420", "offcuts:\n      - {length: 600, width: 900"
    ),
    "one sacrificial strip": EXAMPLE.replace("{width: 14, ends: 2}", "{width: 20, ends: 1}"),
    "no sacrificial strip": re.sub(r"  sacrificial_strip: .*\n", "", EXAMPLE),
    "edging above": EXAMPLE.replace("applied_front: true}", "applied_front: true, box_top: true}"),
    "fronts of standing grain": EXAMPLE.replace("match: true", "grain_upright: true"),
    "grooves in the middle": EXAMPLE.replace("groove_height: 11", "groove_height: 40"),
    "sides flat": EXAMPLE.replace("count: 3\n", "count: 3\n    orientation: sides-flat\n"),
    "two cutters": (EXAMPLES / "trays-and-chest.yaml").read_text("utf-8"),
    "stacks": STACKS,
    "two positions": EXAMPLE.replace("plan: fewest", "plan: two-position"),
}
VARIANTS["front edges apart"] = (
    VARIANTS["edging above"]
    .replace("plan: fewest", "plan: one")
    .replace("overlay: {sides: 7}    #", "overlay: {sides: 1.5}    #")
)
VARIANTS["front edges below"] = (
    VARIANTS["front edges apart"]
    .replace("grain: length", "grain: none")
    .replace("length: 2500, width: 1250", "length: 1250, width: 2500")
)
VARIANTS["fronts cover unequally"] = VARIANTS["edging above"].replace(
    "overlay: {sides: 7}    #", "overlay: {sides: 7, right: 2.5}    #"
)
VARIANTS["fronts cover unequally below"] = (
    VARIANTS["fronts cover unequally"]
    .replace("grain: length", "grain: none")
    .replace("length: 2500, width: 1250", "length: 1250, width: 2500")
)


@cache
def planned(text: str) -> JobPlan:
    """A job file's plan; made once, since several tests look at it."""
    return plan_job(read_job(text), time_limit=FEW_SECONDS)


def work_of(plan: JobPlan) -> list[Work]:
    return [item for step in plan.run.steps for item in step.work]
