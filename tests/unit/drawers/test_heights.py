from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.drawers.front_heights import (
    ArithmeticHeights,
    EqualHeights,
    GeometricHeights,
    GivenHeights,
    front_heights,
)

RULES = [
    EqualHeights(4),
    ArithmeticHeights(4, step=12),
    ArithmeticHeights(4, smallest=90),
    GeometricHeights(4, ratio=1.2),
    GeometricHeights(4, smallest=90),
    GivenHeights((100, None, 150, 200)),
]


@pytest.mark.parametrize("rule", RULES, ids=repr)
def test_every_rule_fills_the_field(rule: EqualHeights) -> None:
    heights = front_heights(rule, 700, 3)
    assert sum(heights) + 3 * 3 == pytest.approx(700)


@given(st.integers(2, 12), st.floats(1.01, 1.4))
def test_geometric_fronts_keep_their_ratio(count: int, ratio: float) -> None:
    heights = front_heights(GeometricHeights(count, ratio=ratio), 900, 2)
    for above, below in itertools.pairwise(heights):
        assert below / above == pytest.approx(ratio)
    again = front_heights(GeometricHeights(count, smallest=heights[0]), 900, 2)
    assert again == pytest.approx(heights)


def test_smallest_and_step_say_the_same() -> None:
    by_step = front_heights(ArithmeticHeights(5, step=15), 800, 3)
    assert front_heights(ArithmeticHeights(5, smallest=by_step[0]), 800, 3) == pytest.approx(by_step)


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        (GivenHeights((100, 100)), r"add up to 200.0 mm, but there is 697.0 mm .*\+497.0"),
        (GivenHeights((None, None)), "only one height"),
        (GivenHeights((400, 400, None)), "leave nothing"),
        (ArithmeticHeights(3), "either 'step' or 'smallest'"),
        (ArithmeticHeights(6, step=60), "smallest front would be"),
        (GeometricHeights(3, ratio=1.2, smallest=50), "not both"),
        (EqualHeights(0), "at least one front"),
        (EqualHeights(240), "do not fit"),
    ],
)
def test_what_does_not_fill_the_field_is_refused(rule: EqualHeights, words: str) -> None:
    with pytest.raises(InvalidValueError, match=words):
        front_heights(rule, 700, 3)


def test_an_opening_without_room_is_named_as_it_was_measured() -> None:
    with pytest.raises(InvalidValueError, match=r"opening 40 mm high, which leaves 34 mm"):
        front_heights(EqualHeights(60), 34, 3, opening_height=40)
