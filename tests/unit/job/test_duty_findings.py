"""Movement, bottoms, runners and carcases of a job: what is found, with figures worked by hand."""

from __future__ import annotations

import pytest

from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.bottom import BottomStyle
from drawerwright.drawers.drawer_findings import drawer_findings
from drawerwright.drawers.seasons import across_movement
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import JobDraft, draft_job
from drawerwright.job.planning.duty_findings import duty_findings, stock_that_holds
from drawerwright.run.fixings import screw_slots
from drawerwright.run.joint_words import glue_lines
from drawerwright.run.work import GlueUp
from drawerwright.strength.drawer_load import DrawerLoad, least_carcase, part_mass
from drawerwright.strength.groove_bearing import groove_bearing
from drawerwright.wood.moisture import CLIMATES

CHEST = """
format: 1
job: solid chest
cutter: {kind: drawer-lock, mid_depth: 5.65, step: 3.45, slope: 55}
stock:
  oak: {panel: solid, species: white oak, moisture: 9, nominal: 15, mean: 14.8, sheets: [{length: 2000, width: 300}]}
  ply4: {panel: birch-plywood, nominal: 4, mean: 3.8, sheets: [{length: 1500, width: 1500}]}
  ply9: {panel: birch-plywood, nominal: 9, mean: 9.2, sheets: [{length: 1500, width: 1500}]}
  ply12: {panel: birch-plywood, nominal: 12, mean: 12, sheets: [{length: 1500, width: 1500}]}
runners:
  light: {kind: side-mounted, lengths: [{length: 400, load: 15}]}
banks:
  - name: Scores
    opening: {width: 660, height: 400, depth: 430}
    fronts: {style: inset, heights: {equal: 2}, reveal: 2}
    box: {all: oak}
    bottom: {stock: ply4}
    load: 12
    runner: light
"""


def draft(*changes: tuple[str, str]) -> JobDraft:
    text = CHEST
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return draft_job(read_job(text))


def found(*changes: tuple[str, str]) -> dict[str, Finding]:
    return {finding.code: finding for finding in duty_findings(draft(*changes))}


def test_a_reveal_that_closes() -> None:
    """White oak, flat-sawn, 197 mm high, from 9 to 10.87 % (heated room): 197 × 0.00365 × 1.87 = 1.3 mm, and 0.7 of
    2 mm stay. From 7 %: 197 × 0.00365 × 3.87 = 2.8 mm; a gap of 2.8 + 0.5 + 0.3 = 3.6 mm is wanted today."""
    assert "reveal-closes-in-summer" not in found()
    told = found(("moisture: 9", "moisture: 7"))["reveal-closes-in-summer"]
    assert "the 2.0 mm gap above its front, 197 mm high, closes by 2.8 mm" in told.text
    assert "today 7.0 %): nothing is left" in told.text
    assert "today 7.0 %" in told.text
    assert "Table 13-5, p. 13-17 (read)" in told.text
    assert "a gap of 3.6 mm today" in told.remedy
    assert "reveal-closes-in-summer" not in found(("moisture: 9", "moisture: 7"), ("reveal: 2", "reveal: 4"))


def test_quarter_sawn_and_plywood_fronts_close_less() -> None:
    damp = ("moisture: 9", "moisture: 7")
    radial = ("species: white oak", "cut: radial, species: white oak")
    assert (
        "closes by 1.4 mm" in found(damp, radial, ("reveal: 2", "reveal: 1"))["reveal-closes-in-summer"].text
    )
    assert "reveal-closes-in-summer" not in found(damp, ("{all: oak}", "{all: ply12}"))


def test_an_applied_front_that_covers_the_carcase_has_no_gap_above_it() -> None:
    applied = ("style: inset", "style: applied, stock: oak, overlay: {top: 10, bottom: 10, sides: 10}")
    chest = draft(applied, ("moisture: 9", "moisture: 6.5"), ("{all: oak}", "{all: ply12}"))
    closing = [each.where for each in duty_findings(chest) if each.code == "reveal-closes-in-summer"]
    assert closing == ["A2"]


def test_a_standing_grain_keeps_the_height() -> None:
    applied = ("style: inset", "style: applied, grain_upright: true, stock: oak")
    assert "reveal-closes-in-summer" not in found(applied, ("moisture: 9", "moisture: 6"))


