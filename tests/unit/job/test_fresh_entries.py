"""New entries of a job file: what they begin with."""

from __future__ import annotations

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import skeleton
from drawerwright.job.file.fresh_entries import next_item, with_section
from drawerwright.job.file.reading import entries_of
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.web.fields.job_text import data_of


def test_a_new_row_has_a_name_that_no_counted_drawer_has() -> None:
    """Three trays are called tray 1 to tray 3: the next entry, like it but for its name, must be none of them."""
    trays = {"name": "tray", "count": 3}
    assert next_item("boxes", [trays], {}) == {"name": "tray 4", "count": 3}
    assert next_item("boxes", [trays, {"name": "tray 4"}], {})["name"] == "tray 5"
    assert next_item("boxes", [{"name": "tray", "count": "three"}], {})["name"] == "tray 2"


@pytest.mark.parametrize("name", ["banks", "boxes"])
def test_a_new_bank_or_box_has_a_bottom(name: str) -> None:
    """As the job that a new woodworker begins with has one: of the stock for bottoms, captured as nothing is said."""
    data = data_of(skeleton(LengthStyle()))
    assert next_item(name, [], data)["bottom"] == data["banks"][0]["bottom"] == {"stock": "bottom panel"}


@pytest.mark.parametrize("name", ["banks", "boxes"])
def test_a_new_bottom_is_of_the_stock_that_is_bottoms_already_or_of_the_thinnest(name: str) -> None:
    stock = {"ash15": {"nominal": 15}, "oak": {"nominal": "20 mm"}, "ply": {"nominal": "1/4 in"}, "odd": None}
    assert next_item(name, [], {"stock": stock})["bottom"] == {"stock": "ply"}
    used = {"stock": stock, "banks": [{"bottom": {"stock": "oak"}}, {"bottom": {"stock": "gone"}}]}
    assert next_item("boxes", [], used)["bottom"] == {"stock": "oak"}
    assert "bottom" not in next_item(name, [], {"stock": {"ash15": {"nominal": 15}}})


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_dividers_begin_alike_with_their_carcase_and_by_themselves(unit: str) -> None:
    carcase = next_item("openings", [], {"units": unit})
    alone = with_section(f"units: {unit}\n", ("openings", 0, "dividers"), is_wanted=True)
    assert carcase["dividers"] == entries_of(alone)["openings"][0]["dividers"]


def test_the_first_divided_carcase_is_the_one_that_the_job_has() -> None:
    """The last bank that has an opening of its own; a part of a divided one has no sizes to begin with."""
    sizes = {"width": "25 1/2 in", "height": 700, "depth": 480}
    whole = {"name": "Bench", "opening": {**sizes, "out_of_square": 2}}
    part = {"name": "Left", "opening": {"of": "Desk", "column": 1, "row": 1}}
    carcase = next_item("openings", [], {"banks": [whole, part, {"name": "odd"}]})
    assert carcase["opening"] == sizes
    assert next_item("openings", [], {"banks": [part]})["opening"] == next_item("openings", [], {})["opening"]


@pytest.mark.parametrize(
    "items", [[], [{"length": 800, "width": 300, "on_hand": 2, "label": "beside the saw"}]]
)
def test_a_new_offcut_is_in_no_plan_before_it_is_counted(items: list[dict[str, object]]) -> None:
    """Its size is nobody's yet."""
    assert next_item("offcuts", items, {})["on_hand"] == 0
    assert "on_hand" not in next_item("sheets", items, {})


JOB_IN_USUAL_STOCK = """\
format: 1
job: Under-mounted
units: {unit}
cutter: {{mid_depth: 5.65 mm, step: 3.45 mm, diameter: 40 mm}}
machine: {{saw: {{kerf: 3 mm}}}}
stock:
  side: {{nominal: {side}, measured: [[{side}]], sheets: [{{length: 2500 mm, width: 1250 mm}}]}}
  ply: {{nominal: {bottom}, measured: [[{bottom}]], sheets: [{{length: 2500 mm, width: 1250 mm}}]}}
banks:
  - name: bank
    opening: {{width: 500 mm, height: 600 mm, depth: 500 mm}}
    fronts: {{style: applied, heights: {{equal: 4}}, stock: side}}
    runner: {{kind: under-mounted}}
    box: {{all: side}}
    bottom: {{stock: ply}}
"""


@pytest.mark.parametrize(("unit", "side", "bottom"), [("mm", 15, 6.5), ("in", 0.5, 0.24)])
def test_a_fresh_runner_sheet_suits_a_usual_box(unit: str, side: float, bottom: float) -> None:
    """Its hooks, notches and locking devices clear the groove of a usual bottom, as high as the runner needs it."""
    text = JOB_IN_USUAL_STOCK.format(unit=unit, side=side, bottom=bottom)
    for section in ("notch", "bore", "locking"):
        text = with_section(text, ("banks", 0, "runner", section), is_wanted=True)
    draft = draft_job(read_job(text))
    assert draft.assembled[0].placed[1].part.holes
    about_runners = {
        "hook-hole-in-groove",
        "hook-hole-outside",
        "runner-room-taken",
        "back-not-notched",
        "bottom-too-low",
    }
    assert not about_runners & {finding.code for finding in draft_findings(draft)}
