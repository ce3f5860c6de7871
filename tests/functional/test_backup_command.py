"""Everything in one file and back again, while a data file is open and in use."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from drawerwright.cli import main
from drawerwright.store import Database, JobTable, RackTable
from drawerwright.store.database import FILE_NAME
from drawerwright.store.records import RackPiece


def test_a_backup_of_data_in_use_brings_everything_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, file = tmp_path / "data", tmp_path / "all.backup"
    database = Database(folder)
    jobs = JobTable(database)
    job = jobs.add("chest", "job: chest\n", "")
    jobs.save(job.id, "job: chest, wider\n", title="", base=1)
    assert main(["backup", str(file), "--data", str(folder)]) == 0
    assert file.stat().st_mode & 0o077 == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["all.backup", "data"]
    jobs.delete(job.id)
    jobs.add("another", "job: another\n", "")
    assert main(["restore", str(file), "--data", str(folder)]) == 0
    assert "jobs restored: 1" in capsys.readouterr().out
    assert jobs.load(job.id).text == "job: chest, wider\n"
    assert jobs.undo(job.id).text == "job: chest\n"
    assert len(jobs.list()) == 1
    database.close()
    (kept,) = folder.glob("before-restore-*.sqlite3")
    assert main(["restore", str(kept), "--data", str(tmp_path / "new")]) == 0
    again = Database(tmp_path / "new")
    assert [found.title for found in JobTable(again).list()] == ["another"]
    again.close()


def test_what_jobs_plan_to_take_from_the_rack_is_no_damage(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """SQLite 3.40 sees NULL in a sound table whose key is not made of its first columns."""
    database = Database(tmp_path / "data")
    job = JobTable(database).add("chest", "job: chest\n", "")
    RackTable(database).claim(job.id, [RackPiece("birch", "R1", 1200, 420)])
    database.close()
    file = tmp_path / "all.backup"
    assert main(["backup", str(file), "--data", str(tmp_path / "data")]) == 0, capsys.readouterr().err
    assert main(["restore", str(file), "--data", str(tmp_path / "new")]) == 0


def test_a_backup_needs_a_folder_that_is_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Database(tmp_path / "data").close()
    assert main(["backup", str(tmp_path / "none" / "file"), "--data", str(tmp_path / "data")]) == 2
    assert f"there is no folder {tmp_path / 'none'} for the backup" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["backup", "restore"])
def test_what_is_not_there_is_said(tmp_path: Path, command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, str(tmp_path / "file"), "--data", str(tmp_path / "none")]) == 2
    assert "there is no" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_what_is_no_backup_replaces_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    database = Database(tmp_path / "data")
    JobTable(database).add("chest", "job: chest\n", "")
    database.close()
    letter, foreign, empty = (tmp_path / name for name in ("letter", "foreign", "empty"))
    letter.write_bytes(b"no database at all " * 100)
    other = sqlite3.connect(foreign)
    other.execute("CREATE TABLE job (name TEXT)")
    other.close()
    empty.touch()
    damaged = tmp_path / "damaged"
    assert main(["backup", str(damaged), "--data", str(tmp_path / "data")]) == 0
    content = damaged.read_bytes()
    damaged.write_bytes(content[:8192] + b"\xff" * (len(content) - 8192))
    before = (tmp_path / "data" / FILE_NAME).read_bytes()
    for file in (letter, foreign, empty, damaged, tmp_path):
        assert main(["restore", str(file), "--data", str(tmp_path / "data")]) == 2
        said = capsys.readouterr().err
        assert str(file) in said
        assert "Stop Drawerwright" not in said, "the data is not touched"
        assert "Traceback" not in said
    assert (tmp_path / "data" / FILE_NAME).read_bytes() == before
