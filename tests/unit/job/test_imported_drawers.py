"""Drawers and parts from tables: what our workbook gives comes back equal, and what others write is read or refused.

Workbooks of others are written with openpyxl; zip bombs by hand.
"""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import openpyxl
import pytest

import drawerwright as dw
from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.building import read_job
from drawerwright.job.file.given_tables import MOST_ROWS, given_sheets, table_of_text, text_of_table
from drawerwright.job.file.table_parts import parts_of_table
from drawerwright.job.imported_drawers import TableChoice, drawers_to_take, shop_of_job
from drawerwright.job.papers.data_table import table_csv
from drawerwright.job.papers.drawers_table import drawers_table
from drawerwright.job.papers.plan_files import PlanFiles
from drawerwright.job.papers.plan_tables import plan_tables
from drawerwright.job.papers.workbook import write_workbook
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_plan import JobPlan, plan_job
from drawerwright.web.reader.words import wording

EXAMPLES = Path(__file__).parents[3] / "examples"
EXAMPLE = (EXAMPLES / "music-school.yaml").read_text("utf-8")
SEED = EXAMPLE[: EXAMPLE.index("banks:")] + (
    "boxes:\n  - name: seed  # stays\n    outer: {width: 300, depth: 300, height: 100}\n    box: {all: birch15}\n"
)
"""The same shop with one drawer of its own."""


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(EXAMPLE), time_limit=1)


def sizes(text: str) -> dict[str, tuple[object, ...]]:
    """Every part of a job: its stock, sizes to the thousandth, groove and ends."""
    found = {}
    for part in draft_job(read_job(text)).parts:
        groove = part.groove
        found[part.label] = (
            part.stock.name,
            round(part.length, 3),
            round(part.width, 3),
            None if groove is None else (round(groove.height, 3), round(groove.width, 3), groove.depth),
            tuple((end.role, end.corner.joint, round(end.corner.lip, 3)) for end in part.ends),
        )
    return {label: size for label, size in found.items() if "seed" not in label}


def test_a_stock_is_known_in_capitals_too() -> None:
    head = "Drawer,Outer width,Outer depth,Height of the sides,Stock,Stock of the bottom"
    table = f"{head}\nplane,300,250,90,Birch15,BIRCH6\n"
    found = drawers_to_take(SEED, (table_of_text(table),), TableChoice())
    assert not found.faults
    assert found.drawers.boxes[0]["box"]["all"] == "birch15"
    other = table.replace("Birch15", "Birch 15")
    refused = drawers_to_take(SEED, (table_of_text(other),), TableChoice()).faults
    assert "there is no stock 'Birch 15'" in str(refused[0])


def test_what_could_not_be_cut_is_said_before_it_is_taken_over() -> None:
    head = "Drawer,Outer width,Outer depth,Height of the sides,Stock"
    table = f"{head}\nplane,4125,250,90,birch15\nsaw,412.5,250,90,birch15\n"
    found = drawers_to_take(SEED, (table_of_text(table),), TableChoice())
    assert not found.faults
    (stop,) = found.stops
    assert stop.finding.code == "part-fits-no-sheet"
    assert "plane" in str(stop)
    assert "saw" not in str(stop)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("language", ["en", "de"])
def test_what_the_workbook_gives_comes_back_equal(plan: JobPlan, language: str, unit: str) -> None:
    style = LengthStyle(unit, wording=wording(language))
    content = write_workbook(plan_tables(plan), "job", style)
    found = drawers_to_take(SEED, given_sheets("job.xlsx", content), TableChoice())
    assert found.faults == ()
    assert found.count == len(plan.job.all_boxes)
    assert sizes(found.taken()) == sizes(EXAMPLE)
    assert "# stays" in found.text


