"""Trays inside another drawer. Figures are ours: the drawer is 374 wide and 500 deep over all, its wood 15 thick."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.drawings.chest_marks import ChestMark
from drawerwright.drawings.elevation import draw_elevation
from drawerwright.drawings.scene import Ink, Path, Text
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.plan_views import chest_front
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.strength.drawer_load import DrawerLoad

TEXT = """\
format: 1
job: Desk
cutter: {mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 15, measured: [[15]], sheets: [{length: 2500, width: 1250}]}
  thin: {nominal: 6, measured: [[6]], sheets: [{length: 2500, width: 1250}]}
banks:
  - name: Desk
    opening: {width: 400, height: 320, depth: 500}
    fronts: {style: applied, stock: ply, heights: {equal: 2}, overlay: {sides: 12, top: 12, bottom: 12}}
    runner: {kind: side-mounted, side: 13, back: 0}
    box: {all: ply}
    bottom: {style: captured, stock: thin, groove_height: 10}
    side_height: 110
boxes:
  - {name: Pens, inside: A1, outer: {height: 60}, box: {all: ply}}
"""


def codes(text: str) -> dict[str, str]:
    return {found.code: f"{found.text} {found.remedy}" for found in draft_findings(draft_job(read_job(text)))}


def test_a_tray_fills_its_drawer_less_its_clearance() -> None:
    """344 by 470 inside; 2 less each way, or what is said; one size may be stated."""
    (tray,) = read_job(TEXT).boxes
    assert (tray.width, tray.depth, tray.height, tray.inside) == (342, 468, 60, "A1")
    (tray,) = read_job(TEXT.replace("inside: A1", "inside: A1, tray_clearance: 4")).boxes
    assert (tray.width, tray.depth) == (340, 466)
    (tray,) = read_job(TEXT.replace("{height: 60}", "{height: 60, depth: 230}")).boxes
    assert (tray.width, tray.depth) == (342, 230)


def test_a_tray_may_lie_in_a_box_above_it() -> None:
    text = TEXT + "  - {name: Nibs, inside: Pens, outer: {height: 30}, box: {all: ply}}\n"
    assert [(box.name, box.width) for box in read_job(text).boxes] == [("Pens", 342), ("Nibs", 342 - 30 - 2)]


def test_what_does_not_go_in_is_said() -> None:
    """Over the bottom (10 + 6) the sides of 110 leave 94."""
    assert not {"tray-too-large", "tray-too-high"} & set(codes(TEXT))
    wide = codes(TEXT.replace("{height: 60}", "{height: 60, width: 350}"))["tray-too-large"]
    assert "it is 350.0 mm wide, A1 is 344.0 mm inside" in wide
    high = codes(TEXT.replace("{height: 60}", "{height: 100}"))["tray-too-high"]
    assert "stands 6.0 mm above the sides of A1" in high
    assert "at most 94.0 mm high" in high


def test_the_elevation_shows_it_on_the_bottom_of_its_drawer() -> None:
    job = read_job(TEXT)
    bank, drawers = job.banks[0].bank, draft_job(job).assembled
    drawn = [draw_elevation(bank, drawers, trays=trays) for trays in ((), job.boxes)]
    hidden = [
        {item.points for item in scene.items if isinstance(item, Path) and item.ink is Ink.HIDDEN}
        for scene in drawn
    ]
    (added,) = hidden[1] - hidden[0]
    place = bank.places()[0]
    left, low = (at / drawn[1].scale for at in added[0])
    assert (left, low) == pytest.approx((place.box.x + (374 - 342) / 2, place.box.z + 16))


@pytest.mark.parametrize(
    ("old", "new", "field", "message"),
    [
        ("inside: A1", "inside: A9", "boxes[1].inside", "choose from A1, A2"),
        ("inside: A1", "inside: Pens", "boxes[1].inside", "names no drawer that stands before it"),
        ("inside: A1, ", "", "boxes[1].outer.width", "is missing"),
    ],
)
def test_faults_stand_at_their_entry(old: str, new: str, field: str, message: str) -> None:
    with pytest.raises(FaultyInputError) as caught:
        read_job(TEXT.replace(old, new))
    found = {fault.field: fault.message for fault in caught.value.faults}
    assert message in found[field], found


def test_a_faulty_drawer_does_not_make_its_tray_faulty() -> None:
    with pytest.raises(FaultyInputError) as caught:
        read_job(TEXT.replace("box: {all: ply}\n    bottom", "box: {all: oak}\n    bottom"))
    assert [fault.field for fault in caught.value.faults] == ["banks[1].box.all"]


def test_a_tray_is_not_drawn_on_top_of_the_carcase() -> None:
    """It lies in its drawer, a tray in it too: what is marked of them is marked at the drawer."""
    job = read_job(TEXT + "  - {name: Nibs, inside: Pens, outer: {height: 30}, box: {all: ply}}\n")
    marks = (ChestMark(1, frozenset({"Nibs"})),)
    scene = chest_front(job, job.style, marks=marks, room=(160, 120))
    assert [region.name for region in scene.regions] == ["A1", "A2"]
    assert any(isinstance(item, Text) and item.text == "1" for item in scene.items)


def test_a_tray_counts_in_the_load_of_its_drawer() -> None:
    """A tray of 342 × 468 × 60 in wood of 15, without a bottom, weighs with the 3 kg in it on the drawer's own 10 kg;
    one in that tray on both. Its walls by the sizes of its parts, at the density of its panel."""
    text = TEXT.replace("box: {all: ply}}\n", "box: {all: ply}, load: 3 kg}\n").replace(
        "    side_height: 110\n", "    side_height: 110\n    load: 10 kg\n"
    )
    drawers = {drawer.box.name: DrawerLoad(drawer) for drawer in draft_job(read_job(text)).assembled}
    empty = drawers["Pens"].empty
    assert 0.5 < empty < 2.0
    assert drawers["A1"].contents == pytest.approx(13 + empty, abs=1e-3)
    assert drawers["A2"].contents == 10

    deeper = text + "  - {name: Nibs, inside: Pens, outer: {height: 30}, box: {all: ply}}\n"
    inner = {drawer.box.name: DrawerLoad(drawer) for drawer in draft_job(read_job(deeper)).assembled}
    assert inner["Pens"].contents == pytest.approx(3 + inner["Nibs"].empty, abs=1e-3)
    assert inner["A1"].contents == pytest.approx(13 + empty + inner["Nibs"].empty, abs=1e-3)

    unsaid = draft_job(read_job(TEXT)).assembled
    assert [DrawerLoad(drawer).contents for drawer in unsaid] == [None] * 3


def test_what_fills_a_drawer_fills_what_its_trays_leave() -> None:
    """344 by 470 by 94 over the bottom, less the tray's 342 by 468 by 60; paper of 0.6 kg a litre."""
    text = TEXT.replace("    side_height: 110\n", "    side_height: 110\n    contents: paper\n")
    loads = {drawer.box.name: DrawerLoad(drawer) for drawer in draft_job(read_job(text)).assembled}
    litres = (344 * 470 * 94 - 342 * 468 * 60) / 1e6
    assert loads["A1"].contents == pytest.approx(0.6 * litres + loads["Pens"].empty, abs=1e-3)
