"""Bands that tip, are too tall or too narrow to hold, and solid bottoms that cannot move. The rules are common
practice, no source; the tests follow their words with sums of their own."""

from __future__ import annotations

from math import ceil

import pytest

from drawerwright.basics.findings import Finding, Severity
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.entries_concerned import entries_concerned
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.planning.job_plan import plan_job
from drawerwright.web.fields.job_text import data_of

JOB = """
format: 1
job: Boxes
cutter: {mid_depth: 5.65, step: 3.45, diameter: 44, max_speed: 16000}
machine:
  saw: {kerf: 3}
  router_table: {shortest_piece: 150, speeds: [12000]}
stock:
  ash15: {nominal: 15, measured: [15.0], sheets: [{length: 2400, width: 1200}]}
  board: {panel: solid, nominal: 8, measured: [8.0], sheets: [{length: 1200, width: 900}]}
boxes:
  - name: box
    count: 4
    outer: {width: 400, depth: 300, height: 90}
    box: {all: ash15}
"""
"""Sides are 292.6 mm long (300 less twice 15 - 11.3)."""
BOTTOM = "    bottom: {style: captured, stock: board}\n"


def job(*changes: tuple[str, str], bottom: str = "") -> str:
    text = JOB + bottom
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


def found(text: str) -> dict[str, Finding]:
    return {finding.code: finding for finding in draft_findings(draft_job(read_job(text)))}


def planned(text: str) -> dict[str, Finding]:
    return {finding.code: finding for finding in plan_job(read_job(text), time_limit=0.5).findings}


def test_sides_taller_than_twice_the_longest_edge_they_can_stand_on_tip() -> None:
    one = job(("count: 4", "count: 1"), ("height: 90", "height: 60"))
    assert "upright-on-short-foot" not in found(one)  # 292.4 on the least band of 150
    deep = ("depth: 300", "depth: 320")  # 312.4 on 150: two strips of 60 and a kerf are only 123
    finding = found(job(("count: 4", "count: 1"), ("height: 90", "height: 60"), deep))[
        "upright-on-short-foot"
    ]
    assert finding.severity is Severity.WARNING
    assert "312 mm tall stands on an edge only 150 mm long; more than 2 times" in finding.text
    assert finding.drawers == ("box",)
    assert "upright-on-short-foot" not in found(
        job(("height: 90", "height: 60"), deep)
    )  # eight strips: 501 mm


def test_a_plan_names_the_bands_that_tip_and_its_advice_ends_it() -> None:
    """Sheets too narrow for more than one strip of 160 beside another: 330 x 400 takes one side a band.

    Where fewer settings of the saw are an aim, the band would take the waste beside it and be long enough.
    """
    narrow = ("length: 2400, width: 1200", "length: 420, width: 230")
    plain = ("\nboxes:", "\nsheets: {later_aims: [routing]}\nboxes:")
    text = job(("height: 90", "height: 160"), ("depth: 300", "depth: 360"), narrow, plain)
    assert "upright-on-short-foot" not in found(text)
    finding = planned(text)["upright-on-short-foot"]
    assert finding.where.startswith("bands ")
    assert "352 mm tall stands on an edge only 160 mm long" in finding.text
    assert f"shortest safe piece to {ceil(352.6 / 2)} mm" in finding.remedy
    assert set(finding.drawers) == {"box 1", "box 2", "box 3", "box 4"}
    assert "upright-on-short-foot" not in planned(text.replace("shortest_piece: 150", "shortest_piece: 177"))


@pytest.mark.parametrize(
    ("depth", "limit", "severity"),
    [
        (600, None, None),
        (620, None, Severity.WARNING),
        (620, 620, None),
        (640, 620, Severity.STOP),
        (400, 380, Severity.STOP),
    ],
)
def test_bands_too_tall_to_hold_are_found_whether_a_limit_is_given_or_not(
    depth: int, limit: int | None, severity: Severity | None
) -> None:
    said = "" if limit is None else f"tallest_upright: {limit}, "
    text = job(("depth: 300", f"depth: {depth}"), ("shortest_piece: 150", f"{said}shortest_piece: 150"))
    finding = found(text).get("band-too-tall")
    assert (finding.severity if finding else None) is severity
    if severity is Severity.WARNING and finding is not None:
        assert "over 600 mm" in finding.text


def test_bands_that_bring_the_hands_to_the_cutter_are_found() -> None:
    assert "band-too-narrow" not in found(job(("width: 400", "width: 100")))
    finding = found(job(("width: 400", "width: 99")))["band-too-narrow"]
    assert finding.severity is Severity.WARNING
    assert "only 99 mm wide between its routed edges; under 100 mm" in finding.text
    assert finding.where == "box 1–4 front, back"


