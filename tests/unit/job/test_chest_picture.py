"""The piece from the front: heights in it stay short enough for their fronts, whatever the reader's unit."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.pictures.chest_picture import COLUMN, chest_pictures

JOB = read_job(example_text())
SIXTY_FOURTHS = LengthStyle("in/64")
INCHES = """
format: 1
job: chest
cutter: {name: c, mid_depth: 5.65, step: 3.45}
stock:
  ply: {nominal: 12, sheets: [{length: 2500, width: 1250}]}
banks:
  - name: chest
    opening: {width: 18 in, height: 9 3/8 in, depth: 16 in}
    fronts: {style: inset, heights: {equal: 2}, reveal: 1/8 in}
    runner: {kind: wooden}
    box: {all: ply}
    bottom: {style: fixed, stock: ply}
"""


def test_a_piece_in_millimetres_is_read_in_decimals_of_an_inch() -> None:
    """103.1 mm is 4 1/16 in less two thousandths: no figure for a front."""
    pictures = chest_pictures(JOB, SIXTY_FOURTHS, str, room=COLUMN)
    assert {spot.height for spot in pictures.fronts if spot.bank == 0} == {"4.06"}  # 103.1 / 25.4
    assert pictures.wide == chest_pictures(JOB, replace(SIXTY_FOURTHS, unit="in"), str, room=COLUMN).wide


def test_a_piece_in_inches_is_read_in_fractions() -> None:
    """Two fronts of 4 1/2 in with 1/8 in between them in an opening of 9 3/8 in with 1/8 in above and below."""
    job = read_job(INCHES)
    spots = chest_pictures(job, SIXTY_FOURTHS, str, room=COLUMN).fronts
    assert [spot.height for spot in spots] == ["4 1/2", "4 1/2"]
    assert [spot.size for spot in spots] == pytest.approx([114.3, 114.3])
    assert [spot.address for spot in spots] == [spot.name for spot in spots] == ["A1", "A2"]


def test_a_height_has_the_room_that_the_pull_leaves() -> None:
    """A pull of 128 between its holes in the middle of a front: half the front less half the pull and its end."""
    pictures = chest_pictures(JOB, LengthStyle(), str, room=COLUMN)
    bank = JOB.banks[1].bank
    front = next(iter(bank.shown_fronts())).front
    spot = next(spot for spot in pictures.fronts if spot.bank == 1)
    free = (front.width / 2 - 128 / 2 - 11) / front.width
    assert spot.free == pytest.approx(spot.width * free, abs=0.02)
