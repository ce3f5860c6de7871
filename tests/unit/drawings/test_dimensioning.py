from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.drawings.dimensioning import Dimension, Side, dimension_rows, heights_from_edge, spread
from drawerwright.drawings.scene import Text, framed
from legible import overlapping_texts

spans = st.lists(
    st.tuples(st.integers(0, 60), st.integers(1, 60)).map(lambda pair: (float(pair[0]), float(sum(pair)))),
    min_size=1,
    max_size=7,
    unique=True,
)


@given(spans, st.sampled_from(Side))
def test_figures_never_lie_on_each_other(measured: list[tuple[float, float]], side: Side) -> None:
    measures = [Dimension(low, high, f"{high - low:.2f} mm") for low, high in measured]
    items = dimension_rows(measures, side, 0.0)
    scene = framed("rows", items)
    assert len(scene.texts) == len(measures)
    assert not overlapping_texts(scene)


@pytest.mark.parametrize(
    ("side", "axis", "sign"), [("above", 1, 1), ("below", 1, -1), ("left", 0, -1), ("right", 0, 1)]
)
def test_dimensions_stand_outside_the_outline(side: str, axis: int, sign: int) -> None:
    items = dimension_rows([Dimension(0, 30, "30.0 mm"), Dimension(0, 4, "4.0 mm")], Side(side), sign * 10.0)
    assert all(sign * point[axis] > 10.0 for item in items for point in item.corners())


@given(st.lists(st.floats(-50, 50), min_size=1, max_size=12).map(sorted), st.floats(0.5, 6))
def test_spread_keeps_order_and_distance(levels: list[float], pitch: float) -> None:
    placed = spread(levels, pitch)
    assert all(after - before >= pitch - 1e-9 for before, after in pairwise(placed))
    # As near as can be: the mean does not move.
    assert sum(placed) == pytest.approx(sum(levels), abs=1e-6)


def test_heights_are_written_once_each() -> None:
    items = heights_from_edge([(10.0, "A 100.0 mm", 0.0), (11.0, "B 110.0 mm", 0.0)], 0.0, 0.0)
    scene = framed("heights", items)
    assert [text.text for text in scene.texts] == ["A 100.0 mm", "B 110.0 mm"]
    assert not overlapping_texts(scene)
    assert isinstance(items[-1], Text)
