"""Whole-number programmes at their edges: no columns at all, no answer, and the best of a small one."""

from __future__ import annotations

from drawerwright.sheets.solver.programme.highs import INFINITY, solve_whole


def test_without_columns_only_nothing_can_be_wanted() -> None:
    assert solve_whole([], [0.0], [INFINITY], seconds=1).values == ()
    impossible = solve_whole([], [1.0], [INFINITY], seconds=1)
    assert impossible.values is None
    assert impossible.finished


def test_an_impossible_programme_is_finished_without_values() -> None:
    answer = solve_whole([(1.0, [0], [1.0])], [3.0], [2.5], seconds=5)
    assert answer.values is None
    assert answer.finished


def test_the_best_of_two_ways_to_reach_seven() -> None:
    """Coins of 3 (cost 2) and 2 (cost 1): 7 is reached at least cost by four coins of 2."""
    answer = solve_whole([(2.0, [0], [3.0]), (1.0, [0], [2.0])], [7.0], [INFINITY], seconds=5)
    assert answer.values == (0, 4)
    assert answer.finished