def test_the_table_as_csv_comes_back_too(plan: JobPlan) -> None:
    """CSV is written to the hundredth of a millimetre."""
    found = drawers_to_take(
        SEED, given_sheets("d.csv", table_csv(drawers_table(plan.job)).encode()), TableChoice()
    )
    assert found.faults == ()
    wanted = sizes(EXAMPLE)
    for label, (stock, length, width, *_rest) in sizes(found.taken()).items():
        assert (stock, length, width) == (
            wanted[label][0],
            pytest.approx(wanted[label][1], abs=0.02),
            pytest.approx(wanted[label][2], abs=0.02),
        )


def test_parts_come_back_equal(plan: JobPlan) -> None:
    content = PlanFiles(plan).workbook()
    parts = parts_of_table(given_sheets("job.xlsx", content), sheet="Parts")
    assert [(part.name, part.stock) for part in parts] == [
        (part.label, part.stock.name) for part in plan.parts
    ]
    for read, part in zip(parts, plan.parts, strict=True):
        assert (read.length, read.width) == pytest.approx((part.cut_length, part.cut_width), abs=1e-4)


def of_others(*rows: tuple[object, ...]) -> bytes:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def test_headings_units_and_titles_of_others_are_understood() -> None:
    content = of_others(
        ("Reed cabinet, by hand",),
        (),
        ("Name", "Qty", "Breite (cm)", "Depth [in]", "Side height", "Remark"),
        ("tray", 2, 26.8, '8 1/8"', "64 mm", "the small ones"),
        ("chest", None, "27,5", 8, 64.5, None),
    )
    found = drawers_to_take(SEED, given_sheets("t.xlsx", content), TableChoice(stock="birch15"))
    assert found.faults == ()
    assert found.drawers.boxes == (
        {
            "name": "tray",
            "count": 2,
            "outer": {"width": 268.0, "depth": 206.375, "height": 64.0},
            "box": {"all": "birch15"},
        },
        {
            "name": "chest",
            "outer": {"width": 275.0, "depth": 203.2, "height": 64.5},
            "box": {"all": "birch15"},
        },
    )
    assert [column.heading for column in found.drawers.table.columns if column.field is None] == ["Remark"]


def test_bare_numbers_are_in_the_unit_that_is_said() -> None:
    text = "drawer,width,depth,height\nbin,12 1/2,10,4\n"
    (box,) = drawers_to_take(
        SEED, [table_of_text(text)], TableChoice(unit="in", stock="birch15")
    ).drawers.boxes
    assert box["outer"] == {"width": 317.5, "depth": 254.0, "height": 101.6}
    inch_job = SEED.replace("format: 1", "format: 1\nunits: in").replace("300", "12").replace("100}", "4}")
    assert "12.5" in drawers_to_take(inch_job, [table_of_text(text)], TableChoice(stock="birch15")).text


def test_every_fault_comes_at_once_with_its_line_and_column() -> None:
    text = (
        "drawer;width;depth;height;stock;count\n"
        "one;wide;300;90;birch15;1\n"
        ";268;0;90;birch15;1\n"
        "three;268;206;64;oak;2,5\n"
        "seed;268;206;64;birch15;1\n"
    )
    found = drawers_to_take(SEED, [table_of_text(text)], TableChoice(), table="t.csv")
    said = [str(fault) for fault in found.faults]
    for place, words in (
        ("t.csv:2: B (width)", "wide"),
        ("t.csv:3: A (drawer)", "is empty"),
        ("t.csv:3: C (depth)", "more than 0"),
        ("t.csv:4: E (stock)", "oak"),
        ("t.csv:4: F (count)", "whole number"),
        ("t.csv:5: A (drawer)", "second drawer called seed"),
    ):
        assert any(line.startswith(place) and words in line for line in said), (place, said)
    assert len(said) == 6
    with pytest.raises(FaultyInputError):
        found.taken()


