"""Rows of a table become banks: fronts, runners, pulls and edging; what our table says comes back equal."""

from __future__ import annotations

from dataclasses import astuple, replace
from pathlib import Path

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.building import read_job
from drawerwright.job.file.given_tables import GivenSheet, given_sheets, table_of_text
from drawerwright.job.file.table_columns import matched_table
from drawerwright.job.file.table_drawers import DRAWER_FIELDS
from drawerwright.job.imported_drawers import DrawersToTake, TableChoice, drawers_to_take, shop_of_job
from drawerwright.job.papers.data_table import Cell
from drawerwright.job.papers.drawers_table import drawers_table
from drawerwright.job.papers.workbook import write_workbook
from drawerwright.job.planning.draft import draft_job
from drawerwright.web.reader.words import wording

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")
EVERYTHING = """
runners:
  slim 45: {kind: side-mounted, side: 12.7, lengths: [{length: 350}, {length: 400, price: 18}]}
openings:
  - name: Carcase
    opening: {width: 1218, height: 700, depth: 460}
    dividers: {thickness: 18, columns: 2}
banks:
  - name: Left
    opening: {of: Carcase, column: 1}
    fronts:
      style: applied
      heights: {arithmetic: {count: 4, smallest: 120}}
      false_fronts: [1]
      reveal: 2.5
      overlay: {sides: 7, top: 7, bottom: 7}
      stock: birch15
      oversize: 3
      grain_upright: true
      match: run
      match_direction: across
      pull: {spacing: 128, below_top: 40, hole: 5, price: 4.5}
    runner: slim 45
    load: 12.5
    use: heavy
    single_drawers: [{number: 3, contents: tools}]
    hangers: {span: 330, rail: 4, below: 60, drop: 12, drawers: [4]}
    box: {all: birch15}
    bottom: {style: slid, stock: birch6, groove_height: 12, oversize: 2}
    banding: {thickness: 0.8, box_top: true}
  - name: Right
    opening: {of: Carcase, column: 2}
    fronts:
      style: applied
      heights: {given: [150, rest, 200]}
      overlay: {sides: 8, right: 12, bottom: 6}
      stock: birch15
      match: run
      match_direction: across
      grain_upright: true
      pull: {}
      scoop: {width: 90, depth: 24}
    runner: {kind: under-mounted, length: 400, lengths: [{length: 400, load: 30, price: 22.9}], back: 12,
             notch: {width: 35, height: 13},
             bore: {diameter: 6, beside: 7, above: 11}, locking: {width: 40, depth: 60, height: 13}}
    box: {all: birch15, back: birch12}
    side_height: [90, rest, 130]
    bottom: {stock: birch6, groove_height: 14}
    joint: {kind: finger, finger: 9.5, kerf: 3.1}
    climate: damp-cellar
    single_drawers: [{number: 2, joint: rebate, load: 8}]
    banding: {thickness: 0.6}
  - name: Below
    opening: {width: 500, height: 180, depth: 420}
    fronts: {style: inset, heights: {equal: 1}, reveal: 2}
    runner: {kind: wooden, back: 12, price: 3.2}
    box: {all: birch15}
  - name: Closed
    opening: {width: 500, height: 100, depth: 420}
    drawer: false
    fronts: {style: applied, heights: {equal: 1}, stock: birch15}
    box: {all: birch15}
boxes:
  - name: Reed tray
    count: 2
    outer: {width: 268, depth: 206, height: 64}
    box: {all: birch15}
    bottom: {style: fixed, stock: birch6, clearance: 1}
    contents: paper
    hangers: {span: 150, rail: 3, below: 40, drop: 10, direction: along}
  - name: Inlay
    inside: C1
    outer: {width: 300, depth: 250, height: 50}
    box: {all: birch15}
    use: occasional
"""
JOB = (
    EXAMPLE[: EXAMPLE.index("banks:")].replace(
        "fences: {plan", "  birch12: {nominal: 12, sheets: [{length: 2500, width: 1250}]}\n\nfences: {plan"
    )
    + EVERYTHING
)
SHOP = shop_of_job(EXAMPLE, "Another chest")
HEAD = (
    "bank;drawer;opening width;opening height;opening depth;fronts;front height;reveal;overlay;overlay top;"
    "overlay bottom;applied_stock;runner;runner length;pull;stock;bottom stock\n"
)


