"""A kind of joint that the program has never heard of goes the whole way: plan, sheets, run, packet and solids.

`screwed_butt` stands outside the package and knows its public face alone. Sizes are checked against sums that anybody
does on a bench: a butted side is as long as the box is deep, less the front and the back.
"""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from itertools import combinations
from pathlib import Path

import manifold3d
import pytest

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.glb import write_glb
from drawerwright.drawings.solids import drawer_solids
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.packet_pages import plan_packet
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.papers.plan_files import TABLES
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.joints.joint import self_mating
from drawerwright.joints.mating import self_mating_names
from drawerwright.joints.registry import forget, register
from drawerwright.run.work import GlueUp
from parts_inspected import faults
from printed_text import page_texts
from screwed_butt import SCREWED_BUTT
from virtual_shop import VirtualShop

EXAMPLE = Path(__file__).parents[2] / "examples" / "music-school.yaml"
THICK, BOX = 15.2, {"width": 420.0, "depth": 310.0, "height": 130.0}
pytestmark = pytest.mark.usefixtures("screwed_butt_known")
JOB = f"""
format: 1
job: Reed trays
cutter: {{mid_depth: 5.6, step: 3.4, diameter: 40}}
stock:
  poplar:
    nominal: 15
    measured: [{THICK}]
    sheets: [{{length: 2400, width: 1200}}]
boxes:
  - name: Tray
    joint: screwed-butt
    outer: {{width: 420, depth: 310, height: 130}}
    box: {{all: poplar}}
"""
ROUTED = """
  - name: Chest
    outer: {width: 420, depth: 310, height: 130}
    box: {all: poplar}
"""


@pytest.fixture
def plan() -> JobPlan:
    return plan_job(read_job(JOB + ROUTED))


def test_parts_are_as_long_as_the_butted_box_asks_for(plan: JobPlan) -> None:
    lengths = {part.kind: part.length for part in plan.parts if part.drawer == "Tray"}
    side = BOX["depth"] - 2 * THICK
    assert lengths[PartKind.LEFT] == lengths[PartKind.RIGHT] == pytest.approx(side)
    assert lengths[PartKind.FRONT] == lengths[PartKind.BACK] == pytest.approx(BOX["width"])
    routed = {part.kind: part.length for part in plan.parts if part.drawer == "Chest"}
    assert routed[PartKind.LEFT] > side  # a lock reaches into front and back, a butt does not


def test_every_part_leaves_the_saw_on_its_own(plan: JobPlan) -> None:
    (stock,) = plan.stocks
    loose = [
        stock.blanks.part(placed.key, placed.number).label
        for layout in stock.sheets.layouts
        for placed in layout.loose
    ]
    assert sorted(loose) == sorted(part.label for part in plan.parts if part.drawer == "Tray")
    banded = {part.drawer for family in stock.blanks.families for part in family.parts}
    assert banded == {"Chest"}


def test_the_order_of_work_says_what_the_joint_needs(plan: JobPlan) -> None:
    steps = {step.title: step for step in plan.run.steps}
    # 130 high, 15 from each edge, one every 60: at 15 and 75; a third would stand nearer than 60.
    assert steps["Drill for screws"].lines[1].startswith("2 screws a corner")
    assert steps["Drill for screws"].minutes == pytest.approx(4 * 2 * 0.5)
    said = " ".join(steps["Glue up 2 drawers"].lines)
    assert "screwed butt joint, Tray: Glue the ends, drive the screws" in said
    assert "drawer lock, Chest: Dry-fit one drawer first. Spread glue sparingly on shoulder" in said
    routed = [corner for setup in plan.run.setups for corner in setup.corners]
    assert {corner.joint for corner in routed} == {"drawer-lock"}