def test_pieces_of_different_wood_move_apart() -> None:
    """197 × 0.00365 × 4.68 points over the year = 3.4 mm for the front; plywood sides stay."""
    told = found(("{all: oak}", "{all: oak, sides: ply12}"))["pieces-move-apart"]
    assert "front changes by 3.4 mm, that of its sides by 0.1 mm" in told.text
    assert "pieces-move-apart" not in found()


def test_a_thickness_that_moves_past_the_play() -> None:
    """White oak, quarter-sawn, so that its 14.8 mm move tangentially: from 9 to 16.54 % in an unheated room by Eq.
    (13-3), S = 3000 C / (1 + 20 C) = 10.2 %: 14.8 × 7.54 / (3000 / 10.2 − 30 + 9) = 0.41 mm, more than 0.15 of play.
    In a heated one from 8.5 % to 6.22 and 10.87 %: 14.8 × 0.00365 × 2.28 and 2.37 = 0.12 and 0.13 mm."""
    radial = ("species: white oak", "cut: radial, species: white oak")
    assert "thickness-moves-past-play" not in found(radial, ("moisture: 9", "moisture: 8.5"))
    told = found(radial, ("load: 12", "load: 12\n    climate: unheated-room"))["thickness-moves-past-play"]
    assert (
        "wood 14.8 mm thick is 0.03 mm thinner by the dry season and 0.41 mm thicker by the damp one"
        in told.text
    )
    assert "may differ by 0.15 mm" in told.text
    generous = ("runners:", "fit: {most_play: 0.5}\nrunners:")
    unheated = ("load: 12", "load: 12\n    climate: unheated-room")
    assert "thickness-moves-past-play" not in found(radial, unheated, generous)
    assert "thickness-moves-past-play" not in found(unheated, ("{all: oak}", "{all: ply12}"))


def test_a_bottom_that_sags_names_the_thinnest_stock_that_holds() -> None:
    told = found()["bottom-sags"]
    assert "under 12 kg its bottom, 3.80 mm thick, sags" in told.text
    assert "the limit is 1.9 mm" in told.text
    assert told.remedy.startswith("Use ply9 (9.20 mm): it sags")
    assert "bottom-sags" not in found(("{stock: ply4}", "{stock: ply9}"))
    heavy = draft(("load: 12", "load: 400"))
    load = DrawerLoad(heavy.assembled[0])
    assert stock_that_holds(load, heavy.job) is None
    assert (
        "No stock of this job holds"
        in next(f for f in duty_findings(heavy) if f.code == "bottom-sags").remedy
    )


def test_limits_of_sag_are_the_jobs() -> None:
    generous = ("runners:", "sag: {span_over: 10, most: 40}\nrunners:")
    assert "bottom-sags" not in found(generous)


def test_without_a_load_nothing_is_said_of_bottom_runner_and_carcase() -> None:
    codes = found(("    load: 12\n", ""))
    assert not {"bottom-sags", "runner-overloaded", "carcase-may-tip"} & set(codes)


def test_a_runner_carries_drawer_and_load() -> None:
    drawn = draft()
    full = DrawerLoad(drawn.assembled[0]).full
    assert full is not None
    told = found()["runner-overloaded"]
    assert f"{full:.1f}".removesuffix(".0") + " kg together; a pair of its runners carries 15 kg" in told.text
    assert "runner-overloaded" not in found(("load: 15", "load: 25"))


def test_a_part_weighs_its_volume() -> None:
    """Specific gravity of white oak 0.68 at 12 % (USDA Wood Handbook, Table 5-3a, read), so 741.2 kg/m³ at 9 %."""
    side = next(part for part in draft().parts if part.kind == "left side")
    volume = side.length * side.width * 14.8 / 1e9
    assert part_mass(side, CLIMATES["heated-room"]) == pytest.approx(0.68 * 1000 * 1.09 * volume)


def test_a_full_drawer_holds_what_its_sides_enclose() -> None:
    drawn = draft(("load: 12", "contents: paper"))
    load = DrawerLoad(drawn.assembled[0])
    box = load.drawer.box
    assert box.bottom is not None
    deep = box.height - box.bottom.groove_height - 3.8
    assert load.volume == pytest.approx((box.width - 29.6) * (box.depth - 29.6) * deep)
    assert load.contents == pytest.approx(0.6 * load.volume / 1e6)