def test_a_column_that_nothing_names_is_asked_for_once_and_can_be_said() -> None:
    text = "drawer,w,depth,height\none,268,206,64\ntwo,268,206,64\n"
    found = drawers_to_take(SEED, [table_of_text(text)], TableChoice(stock="birch15"))
    assert [(fault.field, fault.line) for fault in found.faults] == [("width", 1)]
    for column in ("B", "w"):
        choice = TableChoice({column: "width"}, stock="birch15")
        assert drawers_to_take(SEED, [table_of_text(text)], choice).faults == ()
    with pytest.raises(InvalidValueError, match="no column 'Z'"):
        drawers_to_take(SEED, [table_of_text(text)], TableChoice({"Z": "width"}))
    with pytest.raises(InvalidValueError, match="'girth' is nothing"):
        drawers_to_take(SEED, [table_of_text(text)], TableChoice({"B": "girth"}))


def test_one_cause_is_one_fault_that_names_its_rows_and_who_can_mend_it() -> None:
    """Rows without stock were told four times each: no stock, and front, sides and back missing."""
    rows = "".join(f"{name},268,206,64\n" for name in ("one", "two", "three"))
    table = table_of_text(f"drawer,width,depth,height\n{rows}")
    (fault,) = drawers_to_take(SEED, [table], TableChoice(stock_asked="--stock NAME")).faults
    assert fault.line == 2
    assert "no stock is named" in fault.message
    assert "--stock NAME" in fault.message
    assert "birch15, birch6" in fault.message
    assert fault.message.endswith("(lines 2–4)")
    oak = table_of_text("drawer,width,depth,height,stock\n" + rows.replace(",64", ",64,oak"))
    (fault,) = drawers_to_take(SEED, [oak], TableChoice()).faults
    assert "oak" in fault.message
    assert fault.message.endswith("(lines 2–4)")


def test_a_front_that_reaches_below_its_sides_is_no_plain_box() -> None:
    text = "drawer,width,depth,height,front below the sides\none,268,206,64,12\n"
    (fault,) = drawers_to_take(SEED, [table_of_text(text)], TableChoice(stock="birch15")).faults
    assert "make it in a bank" in fault.message


def packed(**parts: bytes) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            package.writestr(name, content)
    return stream.getvalue()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (
            packed(**{"xl/workbook.xml": b"<x/>", "xl/worksheets/sheet1.xml": b"\0" * 60_000_000}),
            "would unpack to",
        ),
        (packed(**{f"xl/{number}.xml": b"" for number in range(300)}), "in 300 parts"),
        (packed(**{"xl/workbook.xml": b'<!DOCTYPE x [<!ENTITY a "aaaa">]><x>&a;</x>'}), "entities"),
        (packed(**{"word/document.xml": b"<x/>"}), "is no workbook"),
        (packed(**{"xl/workbook.xml": b"<x/>"}), "cannot be read as a workbook"),
        (b"PK\x03\x04 torn", "is no workbook"),
        (b"x" * 3_000_000, "is larger than"),
    ],
)
def test_a_workbook_that_is_none_or_a_bomb_is_refused_before_it_is_unpacked(
    content: bytes, words: str
) -> None:
    with pytest.raises(FaultyInputError, match=words):
        given_sheets("t.xlsx", content)


def test_a_table_beyond_the_limits_is_refused() -> None:
    with pytest.raises(FaultyInputError, match="rows, the limit"):
        table_of_text("a,b\n" * (MOST_ROWS + 2))
    with pytest.raises(FaultyInputError, match="columns, the limit"):
        table_of_text("," * 90 + "x")
    with pytest.raises(FaultyInputError, match="a table ends in"):
        given_sheets("t.ods", b"")
    with pytest.raises(FaultyInputError, match="rows, the limit"):
        given_sheets("t.xlsx", of_others(*((number,) for number in range(MOST_ROWS + 2))))


