"""Ranges of strength as they are written."""

from __future__ import annotations

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.planning.corner_strengths import bounds_words, force_words
from drawerwright.strength.bounds import Bounds


@pytest.mark.parametrize(
    ("low", "high", "written"),
    [(25.0, 25.0, "25 J"), (24.9, 25.1, "25 J"), (24.0, 26.0, "24 to 26 J")],
)
def test_ends_that_are_shown_alike_are_shown_once(low: float, high: float, written: str) -> None:
    assert force_words(Bounds(low, high), is_energy=True) == written
    assert f"{bounds_words(Bounds(low, high), is_energy=True)} J" == written


def test_pounds_are_shown_once_too() -> None:
    """1 lbf is 4.448 N (from the exact pound and standard gravity)."""
    assert LengthStyle("in").say(force_words(Bounds(120, 120))) == "120 N (27 lbf)"