@pytest.mark.parametrize(
    ("style", "depth", "clearance", "severity"),
    [
        ("captured", 300, 1.5, Severity.WARNING),  # about 282 mm grow by 1.9 mm
        ("captured", 300, 3.0, Severity.NOTE),
        ("captured", 150, 1.5, Severity.NOTE),  # about 132 mm grow by 0.9 mm
        ("fixed", 150, 1.5, Severity.WARNING),
        ("slid", 300, 1.5, None),
    ],
)
def test_a_solid_bottom_that_cannot_move_is_found(
    style: str, depth: int, clearance: float, severity: Severity | None
) -> None:
    text = job(
        ("depth: 300", f"depth: {depth}"),
        ("style: captured, stock: board", f"style: {style}, stock: board, clearance: {clearance}"),
        bottom=BOTTOM,
    )
    codes = {Severity.WARNING: "solid-bottom-cannot-move", Severity.NOTE: "solid-bottom-held"}
    told = {code: finding for code, finding in found(text).items() if code in codes.values()}
    assert list(told) == ([] if severity is None else [codes[severity]])
    assert not set(codes.values()) & set(found(text.replace("panel: solid", "panel: birch-plywood")))
    for finding in told.values():
        assert finding.severity is severity
        assert "heated room: 6.2 to 10.9 % moisture, today assumed at 8.5 %" in finding.text
        assert "species not named: middle of the table: assumed, no source" in finding.text


SHUT_IN = ("width: 900}]}", "width: 900}], species: white ash, moisture: 6}")
"""Drier than any climate makes it: from here white ash only grows."""


def test_grooves_too_shallow_to_hold_and_let_grow_are_not_advised() -> None:
    """Half of 15 mm is 7.5: such grooves let a bottom grow by 5.5 mm and still hold 2; it grows by more."""
    bottom = BOTTOM.replace("stock: board", "stock: board, groove_depth: 6")
    damp = ("format: 1", "format: 1\nclimate: unheated-room")
    told = found(job(SHUT_IN, damp, bottom=bottom))["solid-bottom-cannot-move"]
    assert told.remedy.startswith("Slide it in under the back, or use plywood")
    narrow = found(job(SHUT_IN, damp, ("depth: 300", "depth: 130"), bottom=bottom))[
        "solid-bottom-cannot-move"
    ]
    assert narrow.remedy.startswith("Give it a clearance of at least 3.")
    assert "grooves" not in narrow.remedy


def test_a_bottom_that_only_grows_does_not_shrink_out_of_its_groove() -> None:
    bottom = BOTTOM.replace("stock: board", "stock: board, groove_depth: 6, clearance: 5")
    told = found(job(SHUT_IN, bottom=bottom))["bottom-leaves-groove"]
    assert told.text.startswith(
        "with a clearance of 5 mm a bottom that is pushed to one side reaches only 1.0 mm"
    )
    assert "grooves at least 7.0 mm deep" in told.remedy
    followed = bottom.replace("groove_depth: 6", "groove_depth: 7")
    assert "bottom-leaves-groove" not in found(job(SHUT_IN, bottom=followed))


def test_a_groove_as_deep_as_is_advised_is_not_too_deep() -> None:
    """Half of 15.7 mm is 7.85."""
    odd = ("measured: [15.0]", "measured: [15.7]")
    bottom = BOTTOM.replace("stock: board", "stock: board, groove_depth: 8")
    assert found(job(odd, bottom=bottom))["deep-groove"].remedy == "Make it at most 7.8 mm deep."
    followed = bottom.replace("groove_depth: 8", "groove_depth: 7.8")
    assert "deep-groove" not in found(job(odd, bottom=followed))


def linked(text: str, code: str) -> list[tuple[str | int, ...]]:
    """The entries that the findings of a code lead to."""
    draft = draft_job(read_job(text))
    return [
        entry
        for finding in draft_findings(draft)
        if finding.code == code
        for entry in entries_concerned(finding, draft, data_of(text))
    ]


def test_a_narrow_band_leads_to_the_size_that_makes_it_narrow() -> None:
    """Fronts are as long as the box is wide, sides follow its depth."""
    assert linked(job(("width: 400", "width: 99")), "band-too-narrow") == [("boxes", 0, "outer", "width")]
    assert linked(job(("depth: 300", "depth: 99")), "band-too-narrow") == [("boxes", 0, "outer", "depth")]
    head, _boxes = JOB.split("boxes:")
    bank = """banks:
  - name: case
    opening: {width: 40, height: 200, depth: 300}
    fronts: {style: inset, heights: {equal: 2}}
    box: {all: ash12}
"""
    thin = head.replace("ash15: {nominal: 15, measured: [15.0]", "ash12: {nominal: 12, measured: [12.08]")
    assert linked(thin + bank, "band-too-narrow") == [("banks", 0, "opening", "width")]


def test_a_tall_band_leads_to_the_size_that_makes_it_tall() -> None:
    """With the sides flat, fronts and backs stand upright: they are as tall as the box is wide."""
    assert linked(job(("depth: 300", "depth: 700")), "band-too-tall") == [("boxes", 0, "outer", "depth")]
    across = job(
        ("width: 400", "width: 700"), ("    box: {all", "    orientation: sides-flat\n    box: {all")
    )
    assert linked(across, "band-too-tall") == [("boxes", 0, "outer", "width")]
