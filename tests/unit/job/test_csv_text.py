"""Texts of users in CSV files are never formulas of a spreadsheet; numbers stay numbers."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.papers.csv_text import csv_text
from drawerwright.job.papers.plan_files import TABLES
from drawerwright.job.planning.job_plan import plan_job

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")


def told_again(value: object) -> str:
    """A cell as a reader of the file has it."""
    ((cell, _),) = csv.reader(io.StringIO(csv_text([[value, "beside"]]), newline=""))
    return cell


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+cmd", "-lath", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1", '=HYPERLINK("x","y")', "-1+2"],
)
def test_a_text_that_a_spreadsheet_would_reckon_stands_behind_an_apostrophe(text: str) -> None:
    """OWASP, CSV Injection: = + - @, tab, carriage return, line feed, and their full-width forms."""
    assert told_again(text) == f"'{text}"


@pytest.mark.parametrize(
    "value", ["-0.25", "+3", "12.50", "birch 15", "A1 front", -4.5, 7, None, "", "'quoted"]
)
def test_numbers_and_plain_texts_stay_what_they_are(value: object) -> None:
    assert told_again(value) == ("" if value is None else str(value))


def test_no_name_of_a_job_makes_a_formula_of_the_parts_list() -> None:
    text = EXAMPLE.replace("birch15", '"=birch"').replace("name: Reed tray", 'name: "@tray"')
    plan = plan_job(read_job(text), time_limit=1)
    rows = list(csv.DictReader(TABLES["parts.csv"](plan).splitlines()))
    assert {row["stock"] for row in rows} == {"'=birch", "birch6"}
    assert {row["drawer"] for row in rows} >= {"A1", "'@tray 1"}
    for row in rows:
        for name, cell in row.items():
            assert not cell.startswith(("=", "+", "-", "@", "\t")) or name.endswith("_mm")
            if name.endswith("_mm") and cell:
                float(cell)
