"""Finger joints and rebates go the whole way, beside each other and beside routed drawers.

The sizes to expect are sums by hand; that the pieces of a drawer share no wood is told by boolean operations.
"""

from __future__ import annotations

import io
import re
from itertools import combinations, groupby

import manifold3d
import pytest
from rich.console import Console

from drawerwright.cli.summary import print_summary
from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.solids import drawer_solids
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.packet_pages import plan_packet
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.papers.plan_drawings import plan_drawings
from drawerwright.job.planning.days import day_data
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.job.planning.which_joint import WorkTaken
from drawerwright.run.work import CutBandEdges
from parts_inspected import faults
from printed_text import page_texts
from virtual_shop import VirtualShop

WIDTH, DEPTH, HEIGHT, FRONT, SIDE = 420.0, 310.0, 104.5, 15.2, 12.1
CUTTER = "cutter: {mid_depth: 5.6, step: 3.4, diameter: 40}\n"
JOB = f"""
format: 1
job: Score chest
cutter: {{mid_depth: 5.6, step: 3.4, diameter: 40}}
stock:
  birch: {{nominal: 15, measured: [{FRONT}], sheets: [{{length: 2400, width: 1200}}]}}
  thin: {{nominal: 12, measured: [{SIDE}], sheets: [{{length: 2400, width: 1200}}]}}
boxes:
  - name: Scores
    joint: {{kind: finger, finger: 9.5, kerf: 3.1}}
    outer: {{width: {WIDTH}, depth: {DEPTH}, height: {HEIGHT}}}
    box: {{all: birch, sides: thin}}
    bottom: {{stock: thin, style: slid}}
  - name: Stands
    joint: {{kind: finger, finger: 12}}
    outer: {{width: {WIDTH}, depth: {DEPTH}, height: {HEIGHT}}}
    box: {{all: birch}}
  - name: Reeds
    joint: {{kind: rebate, depth: 9}}
    lip: 6
    front_height: 120
    outer: {{width: {WIDTH}, depth: {DEPTH}, height: {HEIGHT}}}
    box: {{all: birch, sides: thin}}
  - name: Chest
    outer: {{width: {WIDTH}, depth: {DEPTH}, height: {HEIGHT}}}
    box: {{all: birch}}
"""


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(JOB), time_limit=2.0)


def test_a_job_without_a_cutter_is_summed_up_by_its_own_figures() -> None:
    """No heading over nothing, and what is set: fingers of 12 mm make a pitch of 24 mm; one jig, one rebate."""
    head, _scores, stands, reeds, _chest = JOB.replace(CUTTER, "").split("  - name: ")
    alone = plan_job(read_job("  - name: ".join((head, stands, reeds))), time_limit=1.0)
    text = io.StringIO()
    print_summary(alone, Console(file=text, width=200, highlight=False, markup=False))
    told = text.getvalue()
    for empty in ("bit height", "Fence positions", "Measure on the test cut", "part by part", "0 router"):
        assert empty not in told.replace("bit height for", ""), empty
    assert re.search(r"jig pitch +24\.0", told)
    assert re.search(r"bit or blade height +9\.0", told)
    assert alone.setups >= 1
    assert f"{alone.setups} set-up" in told
    first = page_texts(plan_packet(alone, plan_drawings(alone)))[0]
    assert "Set-ups" in first
    assert "Router set-ups" not in first


def test_cautions_are_those_of_the_joints_that_are_cut(plan: JobPlan) -> None:
    """Fingers are cut piece by piece: to forbid that helps nobody. Beside a cutter's bands both are said."""
    head, _scores, stands, _reeds, _chest = JOB.replace(CUTTER, "").split("  - name: ")
    alone = plan_job(read_job("  - name: ".join((head, stands))), time_limit=1.0)
    said, beside = " ".join(alone.cautions), " ".join(plan.cautions)
    assert "Never rout a piece on its own" not in said
    for words in (said, beside):
        assert words.count("Clamp each in a jig or carrier") == 1
        assert "the guard over it" in words
    assert "Never rout a piece on its own" in beside


def lengths(plan: JobPlan, drawer: str) -> dict[PartKind, float]:
    return {part.kind: part.length for part in plan.parts if part.drawer == drawer}


def test_fingers_need_stock_as_long_as_the_drawer(plan: JobPlan) -> None:
    found = lengths(plan, "Scores")
    assert found[PartKind.LEFT] == found[PartKind.RIGHT] == pytest.approx(DEPTH)
    assert found[PartKind.FRONT] == found[PartKind.BACK] == pytest.approx(WIDTH)


