"""The files of a plan, read by libraries that had no part in writing them: openpyxl, trimesh, pypdf."""

from __future__ import annotations

import io
import json
from pathlib import Path

import numpy as np
import openpyxl
import pypdf
import pytest
import trimesh
from openpyxl.utils import get_column_letter

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.data_table import Column, DataTable, Quantity
from drawerwright.job.papers.file_kinds import USUAL_KINDS, FileKind, file_kinds
from drawerwright.job.papers.files_out import write_plan
from drawerwright.job.papers.plan_files import PlanFiles
from drawerwright.job.papers.plan_tables import parts_table, plan_tables, times_table
from drawerwright.job.papers.workbook import write_workbook
from drawerwright.job.planning.job_plan import JobPlan, plan_job

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")
METRE = 1000.0


@pytest.fixture(scope="module")
def plan() -> JobPlan:
    return plan_job(read_job(EXAMPLE.replace("name: Reed tray", 'name: "=Reed tray"')), time_limit=1)


@pytest.fixture(scope="module")
def files(plan: JobPlan) -> dict[str, bytes]:
    kinds = {FileKind.PDF, FileKind.PAGES, FileKind.XLSX, FileKind.GLB}
    return dict(PlanFiles(plan).of(kinds))


def opened(content: bytes) -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(content))


def shown(cell: float, column: Column, table: DataTable) -> float:
    """A number as the papers show it; the drawers, which are read in again, as they are."""
    if table.title == "Drawers" or column.quantity not in (Quantity.LENGTH, Quantity.FINE):
        return round(cell, 6 if table.title == "Drawers" else 2)
    is_fine = column.quantity is Quantity.FINE
    return float(LengthStyle().show(cell, fine=is_fine, with_unit=False).replace("−", "-"))


def test_the_workbook_has_every_table_with_numbers_as_numbers(plan: JobPlan, files: dict[str, bytes]) -> None:
    book = opened(files["job.xlsx"])
    tables = [table.in_use for table in plan_tables(plan)]
    assert book.sheetnames == ["Parts", "Shopping list", "Cut list", "Set-ups", "Times", "Drawers"]
    for table in tables:
        sheet = book[table.title]
        for at, row in enumerate(table.rows, start=2):
            for number, (cell, column) in enumerate(zip(row, table.columns, strict=True), start=1):
                read = sheet.cell(at, number)
                place = (table.title, at, column.name)
                if isinstance(cell, int | float):
                    assert read.data_type == "n", place
                    assert read.value == pytest.approx(shown(cell, column, table), abs=1e-9), place
                else:
                    assert (read.value or "") == plan.job.style.say(cell or ""), place


def test_the_workbook_is_ready_for_desk_and_printer(plan: JobPlan, files: dict[str, bytes]) -> None:
    for sheet in opened(files["job.xlsx"]).worksheets:
        assert sheet.freeze_panes == "B2"
        assert sheet.print_title_rows == "$1:$1"
        last = get_column_letter(sheet.max_column)
        assert sheet.print_area.endswith(f"!$A$1:${last}${sheet.max_row}")
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.fitToHeight == 0  # as many pages long as it takes, one wide
        assert sheet.page_setup.orientation == "landscape"
        assert sheet.page_setup.paperSize == 9  # A4: ECMA-376 part 1, 18.3.1.63
    heads = [cell.value for cell in opened(files["job.xlsx"])["Parts"][1]]
    assert "Length (mm)" in heads
    assert [cell.value for cell in opened(files["job.xlsx"])["Times"][1]][-1] == "Time (min)"


def test_totals_are_formulas_with_their_values(plan: JobPlan, files: dict[str, bytes]) -> None:
    table = times_table(plan)
    last = len(table.rows) + 2
    assert opened(files["job.xlsx"])["Times"].cell(last, 5).value == f"=SUM(E2:E{last - 1})"
    kept = openpyxl.load_workbook(io.BytesIO(files["job.xlsx"]), data_only=True)["Times"]
    assert kept.cell(last, 5).value == pytest.approx(sum(step.minutes for step in plan.run.steps), abs=0.1)


def test_a_name_that_begins_like_a_formula_stays_a_name(files: dict[str, bytes]) -> None:
    sheet = opened(files["job.xlsx"])["Parts"]
    named = [cell for cell in sheet["B"] if str(cell.value).startswith("=")]
    assert {cell.value for cell in named} == {"=Reed tray 1", "=Reed tray 2", "=Reed tray 3"}
    assert {cell.data_type for cell in named} == {"s"}