def test_a_formula_counts_as_what_it_came_to_and_is_never_reckoned() -> None:
    content = of_others(("drawer", "width", "depth", "height"), ("one", "=100+168", 206, 64))
    found = drawers_to_take(SEED, given_sheets("t.xlsx", content), TableChoice(stock="birch15"))
    assert [(fault.line, fault.field) for fault in found.faults] == [(2, "B (width)")]
    assert "holds a formula without a stored result" in found.faults[0].message
    again = table_of_text(
        text_of_table(given_sheets("t.xlsx", content)[0])
    )  # as the page keeps it in its form
    assert (
        drawers_to_take(SEED, [again], TableChoice(stock="birch15")).faults[0].message
        == found.faults[0].message
    )


def test_a_name_that_looks_like_a_formula_stays_a_name() -> None:
    table = table_of_text("drawer,width,depth,height,stock\n'=one,300,300,90,birch15\n")
    kept = table_of_text(text_of_table(table))
    assert kept.rows == tuple((*row[:1], *row[1:]) for row in table.rows)
    assert drawers_to_take(SEED, [kept], TableChoice()).drawers.boxes[0]["name"] == "=one"


def test_the_unit_of_a_head_is_named_as_it_is_read() -> None:
    table = table_of_text("Schublade;Breite (cm);Tiefe (Zoll);Höhe\na;30;12;90")
    columns = drawers_to_take(SEED, [table], TableChoice(stock="birch15")).drawers.table.columns
    assert [column.read_in for column in columns] == ["", "cm", "inches", ""]


def test_a_fault_is_told_in_the_unit_of_the_job() -> None:
    table = table_of_text("drawer,width,depth,height,stock\na,-14,12,4,birch15")
    found = drawers_to_take(f"units: in\n{SEED}", [table], TableChoice())
    assert "not −14 in" in str(found.faults[0])


def test_drawers_without_bottoms_are_told_once() -> None:
    def told(text: str) -> str:
        return drawers_to_take(SEED, [table_of_text(text)], TableChoice(stock="birch15")).bottomless

    head, one, two = "drawer,width,depth,height", "a,300,300,90", "b,300,300,90"
    assert told(f"{head}\n{one}\n{two}") == "no bottoms: no column names their stock"
    assert (
        told(f"{head},bottom_stock\n{one},birch6\n{two},") == "no bottom in line 3: no cell names its stock"
    )
    assert told(f"{head},bottom_stock\n{one},birch6\n{two},birch6") == ""


def test_a_piece_without_stock_is_told_without_words_of_the_job_file() -> None:
    table = table_of_text("drawer,width,depth,height,front\na,300,300,90,birch15")
    faults = drawers_to_take(SEED, [table], TableChoice()).faults
    assert [fault.field for fault in faults] == ["sides", "back"]
    assert all("no stock is named" in fault.message and "all'" not in fault.message for fault in faults)


def test_the_front_door_takes_drawers_and_reads_parts(plan: JobPlan, tmp_path: Path) -> None:
    job, table = tmp_path / "job.yaml", tmp_path / "job.xlsx"
    job.write_text(SEED, "utf-8")
    table.write_bytes(PlanFiles(plan).workbook())
    assert dw.import_drawers(table, job, preview=True) == len(plan.job.all_boxes)
    assert job.read_text("utf-8") == SEED
    assert dw.import_drawers(table, job) == len(plan.job.all_boxes)
    assert sizes(job.read_text("utf-8")) == sizes(EXAMPLE)
    parts = dw.read_parts(table, sheet="Parts")
    assert set(parts) == {"birch15", "birch6"}
    assert sum(map(len, parts.values())) == len(plan.parts)
    with pytest.raises(dw.DrawerwrightError, match="second drawer"):
        dw.import_drawers(table, job)


