"""Work in the background: stopped where half is of no use, ended where the job has a newer text."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

import pytest

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
