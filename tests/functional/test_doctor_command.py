"""`drawerwright doctor` names what is wrong and what to do, and changes nothing."""

from __future__ import annotations

import json
import shutil
import sqlite3
from pathlib import Path

import pytest

from drawerwright.cli import main
from drawerwright.job import own_faults
from drawerwright.job.installation import data_check, libraries_check
from drawerwright.store import Database, JobTable
from drawerwright.store.database import FILE_NAME


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A folder with two jobs, one of them deleted."""
    database = Database(tmp_path / "data")
    jobs = JobTable(database)
    jobs.add("chest", "job: chest\n", "")
    jobs.delete(jobs.add("tray", "job: tray\n", "").id)
    database.close()
    return tmp_path / "data"


def as_it_lies(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_a_sound_installation_is_found_sound(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = as_it_lies(data)
    assert main(["doctor", "--data", str(data), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    said = {check["about"]: check["said"] for check in told["checks"]}
    assert told["ok"] is True
    assert "jobs, deleted ones included: 2;" in said["data"]
    assert "packet of" in said["a whole plan"]
    assert as_it_lies(data) == before


def test_without_data_none_is_made(tmp_path: Path) -> None:
    check = data_check(tmp_path / "none")
    assert not check.is_fault
    assert check.is_to_look_at, "it may be mistyped"
    assert list(tmp_path.iterdir()) == []


def test_a_file_is_no_folder_of_data(tmp_path: Path) -> None:
    (tmp_path / "chest.yaml").write_text("job: chest\n")
    check = data_check(tmp_path / "chest.yaml")
    assert check.is_fault
    assert "is no folder" in check.said


def test_damaged_data_is_named_with_the_remedy(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (data / FILE_NAME).write_bytes(b"no database at all " * 100)
    assert main(["doctor", "--data", str(data)]) == 2
    (line,) = [line for line in capsys.readouterr().out.splitlines() if line.startswith("WRONG")]
    assert str(data / FILE_NAME) in line
    assert "drawerwright restore" in line


def test_a_newer_programs_data_is_left_alone(data: Path) -> None:
    with sqlite3.connect(data / FILE_NAME) as connection:
        connection.execute("PRAGMA user_version = 999")
    connection.close()
    check = data_check(data)
    assert check.is_fault
    assert "newer Drawerwright" in check.said


def test_data_that_somebody_holds_is_said_to_be_in_use(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("drawerwright.store.soundness.BUSY_SECONDS", 0.0)
    holder = sqlite3.connect(data / FILE_NAME, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    check = data_check(data)
    holder.close()
    assert check.is_fault
    assert "in use by another program" in check.said


def test_a_folder_open_to_others_is_said(data: Path) -> None:
    data.chmod(0o755)
    check = data_check(data)
    assert check.weight == "LOOK"
    assert not check.is_fault, "it works all the same"
    assert str(data) in check.said
    assert "chmod 700" in check.said


def test_a_disk_that_is_nearly_full_is_said(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    usage = shutil.disk_usage(data)._replace(free=3_000_000)
    monkeypatch.setattr(shutil, "disk_usage", lambda _folder: usage)
    check = data_check(data)
    assert check.is_fault
    assert "Only 3 MB are left" in check.said


def test_missing_and_old_libraries_are_all_named_at_once() -> None:
    wanted = ["numpy>=1.26", "no-such-library>=1", "jinja2>=999.1", "not-needed>=3; extra == 'scan'"]
    check = libraries_check(wanted)
    assert check.is_fault
    assert "no-such-library is missing" in check.said
    assert "999.1 or newer is needed" in check.said
    assert "numpy" not in check.said
    assert "not-needed" not in check.said
    assert libraries_check(["numpy>=1.26", "jinja2>=3.1"]).said == "all 2 there, none too old"


def test_a_library_that_does_its_work_no_more_is_named(
    data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object, **__: object) -> bytes:
        raise ImportError("libtypst.so: cannot open shared object file")

    monkeypatch.setattr("drawerwright.job.papers.packet_pages.plan_packet", broken)
    monkeypatch.setattr("drawerwright.job.planning.job_plan.plan_job", lambda _job: None)
    assert main(["doctor", "--data", str(data)]) == 2
    assert "libtypst.so" in capsys.readouterr().out


def test_a_report_is_asked_for_in_the_words_of_the_fault(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(own_faults.tempfile, "gettempdir", lambda: str(tmp_path))
    told = own_faults.own_fault(KeyError("x"), "planning")
    assert main(["doctor", "--data", str(data)]) == 0
    assert "please send that file to whoever maintains Drawerwright" in told
    assert "please send that file to whoever maintains Drawerwright" in capsys.readouterr().out