def close(row: tuple[Cell, ...], other: tuple[Cell, ...]) -> bool:
    """Whether two rows say the same to the thousandth of a millimetre."""
    return all(
        abs(one - two) < 1e-3
        if isinstance(one, float | int) and isinstance(two, float | int)
        else str(one) == str(two)
        for one, two in zip(row, other, strict=True)
    )


@pytest.mark.parametrize(("language", "unit"), [("en", "mm"), ("de", "in")])
def test_a_job_that_has_everything_comes_back_equal(language: str, unit: str) -> None:
    """Applied fronts, a false front, pulls, scoops, edging, three kinds of runners, joints of single drawers; what they
    carry, rails for folders, prices, a tray in its drawer."""
    job = read_job(JOB)
    table = drawers_table(job)
    content = write_workbook([table], "job", LengthStyle(unit, wording=wording(language)))
    shop = shop_of_job(JOB, "Another chest")
    found = drawers_to_take(shop, given_sheets("job.xlsx", content), TableChoice())
    assert [str(fault) for fault in found.faults] == []
    again = read_job(found.taken())
    assert found.count == len(job.all_boxes)
    for row, other in zip(table.rows, drawers_table(again).rows, strict=True):
        assert close(row, other), (row, other)

    def parts(of: object) -> dict[str, tuple[object, ...]]:
        return {
            part.label: (
                part.kind,
                part.stock.name,
                round(part.cut_length, 2),
                round(part.cut_width, 2),
                part.banding,
            )
            for part in draft_job(of).parts  # type: ignore[arg-type]
        }

    assert parts(again) == parts(job)
    for box, made in zip(again.all_boxes, job.all_boxes, strict=True):
        assert box.duty.load == (None if made.duty.load is None else pytest.approx(made.duty.load, abs=1e-3))
        assert replace(box.duty, load=None) == replace(made.duty, load=None), box.name
        assert box.inside == made.inside
        assert (box.hangers is None) == (made.hangers is None)
        if box.hangers and made.hangers:
            assert astuple(box.hangers) == pytest.approx(astuple(made.hangers), abs=1e-3)
    for bank, before in zip(again.banks, job.banks, strict=True):
        chosen, wanted = bank.bank.runner_length, before.bank.runner_length
        assert (chosen is None) == (wanted is None)
        if chosen and wanted:
            assert chosen.length == pytest.approx(wanted.length, abs=1e-3)
            assert chosen.rating == (
                None if wanted.rating is None else pytest.approx(wanted.rating, abs=1e-3)
            )
        assert [use.price for use in (chosen, bank.bank.runner) if use and use.price] == [
            use.price for use in (wanted, before.bank.runner) if use and use.price
        ]
        assert (bank.bank.pull, bank.bank.scoop, bank.match) == (
            before.bank.pull,
            before.bank.scoop,
            before.match,
        )
        assert bank.bank.runner.kind == before.bank.runner.kind
        assert bank.bank.runner.notch == before.bank.runner.notch
        assert bank.bank.runner.bore == before.bank.runner.bore
        assert bank.bank.runner.locking == before.bank.runner.locking
        assert [front.name for front in bank.false_fronts] == [front.name for front in before.false_fronts]


def taken(rows: str, head: str = HEAD, text: str = SHOP) -> DrawersToTake:
    return drawers_to_take(text, [table_of_text(head + rows)], TableChoice(), table="t.csv")