def test_a_rebate_shortens_the_sides_by_what_is_left_of_front_and_back(plan: JobPlan) -> None:
    found = lengths(plan, "Reeds")
    assert found[PartKind.LEFT] == pytest.approx(DEPTH - 2 * (FRONT - 9))
    assert found[PartKind.FRONT] == pytest.approx(WIDTH + 2 * 6)


def test_the_solids_of_every_drawer_share_no_wood_and_fill_its_corners(plan: JobPlan) -> None:
    for drawer in plan.draft.assembled:
        solids = [part for part in drawer_solids(drawer, plan.draft.made) if part.kind is not PartKind.BOTTOM]
        shared = [(one.solid ^ other.solid).volume() for one, other in combinations(solids, 2)]
        assert shared == pytest.approx([0.0] * len(shared), abs=1e-5), drawer.box.name
    stands = next(drawer for drawer in plan.draft.assembled if drawer.box.name == "Stands")
    solids = drawer_solids(stands, plan.draft.made)
    wood = manifold3d.Manifold.batch_boolean([part.solid for part in solids], manifold3d.OpType.Add)
    around = WIDTH * DEPTH - (WIDTH - 2 * FRONT) * (DEPTH - 2 * FRONT)
    # 104.5 in fingers of 12: seven between two ends, so four fingers of each side's end with 0.05 at either flank.
    daylight = 4 * 4 * 2 * 0.05 * FRONT * FRONT
    assert wood.volume() == pytest.approx(around * HEIGHT - daylight, rel=1e-9)


def test_a_low_back_has_fingers_only_where_it_stands(plan: JobPlan) -> None:
    """Under a back that a bottom slides in under, the sides' ends stay whole, but for the groove in their inside."""
    scores = next(drawer for drawer in plan.draft.assembled if drawer.box.name == "Scores")
    below = scores[PartKind.BACK].bounds[0][2]
    assert below > 10
    (side,) = (part for part in drawer_solids(scores, plan.draft.made) if part.kind is PartKind.LEFT)
    back = manifold3d.Manifold.cube((SIDE - 6, FRONT, below)).translate((0.0, DEPTH - 2 * FRONT, 0.0))
    assert (side.solid ^ back).volume() == pytest.approx(back.volume())


def test_each_jig_is_set_once_and_the_work_is_in_order(plan: JobPlan) -> None:
    """Rebates are cut on the edges of bands, each width at its own setting, before the bands are ripped; fingers differ
    along the edge, so they are cut in the parts."""
    steps = plan.run.steps
    titles = [title for title, _ in groupby(step.title for step in steps)]
    made = [
        *(["Set up for the rebates", "Cut the rebates"] * 2),
        "Rip the bands at 120.0 mm",
        "Set up the finger jig",
        "Cut the fingers",
        "Drill for pins",
    ]
    assert [title for title in titles if title in made] == made
    cut = [step for step in steps if step.title == "Cut the rebates"]
    for step, width, part in zip(
        cut, ("18.10 mm wide", "12.10 mm wide"), ("Reeds front", "Reeds back"), strict=True
    ):
        said = " ".join(step.lines)
        assert width in said
        assert part in said
    (setting,) = (step for step in steps if step.title == "Set up the finger jig")
    rates = plan.job.rates
    # The low back of one drawer has a row of its own, at the same jig: two finger widths, two jigs.
    assert setting.minutes == pytest.approx(2 * (rates.router_setting + rates.test_cut))
    said = " ".join(setting.lines)
    assert "pitch 19.00 mm" in said
    assert "pitch 24.00 mm" in said


def test_the_work_can_be_carried_out(plan: JobPlan) -> None:
    work = [item for step in plan.run.steps for item in step.work]
    shop = VirtualShop(plan.job.sheet_sizes, kerf=plan.job.saw.kerf, table=plan.job.table)
    shop.carry_out(work)
    shop.clear_up()
    assert faults(plan, shop) == []


