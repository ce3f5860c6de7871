"""The data file: durable, migrated, refused when it is from the future."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path

import platformdirs
import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.store import Database, JobTable, data_folder
from drawerwright.store.database import FILE_NAME
from drawerwright.store.files import write_whole
from drawerwright.store.migrations import MIGRATIONS

OpenDatabase = Callable[[Path], Database]

WRITER = """
import sys
from pathlib import Path
from drawerwright.store import Database, JobTable, data_folder
jobs = JobTable(Database(Path(sys.argv[1])))
job = jobs.add("kill", "0")
for number in range(1, 100000):
    job = jobs.save(job.id, str(number), title="kill", base=job.revision.number)
    print(number, flush=True)
"""


@pytest.mark.skipif(os.name == "nt", reason="no SIGKILL there")
@pytest.mark.parametrize("after", [1, 7, 40])
def test_a_killed_writer_loses_nothing_that_it_called_saved(
    tmp_path: Path, open_database: OpenDatabase, after: int
) -> None:
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(tmp_path)], stdout=subprocess.PIPE, text=True
    )
    assert writer.stdout is not None
    last = 0
    for line in writer.stdout:
        last = int(line)
        if last >= after:
            break
    writer.send_signal(signal.SIGKILL)
    rest = writer.stdout.read().split()
    writer.stdout.close()
    writer.wait()
    said_saved = max([last, *(int(number) for number in rest)])
    database = open_database(tmp_path)
    (job,) = JobTable(database).list()
    kept = JobTable(database).load(job.id)
    assert int(kept.text) >= said_saved
    assert len(JobTable(database).revisions(job.id)) == kept.revision.number
    with database.reading() as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"


def test_a_transaction_that_fails_leaves_no_trace(tmp_path: Path, open_database: OpenDatabase) -> None:
    database = open_database(tmp_path)

    def half_done() -> None:
        with database.writing() as connection:
            connection.execute("INSERT INTO job (title, head) VALUES ('half', 1)")
            raise RuntimeError("stop here")

    with pytest.raises(RuntimeError, match="stop here"):
        half_done()
    with database.reading() as connection:
        assert connection.execute("SELECT count(*) FROM job").fetchone()[0] == 0


def test_wal_and_full_synchronisation_are_on(tmp_path: Path, open_database: OpenDatabase) -> None:
    with open_database(tmp_path).reading() as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone()[0] == "wal"
        assert connection.execute("PRAGMA synchronous").fetchone()[0] == 2  # FULL, sqlite.org/pragma.html


def test_a_file_from_a_newer_program_is_refused(tmp_path: Path, open_database: OpenDatabase) -> None:
    open_database(tmp_path).close()
    with sqlite3.connect(tmp_path / FILE_NAME) as connection:
        connection.execute(f"PRAGMA user_version = {len(MIGRATIONS) + 1}")
    connection.close()
    with pytest.raises(InvalidValueError, match="newer Drawerwright"):
        open_database(tmp_path)


def test_a_folder_that_cannot_be_made_is_said_plainly(tmp_path: Path, open_database: OpenDatabase) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(InvalidValueError, match="--data"):
        open_database(tmp_path / "file" / "below")


def test_many_threads_and_two_connections_write_in_turn(tmp_path: Path, open_database: OpenDatabase) -> None:
    tables = [JobTable(open_database(tmp_path)) for _ in range(2)]

    def add(table: JobTable) -> None:
        for _ in range(10):
            table.add("t", "x")

    threads = [threading.Thread(target=add, args=(tables[index % 2],)) for index in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(tables[0].list()) == 60


def test_write_whole_replaces_and_cleans_up(tmp_path: Path) -> None:
    target = tmp_path / "a.txt"
    write_whole(target, b"old")
    write_whole(target, b"new")
    assert target.read_bytes() == b"new"
    with pytest.raises(TypeError):
        write_whole(target, "not bytes")  # type: ignore[arg-type]
    assert target.read_bytes() == b"new"
    assert [path.name for path in tmp_path.iterdir()] == ["a.txt"]


def test_writes_inside_one_another_stand_or_fall_together(
    tmp_path: Path, open_database: OpenDatabase
) -> None:
    database = open_database(tmp_path)
    jobs = JobTable(database)

    def interrupted() -> None:
        with database.writing():
            jobs.add("first", "1")
            jobs.add("second", "2")
            raise RuntimeError("power cut")

    with pytest.raises(RuntimeError, match="power cut"):
        interrupted()
    assert jobs.list() == ()
    with database.writing():
        jobs.add("first", "1")
        jobs.add("second", "2")
    assert len(jobs.list()) == 2


def test_the_default_is_one_file_in_the_data_folder_of_the_user(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(platformdirs, "user_data_path", lambda name, **_more: tmp_path / name)
    assert data_folder() == tmp_path / "drawerwright"
    database = Database(data_folder())
    database.close()
    assert [path.name for path in data_folder().iterdir()] == [database.path.name]
