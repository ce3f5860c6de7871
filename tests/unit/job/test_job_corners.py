"""The corners of a job: which are one, what they are called, and that each has its own odds."""

from __future__ import annotations

import itertools
import math
from statistics import NormalDist

import pytest

from drawerwright.basics.phrases import plain
from drawerwright.drawers.parts import Role
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_data import plan_report
from drawerwright.job.planning.corner_strengths import job_strengths
from drawerwright.job.planning.corners import corner_called, corners_of, plain_corners_of
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.first_cut_odds import job_odds
from drawerwright.job.planning.job_plan import plan_job

SHEETS = "sheets: [{length: 2500, width: 1250}]"
TWO_STOCKS = f"""
format: 1
job: two stocks
cutter: {{name: lock cutter, mid_depth: 5.4 ± 0.05, step: 3.7 ± 0.03, slope: 50}}
machine: {{router_table: {{height_gauge_offset: 0 ± 0, fence_gauge_offset: 0 ± 0, repeatability: 0.03}}, calipers: 0}}
stock:
  ash15: {{nominal: 15, measured: [[14.6, 14.6, 14.6]], {SHEETS}}}
  beech15: {{nominal: 15, measured: [[14.4, 14.6, 14.8]], {SHEETS}}}
  oak12: {{nominal: 12, measured: [[12.1, 12.1]], {SHEETS}}}
boxes:
  - name: music
    outer: {{width: 320, depth: 260, height: 80}}
    lip: 6
    box: {{all: ash15}}
  - name: strings
    outer: {{width: 320, depth: 260, height: 80}}
    lip: 6
    box: {{all: beech15}}
"""


def names(text: str) -> list[str]:
    return [corner.name for corner in corners_of(read_job(text))]


def test_two_stocks_make_two_corners_that_are_called_by_them() -> None:
    assert names(TWO_STOCKS) == [
        "front corner, lip 6.0 mm, ash15",
        "back corner, flush, ash15",
        "front corner, lip 6.0 mm, beech15",
        "back corner, flush, beech15",
    ]
    assert [corner.drawers for corner in corners_of(read_job(TWO_STOCKS))] == [
        ("music",),
        ("music",),
        ("strings",),
        ("strings",),
    ]


def test_only_what_reads_alike_is_called_by_its_stock() -> None:
    assert names(TWO_STOCKS.replace("{all: beech15}", "{all: ash15}")) == [
        "front corner, lip 6.0 mm",
        "back corner, flush",
    ]
    mixed = TWO_STOCKS.replace("{all: beech15}", "{all: ash15, front: beech15}")
    assert names(mixed) == [
        "front corner, lip 6.0 mm, ash15",
        "back corner, flush",
        "front corner, lip 6.0 mm, beech15 + ash15",
    ]


@pytest.mark.parametrize(
    ("lip", "said"), [("6.04", ("6.00", "6.04")), ("6.004", ("6.000", "6.004")), ("6.6", ("6.0", "6.6"))]
)
def test_lips_are_called_as_fine_as_it_takes(lip: str, said: tuple[str, str]) -> None:
    text = TWO_STOCKS.replace(
        "    lip: 6\n    box: {all: beech15}", f"    lip: {lip}\n    box: {{all: ash15}}"
    )
    fronts = [name for name in names(text) if name.startswith("front")]
    assert fronts == [f"front corner, lip {each} mm" for each in said]


def test_the_way_round_is_said_where_nothing_else_differs() -> None:
    text = TWO_STOCKS.replace("lip: 6\n", "lip: 0\n").replace(
        "{all: beech15}", "{all: ash15}\n    orientation: sides-flat"
    )
    assert names(text) == [
        "front and back corner, flush, fronts flat",
        "front and back corner, flush, sides flat",
    ]


def test_corners_at_both_ends_are_called_alike_whichever_end_comes_first() -> None:
    """The lipped box has the ash corner at its back alone, the flush box at both ends; the beech box at both."""
    flush = TWO_STOCKS.replace("    lip: 6\n    box: {all: beech15}", "    box: {all: beech15}") + (
        "  - name: brass\n    outer: {width: 320, depth: 260, height: 80}\n    box: {all: ash15}\n"
    )
    assert names(flush) == [
        "front corner, lip 6.0 mm",
        "front and back corner, flush, ash15",
        "front and back corner, flush, beech15",
    ]


@pytest.mark.parametrize("tries", [50, 400])
def test_no_more_joints_come_out_right_than_the_least_sure_of_them(tries: int) -> None:
    """Few draws are far off; all of them together hang on one height, so their odds of a fit are those of one."""
    odds = job_odds(draft_job(read_job(TWO_STOCKS)), tries=tries)
    for figure in ("closes", "fits", "flush", "both"):
        for setting in ("odds", "aimed"):
            least = min(getattr(getattr(joint, setting), figure) for _, joint in odds.corners)
            assert getattr(getattr(odds.whole, setting), figure) <= least


def test_names_are_read_back_as_they_were_kept() -> None:
    for name in [
        *names(TWO_STOCKS),
        "front corner, lip 6.04 mm",
        "back corner, flush",
        "front corner, lip tall",
        "somebody's own, flush",
    ]:
        assert corner_called(name) == name