def test_fronts_and_backs_that_are_rebated_alike_share_a_band() -> None:
    """Two flush drawers of one width: their fronts and backs are cut alike at both ends, so they share bands; their
    sides' ends stay square, so they leave the saw by themselves. A band has two edges, and each takes two passes; piece
    by piece there would be sixteen."""
    head, *_rest = JOB.replace(CUTTER, "").split("  - name: ")
    box = "  - {{name: {}, joint: {{kind: rebate, depth: 9}}, outer: {{width: 420, depth: 310, height: 104.5}}, "
    boxes = "".join(box.format(name) + "box: {all: birch}}\n" for name in ("A", "B"))
    found = plan_job(read_job(head + boxes), time_limit=1.0)
    (stock,) = found.stocks
    (family,) = stock.blanks.families
    assert sorted(part.label for part in family.parts) == ["A back", "A front", "B back", "B front"]
    assert {part.kind for part in found.parts if part.is_loose} == {PartKind.LEFT, PartKind.RIGHT}
    (cut,) = (work for step in found.run.steps for work in step.work if isinstance(work, CutBandEdges))
    assert cut.figures == (9.0, FRONT)
    assert cut.passes == 2 * 2 * len(cut.bands) < 16
    strips = sum(len(band.parts) for band in cut.bands)
    assert strips == 4
    assert cut.metres == pytest.approx(4 * sum(band.placed.width for band in cut.bands) / 1000)
    assert cut.metres > 4 * strips * 104.5 / 1000
    assert WorkTaken.of(found).metres == pytest.approx(cut.metres)


def test_set_ups_at_the_bench_are_counted_under_their_own_name(plan: JobPlan) -> None:
    """Red before: only the router table's were in the plan's data. Two finger widths, a rebate under a lip and one
    without."""
    run = plan_report(plan)["run"]
    assert run["bench_setups"] == 4
    assert run["router_setups"] == len(plan.run.setups)
    assert day_data(plan)["bench_setups"] == 4
    assert plan.setups == run["router_setups"] + 4


def test_a_drawer_too_low_for_its_fingers_is_told_and_the_rest_is_planned() -> None:
    low = JOB.replace("finger: 12}", "finger: 60}")
    found = plan_job(read_job(low), time_limit=1.0)
    (finding,) = (finding for finding in found.findings if finding.code == "no-room-for-fingers")
    assert finding.stops
    assert finding.drawers == ("Stands",)
    assert "need an edge of 120 mm or more" in finding.text
    assert plan_report(found)["plain_corners"]
    stands = next(drawer for drawer in found.draft.assembled if drawer.box.name == "Stands")
    assert len(drawer_solids(stands, found.draft.made)) == 4


def test_the_packet_has_a_card_for_every_bench_corner(plan: JobPlan) -> None:
    drawings = plan_drawings(plan)
    assert {"jig-1", "jig-2"} <= drawings.keys()
    assert not {"jig-3", "jig-4"} & drawings.keys()  # a rebate needs no jig
    cards = {page for page in page_texts(plan_packet(plan, drawings)) if "You read" in page}
    assert sum(page.count("You read") for page in cards) == 4  # two that are short share a page
    (scores,) = (card for card in cards if "9.55 mm" in card)
    assert "104.5 mm" in scores
    assert "82.2 mm" in scores  # the back, lower by the groove's upper edge of 22.3
    (front,) = (card for card in cards if "lip 6.0 mm" in card)
    assert "18.10 mm" in front  # the side's 12.1 and the lip


def test_measures_of_a_joint_are_in_the_unit_of_the_file() -> None:
    """Red before: 3/8 in a file in inches was taken for millimetres."""
    inches = """
format: 1
units: in
job: Score chest
stock: {birch: {nominal: 0.5, measured: [0.48], sheets: [{length: 96, width: 48}]}}
boxes:
  - name: A
    joint: {kind: finger, finger: 3/8, kerf: 0.125}
    outer: {width: 16, depth: 12, height: 4}
    box: {all: birch}
  - {name: B, joint: {kind: rebate, depth: 8 mm}, outer: {width: 16, depth: 12, height: 4}, box: {all: birch}}
"""
    fingers, rebate = (box.corners[0].key.measures for box in read_job(inches).boxes)
    assert dict(fingers) == pytest.approx({"finger": 9.525, "kerf": 3.175})
    assert dict(rebate) == {"depth": 8.0}


def test_findings_name_the_drawers(plan: JobPlan) -> None:
    found = {(finding.code, finding.drawers) for finding in plan.findings}
    assert ("uneven-end-fingers", ("Stands",)) in found
    assert not [1 for code, drawers in found if code == "fingers-under-a-lip"]


def test_the_plan_tells_the_row_to_other_programs(plan: JobPlan) -> None:
    corners = plan_report(plan)["plain_corners"]
    rows = [corner for corner in corners if corner["key"].get("measures") == {"finger": 9.5, "kerf": 3.1}]
    assert rows
    edges = [edge for corner in rows for edge in corner["edges"]]
    assert {edge["jig_pitch"] for edge in edges} == {19.0}
    assert all(sum(edge["widths"]) == pytest.approx(edge["height"]) for edge in edges)
    assert len({edge["height"] for edge in edges}) == 2  # sides and front are higher than the back
