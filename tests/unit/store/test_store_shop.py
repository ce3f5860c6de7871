"""Shelf, progress and devices."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from drawerwright.store import (
    Database,
    Devices,
    JobTable,
    PictureTable,
    ProgressTable,
    Shelf,
    ShelfKind,
    StaleEntryError,
    UnknownEntryError,
    UnknownRecordError,
)

OpenDatabase = Callable[[Path], Database]


def test_shelf_keeps_each_kind_in_the_order_in_which_it_came(
    tmp_path: Path, open_database: OpenDatabase
) -> None:
    shelf = Shelf(open_database(tmp_path))
    for kind, name in (
        (ShelfKind.CUTTER, "blue shank"),
        (ShelfKind.TRIAL_CUT, "first"),
        (ShelfKind.CUTTER, "a"),
    ):
        shelf.add(kind, name, "mid_depth: 6.1")
    assert [e.name for e in shelf.list(ShelfKind.CUTTER)] == ["blue shank", "a"]
    assert [e.name for e in shelf.list(ShelfKind.TRIAL_CUT)] == ["first"]
    assert shelf.list(ShelfKind.STOCK) == ()


def test_shelf_refuses_a_stale_save_and_restores_what_was_deleted(
    tmp_path: Path, open_database: OpenDatabase
) -> None:
    shelf = Shelf(open_database(tmp_path))
    entry = shelf.add(ShelfKind.MACHINE, "table", "kerf: 3")
    shelf.save(entry.id, "kerf: 3.2", name="table", base=1)
    with pytest.raises(StaleEntryError) as caught:
        shelf.save(entry.id, "kerf: 2.8", name="table", base=1)
    assert caught.value.theirs.text == "kerf: 3.2"
    shelf.delete(entry.id)
    with pytest.raises(UnknownEntryError):
        shelf.load(entry.id)
    assert shelf.restore(entry.id).text == "kerf: 3.2"


def test_ticks_and_notes_are_kept_per_job(tmp_path: Path, open_database: OpenDatabase) -> None:
    database = open_database(tmp_path)
    jobs, progress = JobTable(database), ProgressTable(database)
    one, two = jobs.add("a", "a"), jobs.add("b", "b")
    progress.tick(one.id, "cut-1", is_done=True)
    progress.tick(one.id, "cut-1", is_done=True)
    progress.write_note(one.id, "cut-1", "blade dull")
    assert set(progress.load(one.id).ticked) == {"cut-1"}
    assert progress.load(one.id).notes == {"cut-1": "blade dull"}
    assert progress.load(two.id).ticked == {}
    before = progress.load(one.id).version
    after = progress.tick(one.id, "cut-1", is_done=False)
    assert after.ticked == {}
    assert after.version == before + 1


def test_a_revoked_device_is_unknown_and_tokens_are_not_stored(
    tmp_path: Path, open_database: OpenDatabase
) -> None:
    database = open_database(tmp_path)
    devices = Devices(database)
    token = devices.pair("phone")
    found = devices.find(token)
    assert found is not None
    assert found.name == "phone"
    assert devices.find(token + "x") is None
    database.close()
    assert all(token.encode() not in path.read_bytes() for path in tmp_path.iterdir())
    devices = Devices(open_database(tmp_path))
    devices.revoke(found.id)
    assert devices.find(token) is None
    assert devices.list() == ()


def test_pictures_belong_to_a_cut_once_it_is_sent(tmp_path: Path) -> None:
    database = Database(tmp_path)
    try:
        jobs, shelf, pictures = JobTable(database), Shelf(database), PictureTable(database)
        job = jobs.add("Score chest", "job: a\n", "new")
        cut = shelf.add(ShelfKind.TRIAL_CUT, "flush", "cut: 1\n")
        flat, upright = (pictures.add(job.id, name, b"jpeg" + name.encode()) for name in ("flat", "upright"))
        assert pictures.of_job(job.id) == ()
        pictures.attach(job.id, [flat, 999], cut.id)
        assert [(one.id, one.entry_id, one.name) for one in pictures.of_job(job.id)] == [
            (flat, cut.id, "flat")
        ]
        assert pictures.content(job.id, upright) == b"jpegupright"
        pictures.remove(job.id, flat)
        for number, of in ((flat, job.id), (upright, job.id + 1)):
            with pytest.raises(UnknownRecordError):
                pictures.content(of, number)
    finally:
        database.close()
