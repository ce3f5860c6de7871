"""Jobs keep every revision; undo and redo are walks; nobody overwrites anybody silently."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drawerwright.store import ConflictError, Database, JobTable, UnknownJobError, job_table

OpenDatabase = Callable[[Path], Database]


@pytest.fixture
def jobs(tmp_path: Path, open_database: OpenDatabase) -> JobTable:
    return JobTable(open_database(tmp_path))


def test_text_comes_back_as_it_was_saved(jobs: JobTable) -> None:
    text = "# a comment\njob: Score chest  \nnote: 'ä ½ ″'\r\n\n"
    job = jobs.add("Score chest", text)
    assert jobs.load(job.id).text == text
    assert [summary.title for summary in jobs.list()] == ["Score chest"]


def test_each_save_is_a_revision_and_an_equal_text_is_none(jobs: JobTable) -> None:
    job = jobs.add("a", "one")
    second = jobs.save(job.id, "two", title="b", base=1, note="height")
    assert (second.revision.number, second.title) == (2, "b")
    assert jobs.save(job.id, "two", title="b", base=2).revision.number == 2
    assert [(r.number, r.text) for r in jobs.revisions(job.id)] == [(2, "two"), (1, "one")]


def test_conflicting_save_is_refused_with_both_texts(jobs: JobTable) -> None:
    job = jobs.add("a", "one")
    jobs.save(job.id, "two", title="a", base=1)
    with pytest.raises(ConflictError) as caught:
        jobs.save(job.id, "my two", title="a", base=1)
    assert (caught.value.mine, caught.value.theirs.text) == ("my two", "two")
    assert jobs.load(job.id).text == "two"
    assert len(jobs.revisions(job.id)) == 2


def test_undo_and_redo_survive_reopening_the_file(tmp_path: Path, open_database: OpenDatabase) -> None:
    database = open_database(tmp_path)
    jobs = JobTable(database)
    job = jobs.add("a", "one")
    jobs.save(job.id, "two", title="a", base=1)
    jobs.undo(job.id)
    database.close()
    again = JobTable(open_database(tmp_path))
    assert again.load(job.id).text == "one"
    assert again.load(job.id).can_redo
    assert again.redo(job.id).text == "two"
    assert not again.redo(job.id).can_redo


def test_a_save_after_undo_keeps_what_was_undone(jobs: JobTable) -> None:
    job = jobs.add("a", "one")
    jobs.save(job.id, "two", title="a", base=1)
    jobs.undo(job.id)
    assert jobs.save(job.id, "three", title="a", base=1).revision.number == 3
    assert {r.text for r in jobs.revisions(job.id)} == {"one", "two", "three"}
    assert jobs.undo(job.id).text == "one"
    assert jobs.redo(job.id).text == "three"


def test_deleted_job_is_gone_until_restored(jobs: JobTable) -> None:
    job = jobs.add("a", "one")
    jobs.delete(job.id)
    assert jobs.list() == ()
    with pytest.raises(UnknownJobError, match="no job"):
        jobs.load(job.id)
    assert jobs.restore(job.id).text == "one"


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    moves=st.lists(st.one_of(st.sampled_from(["undo", "redo"]), st.text(min_size=1, max_size=3)), max_size=25)
)
def test_undo_and_redo_agree_with_a_plain_editor(jobs: JobTable, moves: list[str]) -> None:
    """Against two stacks, the textbook description of undo and redo."""
    job = jobs.add("a", "")
    past: list[str] = []
    present = ""
    future: list[str] = []
    for move in moves:
        if move == "undo":
            shown = jobs.undo(job.id).text
            if past:
                future.append(present)
                present = past.pop()
        elif move == "redo":
            shown = jobs.redo(job.id).text
            if future:
                past.append(present)
                present = future.pop()
        else:
            head = jobs.load(job.id).revision.number
            shown = jobs.save(job.id, move, title="a", base=head).text
            if move != present:
                past.append(present)
                present = move
                future.clear()
        assert shown == present


def test_a_clock_that_is_set_back_loses_no_step(jobs: JobTable, monkeypatch: pytest.MonkeyPatch) -> None:
    """Steps follow their numbers, whatever the day that stands beside them."""
    job = jobs.add("a", "one")
    monkeypatch.setattr(job_table, "now", lambda: "1999-12-31T23:59:59.999+00:00")
    jobs.save(job.id, "two", title="a", base=1)
    monkeypatch.undo()
    jobs.save(job.id, "three", title="a", base=2)
    assert [revision.text for revision in jobs.revisions(job.id)] == ["three", "two", "one"]
    assert jobs.load(job.id).text == "three"
    assert jobs.undo(job.id).text == "two"
    assert jobs.undo(job.id).text == "one"
    assert jobs.redo(job.id).text == "two"
