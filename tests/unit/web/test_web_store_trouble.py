"""A locked, full, damaged or foreign data file is named in words, and whoever only reads is not held up."""

from __future__ import annotations

import re
import sqlite3
import stat
import threading
import time
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from drawerwright.basics.errors import InvalidValueError
from drawerwright.cli import main
from drawerwright.store import Database, JobTable
from drawerwright.store.database import FILE_NAME
from drawerwright.store.records import StoreError
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of

DESK = "http://127.0.0.1:8744"


@pytest.fixture(autouse=True)
def soon_out_of_patience(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("drawerwright.store.database.BUSY_SECONDS", 0.1)


def held(folder: Path) -> sqlite3.Connection:
    """Another program in the middle of a change."""
    other = sqlite3.connect(folder / FILE_NAME, isolation_level=None, check_same_thread=False)
    other.execute("BEGIN IMMEDIATE")
    return other


def test_a_file_that_somebody_else_writes_is_read_at_once_and_not_written(tmp_path: Path) -> None:
    database = Database(tmp_path)
    jobs = JobTable(database)
    job = jobs.add("mine", "job: mine\n", "")
    other = held(tmp_path)
    began = time.monotonic()
    assert jobs.load(job.id).text == "job: mine\n"
    assert time.monotonic() - began < 0.05
    with pytest.raises(StoreError, match="in use by another program, so nothing was saved") as refused:
        jobs.save(job.id, "job: yours\n", title="", base=1)
    assert refused.value.is_busy
    assert str(tmp_path / FILE_NAME) in str(refused.value)
    other.execute("ROLLBACK")
    assert jobs.save(job.id, "job: yours\n", title="", base=1).text == "job: yours\n"
    other.close()
    database.close()


def test_readers_do_not_wait_for_a_writer_of_their_own_who_waits(tmp_path: Path) -> None:
    """The event loop stood still for ten seconds where a change waited for another process with the lock in hand."""
    database = Database(tmp_path)
    jobs = JobTable(database)
    job = jobs.add("mine", "job: mine\n", "")
    is_writing, go_on = threading.Event(), threading.Event()

    def write() -> None:
        with database.writing():
            is_writing.set()
            go_on.wait(10)

    writer = threading.Thread(target=write)
    writer.start()
    assert is_writing.wait(10)
    began = time.monotonic()
    assert jobs.load(job.id).text == "job: mine\n"
    assert time.monotonic() - began < 0.05
    with pytest.raises(StoreError, match="in use"):
        jobs.delete(job.id)
    go_on.set()
    writer.join(10)
    database.close()


def test_pages_of_a_held_file_are_answered_and_changes_told_to_try_again(tmp_path: Path) -> None:
    shop = Shop(tmp_path)
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
    assert client.post("/jobs/example").status_code == 200
    other = held(tmp_path)
    assert client.get("/jobs/1/text").status_code == 200
    undone = client.post("/jobs/1/duplicate")
    assert undone.status_code == 503  # which pages take as being away, and send again what was typed
    assert "in use by another program" in undone.text
    other.close()
    assert client.post("/jobs/1/duplicate").status_code == 200
    shop.close()


def test_a_full_disk_is_named_and_nothing_is_half_saved(tmp_path: Path) -> None:
    database = Database(tmp_path)
    jobs = JobTable(database)
    job = jobs.add("mine", "job: mine\n", "")
    with database.writing() as connection:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
    database._connection.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(StoreError, match=r"The disk is full, so nothing was saved in .* Make room"):
        jobs.save(job.id, "x" * 1_000_000, title="", base=1)
    assert jobs.load(job.id).text == "job: mine\n"
    database._connection.execute("PRAGMA max_page_count = 100000")
    assert jobs.save(job.id, "x" * 100_000, title="", base=1).revision.number == 2
    database.close()


def test_a_text_that_a_full_disk_does_not_take_stays_on_the_page(tmp_path: Path) -> None:
    shop = Shop(tmp_path)
    client = TestClient(app_of(shop), base_url=DESK, client=("127.0.0.1", 5), headers={"Origin": DESK})
    job = shop.jobs.add("mine", "job: mine\n", "")
    with shop.database.writing() as connection:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
    shop.database._connection.execute(f"PRAGMA max_page_count = {pages}")
    typed = {"text": "job: mine\n# typed\n" + "# more\n" * 20_000, "base": "1"}
    answer = client.post(f"/jobs/{job.id}/text", data=typed)
    assert answer.status_code == 507
    assert "The disk is full, so nothing was saved" in answer.text
    assert "# typed\n# more\n" in answer.text
    shop.database._connection.execute("PRAGMA max_page_count = 100000")
    base = re.search(r'name="base" value="(\d+)"', answer.text)
    assert base is not None
    again = client.post(f"/jobs/{job.id}/text", data={**typed, "base": base[1]}, follow_redirects=False)
    assert again.status_code == 303
    shop.close()


def test_a_damaged_page_is_named(tmp_path: Path) -> None:
    database = Database(tmp_path)
    JobTable(database).add("mine", "x" * 50_000, "")
    database.close()
    file = tmp_path / FILE_NAME
    content = file.read_bytes()
    file.write_bytes(content[:4096] + b"\xff" * (len(content) - 4096))
    damaged = Database(tmp_path)  # its first page is whole
    with pytest.raises(StoreError, match=r"is damaged .* drawerwright restore"):
        JobTable(damaged).load(1)
    damaged.close()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (
            b"this is a letter and no database at all, and long enough for one " * 20,
            "is damaged (file is not a",
        ),
        ("CREATE TABLE job (name TEXT)", "is no data file of Drawerwright"),
        ("CREATE TABLE job (name TEXT); PRAGMA user_version = 2", "is no data file of Drawerwright"),
        ("PRAGMA user_version = 3", "is no data file of Drawerwright"),
        ("PRAGMA user_version = 99", "was written by a newer Drawerwright"),
    ],
)
def test_a_file_of_somebody_else_is_left_as_it_is(
    tmp_path: Path, content: bytes | str, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / FILE_NAME
    if isinstance(content, bytes):
        file.write_bytes(content)
    else:
        foreign = sqlite3.connect(file)
        foreign.executescript(content)
        foreign.close()
    assert main(["serve", "--port", "0", "--data", str(tmp_path)]) == 2
    said = capsys.readouterr().err
    assert words in said
    assert str(file) in said
    assert "Traceback" not in said


def test_a_file_that_is_up_to_date_is_opened_while_it_is_held(tmp_path: Path) -> None:
    """Nothing is to be written, so nobody is waited for."""
    Database(tmp_path).close()
    other = held(tmp_path)
    opened = Database(tmp_path)  # else it would be refused as in use
    assert not JobTable(opened).list()
    opened.close()
    other.close()


def test_a_server_whose_file_is_to_be_brought_up_to_date_while_it_is_held_ends_with_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = held(tmp_path)  # an empty file yet
    assert main(["serve", "--port", "0", "--data", str(tmp_path)]) == 2
    assert "in use by another program" in capsys.readouterr().err
    other.close()


def test_only_its_owner_reads_the_data(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    database = Database(folder)
    with pytest.raises(InvalidValueError, match="cannot use"):
        Database(folder / FILE_NAME)
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in folder.iterdir()}
    assert set(modes.values()) == {0o600}
    assert len(modes) >= 2
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    database.close()


def test_a_paired_phone_stays_let_in_while_the_file_cannot_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = Shop(tmp_path)
    token = shop.devices.pair("Phone")
    assert shop.is_paired(token)

    def fail(_token: str) -> None:
        raise StoreError("damaged")

    monkeypatch.setattr(shop.devices, "find", fail)
    assert shop.is_paired(token)
    assert not shop.is_paired("another")
    shop.close()
