"""Several pieces in one picture, and one that is small in it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from drawerwright.joints.scan.cut_measures import SectionReading, read_section
from scan_pictures import INCH, Look, Truth, picture, plain

TRUTH = Truth(mid_depth=4.6, step=2.9, slope=52.0, bit_height=9.2, fence=7.6, thickness=12.4)
LOOK = plain(Look(dpi=200, length=19.0, margin=2.0, plies=1, uneven=0.0))


@pytest.fixture(scope="module")
def flat() -> np.ndarray:
    return picture(TRUTH, replace(LOOK, angle=8.0)).pixels


@pytest.fixture(scope="module")
def upright() -> np.ndarray:
    return picture(replace(TRUTH, is_flat=False), replace(LOOK, angle=80.0, mirrored=True)).pixels


def laid_out(*pieces: np.ndarray) -> np.ndarray:
    """The pieces on a large dark sheet of glass."""
    glass = np.full((430, 560, 3), LOOK.ground[0], np.uint8)
    for number, piece in enumerate(pieces):
        top, left = 10 + 190 * number, 20 + 300 * number
        glass[top : top + piece.shape[0], left : left + piece.shape[1]] = piece
    return glass


def read(pixels: np.ndarray, *, is_flat: bool) -> SectionReading:
    reading = read_section(pixels, is_flat=is_flat, per_mm=LOOK.dpi / INCH)
    for name in ("mid_depth", "step", "bit_height", "fence"):
        assert reading.measures[name].value == pytest.approx(getattr(TRUTH, name), abs=0.03)
    return reading


def test_each_piece_is_found_beside_the_other(flat: np.ndarray, upright: np.ndarray) -> None:
    """Source: what was drawn, and where it was laid."""
    both = laid_out(flat, upright)
    one, other = (read(both, is_flat=is_flat).seen for is_flat in (True, False))
    assert one.corner[0] < 200 < other.corner[0]


def test_two_pieces_of_a_kind_are_said(flat: np.ndarray) -> None:
    """Source: what was drawn."""
    assert any("1 more in the picture" in doubt for doubt in read(laid_out(flat, flat), is_flat=True).doubts)
    assert not read(laid_out(flat), is_flat=True).doubts