def test_a_carcase_tips_about_its_front_edge() -> None:
    """Moments about the front edge: two drawers with their middle 200 mm before it, the carcase's 215 mm behind."""
    loads = [DrawerLoad(drawer) for drawer in draft().assembled]
    weight = sum(load.full or 0 for load in loads)
    assert least_carcase(loads, 430) == pytest.approx(weight * loads[0].drawer.box.depth / 2 / 215)


DIVIDED = (
    "    opening: {width: 660, height: 400, depth: 430}\n",
    "    opening: {of: Chest, column: 1}\n",
)
CHEST_OF_TWO = (
    "banks:\n",
    "openings:\n"
    "  - {name: Chest, opening: {width: 1338, height: 400, depth: 430}, dividers: {thickness: 18, columns: 2}}\n"
    "banks:\n",
)
BESIDE = """  - name: Parts
    opening: {of: Chest, column: 2}
    fronts: {style: inset, heights: {equal: 2}, reveal: 2}
    box: {all: oak}
    bottom: {stock: ply4}
    load: 20
    runner: light
"""


def test_banks_of_one_carcase_tip_it_together() -> None:
    """Moments about the one front edge add up: one note, its figure the sum of what each bank alone would ask."""
    tail = "    load: 12\n    runner: light\n"
    drawn = draft(CHEST_OF_TWO, DIVIDED, (tail, tail + BESIDE))
    told = [each for each in duty_findings(drawn) if each.code == "carcase-may-tip"]
    assert [each.where for each in told] == ["Chest"]
    alone = [
        sum((DrawerLoad(drawer).full or 0) * drawer.box.depth / 430 for drawer in drawn.drawers_of(bank))
        for bank in drawn.job.banks
    ]
    assert f"more than {sum(alone):.1f} kg." in told[0].text
    assert set(told[0].drawers) == {drawer.box.name for drawer in drawn.assembled}


def test_a_bank_without_a_load_does_not_hush_the_note_of_its_carcase() -> None:
    tail = "    load: 12\n    runner: light\n"
    drawn = draft(CHEST_OF_TWO, DIVIDED, (tail, tail + BESIDE.replace("    load: 20\n", "")))
    (told,) = [each for each in duty_findings(drawn) if each.code == "carcase-may-tip"]
    assert "whose load is not stated" in told.text


def test_a_free_back_and_a_grain_that_nobody_states_are_judged_by_the_worse() -> None:
    captured, slid = (
        draft(("{stock: ply4}", f"{{stock: ply4, style: {style}}}")) for style in ("captured", "slid")
    )
    none = draft(("nominal: 4,", "nominal: 4, grain: none,"))
    sags = [DrawerLoad(each.assembled[0]).bottom(each.job.sag_limit) for each in (captured, slid, none)]
    held, free, turned = (each.deflection for each in sags if each is not None)
    assert free > held
    assert turned >= held


def test_wood_that_is_wetter_than_its_climate_only_shrinks() -> None:
    oak = draft(("moisture: 9", "moisture: 14")).job.stock["oak"]
    moved = across_movement(oak, 200, CLIMATES["heated-room"])
    assert moved is not None
    assert moved.at_dry < moved.at_damp < 0


def test_a_species_that_nobody_has_seen_move_gets_the_middle_of_the_table() -> None:
    told = found(("white oak", "white spruce"), ("moisture: 9", "moisture: 6.5"))["reveal-closes-in-summer"]
    assert "nothing known of Spruce, white: middle of the table: assumed, no source" in told.text


def test_a_thick_solid_bottom_binds_in_its_groove() -> None:
    """Oak 14.8 mm thick, flat-sawn, so its thickness moves radially: from 6 to 10.87 % by
    14.8 × 0.0018 × 4.87 = 0.13 mm."""
    solid = ("{stock: ply4}", "{stock: oak, groove_play: 0.05}")
    told = found(solid, ("moisture: 9", "moisture: 6"))["bottom-binds-in-groove"]
    assert "14.8 mm thick, gets 0.1 mm thicker" in told.text
    assert "bottom-binds-in-groove" not in found(("{stock: ply4}", "{stock: oak}"))


