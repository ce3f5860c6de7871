"""How far long work is: at once on a terminal, now and then in a log."""

from __future__ import annotations

import sys

import pytest

from drawerwright.cli import progress_line
from drawerwright.cli.progress_line import ProgressLines


class Clock:
    """Seconds as a test sets them."""

    now = 100.0

    def monotonic(self) -> float:
        return self.now


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    clock = Clock()
    monkeypatch.setattr(progress_line, "time", clock)
    return clock


def test_a_log_hears_now_and_then_how_far_the_questions_are(
    clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = ProgressLines()
    for done in range(1, 9):  # a question of two seconds each
        clock.now += 2
        lines.step(done, 8)
    said = capsys.readouterr()
    assert said.err.splitlines() == ["3 of 8 plans tried", "6 of 8 plans tried"]
    assert said.out == ""


def test_a_short_search_leaves_a_log_as_it_is(clock: Clock, capsys: pytest.CaptureFixture[str]) -> None:
    lines = ProgressLines()
    clock.now += 4
    lines.search("box", 149.0, 74.5, 4.0)
    assert capsys.readouterr().err == ""


def test_a_terminal_is_told_each_time_and_how_to_stop(
    clock: Clock, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    lines = ProgressLines()
    lines.search("box", None, 74.5, 0.5)
    lines.search("box", 149.0, 74.5, 1.5)
    lines.step(1, 2)
    assert capsys.readouterr().err.splitlines() == [
        "box: best 149, at least 74.5, 2 s (Ctrl-C to stop and use the best so far)",
        "1 of 2 plans tried",
    ]


def test_a_plan_found_at_once_is_told_though_nothing_better_comes(
    clock: Clock, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    lines = ProgressLines()
    cancelled = lines.asking(lambda: clock.now > 107)
    lines.search("box", 290.6, 251.6, 0.5)
    asked = 0
    while not cancelled():
        asked += 1
        clock.now += 0.5
    assert asked == 15
    assert capsys.readouterr().err.splitlines() == [
        "box: best 290.6, at least 251.6, 2 s (Ctrl-C to stop and use the best so far)",
        "box: best 290.6, at least 251.6, 6 s (Ctrl-C to stop and use the best so far)",
    ]


def test_a_search_that_is_behind_says_no_more(clock: Clock, capsys: pytest.CaptureFixture[str]) -> None:
    lines = ProgressLines()
    cancelled = lines.asking(lambda: False)
    lines.search("box", 149.0, 74.5, 4.0)
    lines.step(1, 2)
    clock.now += 30
    assert not cancelled()
    assert capsys.readouterr().err == ""
