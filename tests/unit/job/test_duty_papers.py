"""What plan.json and the packet say of weights, bottoms and movement is what the rooms below say."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.seasons import across_movement
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.duty_data import duty_data
from drawerwright.job.papers.duty_tables import duty_tables
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.pictures.duty_pictures import carried_drawers
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.strength.drawer_load import DrawerLoad

TRAYS = """
format: 1
job: trays
cutter: {kind: drawer-lock, mid_depth: 5.65, step: 3.45, slope: 55}
stock:
  beech: {panel: solid, species: European beech, nominal: 15, mean: 15, sheets: [{length: 2000, width: 300}]}
  ply: {panel: birch-plywood, nominal: 6.5, mean: 6.4, sheets: [{length: 1500, width: 1500}]}
boxes:
  - name: Tray
    count: 3
    outer: {width: 400, depth: 300, height: 100}
    box: {all: beech}
    bottom: {stock: ply}
    load: 6
  - name: Silent
    outer: {width: 300, depth: 300, height: 100}
    box: {all: ply}
"""


@pytest.fixture(scope="module")
def draft() -> JobDraft:
    return draft_job(read_job(TRAYS))


def test_a_drawer_as_data(draft: JobDraft) -> None:
    tray, *_, silent = draft.assembled
    data = duty_data(tray, draft.job)
    load = DrawerLoad(tray)
    assert data["weight"]["full"] == round((load.full or 0), 2) == round(load.empty + 6, 2)
    assert sum(data["weight"]["parts"].values()) == pytest.approx(load.empty, abs=0.05)
    assert data["bottom_under_load"]["deflection"] < data["bottom_under_load"]["limit"]
    assert data["bottom_under_load"]["ok"] is True
    assert (data["climate"], data["climate_is_assumed"]) == ("heated-room", True)
    quiet = duty_data(silent, draft.job)
    assert quiet["weight"]["contents"] is None
    assert quiet["bottom_under_load"] is None


def test_every_part_that_moves_is_told_once(draft: JobDraft) -> None:
    tray = draft.assembled[0]
    moves = duty_data(tray, draft.job)["movement"]
    places = [(each["part"], each["size"]) for each in moves]
    assert len(places) == len(set(places))
    front = next(each for each in moves if (each["part"], each["size"]) == ("Tray 1 front", "height"))
    beech = across_movement(draft.job.stock["beech"], 100, tray.box.duty.climate)
    assert beech is not None
    assert front["at_damp"] == pytest.approx(beech.at_damp, abs=1e-3)
    assert front["provenance"] == "memory"
    assert not [place for place in places if place == ("Tray 1 front", "width")]  # along its grain


def test_the_packet_has_a_row_for_alike_drawers(draft: JobDraft) -> None:
    weights, joints, movement = duty_tables(draft, PaperLengths(draft.job.style))
    assert [row[0] for row in weights.rows] == ["Tray 1–3"]
    assert weights.rows[0][2] == "6 kg"
    assert joints.rows[0][:4] == ("Tray 1–3", "daily use", "6 kg", "drawer lock")
    assert joints.rows[0][4] == "drawer lock: strong enough for daily use."
    assert "no drawer was tested" in weights.note
    assert "from memory" in weights.note
    assert [row[:2] for row in movement.rows] == [("Tray 1–3", "front"), ("Tray 1–3", "sides")]
    assert "today assumed at 8.5 %" in movement.rows[0][4]


def test_where_nothing_is_known_there_is_no_table() -> None:
    plain = TRAYS.replace("    load: 6\n", "").replace("{all: beech}", "{all: ply}")
    draft = draft_job(read_job(plain))
    assert duty_tables(draft, PaperLengths(draft.job.style)) == ()


def test_the_screen_has_a_picture_for_alike_drawers(draft: JobDraft) -> None:
    (trays,) = carried_drawers(draft, draft.job.style)
    assert trays.names == "Tray 1–3"
    assert trays.weights.endswith("with what lies in it")
    # Beech moves by 0.41 % of its width for a percent of moisture (DIN 68100): 100 × 0.0041 × (10.9 - 6.2) = 1.9.
    assert trays.moves_most == "wood moves by up to 1.9 mm over the year"
    assert "sags" in trays.picture
    assert trays.moves[0].startswith("front, 100 mm today: ")
    assert trays.moisture == "heated room: 6.2 to 10.9 % moisture, today assumed at 8.5 %"
    assert "from memory" in trays.sources


def test_bays_of_one_width_carry_alike_whatever_their_last_bit() -> None:
    """The outer bays of the bench in inches are one size; where they stand leaves their widths unlike by 1e-13 mm."""
    bench = (Path(__file__).parents[3] / "examples" / "repair-bench.yaml").read_text("utf-8")
    filled = bench.replace("    runner: bench slide\n", "    runner: bench slide\n    contents: tools\n")
    carried = carried_drawers(draft_job(read_job(filled)), LengthStyle("in"))
    assert [each.names for each in carried] == [f"A{n}, B{n}" for n in range(1, 7)] + [
        "C1, D1",
        "C2, D2",
        "C3, D3",
    ]