def test_inches_are_inches_and_paper_is_letter(plan: JobPlan) -> None:
    table = parts_table(plan)
    sheet = opened(write_workbook([table], "job", LengthStyle("in/64", ",")))["Parts"]
    assert sheet.page_setup.paperSize == 1
    number = [column.name for column in table.columns].index("length")
    assert sheet.cell(1, number + 1).value == "Length (in)"
    assert sheet.cell(2, number + 1).value == pytest.approx(plan.parts[0].length / 25.4, abs=0.0006)


def test_a_table_without_rows_is_a_head(plan: JobPlan) -> None:
    table = parts_table(plan)
    sheet = opened(write_workbook([DataTable("None", table.columns, (), ("length",))], "j", LengthStyle()))[
        "None"
    ]
    assert sheet.max_row == 1
    assert Quantity.LENGTH in {column.quantity for column in table.columns}


def test_solids_are_closed_named_and_where_the_parts_are(plan: JobPlan, files: dict[str, bytes]) -> None:
    """glTF 2.0, 3.4: metres, y up; our x, z and -y."""
    assembled = {drawer.box.name: drawer for drawer in plan.draft.assembled}
    for bank in plan.job.banks:
        scene = trimesh.load(io.BytesIO(files[f"models/bank-{bank.bank.mark}.glb"]), file_type="glb")
        assert isinstance(scene, trimesh.Scene)
        places = {place.name: place for place in bank.bank.places()}
        expected = {}
        for box in bank.boxes:
            origin = places[box.name].origin(box)
            for placed in assembled[box.name].placed:
                low, high = (
                    [at + by for at, by in zip(corner, origin, strict=True)] for corner in placed.bounds
                )
                expected[placed.part.label] = (
                    (low[0], low[2], -high[1]),
                    (high[0], high[2], -low[1]),
                )
        around = {f"{where} of the carcase" for where in ("left side", "right side", "top", "bottom")}
        assert set(scene.graph.nodes_geometry) - set(expected) == around
        assert set(expected) < set(scene.graph.nodes_geometry)
        for name, (low, high) in expected.items():
            turn, geometry = scene.graph[name]
            mesh = scene.geometry[geometry].copy().apply_transform(turn)
            mesh.merge_vertices(merge_norm=True)
            assert mesh.is_watertight, name
            assert mesh.bounds * METRE == pytest.approx(np.array([low, high]), abs=0.001), name


def test_boxes_alike_are_one_model(files: dict[str, bytes]) -> None:
    models = [name for name in files if name.startswith("models/")]
    assert models == ["models/bank-A.glb", "models/bank-B.glb", "models/box-1.glb"]


def test_single_pages_are_those_of_the_packet(files: dict[str, bytes]) -> None:
    whole = pypdf.PdfReader(io.BytesIO(files["packet.pdf"]))
    names = sorted(name for name in files if name.startswith("pages/"))
    assert len(names) == len(whole.pages)
    for name, page in zip(names, whole.pages, strict=True):
        (single,) = pypdf.PdfReader(io.BytesIO(files[name])).pages
        assert [float(size) for size in single.mediabox] == pytest.approx(
            [float(size) for size in page.mediabox], abs=0.01
        )


def test_kinds_are_named_alone_together_or_all() -> None:
    assert file_kinds("pdf") == {FileKind.PDF}
    assert file_kinds(["xlsx", "glb"]) == {FileKind.XLSX, FileKind.GLB}
    assert file_kinds("all") == set(FileKind)
    with pytest.raises(
        InvalidValueError, match=r"'xls' is no kind of file.*all, pdf, pages, labels, csv, xlsx"
    ):
        file_kinds("pdf,xls")
    with pytest.raises(InvalidValueError, match="at least one"):
        file_kinds([])
    assert {FileKind.PDF, FileKind.CSV, FileKind.SVG} == USUAL_KINDS


def test_what_a_later_plan_does_not_write_is_not_left_to_cut_from(plan: JobPlan, tmp_path: Path) -> None:
    write_plan(plan, tmp_path, kinds={FileKind.CSV, FileKind.XLSX, FileKind.GLB})
    own = tmp_path / "drawings.txt"
    own.write_text("mine")
    report = json.loads((tmp_path / "plan.json").read_text("utf-8"))
    outside = tmp_path.parent / "outside.glb"
    outside.write_text("not ours")
    report["files"] += ["drawings.txt", "../outside.glb", "models/../../outside.glb", "models/..", "models"]
    (tmp_path / "plan.json").write_text(json.dumps(report), "utf-8")
    write_plan(plan, tmp_path, kinds={FileKind.CSV})
    left = {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*") if path.is_file()}
    assert left == {"parts.csv", "cuts.csv", "plan.json", "drawings.txt"}
    assert outside.read_text() == "not ours"
    assert json.loads((tmp_path / "plan.json").read_text("utf-8"))["files"] == [
        "parts.csv",
        "cuts.csv",
        "plan.json",
    ]
    outside.unlink()