def test_the_work_can_be_carried_out(plan: JobPlan) -> None:
    """By a shop that knows the order of work alone: every part is cut to size, and the joints come before the glue."""
    work = [item for step in plan.run.steps for item in step.work]
    shop = VirtualShop(plan.job.sheet_sizes, kerf=plan.job.saw.kerf, table=plan.job.table)
    shop.carry_out(work)
    shop.clear_up()
    assert faults(plan, shop) == []
    assert [item.drawers for item in shop.joints] == [("Tray",)]
    glued = next(index for index, item in enumerate(work) if isinstance(item, GlueUp))
    assert work.index(shop.joints[0]) < glued


def test_its_findings_stand_among_the_others() -> None:
    thin = JOB.replace("nominal: 15", "nominal: 9").replace(str(THICK), "9.1")
    found = {finding.code: finding for finding in plan_job(read_job(thin)).findings}
    assert found["thin-for-screws"].drawers == ("Tray",)
    assert "thin-for-screws" not in {finding.code for finding in plan_job(read_job(JOB)).findings}


def test_packet_and_drawings_show_it(plan: JobPlan) -> None:
    drawings = plan_drawings(plan)
    assert "engagement 0.00 mm" in drawings["plain-corner-1"].description
    words = " ".join(page_texts(plan_packet(plan, drawings)))
    listed = {row["part"]: row for row in csv.DictReader(io.StringIO(TABLES["parts.csv"](plan)))}
    assert listed["Tray front"]["first_end"] == ""
    assert listed["Chest front"]["first_end"] == "flat"
    assert "Drill for screws" in words
    assert "screwed butt joint" in words
    assert {corner["key"]["joint"] for corner in plan_report(plan)["plain_corners"]} == {"screwed-butt"}


def test_its_solids_fill_the_corner_and_share_no_wood(plan: JobPlan) -> None:
    (drawer,) = (each for each in plan.draft.assembled if each.box.name == "Tray")
    solids = drawer_solids(drawer, plan.draft.made)
    shared = [(one.solid ^ other.solid).volume() for one, other in combinations(solids, 2)]
    assert shared == pytest.approx([0.0] * 6, abs=1e-6)
    wood = manifold3d.Manifold.batch_boolean([part.solid for part in solids], manifold3d.OpType.Add)
    # Four boards around an opening: the outer block less the inner one.
    around = BOX["width"] * BOX["depth"] - (BOX["width"] - 2 * THICK) * (BOX["depth"] - 2 * THICK)
    assert wood.volume() == pytest.approx(around * BOX["height"])
    assert write_glb(solids, "tray")[:4] == b"glTF"


def test_a_job_without_any_cutter_work_needs_no_router() -> None:
    text = "\n".join(line for line in JOB.splitlines() if not line.startswith("cutter:"))
    plan = plan_job(read_job(text))
    assert plan.run.setups == ()
    assert plan.corners == ()
    assert "router table" not in {step.machine for step in plan.run.steps}
    words = page_texts(plan_packet(plan, plan_drawings(plan)))[0]
    assert "1 drawer from 4 parts." in words
    with pytest.raises(FaultyInputError, match="cutter: is missing"):
        read_job(text + ROUTED)


