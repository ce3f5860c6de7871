"""A data file of the version in which a test cut named its corner by place and lip: every cut is kept and moved."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.test_cuts.kept_cuts import key_of, moved_to_key
from drawerwright.store import Database, SavedText
from drawerwright.store.database import FILE_NAME
from drawerwright.store.migrations import MIGRATIONS
from drawerwright.web.fields import job_text
from drawerwright.web.server.shop import Shop

OLD = Path(__file__).parent / "data" / "version-3.sql"
ASH, BEECH = ("ash15", "ash15"), ("beech15", "beech15")
EXPECTED = {
    # Two corners were called "front corner, lip 6.0 mm"; the test pieces say of which stock they were.
    1: (*ASH, 6.0),
    2: (*BEECH, 6.0),
    # Taken out when the file was moved; measured pieces, a little off their stock's mean.
    3: (*ASH, 0.0),
    4: (*BEECH, 0.0),
    # Both stocks are 14.6 mm: nothing tells.
    5: None,
    # The lip was made 8 mm later, and the job has a fault now.
    6: (*ASH, 6.0),
    # The job is deleted.
    7: (*BEECH, 0.0),
    # A job that never was; a text that is none.
    8: None,
    9: None,
}


def write_old(folder: Path) -> dict[int, str]:
    """The old data file in a folder; the texts of its cuts come back."""
    with sqlite3.connect(folder / FILE_NAME) as connection:
        connection.executescript(OLD.read_text("utf-8"))
        texts = dict(connection.execute("SELECT id, text FROM shelf WHERE kind = 'trial-cut'"))
    connection.close()
    return texts


def texts_now(folder: Path) -> dict[int, str]:
    with sqlite3.connect(folder / FILE_NAME) as connection:
        found = dict(connection.execute("SELECT id, text FROM shelf WHERE kind = 'trial-cut'"))
    connection.close()
    return found


@pytest.fixture
def before(tmp_path: Path) -> dict[int, str]:
    return write_old(tmp_path)


@pytest.fixture
def shop(tmp_path: Path, before: dict[int, str]) -> Iterator[Shop]:
    shop = Shop(tmp_path)
    yield shop
    shop.close()


def test_every_cut_gets_the_key_of_its_corner_or_stays_as_it_was(
    shop: Shop, tmp_path: Path, before: dict[int, str]
) -> None:
    after = texts_now(tmp_path)
    assert set(before) == set(after) == set(EXPECTED)
    for entry, expected in EXPECTED.items():
        key = key_of(job_text.data_of(after[entry]))
        if expected is None:
            assert key is None
            assert after[entry] == before[entry]
        else:
            assert key is not None
            assert (key.flat, key.upright, key.lip) == expected
            assert (key.joint, key.cutter, key.orientation) == ("drawer-lock", "lock cutter", "fronts-flat")
            assert after[entry].startswith(before[entry])


def test_it_is_moved_once(tmp_path: Path, before: dict[int, str]) -> None:
    Shop(tmp_path).close()
    after = texts_now(tmp_path)
    Shop(tmp_path).close()
    assert texts_now(tmp_path) == after
    with Database(tmp_path).reading() as connection:
        assert connection.execute("PRAGMA user_version").fetchone()[0] == len(MIGRATIONS)


def test_a_move_that_is_broken_off_leaves_the_file_as_it_was(tmp_path: Path, before: dict[int, str]) -> None:
    moved: list[str] = []

    def breaks_off(cut: SavedText, history: object) -> str:
        moved.append(cut.text)
        if len(moved) == 3:
            raise RuntimeError("power cut")
        return "moved"

    with pytest.raises(RuntimeError, match="power cut"):
        Database(tmp_path, breaks_off)
    assert texts_now(tmp_path) == before
    Shop(tmp_path).close()
    assert texts_now(tmp_path) != before


def test_without_a_way_to_move_them_the_file_is_not_opened(tmp_path: Path, before: dict[int, str]) -> None:
    with pytest.raises(InvalidValueError, match="test cuts of an earlier version"):
        Database(tmp_path)
    assert texts_now(tmp_path) == before


def test_of_two_corners_called_alike_none_is_chosen_without_the_pieces_thickness(tmp_path: Path) -> None:
    text = write_old(tmp_path)[1].replace("flat: 14.6\n", "")
    with sqlite3.connect(tmp_path / FILE_NAME) as connection:
        job = connection.execute("SELECT text, saved_at FROM revision WHERE job_id = 1").fetchone()
    connection.close()
    assert moved_to_key(SavedText(text, job[1]), lambda _job_id: [SavedText(*job)]) == text
    whole = text + "flat: 14.6\n"
    assert moved_to_key(SavedText(whole, job[1]), lambda _job_id: [SavedText(*job)]) != whole


@pytest.mark.parametrize(
    "text", ["", "- a list", "job: 1", "corner: x", "job: 1\ncorner: [a]", "{", "job: 1\ncorner: 3\nflat: x"]
)
def test_what_is_no_cut_stays_as_it_is(text: str) -> None:
    def history(_job_id: int) -> Sequence[SavedText]:
        return [SavedText("no: job", "2020-01-01"), SavedText("{", "2021-01-01")]

    assert moved_to_key(SavedText(text, "2020-06-01"), history) == text
