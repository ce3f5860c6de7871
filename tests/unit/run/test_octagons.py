"""Bounds closed under all consequences, against linear programmes solved by HiGHS, an outside solver."""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drawerwright.run.octagons import Octagons

COUNT = 3
LEAST, MOST = 0.0, 20.0
CLOSE = 1e-6


@dataclass(frozen=True)
class Bound:
    """``low <= p_a + p_b <= high``, or with one position ``low <= p_a <= high``, or ``p_a <= p_b + high``."""

    kind: str
    a: int
    b: int
    low: float
    high: float

    @property
    def row(self) -> list[float]:
        """Coefficients of the positions."""
        row = [0.0] * COUNT
        row[self.a] += 1.0
        if self.kind == "sum":
            row[self.b] += 1.0
        elif self.kind == "order":
            row[self.b] -= 1.0
        return row

    def keep(self, octagons: Octagons) -> bool:
        if self.kind == "sum":
            return bool(octagons.keep_sum(self.a, self.b, self.low, self.high)[0])
        if self.kind == "range":
            return bool(octagons.keep_range(self.a, self.low, self.high)[0])
        return bool(octagons.keep_order(self.a, self.b, self.high)[0])


@st.composite
def bounds(draw: st.DrawFn) -> Bound:
    kind = draw(st.sampled_from(["sum", "range", "order"]))
    a = draw(st.integers(0, COUNT - 1))
    b = draw(st.integers(0, COUNT - 1).filter(lambda b: kind != "order" or b != a))
    # Whole numbers, so that what holds by a hair is not decided by rounding.
    low = float(draw(st.integers(-5, 30)))
    high = low + draw(st.integers(0, 12))
    return Bound(kind, a, b, -highspy.kHighsInf if kind == "order" else low, high)


def extreme(kept: list[Bound], objective: list[float], *, greatest: bool) -> float | None:
    """Least or greatest value of a sum of positions under bounds, None where nothing keeps them all."""
    solver = highspy.Highs()
    solver.silent()
    for _ in range(COUNT):
        solver.addVar(LEAST, MOST)
    for bound in kept:
        solver.addRow(bound.low, bound.high, COUNT, np.arange(COUNT), np.array(bound.row))
    for column, cost in enumerate(objective):
        solver.changeColCost(column, cost)
    sense = highspy.ObjSense.kMaximize if greatest else highspy.ObjSense.kMinimize
    solver.changeObjectiveSense(sense)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return float(solver.getInfo().objective_function_value)


@settings(max_examples=60, deadline=None)
@given(st.lists(bounds(), max_size=6))
def test_what_holds_and_how_far_each_position_reaches(wanted: list[Bound]) -> None:
    octagons = Octagons.within(1, COUNT, LEAST, MOST)
    kept: list[Bound] = []
    for bound in wanted:
        kept.append(bound)
        holds = bound.keep(octagons)
        assert holds is (extreme(kept, [0.0] * COUNT, greatest=False) is not None)
        if not holds:
            return
    low, high = octagons.ranges()
    least, most = octagons.sums()
    for a in range(COUNT):
        alone = [float(c == a) for c in range(COUNT)]
        assert low[0, a] == pytest.approx(extreme(kept, alone, greatest=False), abs=CLOSE)
        assert high[0, a] == pytest.approx(extreme(kept, alone, greatest=True), abs=CLOSE)
        for b in range(COUNT):
            both = [float(c == a) + float(c == b) for c in range(COUNT)]
            assert least[0, a, b] == pytest.approx(extreme(kept, both, greatest=False), abs=CLOSE)
            assert most[0, a, b] == pytest.approx(extreme(kept, both, greatest=True), abs=CLOSE)


def test_rows_know_nothing_of_each_other() -> None:
    octagons = Octagons.within(3, 2, LEAST, MOST)
    holds = octagons.keep_range(0, np.array([1.0, 5.0, 30.0]), np.array([2.0, 6.0, 31.0]))
    assert holds.tolist() == [True, True, False]
    copy = octagons.taken(np.array([1, 0]))
    copy.keep_range(0, 5.5, 5.5)
    low, high = octagons.ranges()
    assert low[:2, 0].tolist() == [1.0, 5.0]
    assert high[:2, 0].tolist() == [2.0, 6.0]
    assert (len(copy), copy.count) == (2, 2)