def test_stocks_of_one_mean_and_other_spread_have_odds_of_their_own() -> None:
    draft = draft_job(read_job(TWO_STOCKS))
    ash, beech = (corner for corner in draft.corners if corner.name.startswith("back"))
    assert ash.setting == beech.setting
    odds = job_odds(draft, tries=4000)
    assert odds.of(ash.key).corner.flat.scatter == 0.0
    assert odds.of(beech.key).corner.flat.scatter == pytest.approx(0.2)
    # Right within 0.1 mm. One fence setting counts twice, the step once, and beech its mean and its place as well:
    # independent normal errors, whose variances add up (JCGM 100:2008, 5.1.2).
    shared = (2 * 0.03) ** 2 + 0.03**2
    for corner, variance in ((ash, shared), (beech, shared + 0.2**2 / 3 + 0.2**2)):
        lip = NormalDist(corner.setting.lip, math.sqrt(variance))
        # Of the corners that go home: what stands proud has less lip than that.
        joint = odds.of(corner.key).odds
        assert joint.both / joint.fits == pytest.approx(lip.cdf(0.1) - lip.cdf(-0.1), abs=0.001)


def test_each_end_and_each_set_up_has_the_corner_of_its_own_stock() -> None:
    plan = plan_job(read_job(TWO_STOCKS))
    for part in plan.parts:
        for index, end in enumerate(part.ends):
            assert {end.corner.flat, end.corner.upright} == {part.stock.name}
            number = plan.setup_of_end(part, index)
            assert number is not None
            assert end.corner in plan.run.setups[number - 1].corners
    # What is set alike is cut at one visit, whatever its stock.
    places = [(setup.bit_height, setup.fence) for setup in plan.run.setups]
    assert all(
        abs(one[0] - other[0]) > 0.004 or abs(one[1] - other[1]) > 0.004
        for one, other in itertools.combinations(places, 2)
    )
    assert {key for setup in plan.run.setups for key in setup.corners} == set(plan.draft.settings)


def test_sides_that_are_cut_alike_share_a_band_whatever_stock_their_fronts_are_of() -> None:
    """Both fronts are 14.6 mm thick as measured, so the sides are as long and go past the cutter at one setting."""
    text = TWO_STOCKS.replace("lip: 6\n", "lip: 0\n").replace(
        "{all: beech15}", "{all: ash15, front: beech15}"
    )
    draft = draft_job(read_job(text))
    (sides,) = (
        family
        for blanks in draft.blanks
        for family in blanks.families
        if family.role is Role.UPRIGHT and blanks.stock.name == "ash15"
    )
    assert {part.drawer for part in sides.parts} == {"music", "strings"}
    assert {end.corner.flat for end in sides.edges[0]} == {"ash15", "beech15"}
    assert sides.marked is None
    (setup,) = plan_job(read_job(text)).run.setups
    assert {key.flat for key in setup.corners} == {"ash15", "beech15"}


def test_the_data_of_a_plan_tell_corners_by_their_names_and_keys() -> None:
    data = plan_report(plan_job(read_job(TWO_STOCKS)))
    by_name = {corner["name"]: corner["key"] for corner in data["settings"]}
    assert len(by_name) == 4
    for part in data["parts"]:
        for end in part["ends"]:
            assert {by_name[end["corner"]]["flat"], by_name[end["corner"]]["upright"]} == {part["stock"]}
    told = {reading["corner"] for setup in data["run"]["setups"] for reading in setup["expected_readings"]}
    assert told == set(by_name)
    assert {corner["name"] for corner in data["first_cut"]["corners"]} == set(by_name)


def test_corners_that_differ_in_their_fingers_name_their_joint_once() -> None:
    """Two measures of one kind of joint: their names read alike, and said the joint twice."""
    job = read_job(
        """
format: 1
job: Tool trays
stock: {ash: {nominal: 15, measured: [15.2], panel: solid, species: ash, sheets: [{length: 2400, width: 1200}]}}
boxes:
  - {name: Tray, joint: {kind: finger, finger: 12}, outer: {width: 500, depth: 450, height: 142}, box: {all: ash}}
  - {name: Case, joint: rebate, outer: {width: 500, depth: 450, height: 142}, box: {all: ash}}
"""
    )
    assert [plain(corner.name) for corner in plain_corners_of(job)] == [
        "front and back corner, flush, finger joint",
        "front and back corner, flush, rebate",
    ]


def test_strengths_of_a_front_with_unequal_lips_say_which_side_is_meant() -> None:
    plywood = TWO_STOCKS.replace("{nominal", "{panel: birch-plywood, nominal")
    strengths = job_strengths(draft_job(read_job(plywood.replace("lip: 6", "lip: 8\n    lip_right: 5", 1))))
    assert len(strengths.joints) == len(strengths.data["drawers"][0]["joints"]) + 2
    assert [str(joint.at) for joint in strengths.joints if joint.drawer == "music"] == [
        "front, at the left side",
        "front, at the right side",
        "back",
    ]
