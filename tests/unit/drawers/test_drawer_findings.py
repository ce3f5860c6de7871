"""What is doubtful about a drawer whose front reaches beyond its sides, and about its grooves, part by part."""

from __future__ import annotations

from dataclasses import replace

import pytest
from test_assembly import BOX, CUTTER

from drawerwright.basics.findings import Finding, Severity
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.box import DrawerBox
from drawerwright.drawers.drawer_findings import drawer_findings
from drawerwright.drawers.groove_levels import groove_levels
from drawerwright.joints.corner_key import Orientation
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.plain_joint import ChosenJoint, plain_joint
from drawerwright.wood.thickness import Thickness


def found(box: DrawerBox, code: str, cutter: Cutter = CUTTER) -> list[Finding]:
    drawer = assemble(replace(box, made_by=cutter))
    return [finding for finding in drawer_findings(drawer) if finding.code == code]


@pytest.mark.parametrize(
    ("height", "below", "words"),
    [
        (118, 8, "reaches 6.0 mm above the sides and 8.0 mm below them;"),
        (112, 8, "reaches 8.0 mm below the sides;"),
        (118, 0, "reaches 14.0 mm above the sides;"),
    ],
)
def test_a_front_beyond_the_sides_shows_its_cut_on_both_sides(
    height: float, below: float, words: str
) -> None:
    (finding,) = found(replace(BOX, front_height=height, front_below=below), "front-taller-than-sides")
    assert words in finding.text
    assert "the cut runs its full height" in finding.text


def test_a_front_as_high_as_its_sides_is_not_taller() -> None:
    assert not found(replace(BOX, front_height=104, front_below=0), "front-taller-than-sides")


def test_a_front_between_its_sides_is_open_beside_its_ends() -> None:
    box = replace(BOX, lip=0, orientation=Orientation.SIDES_FLAT)
    (finding,) = found(box, "front-taller-than-sides")
    assert "its ends stand free" in finding.text
    assert "plug" not in finding.remedy


def test_fingers_end_where_the_sides_end() -> None:
    """They are notched over as much as front and side have in common: nothing is left open that could be plugged."""
    box = replace(BOX, lip=0, front_height=118, front_below=0, made_by=ChosenJoint(plain_joint("finger")))
    (finding,) = [f for f in drawer_findings(assemble(box)) if f.code == "front-taller-than-sides"]
    assert finding.text == "the front reaches 14.0 mm above the sides, and its ends stand free there."
    assert "plug" not in finding.remedy


def test_a_low_box_that_stands_alone_has_no_fronts_to_plan() -> None:
    low = assemble(replace(BOX, height=45, front_height=45, front_below=0))
    words = [
        next(f.remedy for f in drawer_findings(low, is_loose=loose) if f.code == "low-box")
        for loose in (True, False)
    ]
    assert ["fewer fronts" in each for each in words] == [False, True]


def test_the_front_has_an_edge_of_its_own() -> None:
    """The sides keep 9 mm below the groove; a front that begins 4 mm higher keeps 5 mm, less than its width."""
    assert not found(BOX, "groove-near-edge")
    (finding,) = found(replace(BOX, front_height=96, front_below=-4), "groove-near-edge")
    assert finding.where == "A1 front"
    assert "only 5.0 mm of wood is left below a groove 6.2 mm wide" in finding.text
    (finding,) = found(replace(BOX, front_height=96, front_below=-12), "groove-outside")
    assert (finding.where, finding.severity) == ("A1 front", Severity.STOP)
    assert "lie -3.0 mm to 3.2 mm above the lower edge of a part only 96.0 mm high" in finding.text


def test_a_low_front_may_end_in_its_groove() -> None:
    (finding,) = found(replace(BOX, front_height=26, front_below=8), "groove-near-edge")
    assert finding.where == "A1 front"
    assert "only 2.8 mm of wood is left above" in finding.text


def test_what_is_so_of_all_walls_is_said_once() -> None:
    box = replace(BOX, front_height=104, front_below=0, bottom=replace(BOX.bottom, groove_height=5))
    (finding,) = found(box, "groove-near-edge")
    assert finding.where == "A1"


def test_only_a_flat_piece_with_a_groove_lets_it_run_out() -> None:
    deep = replace(BOX, bottom=replace(BOX.bottom, groove_depth=11.5))
    assert [each.where for each in found(deep, "groove-shows")] == ["A1 front", "A1 back"]
    slid = replace(deep, bottom=replace(deep.bottom, style=BottomStyle.SLID))
    assert [each.where for each in found(slid, "groove-shows")] == ["A1 front"]
    across = replace(deep, lip=0, orientation=Orientation.SIDES_FLAT)
    assert [each.where for each in found(across, "groove-shows")] == ["A1 left side", "A1 right side"]
    mitre = replace(CUTTER, kind="lock-mitre")
    assert [each.where for each in found(BOX, "groove-shows", mitre)] == ["A1 front", "A1 back"]


def test_two_groove_heights_are_said_with_the_drawers_that_have_them() -> None:
    below = {"A1": 8, "A2": 8, "A3": 8, "A4": 0, "A5": 8, "A6": 12}
    boxes = [replace(BOX, name=name, front_below=reach) for name, reach in below.items()]
    first, last = groove_levels(part for box in boxes for part in assemble(box).parts)
    assert first.drawers == ("A1", "A2", "A3", "A5")
    assert first.words == "Front: groove 17.0 mm above its lower edge; sides: 9.0 mm (A1–A3, A5)"
    assert last.words == "Front: groove 21.0 mm above its lower edge; sides: 9.0 mm (A6)"


@pytest.mark.parametrize("depth", [12.08, 14.0])
def test_a_groove_through_the_wood_stops_the_work_and_is_said_once(depth: float) -> None:
    """No wood is left behind it; beside that, how much should be left where it shows is nothing to read."""
    thin = replace(BOX.side, thickness=Thickness(12, ((12.08,),)))
    bottom = replace(BOX.bottom, groove_depth=depth)
    for box in (
        replace(BOX, front=thin, side=thin, back=thin, bottom=bottom),
        replace(BOX, side=thin, bottom=bottom),
    ):
        said = drawer_findings(assemble(replace(box, made_by=CUTTER)))
        (finding,) = [each for each in said if "groove" in each.code]
        assert (finding.code, finding.severity) == ("groove-through", Severity.STOP)
        assert f"{depth:.2f} mm deep" in finding.text
        assert "12.08 mm thick" in finding.text
        assert "at most 6.0 mm" in finding.remedy


def test_a_back_without_a_groove_limits_none() -> None:
    """A slid bottom passes below the back: a back of 6 mm is not grooved 6 mm deep."""
    thin = replace(BOX.back, thickness=Thickness(6, ((6.0,),)))
    box = replace(BOX, back=thin, bottom=replace(BOX.bottom, style=BottomStyle.SLID, groove_depth=6))
    assert not found(box, "groove-through")
    assert not found(box, "deep-groove")