def test_wood_that_is_not_as_dry_as_its_climate() -> None:
    """In a heated room wood stands between 6.2 and 10.9 %; a point more or less is not told."""
    told = found(("moisture: 9", "moisture: 14"))["wood-not-at-home"]
    assert told.stock == "oak"
    assert (
        "it reads 14.0 % moisture; where its drawers will stand (heated room) wood has 6.2 to 10.9 %."
        in told.text
    )
    assert "wood-not-at-home" in found(("moisture: 9", "moisture: 5"))
    for read in ("moisture: 11.5", "moisture: 5.5"):
        assert "wood-not-at-home" not in found(("moisture: 9", read))
    assert "wood-not-at-home" not in found((", moisture: 9", ""))


def test_a_gap_that_is_close_by_design_is_not_the_years_doing() -> None:
    """Plywood sides 190 mm high grow by 0.07 mm at most; that they reach up to the next front is as it was drawn."""
    tight = (("runner: light", "runner: {kind: wooden, top: 0, bottom: 0}"), ("reveal: 2", "reveal: 0.4"))
    assert "sides-bind-in-summer" in found(*tight, ("{all: oak}", "{all: oak, front: ply12, back: ply12}"))
    assert "sides-bind-in-summer" not in found(*tight, ("{all: oak}", "{all: ply12}"), ("    load: 12\n", ""))


def test_fronts_and_sides_grow_up_and_down_from_where_they_are_carried() -> None:
    """Oak grows by 0.00365 × 3.87 = 1.41 % from 7 %. The line is 4 + 35 = 39 mm above the lower edge of a front
    197 mm high, so the upper one comes up by 2.2 mm, and down by 0.6 to the lower one, which comes up by 2.2.

    With reveals of 1 mm sides of 198.5 - 2 - 1 = 195.5 mm in grooves 40 mm up have 1 + 2 mm above them: the opening, or
    the front above. They come up by 2.2 mm, and the front above, 1 + 40 mm of which hang below its groove, down by 0.6.
    """

    def closing(code: str, *changes: tuple[str, str]) -> list[tuple[str, str]]:
        told = duty_findings(draft(("moisture: 9", "moisture: 7"), *changes))
        return [
            (each.where, each.text.split(" by the damp")[0].split("the ", 1)[1])
            for each in told
            if each.code == code
        ]

    assert closing("reveal-closes-in-summer") == [
        ("A1", "2.0 mm gap above its front, 197 mm high, closes by 2.2 mm"),
        ("A2", "2.0 mm gap above its front, 197 mm high, closes by 2.8 mm"),
    ]
    below = [
        text for text in closing("reveal-closes-in-summer", ("reveal: 2", "reveal: 1")) if "below" in text[1]
    ]
    assert [(where, text[:26], text[-16:]) for where, text in below] == [
        ("A2", "1.0 mm gap below its front", "closes by 0.6 mm")
    ]
    wooden = ("runner: light", "runner: {kind: wooden}")
    assert closing("sides-bind-in-summer", wooden) == []
    assert closing("sides-bind-in-summer", wooden, ("reveal: 2", "reveal: 1")) == [
        ("A2", "3.0 mm gap above its sides, 196 mm high, closes by 2.8 mm"),
    ]


def test_a_bottom_that_hardly_reaches_into_its_groove_presses_too_hard() -> None:
    """White oak bears 7.4 N/mm² across its grain (USDA Wood Handbook, Table 5-3a, read), half of it for years: 3.7. The
    edge carries at least the mean of the load over four edges."""
    heavy = ("load: 12", "load: 300")
    told = found(heavy, ("{stock: ply4}", "{stock: ply12, groove_depth: 2, clearance: 1.5}"))[
        "groove-overloaded"
    ]
    assert "wood bears 3.7 for years" in told.text
    assert "the 0.5 mm that it lies in the groove" in told.text
    deep = found(heavy, ("{stock: ply4}", "{stock: ply12, groove_depth: 7}"))
    assert "groove-overloaded" not in deep
    job = draft(("{stock: ply4}", "{stock: ply12}"))
    load = DrawerLoad(job.assembled[0])
    loaded, bottom = load.bottom(job.job.sag_limit), load.drawer.box.bottom
    assert loaded is not None
    assert bottom is not None
    bearing = groove_bearing(loaded, bottom, load.drawer.box.side)
    assert bearing is not None
    around = 2 * (loaded.width + loaded.length)
    assert bearing.pressure > 12 * 9.80665 / around / (bottom.groove_depth - bottom.clearance)
    ply = groove_bearing(loaded, bottom, job.job.stock["ply12"])
    assert ply is not None
    assert (ply.limit, str(ply.source.provenance)) == (pytest.approx(1.3), "assumed")