def test_edging_of_the_upper_edges_comes_and_goes() -> None:
    rows = "Drawer;Outer width;Outer depth;Side height;Edging (mm)\nTray;300;250;80;0.8\nBin;300;250;80;\n"
    found = drawers_to_take(SEED, (table_of_text(rows),), TableChoice(stock="birch15"))
    assert found.faults == ()
    *_seed, tray, plain_bin = read_job(found.taken()).boxes
    assert (tray.banding.thickness, tray.banding.box_top) == (0.8, True)
    assert not plain_bin.banding.box_top
    table = drawers_table(read_job(found.text))
    place = [column.name for column in table.columns].index("edging")
    assert [row[place] for row in table.rows] == [None, 0.8, None]


def test_a_shop_without_drawers_waits_for_a_table() -> None:
    """Cutter, machines and stock stay, comments too; a table makes it a job."""
    begun = shop_of_job(EXAMPLE, "New trays")
    rows = "Drawer;Outer width;Outer depth;Side height\nTray;300;250;80\n"
    job = read_job(drawers_to_take(begun, (table_of_text(rows),), TableChoice(stock="birch15")).taken())
    assert (job.name, job.banks, [box.name for box in job.boxes]) == ("New trays", (), ["Tray"])
    assert "# marked on the shank" in begun
    assert job.sheet_sizes == read_job(EXAMPLE).sheet_sizes


def test_faults_of_the_job_file_name_it_and_not_the_table() -> None:
    sheet = table_of_text("drawer,width,depth,height,stock\nA,300,250,60,birch\n")
    found = drawers_to_take("", [sheet], TableChoice(), table="t.csv", file="job.yaml").faults
    assert {fault.field: fault.file for fault in found}["format"] == "job.yaml"
    (stock,) = (fault for fault in found if "birch" in fault.message)
    assert stock.file == "t.csv"
    assert stock.message.endswith("the file has none")


def test_an_empty_table_is_called_empty() -> None:
    with pytest.raises(FaultyInputError, match=r"e\.csv: is empty"):
        given_sheets("e.csv", b"\n")


def test_words_of_the_trade_stand_for_those_of_the_job_file() -> None:
    """In English or German, in capitals or not."""
    table = (
        "Schublade;Breite;Tiefe;Höhe;Boden;Material des Bodens;Eckverbindung;Liegende Teile\n"
        "A;300;300;100;Eingenutet;birch6;Zinken;\nB;300;300;100;untergesetzt;birch6;;Fronten flach\n"
        "C;300;300;100;SLID;birch6;Falz;\nD;300;300;100;hinein;birch6;;\n"
    )
    found = drawers_to_take(SEED, given_sheets("d.csv", table.encode()), TableChoice(stock="birch15"))
    boxes = found.drawers.boxes
    assert [box["bottom"].get("style") for box in boxes] == ["captured", "fixed", "slid", None]
    assert [box.get("joint") for box in boxes] == ["finger", None, "rebate", None]
    assert boxes[1]["orientation"] == "fronts-flat"
    (fault,) = found.faults
    assert fault.line == 5
    assert "slid (eingeschoben)" in str(fault)
    assert "'hinein'" in str(fault)


def test_a_table_in_the_other_unit_does_not_blame_the_job_file() -> None:
    """`units: mm` at the top of the file would turn the job's own inches into millimetres."""
    inches = (EXAMPLES / "repair-bench.yaml").read_text("utf-8")
    head = "drawer,width,depth,height,stock"
    table = table_of_text(f"{head}\na,432,450,120,birch half\nb,612,450,180,birch half")
    asks = TableChoice(unit_asked="--numbers-in")
    stop = drawers_to_take(inches, [table], asks).stops[0].finding
    faulty = table_of_text(f"{head}\na,432,450,120,birch half\nb,612,450,180,")
    fault = next(fault for fault in drawers_to_take(inches, [faulty], asks).faults if fault.field == "units")
    for told in (f"{stop.text} {stop.remedy}", str(fault.message)):
        assert "taken as inches" in told
        assert "Did you mean millimetres?" in told
        assert "(--numbers-in)" in told
    right = drawers_to_take(inches, [table], TableChoice(unit="mm"))
    assert not [each for each in right.stops if each.finding.entry == ("units",)]