def test_a_joint_that_takes_two_passes_is_routed_twice() -> None:
    """Somebody's own self-mating joint: all is as with the one that it is like, but for the trips."""

    class InTwoPasses(type(self_mating("drawer-lock"))):  # type: ignore[misc]
        """A lock that a small router reaches in two passes."""

        name = "two-pass-lock"
        passes = 2

    register(InTwoPasses())
    text = JOB.replace("    joint: screwed-butt\n", "")
    once, twice = (
        plan_job(read_job(text.replace("cutter: {", f"cutter: {{kind: {kind}, ")))
        for kind in ("drawer-lock", "two-pass-lock")
    )
    trips = [sum(setup.trips for setup in plan.run.setups) for plan in (once, twice)]
    forget(InTwoPasses.name)
    assert [part.length for part in twice.parts] == [part.length for part in once.parts]
    assert 0 < 2 * trips[0] == trips[1]
    said = [line for step in twice.run.steps for line in step.lines]
    assert "Reach the full depth in 2 passes: packing on the fence first, none for the last." in said


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (
            "joint: glued-mitre",
            "there is no kind of joint 'glued-mitre'; choose from finger, rebate, screwed-butt$",
        ),
        ("joint: drawer-lock", "a drawer-lock joint is cut with a self-mating cutter"),
        ("joint: screwed-butt\n    cutter: cutter", "given as well as 'cutter'"),
        ("joint: {kind: screwed-butt, depth: 3}", "has no measure of its own: take 'depth' out"),
        ("joint: {depth: 3}", "needs 'kind'"),
        ("joint: {kind: finger, depth: 3}", "has no measure 'depth'; it has finger, kerf, clearance"),
        ("joint: {kind: finger, finger: 0}", "finger must be more than 0 mm, not 0 mm"),
        ("joint: {kind: finger, clearance: wide}", "clearance: cannot read 'wide'"),
    ],
)
def test_what_a_box_cannot_say(entry: str, said: str) -> None:
    with pytest.raises(FaultyInputError, match=said) as error:
        read_job(JOB.replace("joint: screwed-butt", entry))
    assert error.value.faults[0].line == 12


def test_a_joint_that_is_not_installed_is_told_those_that_are() -> None:
    forget(SCREWED_BUTT.name)
    try:
        with pytest.raises(
            FaultyInputError, match=r"no kind of joint 'screwed-butt'; choose from finger, rebate$"
        ):
            read_job(JOB)
    finally:
        register(SCREWED_BUTT)


def test_a_cutter_of_an_unknown_kind_is_told_those_of_cutters() -> None:
    with pytest.raises(FaultyInputError, match=f"choose from {', '.join(self_mating_names())}$"):
        read_job(JOB.replace("cutter: {", "cutter: {kind: butt, "))


def test_a_name_is_given_once() -> None:
    class Other(type(SCREWED_BUTT)):  # type: ignore[misc]
        """Another joint of the same name."""

    register(SCREWED_BUTT)
    with pytest.raises(InvalidValueError, match="a joint called screwed-butt already exists"):
        register(Other())


def run_with(folder: Path, *command: str) -> subprocess.CompletedProcess[str]:
    """The command line with a folder of installed packages, and the job of the trays in it."""
    metadata = folder / "somebodys_joints-1.0.dist-info"
    metadata.mkdir()
    (metadata / "METADATA").write_text("Metadata-Version: 2.1\nName: somebodys-joints\nVersion: 1.0\n")
    (metadata / "entry_points.txt").write_text(
        "[drawerwright.joints]\nscrewed-butt = screwed_butt:SCREWED_BUTT\nbroken = screwed_butt:NOTHING\n"
    )
    (folder / "trays.yaml").write_text(JOB)
    paths = os.pathsep.join([str(folder), str(Path(__file__).parents[1]), *filter(None, sys.path)])
    return subprocess.run(
        [sys.executable, "-m", "drawerwright", *command],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": paths},
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_package_that_cannot_be_loaded_is_told_where_it_is_named(tmp_path: Path) -> None:
    done = run_with(
        tmp_path,
        *[
            "settings",
            "--kind",
            "broken",
            "--mid-depth",
            "5",
            "--step",
            "3",
            "--flat",
            "15",
            "--upright",
            "15",
        ],
    )
    assert done.returncode == 2
    assert "the joint 'broken' cannot be loaded from screwed_butt:NOTHING" in done.stderr


def test_an_installed_package_brings_its_joint(tmp_path: Path) -> None:
    """By its entry point alone, as an installer would put it beside this one: nobody calls `register`."""
    done = run_with(tmp_path, "plan", "trays.yaml", "--out", "out")
    assert done.returncode in (0, 3), done.stderr
    steps = json.loads((tmp_path / "out" / "plan.json").read_text())["run"]["steps"]
    assert "Drill for screws" in [step["title"] for step in steps]
