"""Every command's help ends with an example, and the example does its work."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import Any

import cv2
import openpyxl
import pytest

from drawerwright.cli import COMMANDS, build_parser, main
from drawerwright.cli.command_arguments import commands_of
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.job_entries import job_entries
from drawerwright.job.shelf_parts import put_on_shelf
from drawerwright.library.opened_job import open_job
from drawerwright.store import Database, JobTable, Shelf, data_folder
from drawerwright.web import serving
from scan_pictures import Look, Truth, picture
from tiny_instance import DRAWERS

ROOT = Path(__file__).parents[2]
EXAMPLES = [command.EXAMPLE for command in COMMANDS]
README = (ROOT / "README.md").read_text("utf-8")
UNTRIED = [each for each in EXAMPLES if f".venv/bin/{each}\n" not in README]
"""Those of the README are tried in `test_readme.py`."""


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with what the examples name, and a data folder with a job."""
    folder = tmp_path_factory.mktemp("workshop")
    (folder / "examples").symlink_to(ROOT / "examples")
    (folder / "instance.json").write_text(json.dumps(DRAWERS))
    (folder / "shop").mkdir()
    planned = open_job(folder / "examples" / "music-school.yaml").plan(time_limit=0.1)
    (folder / "shop" / "plan.json").write_text(json.dumps(planned.data))
    (folder / "chest.yaml").write_text(example_text(), encoding="utf-8")
    table = openpyxl.Workbook()
    table.active.append(["Drawer", "Width", "Depth", "Height", "Stock"])
    table.active.append(["pencils", 300, 400, 80, "birch15"])
    table.save(folder / "drawers.xlsx")
    for name, is_flat in (("flat.png", True), ("upright.png", False)):
        truth = Truth(
            mid_depth=5.65, step=3.45, slope=55, bit_height=11.2, fence=9.05, thickness=14.6, is_flat=is_flat
        )
        cv2.imwrite(str(folder / name), picture(truth, Look(dpi=300, angle=17, seed=1, length=27)).pixels)
    return folder


@pytest.mark.parametrize("example", UNTRIED, ids=lambda example: example.split()[1])
def test_it_does_its_work(
    example: str, workshop: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(workshop)
    monkeypatch.setenv("XDG_DATA_HOME", str(workshop / "data"))
    answers = iter(("Trays", "6.1", "3.8", "15", "", "6.5", "", "", "", "480", "700", "450", "5"))
    monkeypatch.setattr("builtins.input", lambda prompt: next(answers))
    served: list[dict[str, Any]] = []
    monkeypatch.setattr(serving, "serve", lambda folder, **options: served.append(options))
    if " backup " in example:
        with_a_job = Database(data_folder())
        JobTable(with_a_job).add("chest", "job: chest\n", "")
        with_a_job.close()
    if " rack " in example:
        with_a_stock = Database(data_folder())
        put_on_shelf(Shelf(with_a_stock), job_entries(example_text()), ("stock", "birch15"))
        with_a_stock.close()
    program, *given = shlex.split(example.partition(" > ")[0])
    assert program == "drawerwright"
    assert main(given) == 0
    said = capsys.readouterr()
    assert not said.err
    assert said.out or served == [{"port": 8744, "is_lan": False, "lan_host": None, "opens_browser": True}]


def test_help_shows_it(capsys: pytest.CaptureFixture[str]) -> None:
    for name, parser in commands_of(build_parser()).items():
        told = parser.format_help().rstrip()
        assert told.splitlines()[-2:] == [
            "example:",
            f"  {next(e for e in EXAMPLES if e.split()[1] == name)}",
        ]
