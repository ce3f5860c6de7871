"""Work in the background: stopped where half is of no use, ended where the job has a newer text."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

import pytest

from drawerwright.job.weighing import bytes_of
from drawerwright.web.reader import words
from drawerwright.web.work.background import Work, WorkDesk


def until_stopped(work: Work[str]) -> str:
    for done in range(1000):
        work.step(done, 1000, "counting")
        time.sleep(0.005)
    return "all of it"


def wait_for(condition: Callable[[], bool]) -> None:
    until = time.monotonic() + 10
    while not condition():
        assert time.monotonic() < until
        time.sleep(0.01)


@pytest.fixture
def desk() -> WorkDesk[str]:
    return WorkDesk("test")


def test_stopped_work_says_so_until_it_is_forgotten(desk: WorkDesk[str]) -> None:
    work = desk.ask("text", until_stopped, patience=0.05).work
    assert work is not None
    wait_for(lambda: work.done > 0)
    assert (work.stage, work.count) == ("counting", 1000)
    desk.cancel("text")
    assert desk.ask("text", until_stopped, patience=10).is_stopped
    desk.forget("text")
    assert desk.ask("text", lambda work: "made", patience=10).made == "made"
    desk.close()


def test_a_newer_text_of_the_same_job_ends_the_older_work(desk: WorkDesk[str]) -> None:
    first = desk.ask("old", until_stopped, job_id=1, patience=0.01).work
    other = desk.ask("old", until_stopped, job_id=2, variant="in inches", patience=0.01).work
    assert first is not None
    assert other is not None
    assert desk.ask("new", lambda work: "made", job_id=1, patience=10).made == "made"
    assert first.cancelled.is_set()
    assert not other.cancelled.is_set()
    desk.close()


def test_work_speaks_the_language_of_who_asked(desk: WorkDesk[str]) -> None:
    words.use_language("de")
    go = threading.Event()

    def say(work: Work[str]) -> str:
        go.wait(10)
        return words.gettext("Papers")

    desk.ask("text", say, patience=0.01)
    words.use_language("en")
    go.set()
    assert desk.ask("text", say, patience=10).made == "Unterlagen"
    desk.close()


def test_the_bytes_of_a_value_count_each_thing_once() -> None:
    """A MB is a MB, as `bytes` holds nothing else; what many hold is not counted at all."""
    large = bytes(1_000_000)
    assert bytes_of(large) == pytest.approx(1_000_000, rel=0.01)
    assert bytes_of([large, (large,), {"again": large}]) == pytest.approx(1_000_000, rel=0.01)
    assert bytes_of([bytes(1_000_000), bytes(1_000_000)]) == pytest.approx(2_000_000, rel=0.01)
    assert bytes_of([pytest, str, wait_for]) < 1000
    endless: list[object] = []
    endless.append(endless)
    assert bytes_of(endless) < 1000


def test_no_more_is_kept_than_there_is_room_for(
    desk: WorkDesk[bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    """400 drawers, each edit followed by their papers, took 0.85 GB: 12 works, whatever they weigh."""
    monkeypatch.setattr("drawerwright.web.work.background.MOST_KEPT_BYTES", 2_500_000)
    for name in "abc":
        assert desk.ask(name, lambda work: bytes(1_000_000), patience=10).made is not None
    wait_for(lambda: desk.known("a").made is None)
    assert desk.known("b").made is not None
    assert desk.known("c").made is not None
    assert desk.ask("d", lambda work: bytes(9_000_000), patience=10).made is not None
    wait_for(lambda: desk.known("c").made is None)
    assert desk.known("d").made is not None
    desk.close()


def test_what_was_made_of_an_older_text_of_the_job_goes(desk: WorkDesk[str]) -> None:
    for job in (1, 2):
        assert desk.ask("old", lambda work: "old", variant=job, job_id=job, patience=10).made == "old"
    assert desk.ask("new", lambda work: "new", variant=1, job_id=1, patience=10).made == "new"
    assert desk.known("old", 1).made is None
    assert desk.known("old", 2).made == "old"
    desk.close()