def test_a_measured_thickness_is_not_put_on_the_saws_steps() -> None:
    """3.85 mm are 0.1516 in; a saw set in steps of 0.005 in would cut 0.15."""
    told = found(("mean: 3.8", "mean: 3.85"))["bottom-sags"]
    assert "its bottom, 0.152 in thick, sags" in LengthStyle("in").say(told.text)


def test_a_slid_bottom_grows_past_the_back_into_the_room_behind() -> None:
    """Oak in an unheated room grows by more than the 10 mm that wooden runners leave behind the box. Each advice ends
    the finding."""
    wooden = ("    runner: light\n", "    runner: {kind: wooden}\n")
    damp = ("format: 1", "format: 1\nclimate: unheated-room")
    slid = ("{stock: ply4}", "{style: slid, stock: oak, groove_depth: 7}")
    dry = ("moisture: 9", "moisture: 9.5")
    told = found(wooden, damp, slid, dry)["bottom-meets-carcase"]
    behind, clearance = (part.split(" mm")[0] for part in told.remedy.split("at least ")[1:])
    assert float(behind) > 10
    room = (wooden[0], f"    runner: {{kind: wooden, back: {behind}}}\n")
    assert "bottom-meets-carcase" not in found(room, damp, slid, dry)
    smaller = (slid[0], slid[1].replace("7}", f"7, clearance: {clearance}}}"))
    assert "bottom-meets-carcase" not in found(wooden, damp, smaller, dry)
    assert "bottom-meets-carcase" not in found(wooden, damp, ("{stock: ply4}", "{style: slid, stock: ply9}"))


def test_a_slid_solid_bottom_is_screwed_through_slots() -> None:
    """White oak 405 mm deep from 9 to 10.87 and 6.22 % of a heated room: 0.00365 × 405 × 1.87 and 2.78 = 2.8 and
    4.1 mm. Plywood is screwed through holes."""
    drawers = draft(("{stock: ply4}", "{style: slid, stock: oak, groove_depth: 7}")).assembled
    slots = screw_slots(drawers)
    assert slots == pytest.approx((2.8, 4.1), abs=0.1)
    told = "\n".join(glue_lines([GlueUp(("A1",), frozenset({BottomStyle.SLID}), "rebate", slots)]))
    assert "screw it through slots that run from front to back" in told
    assert "at least 2.8 mm in front of its screw" in told
    assert screw_slots(draft(("{stock: ply4}", "{style: slid, stock: ply9}")).assembled) is None


def test_solid_wood_that_could_not_move_is_not_advised_for_a_bottom() -> None:
    """Oak 9 mm thick would hold 12 kg, but a captured bottom of it grows by more than its clearance."""
    sheet = "nominal: 9, mean: 9, sheets: [{length: 900, width: 900}]"
    oak9 = f"  oak9: {{panel: solid, species: white oak, moisture: 6.5, {sheet}}}\n"
    told = found(("  ply9:", oak9 + "  ply9:"))["bottom-sags"]
    assert told.remedy.startswith("Use ply9 (9.20 mm)")


def test_sides_without_clearance_are_as_high_as_an_inset_front() -> None:
    """The clearances count from the front's edges, so that the box never reaches past what covers it."""
    wooden = draft(("    runner: light\n", "    runner: {kind: wooden}\n")).assembled[0]
    told = next(each for each in drawer_findings(wooden) if each.code == "front-taller-than-sides")
    assert "less clearance above and below them" in told.remedy
    followed = draft(("    runner: light\n", "    runner: {kind: wooden, top: 0, bottom: 0}\n")).assembled[0]
    assert "front-taller-than-sides" not in {each.code for each in drawer_findings(followed)}