def test_rows_of_one_bank_are_its_fronts_from_the_top() -> None:
    """What all fronts share may stand in the first row alone; the front whose height is left out takes the rest."""
    found = taken(
        "Linen;;560;700;450;applied;140;3;8;8;8;birch15;side-mounted;400;128;birch15;birch6\n"
        "Linen;;;;;;160;;;;;;;;;;\n"
        "Linen;;;;;;;;;;;;;;;;\n"
    )
    assert found.faults == ()
    assert (found.count, found.bottomless) == (3, "")
    (own,) = read_job(found.taken()).banks
    assert [front.front.height for front in own.bank.shown_fronts()] == [140, 160, 700 + 16 - 2 * 3 - 300]
    assert {box.applied.width for box in own.boxes if box.applied} == {576}
    assert own.bank.pull is not None
    assert own.bank.pull.spacing == 128
    assert {(box.width, box.depth) for box in own.boxes} == {(534, 400)}


def test_a_bank_of_equal_fronts_is_one_row_in_german_words() -> None:
    head = (
        "Schubladenblock;Anzahl;Breite der Öffnung (cm);Höhe der Öffnung;Tiefe der Öffnung;Sitz der Fronten;"
        "Führungen;Länge der Führung;Material der Frontdoppel;Material\n"
    )
    found = taken("Noten;4;56;700;450;mit Frontdoppel;seitliche Führungen;400;birch15;birch15\n", head)
    assert found.faults == ()
    assert found.bottomless == "no bottoms: no column names their stock"
    (own,) = read_job(found.taken()).banks
    assert (own.bank.opening.width, len(own.boxes)) == (560, 4)


def test_every_fault_of_a_bank_stands_in_its_row_and_column() -> None:
    found = taken(
        "Linen;;560;;450;glued on;140;3;8;8;8;oak;ball runner;400;128;birch15;birch6\n"
        "Linen;;;;;;;;9;;;;;;;;\n"
        "Linen;;;;;;;;;;;;;;;;\n"
        ";;500;;;;;;;;;;;;;;\n"
    )
    said = [str(fault) for fault in found.faults]
    for place, words in (
        ("t.csv:2: D (opening height)", "close an opening"),
        ("t.csv:2: F (fronts)", "glued on"),
        ("t.csv:2: M (runner)", "wooden (aus Holz)"),
        ("t.csv:3: I (overlay)", "is 9 mm here and 8 mm in line 2"),
        ("t.csv:4: G (front height)", "is empty in lines 3, 4 of this bank"),
        ("t.csv:5: A (bank)", "belong to a bank"),
    ):
        assert any(line.startswith(place) and words in line for line in said), (place, said)
    assert len(said) == 6


def test_faults_that_only_the_whole_job_shows_stand_in_the_row() -> None:
    row = "Linen;;560;700;450;applied;{};3;8;8;8;{};{};{};128;birch15;birch6\n"
    for cells, place, words in (
        (("", "oak", "wooden", ""), "t.csv:2: L (applied_stock)", "oak"),
        (("", "birch15", "side-mounted", "600"), "t.csv:2: ", "600 mm"),
        (("", "birch15", "ball runner", ""), "t.csv:2: M (runner)", "ball runner"),
        (("140", "birch15", "wooden", ""), "t.csv:2: G (front height)", "add up to"),
    ):
        fault, *others = taken(row.format(*cells)).faults
        assert others == [], list(map(str, others))
        assert str(fault).startswith(place), str(fault)
        assert words in str(fault)


def test_a_box_that_its_opening_does_not_make_is_told() -> None:
    """Sides may be lower than the front allows; width and depth follow from opening and runners."""
    head = HEAD.strip() + ";width;height\n"
    row = "Linen;;560;200;450;applied;;3;8;8;8;birch15;side-mounted;400;;birch15;birch6;{};{}\n"
    (fault,) = taken(row.format(540, ""), head).faults
    assert "R (width): the opening and the runners make it 534.0 mm, not 540.0 mm" in str(fault)
    found = taken(row.format(534, 150), head)
    assert found.faults == ()
    assert read_job(found.taken()).banks[0].boxes[0].height == 150
    (fault,) = taken(row.format(534, 300), head).faults
    assert str(fault).startswith("t.csv:2: S (height)")


