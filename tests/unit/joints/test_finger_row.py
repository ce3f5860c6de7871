"""A finger row adds up, reads the same turned over, and its two combs take each other's place."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.joints.kinds.finger.finger_row import FingerRow, whole_widths

fingers = st.floats(2.0, 30.0)
in_fingers = st.floats(2.0, 41.0)
clearances = st.floats(0.0, 0.4)


@given(fingers, in_fingers, clearances)
def test_widths_add_up_to_the_edge_and_read_the_same_turned_over(
    finger: float, many: float, c: float
) -> None:
    row = FingerRow(finger * many, finger, c)
    assert sum(row.widths) == pytest.approx(finger * many, abs=1e-9)
    assert row.widths == row.widths[::-1]
    assert set(row.widths[1:-1]) == {finger}
    # Both ends belong to one piece: fingers and gaps take turns, and a finger comes first and last.
    assert len(row.widths) % 2 == 1
    assert row.fingers == len(row.widths[::2])


@given(fingers, in_fingers)
def test_an_end_is_at_least_half_a_finger_and_less_than_one_and_a_half(finger: float, many: float) -> None:
    row = FingerRow(finger * many, finger)
    assert 0.5 - 1e-6 <= row.end / finger < 1.5 + 1e-6


@given(st.integers(1, 20), fingers)
def test_an_odd_number_of_fingers_has_whole_ends(half: int, finger: float) -> None:
    row = FingerRow((2 * half + 1) * finger, finger)
    assert row.has_whole_ends
    assert row.widths == pytest.approx([finger] * (2 * half + 1))


@given(fingers, in_fingers)
def test_the_nearest_whole_edges_lie_on_either_side(finger: float, many: float) -> None:
    width = finger * many
    below, above = whole_widths(width, finger)
    assert FingerRow(below, finger).has_whole_ends
    assert FingerRow(above, finger).has_whole_ends
    assert above - below == pytest.approx(2 * finger)
    if many >= 3:
        assert below <= width + 1e-6
        assert width <= above + 1e-6


@given(fingers, in_fingers, clearances)
def test_what_one_piece_loses_the_other_keeps_but_for_the_clearance(
    finger: float, many: float, c: float
) -> None:
    """By intervals along the edge: every finger of either piece lies in a notch of the other, with c / 2 at each side,
    and each edge belongs to one piece alone."""
    row = FingerRow(finger * many, finger, c)
    for notches, others in (
        (row.notches_between, row.notches_at_ends),
        (row.notches_at_ends, row.notches_between),
    ):
        ends = [0.0, *(edge for notch in notches for edge in notch), row.width]
        kept = [(low, high) for low, high in zip(ends[::2], ends[1::2], strict=True) if high - low > 1e-9]
        for low, high in kept:
            (notch,) = [n for n in others if n[0] <= low + 1e-9 and high <= n[1] + 1e-9]
            for gap, edge in ((low - notch[0], low), (notch[1] - high, high)):
                at_the_end = min(edge, row.width - edge) < 1e-9
                assert gap == pytest.approx(0.0 if at_the_end else c / 2, abs=1e-9)


def test_a_finger_too_wide_for_the_edge_is_refused_with_the_least_edge() -> None:
    with pytest.raises(
        InvalidValueError, match=r"fingers of 12 mm need an edge of 24 mm or more .* not 20 mm"
    ):
        FingerRow(20.0, 12.0)
    with pytest.raises(
        InvalidValueError,
        match=r"a clearance of 20 mm leaves fingers of 9.5 mm loose; the limit is 2.3 mm, a quarter",
    ):
        FingerRow(110.0, 9.5, 20.0)


def test_passes_of_a_blade_cover_the_notch() -> None:
    row = FingerRow(110.0, 9.5, 0.1)
    assert row.passes(3.1) == 4  # 3 x 3.1 = 9.3 falls short of 9.55
    assert row.passes(9.55) == 1
    assert row.passes(3.2) == 3
