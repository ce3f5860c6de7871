"""A data folder or file that may only be read: named in words, read where that can be, and backed up all the same."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

import drawerwright.web.serving  # noqa: F401 - before nobody may read the libraries
from drawerwright.cli import main
from drawerwright.store import Database, JobTable
from drawerwright.store.database import FILE_NAME
from drawerwright.store.records import StoreError

pytestmark = pytest.mark.skipif(os.name != "posix", reason="modes of files as POSIX has them")
NOBODY = 65534


@pytest.fixture
def data(capsys: pytest.CaptureFixture[str]) -> Iterator[Path]:
    """Data with one job, the newest of it in the write-ahead log yet, as a killed app leaves it."""
    with tempfile.TemporaryDirectory() as name:
        used, left = Path(name) / "used", Path(name) / "left"
        database = Database(used)
        JobTable(database).add("chest", "job: chest\n", "")
        shutil.copytree(used, left)
        database.close()
        for file in left.glob("*-shm"):
            file.unlink()
        assert main(["backup", str(Path(name) / "first"), "--data", str(used)]) == 0  # loads what is needed
        yield left
        for path in (left, *left.iterdir()):
            path.chmod(0o700)
    capsys.readouterr()


@contextmanager
def shut(folder: Path, *, folder_mode: int, file_mode: int) -> Iterator[None]:
    """Who owns the folder may no more than its modes let him; nobody holds the superuser to them."""
    is_root = os.geteuid() == 0
    for path in (folder.parent, folder, *folder.iterdir()):
        if is_root:
            os.chown(path, NOBODY, NOBODY)
    for path in folder.iterdir():
        path.chmod(file_mode)
    folder.chmod(folder_mode)
    if is_root:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if is_root:
            os.seteuid(0)


def test_a_folder_that_may_only_be_read_is_named_with_the_way_out(
    data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with shut(data, folder_mode=0o500, file_mode=0o400):
        assert main(["serve", "--port", "0", "--data", str(data / "new")]) == 2
        said = capsys.readouterr().err
        assert f"cannot use {data / 'new'} for the data (Permission denied: {data / 'new'})" in said
        assert "name another folder with --data" in said
        assert main(["restore", str(data.parent / "first"), "--data", str(data)]) == 2
        assert main(["serve", "--port", "0", "--data", str(data)]) == 2
    said = capsys.readouterr().err
    assert str(data / FILE_NAME) in said
    assert "Traceback" not in said
    assert "internal" not in said


def test_what_may_only_be_read_is_backed_up_with_all_that_was_saved(
    data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert (data / f"{FILE_NAME}-wal").stat().st_size > 0
    backup = data.parent / "all.backup"
    with shut(data, folder_mode=0o500, file_mode=0o400):
        assert main(["backup", str(backup), "--data", str(data)]) == 0
    assert "jobs copied: 1" in capsys.readouterr().out
    assert main(["restore", str(backup), "--data", str(tmp_path)]) == 0
    again = Database(tmp_path)
    assert JobTable(again).load(1).text == "job: chest\n"
    again.close()


def test_a_file_that_may_only_be_read_is_read_and_not_written(data: Path) -> None:
    with shut(data, folder_mode=0o700, file_mode=0o400):
        database = Database(data)
        jobs = JobTable(database)
        assert jobs.load(1).text == "job: chest\n"
        with pytest.raises(StoreError, match=r"cannot be written .* may write to this file and its folder"):
            jobs.save(1, "job: other\n", title="", base=1)
        assert jobs.load(1).text == "job: chest\n"
        database.close()


def test_a_backup_on_a_disk_that_may_only_be_read_is_put_back(data: Path, tmp_path: Path) -> None:
    medium = data.parent / "medium"
    medium.mkdir()
    (data.parent / "first").rename(medium / "first")
    with shut(medium, folder_mode=0o500, file_mode=0o400):
        assert main(["restore", str(medium / "first"), "--data", str(data.parent / "own")]) == 0
    assert (data.parent / "own" / FILE_NAME).exists()