def test_heights_that_are_too_much_name_the_rows_that_were_summed() -> None:
    row = "Linen;;560;200;450;applied;{};3;8;8;8;birch15;Kugelschienen;;;birch15;birch6\n"
    (fault,) = taken(row.format("140,5") + row.format("700") + row.format("rest")).faults
    assert "leave nothing of the 210.0 mm for the front without a height (lines 2–4)" in str(fault)


def test_inches_may_be_written_out_in_a_cell_and_after_in_in_a_head() -> None:
    head = "Schublade;Breite;Tiefe in mm;Höhe;Material;Nuttiefe\n"
    found = taken("A;12,5 Zoll;300;90;birch15;6\n", head)
    assert found.drawers.boxes[0]["outer"] == {"width": 317.5, "depth": 300.0, "height": 90.0}
    (fault,) = found.faults
    assert "is empty: name one of birch15, birch6" in str(fault)


def test_banks_go_into_a_job_in_inches() -> None:
    text = SHOP.replace("format: 1", "format: 1\nunits: in").replace("nominal: 6.5", "nominal: 0.25")
    row = "Tools;;22 1/4;20;18;inset;;1/8;;;;;wooden;;;birch15;birch6\n"
    found = taken(row, text=text)
    assert not [fault for fault in found.faults if fault.file == "t.csv"]
    assert "22.25" in found.text


@pytest.mark.parametrize("language", ["en", "de"])
def test_every_heading_of_ours_is_read_as_what_it_is(language: str) -> None:
    """In German too: the edging of the upper edges was not."""
    heads = [wording(language).gettext(str(field.label)) for field in DRAWER_FIELDS]
    columns = matched_table([GivenSheet("", (tuple(heads),))], DRAWER_FIELDS).columns
    assert [column.field for column in columns] == list(DRAWER_FIELDS)


def test_a_load_is_in_the_unit_of_its_head_and_other_cells_say_what_they_take() -> None:
    """20 lb are 9.07185 kg (international pound, 0.45359237 kg)."""
    head = "drawer;width;depth;height;stock;load (lb);contents;use;inside\n"
    found = taken("A;300;280;90;birch15;20;;stark;\nB;300;280;90;birch15;;Werkzeug;daily;\n", head)
    assert [str(fault) for fault in found.faults] == []
    first, second = read_job(found.taken()).boxes
    assert first.duty.load == pytest.approx(9.07185, abs=1e-4)
    assert (str(first.duty.use), str(second.duty.contents), str(second.duty.use)) == (
        "heavy",
        "tools",
        "daily",
    )
    faults = taken("A;300;280;90;birch15;much;coins;rare;\n", head).faults
    assert [str(fault).split(": ")[1] for fault in faults] == ["F (load (lb))", "G (contents)", "H (use)"]
    assert "linen (Wäsche)" in str(faults[1])


def test_a_pair_carries_what_one_length_of_it_does() -> None:
    head = HEAD.strip() + ";a pair carries;price of a pair\n"
    row = "Linen;;560;200;450;applied;;3;8;8;8;birch15;side-mounted;{};;birch15;birch6;30;{}\n"
    (own,) = read_job(taken(row.format(400, "18,5"), head).taken()).banks
    chosen = own.bank.runner_length
    assert chosen is not None
    assert (chosen.rating, own.bank.runner.price) == (30, 18.5)
    (fault,) = taken(row.format("", ""), head).faults
    assert "R (a pair carries): is the rating of a pair of one length" in str(fault)
    (fault,) = taken(row.format(400, "dear"), head).faults
    assert "S (price of a pair): must be a price of 0 or more" in str(fault)
