"""Lengths on the planner's integer grid."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.sheets.grid import Grid, planned_length, to_saw_size


@given(st.lists(st.integers(1, 3_000_000), min_size=1, max_size=8))
def test_thousandths_come_back_as_they_went_in(thousandths: list[int]) -> None:
    lengths = [number / 1000 for number in thousandths]
    grid = Grid.of(lengths)
    assert [grid.mm(grid.ticks(length)) for length in lengths] == lengths


def test_the_grid_is_as_coarse_as_the_lengths_allow() -> None:
    assert Grid.of([2440, 1220, 3.2, 116]).tick == Fraction(4, 5)
    assert Grid.of([2440, 1220]).tick == 1220


def test_floating_point_noise_is_no_reason_to_refuse() -> None:
    assert Grid.of([0.1 + 0.2, 1.0]).ticks(0.1 + 0.2) == 3


@pytest.mark.parametrize("length", [14.65333, -1.0, math.nan, math.inf])
def test_what_does_not_fit_is_refused(length: float) -> None:
    with pytest.raises(InvalidValueError):
        Grid.of([length, 3.2])


def test_a_length_off_this_grid_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="grid"):
        Grid.of([2440, 3.2]).ticks(14.65)


def test_saw_sizes_are_rounded_to_the_scale_of_the_saw() -> None:
    assert to_saw_size(169.6333) == 169.6
    assert to_saw_size(169.66, step=0.5) == 169.5


def test_fractions_of_an_inch_lie_on_the_finest_grid() -> None:
    kerf, strip, sheet = 25.4 / 8, 25.4 / 64, 96 * 25.4
    assert Grid.of([kerf, sheet]).tick == Fraction(254, 80)
    assert Grid.of([kerf, strip, sheet, 0.005 * 25.4]).ticks(sheet) == 96 * 1600


@pytest.mark.parametrize(
    ("length", "unit", "planned"),
    [
        (0.0937 * 25.4, "in", 0.094 * 25.4),
        (2.8, "in", 0.11 * 25.4),  # a metric blade beside parts in inches
        (1525.0, "in", 60.039 * 25.4),  # and a metric sheet
        (3.175, "in", 3.175),
        (3.175, "mm", 3.175),  # an eighth of an inch beside metric parts
        (2.85, "mm", 2.85),
        (2.83333, "mm", 2.83),
        (2.837, "mm", 2.84),
    ],
)
def test_a_length_of_the_saw_is_put_on_a_grid_that_does_not_slow_the_plan(
    length: float, unit: Literal["mm", "in"], planned: float
) -> None:
    assert planned_length(length, unit) == pytest.approx(planned, abs=1e-6)
    part = 0.1 if unit == "mm" else 0.005 * 25.4  # what parts are sized in
    assert Grid.of([planned_length(length, unit), 300 * part, part]).tick >= Fraction(1, 100)
