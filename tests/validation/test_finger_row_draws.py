"""What adds up along a finger row, against plain draws of every step.

Source: draws made here, step by step, with the standard library alone.
"""

from __future__ import annotations

import random
from itertools import accumulate

import pytest

from drawerwright.joints.kinds.finger.finger_row import FingerRow
from drawerwright.joints.kinds.finger.row_doubt import RowDoubt


def drawn(doubt: RowDoubt, steps: int, draws: random.Random) -> list[float]:
    """How far each finger of one row is off its notch: the difference of two walks and of their pitch."""
    half = doubt.slack / 2
    pitch = draws.gauss(0.0, doubt.pitch)
    moves = (draws.uniform(-half, half) - draws.uniform(-half, half) + pitch for _ in range(steps))
    return [0.0, *accumulate(moves)]


@pytest.mark.parametrize("steps", [1, 4, 12, 30])
@pytest.mark.parametrize("doubt", [RowDoubt(), RowDoubt(0.1, 0.0), RowDoubt(0.0, 0.01)])
def test_first_order_is_what_draws_scatter(doubt: RowDoubt, steps: int) -> None:
    """Source: every step of both pieces drawn here, with the standard library alone."""
    draws = random.Random(11)
    last = [drawn(doubt, steps, draws)[-1] for _ in range(4000)]
    scatter = (sum(off * off for off in last) / len(last)) ** 0.5
    assert scatter == pytest.approx(doubt.off_at(steps), rel=0.05)


@pytest.mark.parametrize(("steps", "clearance"), [(2, 0.05), (4, 0.1), (12, 0.1), (12, 0.2), (30, 0.3)])
def test_odds_of_a_row_are_the_share_of_draws_that_go_together(steps: int, clearance: float) -> None:
    """Source: every step of both pieces drawn here, with the standard library alone."""
    doubt, draws = RowDoubt(), random.Random(5)
    rows = (drawn(doubt, steps, draws) for _ in range(4000))
    share = sum(max(off) - min(off) <= clearance for off in rows) / 4000
    assert doubt.goes_together(steps, clearance) == pytest.approx(share, abs=0.025)


def test_a_row_of_n_fingers_placed_one_by_one_is_as_long_as_n_pitches() -> None:
    """Each notch is cut from the one before, and both pieces grow alike when the pitch is wrong for both.

    Source: every step of both pieces drawn here, with the standard library alone.
    """
    row = FingerRow(300.0, 9.5, 0.1)
    for wrong in (0.0, 0.03):
        starts = list(accumulate([row.pitch + wrong] * (row.fingers - 2), initial=row.first_notch))
        exact = [low for low, _high in row.notches_between]
        off = [placed - low for placed, low in zip(starts, exact, strict=True)]
        assert off[-1] == pytest.approx(wrong * (row.fingers - 2), abs=1e-9)


def test_a_long_row_binds_where_a_short_one_goes_together() -> None:
    """Source: every step of both pieces drawn here, with the standard library alone."""
    doubt = RowDoubt()
    odds = [doubt.goes_together(steps, 0.1) for steps in (1, 4, 8, 16, 32)]
    assert odds == sorted(odds, reverse=True)
    assert odds[0] > 0.99
    assert odds[-1] < 0.2
    most = doubt.longest(0.1)
    assert most is not None
    assert 2 * doubt.off_at(most) <= 0.1 < 2 * doubt.off_at(most + 1)
    assert RowDoubt(0.0, 0.0).longest(0.1) is None
